//! The reviewer's sheet on the page: what the open findings justify, and room for the decision.

use maud::{Markup, html};

use crate::finding::{Finding, Level};
use crate::output::html::{Input, prose};
use crate::output::sheet::{Action, proposal};
use crate::output::words::capital;
use crate::output::words::counted;

pub fn sheet(input: &Input) -> Markup {
    let (proposed, reason) = proposal(input.report.findings.iter().filter(|f| f.open()));
    let open: Vec<(usize, &Finding)> = input.report.findings.iter().enumerate().filter(|(_, f)| f.open()).collect();
    let count = |level: Level| open.iter().filter(|(_, f)| f.level == level).count();
    html! {
        section #sheet aria-labelledby="sheet-title" {
            h2 #sheet-title { "Reviewer's sheet" }
            p {
                "Open findings: " (counted(count(Level::Error), "error")) ", " (counted(count(Level::Warning), "warning")) ", "
                (counted(count(Level::Note), "note")) ". Proposed: " strong #proposed { (proposed.words()) } " (" (reason)
                "). The reviewer decides, not this program."
            }
            ul.choice aria-label="Decision, to be marked on paper" {
                @for action in Action::ALL {
                    li { span.box {} (capital(action.words())) @if action == proposed { " (proposed)" } }
                }
            }
            @if !open.is_empty() {
                h3 { "Corrections" }
                ol { @for (number, finding) in open.iter().filter(|(_, f)| f.level > Level::Note) {
                    li {
                        a href=(format!("#f{}", number + 1)) { "Finding " (number + 1) }
                        @if let Some(item) = &finding.item { ", " (crate::output::visible(item)) } ": "
                        (prose(finding.fix.as_deref().unwrap_or(&finding.message)))
                    }
                } }
            }
            table.blank {
                caption { "Decision" }
                tbody { @for head in ["Remarks", "Reviewer", "Signature", "Date"] { tr { th scope="row" { (head) } td {} } } }
            }
        }
    }
}
