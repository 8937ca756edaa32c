//! A comparison for programs. The same input gives the same bytes.

use std::io::{self, Write};

use serde::Serialize;

use crate::compare::{Comparison, ItemChange};
use crate::finding::Finding;
use crate::output::escaped;
use crate::output::sheet;
use crate::report::Report;

/// One object: changed details and assemblies, substituted materials, findings new, gone and unchanged, the proposal.
///
/// # Errors
/// Those of `out`.
pub fn json(comparison: &Comparison<'_>, issued: &Report, submitted: &Report, out: &mut dyn Write) -> io::Result<()> {
    let findings = &comparison.findings;
    let (action, reason) = sheet::proposal(&submitted.findings);
    let whole = Whole {
        details: comparison.details.iter().map(item).collect(),
        assemblies: comparison.assemblies.iter().map(item).collect(),
        materials: comparison
            .substitutions
            .iter()
            .map(|pair| Material {
                issued: &pair.issued.name,
                submitted: &pair.submitted.name,
                properties: pair
                    .rows
                    .iter()
                    .map(|row| Row {
                        property: row.property,
                        control: row.control.map(|control| control.word()),
                        issued: &row.issued,
                        submitted: &row.submitted,
                        verdict: row.verdict.word(),
                    })
                    .collect(),
            })
            .collect(),
        findings: Findings {
            new: findings.new.iter().map(|f| entry(f, submitted)).collect(),
            gone: findings.gone.iter().map(|f| entry(f, issued)).collect(),
            unchanged: findings.unchanged.iter().map(|f| entry(f, submitted)).collect(),
        },
        proposal: Proposal { action: action.words(), because: reason },
    };
    escaped::pretty(&whole, out)?;
    writeln!(out)
}

#[derive(Serialize)]
struct Whole<'a> {
    details: Vec<Item<'a>>,
    assemblies: Vec<Item<'a>>,
    materials: Vec<Material<'a>>,
    findings: Findings<'a>,
    proposal: Proposal,
}

#[derive(Serialize)]
struct Item<'a> {
    name: &'a str,
    issued_as: Option<&'a str>,
    state: &'static str,
    changes: Vec<Change<'a>>,
}

#[derive(Serialize)]
struct Change<'a> {
    what: &'a str,
    issued: Option<&'a str>,
    submitted: Option<&'a str>,
}

#[derive(Serialize)]
struct Material<'a> {
    issued: &'a str,
    submitted: &'a str,
    properties: Vec<Row<'a>>,
}

#[derive(Serialize)]
struct Row<'a> {
    property: &'a str,
    control: Option<&'static str>,
    issued: &'a str,
    submitted: &'a str,
    verdict: &'static str,
}

#[derive(Serialize)]
struct Findings<'a> {
    new: Vec<Entry<'a>>,
    gone: Vec<Entry<'a>>,
    unchanged: Vec<Entry<'a>>,
}

#[derive(Serialize)]
struct Entry<'a> {
    rule: &'a str,
    level: &'static str,
    message: &'a str,
    file: Option<&'a str>,
    line: Option<usize>,
    item: Option<&'a str>,
}

#[derive(Serialize)]
struct Proposal {
    action: &'static str,
    because: String,
}

fn item(change: &ItemChange) -> Item<'_> {
    Item {
        name: &change.name,
        issued_as: change.was.as_deref(),
        state: match (change.added, change.removed) {
            (true, _) => "added",
            (_, true) => "removed",
            _ => "changed",
        },
        changes: change
            .changes
            .iter()
            .map(|c| Change { what: &c.what, issued: c.issued.as_deref(), submitted: c.submitted.as_deref() })
            .collect(),
    }
}

fn entry<'a>(finding: &'a Finding, report: &'a Report) -> Entry<'a> {
    let place = report.place(finding.span);
    Entry {
        rule: &finding.rule,
        level: finding.level.word(),
        message: &finding.message,
        file: place.map(|(file, _)| file),
        line: place.map(|(_, at)| at.line),
        item: finding.item.as_deref(),
    }
}
