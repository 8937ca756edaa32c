//! A comparison for people at a terminal.

use std::io::{self, Write};

use crate::compare::{Change, Comparison, ItemChange};
use crate::finding::Finding;
use crate::output::compare::narrated::narrated;
use crate::output::compare::{BROUGHT, Input, UNREAD, about, from_to, waives};
use crate::output::wrap::wrap;
use crate::output::{CAUTION, Look, sheet, visible};
use crate::report::Report;
use crate::text::set_off;

/// The verdict; what the submittal brings and what could not be read; the findings with their cures; what changed; the substituted
/// materials side by side; the reviewer's sheet.
///
/// # Errors
/// Those of `out`.
pub fn text(input: &Input<'_>, look: Look, out: &mut dyn Write) -> io::Result<()> {
    if look.narrate {
        return narrated(input, look, out);
    }
    let (comparison, findings) = (input.comparison, &input.comparison.findings);
    writeln!(out, "{}\n", visible(&input.heading()))?;
    if input.same() {
        writeln!(out, "The submittal changes nothing.\n")?;
    } else {
        let (action, reason) = input.verdict();
        writeln!(out, "{}\n", wrap(&visible(&format!("Proposed: {} ({reason}).", action.words())), "", look.width))?;
    }
    brought(input, look, out)?;
    if !findings.unread_issued.is_empty() || !findings.unread.is_empty() {
        list("Unreadable text in the issued details", &findings.unread_issued, input.issued, look, out)?;
        list("Unreadable text in the submittal", &findings.unread, input.submitted, look, out)?;
        writeln!(out, "{}\n", wrap(UNREAD, "", look.width))?;
    }
    let read = |findings: &[&'_ Finding]| findings.iter().filter(|f| !f.unread()).count();
    if read(&findings.new) > 0 {
        writeln!(out, "New findings")?;
        findings.new.iter().filter(|f| !f.unread()).try_for_each(|f| held(input, f, None, look, out))?;
        writeln!(out)?;
    }
    if !findings.worse.is_empty() {
        writeln!(out, "Findings that are worse")?;
        findings.worse.iter().try_for_each(|(old, new)| held(input, new, Some(old), look, out))?;
        writeln!(out)?;
    }
    items("Details", &comparison.details, look, out)?;
    items("Assemblies", &comparison.assemblies, look, out)?;
    items("Climates and drawing sets", &comparison.others, look, out)?;
    materials(comparison, out)?;
    list("Findings that are gone", &findings.gone, input.issued, look, out)?;
    let unchanged: Vec<&Finding> = findings.unchanged.iter().map(|(_, finding)| *finding).collect();
    list("Unchanged findings", &unchanged, input.submitted, look, out)?;
    // Where nothing changed there is nothing to decide.
    if !input.same() {
        for line in sheet::lines(input.verdict()) {
            writeln!(out, "{line}")?;
        }
        writeln!(out)?;
    }
    writeln!(out, "{}", wrap(CAUTION, "", look.width))
}

/// Waivers and settings of the submittal, which do not count.
fn brought(input: &Input<'_>, look: Look, out: &mut dyn Write) -> io::Result<()> {
    let waivers = input.comparison.waivers.iter().map(waives);
    let said: Vec<String> = waivers.chain(input.settings.iter().cloned()).collect();
    if said.is_empty() {
        return Ok(());
    }
    writeln!(out, "Waivers and settings that were not applied")?;
    for line in said {
        writeln!(out, "{}", wrap(&visible(&line), "  - ", look.width))?;
    }
    writeln!(out, "{}\n", wrap(BROUGHT, "  ", look.width))
}

/// A finding that the submittal answers for, with its cure.
fn held(
    input: &Input<'_>,
    finding: &Finding,
    issued: Option<&Finding>,
    look: Look,
    out: &mut dyn Write,
) -> io::Result<()> {
    writeln!(out, "{}", wrap(&visible(&line(finding, input.submitted)), "  - ", look.width))?;
    if let Some(issued) = issued {
        writeln!(out, "{}", wrap(&visible(&from_to(issued, finding)), "    ", look.width))?;
    }
    if let Some(fix) = &finding.fix {
        writeln!(out, "{}", wrap(&visible(fix), "    To do: ", look.width))?;
    }
    Ok(())
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
        let about = about(item);
        if !about.is_empty() {
            writeln!(out, "{}", wrap(&visible(&about), "    ", look.width))?;
        }
        let heads = item.changes.iter().filter(|change| change.follows.is_none());
        for change in heads {
            writeln!(out, "{}", wrap(&visible(&words(change)), "    - ", look.width))?;
            for lost in item.changes.iter().filter(|other| other.follows.as_ref() == Some(&change.what)) {
                writeln!(out, "{}", wrap(&visible(&words(lost)), "      - ", look.width))?;
            }
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
        let [issued, submitted] = [&pair.issued.name, &pair.submitted.name].map(|name| set_off(&visible(name)));
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
        writeln!(out, "{}", wrap(&visible(&line(finding, report)), "  - ", look.width))?;
    }
    writeln!(out)
}

pub(super) fn line(finding: &Finding, report: &Report) -> String {
    let place = report.place(finding.span).map_or(String::new(), |(file, at)| format!("{file}:{}: ", at.line));
    let item = finding.item.as_ref().map_or(String::new(), |item| format!("{item}: "));
    format!("{place}{}: {item}{} ({})", finding.level.word(), finding.message, finding.rule)
}
