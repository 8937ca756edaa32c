//! The findings, each with its source, its drawing, its numbers and its basis.

use std::collections::BTreeSet;

use maud::{Markup, html};

use crate::finding::Finding;
use crate::output::drawing::{self, Area, Scene};
use crate::output::html::assemblies;
use crate::output::html::drawings::{Drawings, part, plain, used};
use crate::output::html::{Input, Topics, prose};
use crate::output::visible::same_length;
use crate::output::{visible, words};
use crate::text::{Source, Span};

pub fn findings(input: &Input, topics: &Topics, drawings: &Drawings) -> Markup {
    let all = &input.report.findings;
    let used: BTreeSet<&str> = all.iter().map(|finding| topics.of(finding)).collect();
    let levels =
        [("error", "errors"), ("warning", "warnings"), ("note", "notes"), ("waived", "waived"), ("known", "known")];
    let shown = |level: &str| all.iter().any(|finding| words::standing(finding) == level);
    html! {
        section #findings aria-labelledby="findings-title" {
            h2 #findings-title { "Findings" }
            @if all.is_empty() { p { "Nothing was found." } } @else {
                form #filter hidden {
                    fieldset {
                        legend { "Show" }
                        @for (value, label) in levels.into_iter().filter(|(value, _)| shown(value)) {
                            label { input type="checkbox" name="level" value=(value) checked; " " (label) }
                        }
                        label { "about " select name="topic" {
                            option value="" { "everything" }
                            @for topic in &used { option value=(topic) { (topic) } }
                        } }
                        label { "with the words " input type="search" name="words"; }
                        button type="reset" { "Show all" }
                        p #shown role="status" {}
                    }
                }
                p #none hidden { "No finding matches these filters. " button type="button" { "Show all findings" } }
                @for (index, finding) in all.iter().enumerate() {
                    (one(input, topics.of(finding), drawings, index + 1, finding))
                }
            }
        }
    }
}

fn one(input: &Input, topic: &str, drawings: &Drawings, number: usize, finding: &Finding) -> Markup {
    let level = finding.level.word();
    let shown = words::standing(finding);
    let class = if finding.open() { format!("finding {level}") } else { format!("finding waived {level}") };
    html! {
        article id=(format!("f{number}")) class=(class) data-level=(shown) data-topic=(topic) aria-labelledby=(format!("f{number}-title")) {
            div.text {
                h3 id=(format!("f{number}-title")) {
                    (sign(number, finding)) " " span.level { (level) @if !finding.open() { ", " (shown) } } " "
                    (visible(words::title(finding)))
                    @if let Some(item) = &finding.item { " in " (visible(item)) }
                }
                p { (prose(&words::opened(finding))) }
                @if let Some(fix) = &finding.fix { p.do { strong { "To do: " } (prose(fix)) } }
                @if !finding.trail.is_empty() {
                    h4 { "Water path" }
                    ol.path { @for step in &finding.trail { li { (prose(&step.message)) } } }
                }
                @if finding.listed { p { strong { "Known: " } (words::KNOWN) } }
                @if let Some(waived) = &finding.waived { p { strong { "Waived: " } (words::waived(waived)) } }
                details {
                    summary { "Source, numbers and basis of finding " (number) }
                    (excerpt(input, finding.span, number))
                    dl {
                        @if let Some(numbers) = words::values(finding) { dt { "Numbers" } dd { (numbers) } }
                        @if !finding.related.is_empty() {
                            dt { "See also" }
                            dd { ul { @for related in &finding.related {
                                li { (visible(&related.message)) @if let Some(place) = place(input, related.span) { ", " (place) } }
                            } } }
                        }
                        @for basis in finding.basis.iter() { dt { "Basis" } dd { (words::basis(basis)) } }
                        dt { "Rule" } dd { span.rule { (visible(&finding.rule)) } ", " (topic) }
                    }
                }
            }
            div.shown { (drawings.highlight(finding, number)) (assemblies::pictured(input, finding, number)) }
        }
    }
}

/// The mark of a finding as its drawings have it, read out as its number.
fn sign(number: usize, finding: &Finding) -> Markup {
    let scene = drawing::alone(number, finding);
    framed(number, &scene, html! { g id=(format!("f{number}-sign")) { (plain(&scene.shapes, scene.scale)) } })
}

/// The same once more.
pub fn sign_again(number: usize, finding: &Finding) -> Markup {
    framed(number, &drawing::alone(number, finding), used(&format!("f{number}-sign")))
}

fn framed(number: usize, scene: &Scene, drawn: Markup) -> Markup {
    html! {
        svg.sign role="img" aria-label=(format!("Finding {number}")) viewBox=(part(scene, Area::new(0.0, 0.0, scene.width, scene.height))) font-family="sans-serif" { (drawn) }
    }
}

fn place(input: &Input, span: Span) -> Option<String> {
    let source = input.source(span.file)?;
    Some(crate::output::place::line_of(source, span))
}

/// Lines around the words at fault, as they are in the file.
fn excerpt(input: &Input, span: Span, number: usize) -> Markup {
    let Some(source) = input.source(span.file) else { return html! {} };
    let (first, last) =
        (source.lines().line_at(span.start as usize), source.lines().line_at(span.end.max(span.start) as usize));
    // A finding about a whole block shows its head.
    let last = last.min(first + 7);
    let from = first.saturating_sub(1);
    let to = (last + 1).min(source.lines().count().saturating_sub(1));
    html! {
        p { a id=(format!("f{number}-place")) {} (crate::output::place::line_of(source, span)) }
        pre tabindex="0" role="region" aria-label=(format!("Source of finding {number}")) {
            @for line in from..=to { (row(source, line, span)) }
        }
    }
}

/// Longer lines are cut: no page has room for them.
const LONGEST: usize = 300;

fn row(source: &Source, line: usize, span: Span) -> Markup {
    let range = source.lines().range(&source.text, line);
    let text = &source.text[range.clone()];
    let inner = |at: u32| {
        let mut at = (at as usize).clamp(range.start, range.end) - range.start;
        while !text.is_char_boundary(at) {
            at -= 1;
        }
        at
    };
    let (start, end) = (inner(span.start), inner(span.end.max(span.start)));
    let cut = |part: &str| -> String {
        let shown: String = part.chars().take(LONGEST).collect();
        let more = if shown.len() < part.len() { "…" } else { "" };
        format!("{}{more}", same_length(&shown))
    };
    html! {
        span.no { (format!("{:>4}  ", line + 1)) }
        (cut(&text[..start])) @if end > start { mark { (cut(&text[start..end])) } } (cut(&text[end..])) "\n"
    }
}
