//! Findings for programs. The same input gives the same bytes.

use std::io::{self, Write};

use serde::ser::SerializeMap;
use serde::{Serialize, Serializer};

use crate::finding::{Finding, Step};
use crate::output::escaped;
use crate::output::place::place;
use crate::quantity::parse_quantity;
use crate::report::Report;
use crate::text::Span;

/// One object with the tool, the number of files, all findings and their count by level.
///
/// # Errors
/// Those of `out`.
pub fn json(report: &Report, out: &mut dyn Write) -> io::Result<()> {
    let summary = report.summary();
    let whole = Whole {
        format: FORMAT,
        tool: Tool { name: env!("CARGO_PKG_NAME"), version: env!("CARGO_PKG_VERSION") },
        files: report.files,
        left_out: report.left_out,
        findings: Findings(report),
        summary: Counts {
            error: summary.error,
            warning: summary.warning,
            note: summary.note,
            waived: summary.waived,
            known: Some(summary.known).filter(|count| *count > 0),
        },
        off: report
            .off
            .iter()
            .map(|off| Off { rule: &off.rule, folder: off.folder.as_deref(), because: &off.because })
            .collect(),
    };
    escaped::pretty(&whole, out)?;
    writeln!(out)
}

/// One finding a line, of those that are wanted, each the same object as in `json`.
///
/// # Errors
/// Those of `out`.
pub fn jsonl(report: &Report, wanted: &dyn Fn(&Finding) -> bool, out: &mut dyn Write) -> io::Result<()> {
    for finding in report.findings.iter().filter(|finding| wanted(finding)) {
        escaped::line(&Entry::of(report, finding), out)?;
        writeln!(out)?;
    }
    Ok(())
}

/// Of all JSON that programs read. It rises when a field goes or changes its meaning; new fields do not raise it.
pub const FORMAT: u32 = 1;

#[derive(Serialize)]
struct Whole<'a> {
    format: u32,
    tool: Tool,
    files: usize,
    left_out: usize,
    findings: Findings<'a>,
    summary: Counts,
    off: Vec<Off<'a>>,
}

/// A rule that the settings switch off.
#[derive(Serialize)]
struct Off<'a> {
    rule: &'a str,
    folder: Option<&'a str>,
    because: &'a str,
}

/// Made into entries one by one while they are written: there may be a hundred thousand.
struct Findings<'a>(&'a Report);

impl Serialize for Findings<'_> {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_seq(self.0.findings.iter().map(|finding| Entry::of(self.0, finding)))
    }
}

#[derive(Serialize)]
struct Tool {
    name: &'static str,
    version: &'static str,
}

#[derive(Serialize)]
struct Counts {
    error: usize,
    warning: usize,
    note: usize,
    waived: usize,
    /// Left out while no list of known findings lets any pass.
    #[serde(skip_serializing_if = "Option::is_none")]
    known: Option<usize>,
}

#[derive(Serialize)]
struct Entry<'a> {
    rule: &'a str,
    title: &'a str,
    level: &'static str,
    message: &'a str,
    file: Option<&'a str>,
    line: Option<usize>,
    column: Option<usize>,
    end_line: Option<usize>,
    end_column: Option<usize>,
    item: Option<&'a str>,
    subject: Vec<&'a str>,
    #[serde(serialize_with = "in_order")]
    values: Vec<(&'a str, &'a str)>,
    /// Those of the values that are a number with a unit.
    #[serde(serialize_with = "by_name")]
    quantities: Vec<(&'a str, Number)>,
    fix: Option<&'a str>,
    basis: Vec<Source<'a>>,
    related: Vec<Spot<'a>>,
    trail: Vec<Spot<'a>>,
    waived: Option<Waiver<'a>>,
    /// Left out unless it is on the list of known findings.
    #[serde(skip_serializing_if = "std::ops::Not::not")]
    known: bool,
}

#[derive(Serialize)]
struct Source<'a> {
    source: &'a str,
    clause: Option<&'a str>,
    says: Option<&'a str>,
    known: &'static str,
}

/// A place with what is said of it; a step of a drop that no statement stands for has no place.
#[derive(Serialize)]
struct Spot<'a> {
    file: Option<&'a str>,
    line: Option<usize>,
    column: Option<usize>,
    message: &'a str,
}

#[derive(Serialize)]
struct Waiver<'a> {
    because: &'a str,
    by: Option<&'a str>,
    until: Option<String>,
}

impl<'a> Entry<'a> {
    fn of(report: &'a Report, finding: &'a Finding) -> Entry<'a> {
        let place = place(report, finding.span);
        Entry {
            rule: &finding.rule,
            title: &finding.title,
            level: finding.level.word(),
            message: &finding.message,
            file: place.as_ref().map(|p| p.file),
            line: place.as_ref().map(|p| p.start.line),
            column: place.as_ref().map(|p| p.start.column),
            end_line: place.as_ref().map(|p| p.end.line),
            end_column: place.as_ref().map(|p| p.end.column),
            item: finding.item.as_deref(),
            subject: finding.subject.iter().map(|name| &**name).collect(),
            values: finding.values.iter().map(|(name, value)| (&**name, &**value)).collect(),
            quantities: finding.values.iter().filter_map(|(name, value)| Some((&**name, number(value)?))).collect(),
            fix: finding.fix.as_deref(),
            basis: finding
                .basis
                .iter()
                .map(|basis| Source {
                    source: &basis.source,
                    clause: basis.clause.as_deref(),
                    says: basis.says.as_deref(),
                    known: basis.known.word(),
                })
                .collect(),
            related: finding.related.iter().map(|r| Spot::of(report, Some(r.span), &r.message)).collect(),
            trail: finding.trail.iter().map(|Step { span, message }| Spot::of(report, *span, message)).collect(),
            waived: finding.waived.as_ref().map(|waived| Waiver {
                because: &waived.because,
                by: waived.by.as_deref(),
                until: waived.until.map(|date| date.to_string()),
            }),
            known: finding.listed,
        }
    }
}

impl<'a> Spot<'a> {
    fn of(report: &'a Report, span: Option<Span>, message: &'a str) -> Spot<'a> {
        let place = span.and_then(|span| place(report, span));
        Spot {
            file: place.as_ref().map(|p| p.file),
            line: place.as_ref().map(|p| p.start.line),
            column: place.as_ref().map(|p| p.start.column),
            message,
        }
    }
}

#[derive(Serialize)]
struct Number {
    value: f64,
    unit: &'static str,
}

/// `150 mm` and `6 in (152 mm)` as a number of the first unit.
fn number(text: &str) -> Option<Number> {
    let quantity = parse_quantity(text.split(" (").next()?).ok()?;
    Some(Number { value: quantity.number(), unit: quantity.unit.symbol })
}

fn by_name<S: Serializer>(values: &[(&str, Number)], serializer: S) -> Result<S::Ok, S::Error> {
    let mut map = serializer.serialize_map(Some(values.len()))?;
    values.iter().try_for_each(|(name, value)| map.serialize_entry(name, value))?;
    map.end()
}

/// Names with their values as an object that keeps the order of the rule.
fn in_order<S: Serializer>(values: &[(&str, &str)], serializer: S) -> Result<S::Ok, S::Error> {
    let mut map = serializer.serialize_map(Some(values.len()))?;
    for (name, value) in values {
        map.serialize_entry(name, value)?;
    }
    map.end()
}
