//! A comparison for people at a terminal.

use std::io::{self, Write};

use crate::compare::{Change, Comparison, ItemChange};
use crate::finding::Finding;
use crate::output::wrap::wrap;
use crate::output::{CAUTION, Look, sheet, visible};
use crate::report::Report;

/// What changed, the substituted materials side by side, the findings, and the reviewer's sheet.
///
/// # Errors
/// Those of `out`.
pub fn text(
    comparison: &Comparison<'_>,
    issued: &Report,
    submitted: &Report,
    look: Look,
    out: &mut dyn Write,
) -> io::Result<()> {
    items("Details", &comparison.details, look, out)?;
    items("Assemblies", &comparison.assemblies, look, out)?;
    materials(comparison, out)?;
    let findings = &comparison.findings;
    list("New findings", &findings.new, submitted, look, out)?;
    list("Findings that are gone", &findings.gone, issued, look, out)?;
    list("Unchanged findings", &findings.unchanged, submitted, look, out)?;
    let quiet =
        comparison.details.is_empty() && comparison.assemblies.is_empty() && comparison.substitutions.is_empty();
    if quiet && findings.new.is_empty() && findings.gone.is_empty() {
        writeln!(out, "The submittal changes nothing.\n")?;
    }
    for line in sheet::lines(&submitted.findings) {
        writeln!(out, "{line}")?;
    }
    writeln!(out, "\n{}", wrap(CAUTION, "", look.width))
}

fn items(title: &str, items: &[ItemChange], look: Look, out: &mut dyn Write) -> io::Result<()> {
    if items.is_empty() {
        return Ok(());
    }
    writeln!(out, "{title}")?;
    for item in items {
        let name = visible(&item.name);
        match (item.added, item.removed, &item.was) {
            (true, ..) => writeln!(out, "  {name}: only in the submittal")?,
            (_, true, _) => writeln!(out, "  {name}: missing from the submittal")?,
            (.., Some(was)) => writeln!(out, "  {name} (issued as {})", visible(was))?,
            _ => writeln!(out, "  {name}")?,
        }
        for change in &item.changes {
            writeln!(out, "{}", wrap(&visible(&words(change)), "    - ", look.width))?;
        }
    }
    writeln!(out)
}

fn words(change: &Change) -> String {
    match (&change.issued, &change.submitted) {
        (Some(issued), Some(submitted)) => format!("{}: {issued} -> {submitted}", change.what),
        (Some(issued), None) => format!("{}: gone ({issued})", change.what),
        (None, Some(submitted)) => format!("{}: new ({submitted})", change.what),
        (None, None) => change.what.clone(),
    }
}

fn materials(comparison: &Comparison<'_>, out: &mut dyn Write) -> io::Result<()> {
    for pair in &comparison.substitutions {
        let (issued, submitted) = (visible(&pair.issued.name), visible(&pair.submitted.name));
        if pair.issued.name == pair.submitted.name {
            writeln!(out, "Material {issued}, other values")?;
        } else {
            writeln!(out, "Material {submitted} in place of {issued}")?;
        }
        writeln!(out, "  {:<24} {:<18} {:<18} {:<10} for", "property", "issued", "submitted", "")?;
        for row in &pair.rows {
            let control = row.control.map_or("", |control| control.word());
            let line = format!(
                "  {:<24} {:<18} {:<18} {:<10} {control}",
                row.property,
                visible(&row.issued),
                visible(&row.submitted),
                row.verdict.word()
            );
            writeln!(out, "{}", line.trim_end())?;
        }
        if pair.rows.is_empty() {
            writeln!(out, "  no stated property differs")?;
        }
        writeln!(out)?;
    }
    Ok(())
}

fn list(title: &str, findings: &[&Finding], report: &Report, look: Look, out: &mut dyn Write) -> io::Result<()> {
    if findings.is_empty() {
        return Ok(());
    }
    writeln!(out, "{title}")?;
    for finding in findings {
        let place = report.place(finding.span).map_or(String::new(), |(file, at)| format!("{file}:{}: ", at.line));
        let line = format!("{place}{}: {} ({})", finding.level.word(), finding.message, finding.rule);
        writeln!(out, "{}", wrap(&visible(&line), "  - ", look.width))?;
    }
    writeln!(out)
}
