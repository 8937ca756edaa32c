//! The front page: the verdict in one line, what was found in sentences, and all details at a glance.

use maud::{Markup, html};

use crate::finding::Finding;
use crate::output::html::contact::contact;
use crate::output::html::drawings::Drawings;
use crate::output::html::finding::sign_again;
use crate::output::html::verdict::verdict;
use crate::output::html::{Input, assemblies, prose};
use crate::output::{visible, words};

pub fn front(input: &Input, drawings: &Drawings) -> Markup {
    html! {
        section #front aria-labelledby="front-title" {
            h2 #front-title { (verdict(input, drawings)) }
            @if input.report.findings.iter().any(Finding::open) {
                ol.sentences { @for row in rows(input, drawings) {
                    li.accepted[row.accepted()] { a href=(format!("#f{}", row.first)) { (sentence(input, drawings, &row)) } }
                } }
            }
            @if !drawings.details.is_empty() { (contact(input, drawings)) }
        }
    }
}

/// A row of the list: one open finding, or those between two open ones that were waived or known, so that no number is missing.
struct Row<'a> {
    /// The number of its first finding.
    first: usize,
    findings: &'a [Finding],
    /// The open finding before it is about the same detail.
    again: bool,
}

impl Row<'_> {
    fn accepted(&self) -> bool {
        !self.findings[0].open()
    }
}

fn rows<'a>(input: &Input<'a>, drawings: &Drawings) -> Vec<Row<'a>> {
    let (mut rows, mut next, mut before) = (Vec::new(), 1, None);
    for findings in input.report.findings.chunk_by(|a, b| !a.open() && !b.open()) {
        let first = next;
        next += findings.len();
        let anchor = drawings.of(first).map(|drawn| drawn.anchor());
        rows.push(Row { first, findings, again: anchor.is_some() && before == anchor });
        if findings[0].open() {
            before = anchor;
        }
    }
    rows
}

fn sentence(input: &Input, drawings: &Drawings, row: &Row) -> Markup {
    let (number, finding) = (row.first, &row.findings[0]);
    html! {
        @if row.accepted() {
            span.gap {}
            span {
                @if row.findings.len() == 1 { (sign_again(number, finding)) " " } @else { (words::numbers(number, row.findings)) ": " }
                (words::capital(&words::passed_over(row.findings)))
            }
        } @else {
            @match drawings.of(number) {
                // The same picture again would show nothing new.
                Some(_) if row.again => span.gap {},
                Some(drawn) => (drawn.thumbnail()),
                None => (assemblies::thumbnail(input, finding)),
            }
            span {
                (sign_again(number, finding)) " " strong.(finding.level.word()) { (words::capital(finding.level.word())) }
                @if let Some(item) = &finding.item { " in " (visible(item)) }
                ": " (prose(&words::opened(finding)))
            }
        }
    }
}

/// What stands on the page, for the side of a wide window.
pub fn list(input: &Input, drawings: &Drawings) -> Markup {
    html! {
        nav.side aria-label="Findings and details" {
            ul {
                @for (index, finding) in input.report.findings.iter().enumerate() {
                    li.accepted[!finding.open()] {
                        a href=(format!("#f{}", index + 1)) {
                            (index + 1) " " (visible(words::title(finding))) @if !finding.open() { ", " (words::standing(finding)) }
                        }
                    }
                }
            }
            ul { @for drawn in drawings.details.iter().filter(|d| !d.views.is_empty()) {
                li {
                    a href=(format!("#{}", drawn.anchor())) { (visible(&drawn.facts.detail.name)) @if drawn.numbers.is_empty() { " ✓" } }
                    @if let Some(title) = &drawn.facts.detail.title { " " (visible(title)) }
                }
            } }
        }
    }
}
