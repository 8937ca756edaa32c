//! A comparison as one self-contained page.

use std::io::{self, Write};

use maud::{DOCTYPE, Markup, html};

use crate::compare::{Comparison, ItemChange, Verdict};
use crate::finding::Finding;
use crate::output::{CAUTION, sheet, visible};
use crate::report::Report;

/// Black on white, ruled, nothing told by color alone, so that it prints as it shows.
const STYLE: &str = "body{font:1rem/1.45 sans-serif;max-width:60rem;margin:2rem auto;padding:0 1rem;color:#111;background:#fff}\
h2{border-bottom:2px solid;margin-top:2.2rem}table{border-collapse:collapse;width:100%;margin:.5rem 0 1.5rem}\
th,td{border:1px solid #777;padding:.25rem .5rem;text-align:left;vertical-align:top}th{background:#eee}\
.worse{font-weight:bold;text-decoration:underline}li{margin:.25rem 0}";

/// The page: what changed, materials side by side, findings, the reviewer's sheet, the caution.
///
/// # Errors
/// Those of `out`.
pub fn html(comparison: &Comparison<'_>, issued: &Report, submitted: &Report, out: &mut dyn Write) -> io::Result<()> {
    let findings = &comparison.findings;
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
                    p {
                        (findings.new.len()) " new findings, " (findings.gone.len()) " gone, "
                        (findings.unchanged.len()) " unchanged."
                    }
                    (items("Details", &comparison.details))
                    (items("Assemblies", &comparison.assemblies))
                    (materials(comparison))
                    (list("New findings", &findings.new, submitted))
                    (list("Findings that are gone", &findings.gone, issued))
                    (list("Unchanged findings", &findings.unchanged, submitted))
                    (decision(submitted))
                    p { small { (CAUTION) } }
                }
            }
        }
    };
    out.write_all(page.into_string().as_bytes())
}

fn items(title: &str, items: &[ItemChange]) -> Markup {
    html! {
        @if !items.is_empty() {
            h2 { (title) }
            @for item in items {
                h3 {
                    (visible(&item.name))
                    @if item.added { " — only in the submittal" }
                    @if item.removed { " — missing from the submittal" }
                    @if let Some(was) = &item.was { " — issued as " (visible(was)) }
                }
                @if !item.changes.is_empty() {
                    table {
                        thead { tr { th scope="col" { "what" } th scope="col" { "issued" } th scope="col" { "submitted" } } }
                        tbody {
                            @for change in &item.changes {
                                tr {
                                    th scope="row" { (visible(&change.what)) }
                                    td { (visible(change.issued.as_deref().unwrap_or("none"))) }
                                    td { (visible(change.submitted.as_deref().unwrap_or("gone"))) }
                                }
                            }
                        }
                    }
                }
            }
        }
    }
}

fn materials(comparison: &Comparison<'_>) -> Markup {
    html! {
        @if !comparison.substitutions.is_empty() {
            h2 { "Materials side by side" }
            @for pair in &comparison.substitutions {
                h3 { (visible(&pair.submitted.name)) " in place of " (visible(&pair.issued.name)) }
                table {
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
                        (visible(&finding.message))
                        " (" (visible(&finding.rule))
                        @if let Some((file, at)) = report.place(finding.span) { ", " (visible(file)) ":" (at.line) }
                        ")"
                    }
                }
            }
        }
    }
}

fn decision(submitted: &Report) -> Markup {
    let (action, reason) = sheet::proposal(&submitted.findings);
    html! {
        h2 { "Reviewer's sheet" }
        p { "Proposed: " strong { (action.words()) } " (" (reason) ")." }
        ul {
            @for action in sheet::Action::ALL { li { "☐ " (action.words()) } }
        }
        p { "Decided by ______________________ date ____________ (the reviewer decides, not this program)" }
    }
}
