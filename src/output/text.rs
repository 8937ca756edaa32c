//! Findings for people at a terminal: the words at fault, the water's path, the numbers, what to do, and why.

use std::collections::HashMap;
use std::io::{self, Write};

use crate::finding::{Finding, Level};
use crate::output::excerpt::{Mark, excerpt};
use crate::output::narrated::narrated;
use crate::output::wrap::wrap;
use crate::output::{CAUTION, Look, visible, words};
use crate::report::{Proved, Report};
use crate::text::FileId;

/// Writes all findings, the waived ones in short after the others, the count and the caution.
///
/// # Errors
/// Those of `out`.
pub fn text(report: &Report, look: Look, out: &mut dyn Write) -> io::Result<()> {
    if look.narrate {
        return narrated(report, look, out);
    }
    findings(report, look, out)?;
    if look.quiet {
        return Ok(());
    }
    waived(report, look, out)?;
    if let Some(known) = words::known_before(&report.findings) {
        writeln!(out, "{}\n", wrap(&known, "", look.width))?;
    }
    if let Some(off) = words::off(&report.off) {
        writeln!(out, "{}\n", wrap(&off, "", look.width))?;
    }
    let summary = words::summary(report.summary(), report.files);
    writeln!(out, "{}", bold(&summary, look))?;
    if look.caution { writeln!(out, "\n{}", wrap(CAUTION, "", look.width)) } else { Ok(()) }
}

/// The open findings alone, each with its excerpts.
///
/// # Errors
/// Those of `out`.
pub fn findings(report: &Report, look: Look, out: &mut dyn Write) -> io::Result<()> {
    // A finding has one number wherever it is shown: its place in the report. Numbers that are passed over are accounted for.
    let last = report.findings.iter().rposition(Finding::open).map_or(0, |last| last + 1);
    let mut next = 0;
    // The number of the first finding of each rule, and how many there were.
    let mut before: HashMap<&str, (usize, usize)> = HashMap::default();
    for row in report.findings[..last].chunk_by(|a, b| !a.open() && !b.open()) {
        let (place, finding) = (next, &row[0]);
        next += row.len();
        if !finding.open() {
            writeln!(out, "{}\n", passed_over(place + 1, row, look))?;
            continue;
        }
        let (number, proved) = (place + 1, report.proved.get(&place));
        let (first, count) = before.entry(&finding.rule).or_insert((number, 0));
        *count += 1;
        writeln!(out, "{}", heading(number, report, finding, look))?;
        writeln!(out, "{}", wrap(&visible(&finding.message), "  ", look.width))?;
        if *count > WHOLE {
            short(report, finding, proved, *first, look, out)?;
        } else {
            for frame in frames(report, finding, look) {
                writeln!(out, "{frame}")?;
            }
            body(finding, proved, look, out)?;
        }
        writeln!(out)?;
    }
    Ok(())
}

/// The most findings of one rule that are shown whole. Hundreds of one rule have one cause more often than not: a habit, or what
/// all details share. The others keep their place and their number, and what they have in common is said once.
const WHOLE: usize = 10;

fn short(
    report: &Report,
    finding: &Finding,
    proved: Option<&Proved>,
    first: usize,
    look: Look,
    out: &mut dyn Write,
) -> io::Result<()> {
    let mut part = |name: &str, text: &str| part(name, text, look, out);
    if let Some((file, at)) = report.place(finding.span) {
        part("At", &format!("{}:{}:{}", visible(file), at.line, at.column))?;
    }
    if let Some(numbers) = words::values(finding) {
        part("Numbers", &numbers)?;
    }
    if let Some(fix) = &finding.fix {
        part("To do", &visible(fix))?;
    }
    if let Some(proved) = proved {
        edit(proved, look, out)?;
    }
    let mut part = |name: &str, text: &str| self::part(name, text, look, out);
    if finding.basis.is_empty() { Ok(()) } else { part("Basis", &format!("as in finding {first}")) }
}

/// `── 5 ── waived in C2: Head lap shorter than good practice`
fn passed_over(first: usize, findings: &[Finding], look: Look) -> String {
    let dash = if look.unicode { "──" } else { "--" };
    format!("{dash} {} {dash} {}", words::numbers(first, findings), words::passed_over(findings))
}

/// `── 1 ── error: Lap turned against the water ── A2 ──────── reverse-lap ──`
fn heading(number: usize, report: &Report, finding: &Finding, look: Look) -> String {
    let dash = if look.unicode { "─" } else { "-" };
    let title = words::title(finding);
    let mut plain = format!("{dash}{dash} {number} {dash}{dash} ");
    let mut shown = plain.clone();
    let level = finding.level.word();
    let rest = format!(": {}", visible(title));
    plain.push_str(level);
    plain.push_str(&rest);
    shown.push_str(&leveled(level, finding.level, look));
    shown.push_str(&bold(&rest, look));
    if let Some(item) = &finding.item {
        let item = format!(" {dash}{dash} {}", visible(item));
        plain.push_str(&item);
        shown.push_str(&item);
    }
    let rule = visible(&finding.rule);
    let gap = look.width.saturating_sub(plain.chars().count() + rule.chars().count() + 5).max(2);
    let page = report.pages.get(&finding.rule).filter(|_| look.color);
    let rule = page.map_or(rule.to_string(), |page| linked(&rule, page));
    format!("{shown} {} {rule} {dash}{dash}", dash.repeat(gap))
}

