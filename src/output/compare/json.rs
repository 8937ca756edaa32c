//! A comparison for programs. The same input gives the same bytes.

use std::io::{self, Write};

use serde::Serialize;

use crate::compare::{Brought, ItemChange};
use crate::finding::Finding;
use crate::output::compare::{Input, standing};
use crate::output::escaped;
use crate::output::json::FORMAT;
use crate::report::Report;

/// One object: changed details and assemblies, substituted materials, findings new, worse, gone and unchanged, what the
/// submittal brings, what could not be read, the proposal.
///
/// # Errors
/// Those of `out`.
pub fn json(input: &Input<'_>, out: &mut dyn Write) -> io::Result<()> {
    let (comparison, issued, submitted) = (input.comparison, input.issued, input.submitted);
    let findings = &comparison.findings;
    let (action, reason) = input.proposal();
    let whole = Whole {
        format: FORMAT,
        project: input.project,
        submittal: input.number,
        date: input.date.to_string(),
        not_applied: NotApplied { waivers: comparison.waivers.iter().map(waiver).collect(), settings: input.settings },
        details: comparison.details.iter().map(item).collect(),
        assemblies: comparison.assemblies.iter().map(item).collect(),
        others: comparison.others.iter().map(item).collect(),
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
            worse: findings
                .worse
                .iter()
                .map(|(old, new)| Worse { entry: entry(new, submitted), was: &old.message })
                .collect(),
            gone: findings.gone.iter().map(|f| entry(f, issued)).collect(),
            unchanged: findings.unchanged.iter().map(|(_, f)| entry(f, submitted)).collect(),
            unread_issued: findings.unread_issued.iter().map(|f| entry(f, issued)).collect(),
            unread: findings.unread.iter().map(|f| entry(f, submitted)).collect(),
        },
        proposal: Proposal { action: action.words(), because: reason, stands: standing::words(findings) },
    };
    escaped::pretty(&whole, out)?;
    writeln!(out)
}

#[derive(Serialize)]
struct Whole<'a> {
    format: u32,
    project: Option<&'a str>,
    submittal: Option<&'a str>,
    date: String,
    not_applied: NotApplied<'a>,
    details: Vec<Item<'a>>,
    assemblies: Vec<Item<'a>>,
    /// Climates and drawing sets.
    others: Vec<Item<'a>>,
    materials: Vec<Material<'a>>,
    findings: Findings<'a>,
    proposal: Proposal,
}

/// Waivers and settings that the submittal brings.
#[derive(Serialize)]
struct NotApplied<'a> {
    waivers: Vec<Waiver<'a>>,
    settings: &'a [String],
}

#[derive(Serialize)]
struct Waiver<'a> {
    item: &'a str,
    rule: &'a str,
    on: Option<&'a str>,
    because: &'a str,
    by: Option<&'a str>,
    until: Option<String>,
}

#[derive(Serialize)]
struct Item<'a> {
    name: &'a str,
    issued_as: Option<&'a str>,
    state: &'static str,
    title: Option<&'a str>,
    sheet: Option<&'a str>,
    sections: &'a [String],
    changes: Vec<Change<'a>>,
}

#[derive(Serialize)]
struct Change<'a> {
    what: &'a str,
    issued: Option<&'a str>,
    submitted: Option<&'a str>,
    /// The change that brings this one about.
    follows: Option<&'a str>,
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
    worse: Vec<Worse<'a>>,
    gone: Vec<Entry<'a>>,
    unchanged: Vec<Entry<'a>>,
    unread_issued: Vec<Entry<'a>>,
    unread: Vec<Entry<'a>>,
}

#[derive(Serialize)]
struct Worse<'a> {
    #[serde(flatten)]
    entry: Entry<'a>,
    /// The message of the issued finding.
    was: &'a str,
}

#[derive(Serialize)]
struct Entry<'a> {
    rule: &'a str,
    title: &'a str,
    level: &'static str,
    message: &'a str,
    file: Option<&'a str>,
    line: Option<usize>,
    item: Option<&'a str>,
    fix: Option<&'a str>,
}

#[derive(Serialize)]
struct Proposal {
    action: &'static str,
    because: String,
    /// What the issued details have open, and the submittal leaves as it is.
    stands: Option<String>,
}

fn waiver(brought: &Brought) -> Waiver<'_> {
    let waiver = &brought.waiver;
    Waiver {
        item: &brought.home,
        rule: &waiver.rule,
        on: waiver.on.as_ref().map(|(name, _)| &**name),
        because: &waiver.because,
        by: waiver.by.as_deref(),
        until: waiver.until.map(|date| date.to_string()),
    }
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
        title: change.title.as_deref(),
        sheet: change.sheet.as_deref(),
        sections: &change.sections,
        changes: change
            .changes
            .iter()
            .map(|c| Change {
                what: &c.what,
                issued: c.issued.as_deref(),
                submitted: c.submitted.as_deref(),
                follows: c.follows.as_deref(),
            })
            .collect(),
    }
}

fn entry<'a>(finding: &'a Finding, report: &'a Report) -> Entry<'a> {
    let place = report.place(finding.span);
    Entry {
        rule: &finding.rule,
        title: &finding.title,
        level: finding.level.word(),
        message: &finding.message,
        file: place.map(|(file, _)| file),
        line: place.map(|(_, at)| at.line),
        item: finding.item.as_deref(),
        fix: finding.fix.as_deref(),
    }
}
