//! The front page: the verdict in one line, what was found in sentences, and all details at a glance.

use maud::{Markup, html};

use crate::finding::{Finding, Level};
use crate::output::html::drawings::Drawings;
use crate::output::html::finding::sign_again;
use crate::output::html::{Input, assemblies};
use crate::output::{visible, words};

pub fn front(input: &Input, drawings: &Drawings) -> Markup {
    let open: Vec<(usize, &Finding)> = input.report.findings.iter().enumerate().filter(|(_, f)| f.open()).collect();
    html! {
        section #front aria-labelledby="front-title" {
            h2 #front-title { (verdict(input)) }
            @if !open.is_empty() {
                ol.sentences { @for (n, (index, finding)) in open.iter().enumerate() {
                    li {
                        a href=(format!("#f{}", index + 1)) {
                            @match drawings.of(index + 1) {
                                // The same picture again would show nothing new.
                                Some(_) if again(drawings, &open, n) => span.gap {},
                                Some(drawn) => (drawn.thumbnail()),
                                None => (assemblies::thumbnail(input, finding)),
                            }
                            span {
                                (sign_again(index + 1, finding)) " " strong.(finding.level.word()) { (words::capital(finding.level.word())) }
                                @if let Some(item) = &finding.item { " in " (visible(item)) }
                                ": " (visible(&words::opened(finding)))
                            }
                        }
                    }
                } }
            }
            @if !drawings.details.is_empty() { (contact(input, drawings)) }
        }
    }
}

/// The finding before it is about the same detail.
fn again(drawings: &Drawings, open: &[(usize, &Finding)], n: usize) -> bool {
    let anchor = |n: usize| drawings.of(open[n].0 + 1).map(|drawn| drawn.anchor());
    n.checked_sub(1).is_some_and(|before| anchor(before) == anchor(n))
}

/// All details with a small picture each: checked, or how many findings.
fn contact(input: &Input, drawings: &Drawings) -> Markup {
    html! {
        h3 { "All details" }
        ul.contact { @for drawn in &drawings.details {
            @let open = drawn.numbers.iter().filter(|n| input.report.findings[**n - 1].open()).count();
            li.found[open > 0] {
                a href=(format!("#{}", drawn.anchor())) {
                    (drawn.thumbnail())
                    @if open == 0 { span { (visible(&drawn.facts.detail.name)) " ✓ no findings" } }
                    @else { span { (visible(&drawn.facts.detail.name)) ": " strong { (words::counted(open, "finding")) } } }
                }
            }
        } }
    }
}

/// `5 errors in 5 of 29 items`
pub fn verdict(input: &Input) -> String {
    let items = input.checked.iter().map(|c| c.facts.details.len() + c.facts.assemblies.len()).sum::<usize>();
    let open: Vec<&Finding> = input.report.findings.iter().filter(|f| f.open()).collect();
    let counts: Vec<String> = [Level::Error, Level::Warning, Level::Note]
        .into_iter()
        .map(|level| (open.iter().filter(|f| f.level == level).count(), level.word()))
        .filter(|(count, _)| *count > 0)
        .map(|(count, word)| words::counted(count, word))
        .collect();
    let mut touched: Vec<&str> = open.iter().filter_map(|f| f.item.as_deref()).collect();
    touched.sort_unstable();
    touched.dedup();
    if counts.is_empty() {
        return format!("No open findings in {}", words::counted(items, "item"));
    }
    format!("{} in {} of {}", counts.join(", "), touched.len().max(1), words::counted(items, "item"))
}

/// What stands on the page, for the side of a wide window.
pub fn list(input: &Input, drawings: &Drawings) -> Markup {
    html! {
        nav.side aria-label="Findings and details" {
            ul {
                @for (index, finding) in input.report.findings.iter().enumerate() {
                    li { a href=(format!("#f{}", index + 1)) { (index + 1) " " (visible(if finding.title.is_empty() { &finding.rule } else { &finding.title })) } }
                }
            }
            ul { @for drawn in drawings.details.iter().filter(|d| !d.views.is_empty()) {
                li { a href=(format!("#{}", drawn.anchor())) { (visible(&drawn.facts.detail.name)) @if drawn.numbers.is_empty() { " ✓" } } }
            } }
        }
    }
}