/// The excerpts: first the file at fault, then the others that have a part in it, each file once.
fn frames(report: &Report, finding: &Finding, look: Look) -> Vec<String> {
    let mut files: Vec<FileId> = vec![finding.span.file];
    for related in &finding.related {
        if !files.contains(&related.span.file) {
            files.push(related.span.file);
        }
    }
    let mut frames = Vec::new();
    for file in files {
        let Some(source) = report.sources.get(&file) else { continue };
        let mut marks: Vec<Mark> = finding
            .related
            .iter()
            .filter(|related| related.span.file == file)
            .map(|related| Mark { span: related.span, says: Some(related.message.to_string()), primary: false })
            .collect();
        if file == finding.span.file {
            let says = if finding.related.is_empty() { None } else { Some("here".to_owned()) };
            marks.insert(0, Mark { span: finding.span, says, primary: true });
        }
        frames.push(excerpt(source, &marks, look));
    }
    frames
}

/// What stands under the excerpt, each part with its name in front.
fn body(finding: &Finding, proved: Option<&Proved>, look: Look, out: &mut dyn Write) -> io::Result<()> {
    let mut part = |name: &str, text: &str| part(name, text, look, out);
    for (index, step) in finding.trail.iter().enumerate() {
        let name = if index == 0 { "Water" } else { "" };
        part(name, &format!("{}. {}", index + 1, visible(&step.message)))?;
    }
    if let Some(numbers) = words::values(finding) {
        part("Numbers", &numbers)?;
    }
    if let Some(fix) = &finding.fix {
        part("To do", &visible(fix))?;
    }
    if let Some(proved) = proved {
        edit(proved, look, out)?;
    }
    let mut part = |name: &str, text: &str| self::part(name, text, look, out);
    for (index, basis) in finding.basis.iter().enumerate() {
        part(if index == 0 { "Basis" } else { "" }, &words::basis(basis))?;
    }
    Ok(())
}

/// The edit that was proved, as the lines of the text that it changes; `review --fix` makes it.
fn edit(proved: &Proved, look: Look, out: &mut dyn Write) -> io::Result<()> {
    part(
        "Edit",
        &format!("{}. It was tried, and clears this finding without another.", visible(&proved.title)),
        look,
        out,
    )?;
    proved.lines.iter().try_for_each(|line| writeln!(out, "            {}", visible(line)))
}

fn part(name: &str, text: &str, look: Look, out: &mut dyn Write) -> io::Result<()> {
    let first = format!("  {name:<9} ");
    let wrapped = wrap(text, &first, look.width);
    let styled = wrapped.replacen(name, &bold(name, look), 1);
    writeln!(out, "{styled}")
}

/// Accepted deviations in short: they are no news, but they stay in sight.
fn waived(report: &Report, look: Look, out: &mut dyn Write) -> io::Result<()> {
    let mut first = true;
    for (finding, number) in report.findings.iter().zip(1..) {
        let Some(waived) = &finding.waived else { continue };
        if first {
            writeln!(out, "{}", bold("Waived", look))?;
            first = false;
        }
        let place = report
            .place(finding.span)
            .map_or(String::new(), |(file, at)| format!("{}:{}:{} ", visible(file), at.line, at.column));
        writeln!(
            out,
            "{}",
            wrap(&format!("{number}. {place}{}: {}", finding.rule, visible(&finding.message)), "  ", look.width)
        )?;
        writeln!(out, "{}", wrap(&words::waived(waived), "    because ", look.width))?;
    }
    if first { Ok(()) } else { writeln!(out) }
}

/// Words that lead to a page in terminals that know links (OSC 8). The others show the words alone.
fn linked(text: &str, page: &str) -> String {
    format!("\x1b]8;;{page}\x1b\\{text}\x1b]8;;\x1b\\")
}

fn bold(text: &str, look: Look) -> String {
    if look.color { format!("\x1b[1m{text}\x1b[0m") } else { text.to_owned() }
}

/// Color only repeats what the word says.
fn leveled(text: &str, level: Level, look: Look) -> String {
    let color = match level {
        Level::Error => 31,
        Level::Warning => 33,
        Level::Note => 36,
    };
    if look.color { format!("\x1b[1;{color}m{text}\x1b[0m") } else { text.to_owned() }
}
