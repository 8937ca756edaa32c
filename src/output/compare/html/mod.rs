//! A comparison as one self-contained page.

mod decision;

use std::io::{self, Write};

use maud::{DOCTYPE, Markup, html};

use crate::compare::{Change, Comparison, ItemChange, Verdict};
use crate::finding::Finding;
use crate::output::compare::number::{Numbered, State, numbered};
use crate::output::compare::sign::sign;
use crate::output::compare::{BROUGHT, Input, UNREAD, about, assemblies, drawings, waives};
use crate::output::html::prose;
use crate::output::unbroken::unbroken;
use crate::output::words::{counted, opened};
use crate::output::{CAUTION, visible};
use crate::report::Report;
use decision::{decision, held};

/// Ruled, with nothing shown by color alone, so that it prints as it looks.
const STYLE: &str = include_str!("style.css");

/// The page: what does not count, findings with cure and drawing, what changed, materials side by side, the reviewer's
/// sheet, the caution.
///
/// # Errors
/// Those of `out`.
pub fn html(input: &Input<'_>, out: &mut dyn Write) -> io::Result<()> {
    let (comparison, findings) = (input.comparison, &input.comparison.findings);
    let all = numbered(findings);
    let page = html! {
        (DOCTYPE)
        html lang="en" {
            head {
                meta charset="utf-8";
                meta name="viewport" content="width=device-width, initial-scale=1";
                meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'";
                title { "Comparison of a submittal with the issued details" }
                style { (maud::PreEscaped(STYLE)) }
            }
            body {
                main {
                    h1 { "Comparison of a submittal with the issued details" }
                    p { strong { (visible(&input.heading())) } }
                    @if input.same() { p.verdict { "The submittal changes nothing." } } @else {
                        @let (action, reason) = input.verdict();
                        p.verdict { "Proposed: " strong { (action.words()) } " (" (reason) ")." }
                    }
                    p {
                        (counted(findings.new.len(), "new finding")) ", " (findings.worse.len()) " worse, " (findings.gone.len())
                        " gone, " (findings.unchanged.len()) " unchanged."
                    }
                    (brought(input))
                    (unread(input))
                    (held(input, &all))
                    (items(input, &all, "Details", &comparison.details))
                    (items(input, &all, "Assemblies", &comparison.assemblies))
                    (items(input, &all, "Climates and drawing sets", &comparison.others))
                    (materials(comparison))
                    (numbers("Findings that are gone", State::Gone, &all, input.issued))
                    (numbers("Unchanged findings", State::Unchanged, &all, input.submitted))
                    (numbers("Waived and known findings", State::Accepted, &all, input.submitted))
                    (decision(input))
                    p { small { (CAUTION) } }
                }
            }
        }
    };
    out.write_all(unbroken(&page.into_string()).as_bytes())
}

/// Waivers and settings of the submittal, which do not count.
fn brought(input: &Input<'_>) -> Markup {
    html! {
        @if !input.comparison.waivers.is_empty() || !input.settings.is_empty() {
            h2 { "Waivers and settings that were not applied" }
            p { (BROUGHT) }
            ul {
                @for waiver in &input.comparison.waivers { li { (prose(&waives(waiver))) } }
                @for setting in input.settings { li { (visible(setting)) } }
            }
        }
    }
}

fn unread(input: &Input<'_>) -> Markup {
    let findings = &input.comparison.findings;
    html! {
        (list("Unreadable text in the issued details", &findings.unread_issued, input.issued))
        (list("Unreadable text in the submittal", &findings.unread, input.submitted))
        @if !findings.unread.is_empty() || !findings.unread_issued.is_empty() { p { strong { (UNREAD) } } }
    }
}

fn items(input: &Input<'_>, all: &[Numbered], title: &str, items: &[ItemChange]) -> Markup {
    html! {
        @if !items.is_empty() {
            h2 { (title) }
            @for item in items { section.group {
                h3 {
                    (visible(&item.name))
                    @if item.added { ", only in the submittal" }
                    @if item.removed { ", missing from the submittal" }
                    @if let Some(was) = &item.was { ", issued as " (visible(was)) }
                }
                @let about = about(item);
                @if !about.is_empty() { p { (visible(&about)) } }
                (pictured(input, all, item))
                @if !item.changes.is_empty() {
                    div.wide tabindex="0" role="region" aria-label=(format!("Changes of {}", visible(&item.name))) { table {
                        thead { tr { th scope="col" { "what" } th scope="col" { "issued" } th scope="col" { "submitted" } } }
                        tbody {
                            @for change in item.changes.iter().filter(|change| change.follows.is_none()) {
                                (row(change, ""))
                                @for lost in item.changes.iter().filter(|c| c.follows.as_ref() == Some(&change.what)) {
                                    (row(lost, "with it: "))
                                }
                            }
                        }
                    } }
                }
            } }
        }
    }
}

/// The drawings of a changed detail or assembly; of one with findings to answer for, where they stand.
fn pictured(input: &Input<'_>, all: &[Numbered], item: &ItemChange) -> Markup {
    let held = |entry: &&Numbered| matches!(entry.state, State::New | State::Worse) && entry.item() == &*item.name;
    let detail = input.comparison.details.iter().any(|other| std::ptr::eq(other, item));
    html! {
        @match all.iter().find(held) {
            Some(entry) => p { a href=(format!("#f{}", entry.number)) { "Drawn with finding " (entry.number) } },
            None if detail => (drawings::sides(input, all, &item.name)),
            None => (assemblies::sides(input, all, &item.name)),
        }
    }
}

fn row(change: &Change, before: &str) -> Markup {
    html! {
        tr {
            th scope="row" { (before) (visible(&change.what)) }
            td { (visible(change.issued.as_deref().unwrap_or("none"))) }
            td { (visible(change.submitted.as_deref().unwrap_or("gone"))) }
        }
    }
}

fn materials(comparison: &Comparison<'_>) -> Markup {
    html! {
        @if !comparison.substitutions.is_empty() {
            h2 { "Materials side by side" }
            @for pair in &comparison.substitutions {
                h3 { code { (visible(&pair.submitted.name)) } " in place of " code { (visible(&pair.issued.name)) } }
                div.wide tabindex="0" role="region" aria-label=(format!("Properties of {}", visible(&pair.submitted.name))) { table {
                    thead {
                        tr {
                            th scope="col" { "property" }
                            th scope="col" { "issued" }
                            th scope="col" { "submitted" }
                            th scope="col" { "submitted is" }
                            th scope="col" { "matters to" }
                        }
                    }
                    tbody {
                        @for row in &pair.rows {
                            tr {
                                th scope="row" { (row.property) }
                                td { (visible(&row.issued)) }
                                td { (visible(&row.submitted)) }
                                td class=[(row.verdict == Verdict::Worse).then_some("worse")] { (row.verdict.word()) }
                                td { (row.control.map_or("", |control| control.word())) }
                            }
                        }
                    }
                } }
            }
        }
    }
}

/// The findings of one state, with the numbers that they have on the drawings.
fn numbers(title: &str, state: State, all: &[Numbered], report: &Report) -> Markup {
    let own: Vec<&Numbered> = all.iter().filter(|entry| entry.state == state).collect();
    html! {
        @if !own.is_empty() {
            h2 { (title) }
            ol.findings {
                @for (entry, finding) in own.iter().filter_map(|entry| Some((entry, entry.finding()?))) {
                    li id=(format!("f{}", entry.number)) {
                        (sign(entry.number, finding)) " "
                        strong { (finding.level.word()) @if let Some(item) = &finding.item { " in " (visible(item)) } ": " }
                        (prose(&opened(finding))) (place(finding, report))
                    }
                }
            }
        }
    }
}

fn list(title: &str, findings: &[&Finding], report: &Report) -> Markup {
    html! {
        @if !findings.is_empty() {
            h2 { (title) }
            ul {
                @for finding in findings {
                    li {
                        strong { (finding.level.word()) ": " }
                        (prose(&opened(finding))) (place(finding, report))
                    }
                }
            }
        }
    }
}

fn place(finding: &Finding, report: &Report) -> Markup {
    html! {
        " (" (visible(&finding.rule))
        @if let Some((file, at)) = report.place(finding.span) {
            ", " @for part in visible(file).split_inclusive('/') { (part) wbr; } ":" (at.line)
        }
        ")"
    }
}
