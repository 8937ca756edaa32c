//! The same findings in whole sentences without drawn lines, for a screen reader.

use std::io::{self, Write};

use crate::finding::Finding;
use crate::output::place::{Place, place};
use crate::output::wrap::wrap;
use crate::output::{CAUTION, Look, visible, words};
use crate::report::{Proved, Report};
use crate::text::Span;

pub fn narrated(report: &Report, look: Look, out: &mut dyn Write) -> io::Result<()> {
    if !look.quiet {
        writeln!(out, "{}\n", words::summary(report.summary(), report.files))?;
    }
    if let Some(known) = words::known_before(&report.findings).filter(|_| !look.quiet) {
        writeln!(out, "{}\n", wrap(&known, "", look.width))?;
    }
    if let Some(off) = words::off(&report.off).filter(|_| !look.quiet) {
        writeln!(out, "{}\n", wrap(&off, "", look.width))?;
    }
    let count = report.findings.len();
    // A finding has one number wherever it is shown: its place in the report.
    let shown = |f: &Finding| f.open() || f.waived.is_some() && !look.quiet;
    for (place, finding) in report.findings.iter().enumerate().filter(|(_, finding)| shown(finding)) {
        let kind = if finding.waived.is_some() { "Waived finding" } else { "Finding" };
        let opening = format!("{kind} {} of {count}", place + 1);
        for sentence in sentences(report, finding, report.proved.get(&place), &opening) {
            writeln!(out, "{}", wrap(&sentence, "", look.width))?;
        }
        writeln!(out)?;
    }
    if look.caution && !look.quiet { writeln!(out, "{}", wrap(CAUTION, "", look.width)) } else { Ok(()) }
}

fn sentences(report: &Report, finding: &Finding, proved: Option<&Proved>, opening: &str) -> Vec<String> {
    let title = words::title(finding);
    let item = finding.item.as_ref().map_or(String::new(), |item| format!(" In {}.", visible(item)));
    let mut said = vec![
        format!(
            "{opening}. {}: {}.{item} Rule {}.",
            words::capital(finding.level.word()),
            visible(title),
            finding.rule
        ),
        words::sentence(&visible(&words::opened(finding))),
    ];
    said.extend(at(report, finding.span, "At"));
    for related in &finding.related {
        said.extend(at(report, related.span, &format!("See also, {}, at", visible(&related.message))));
    }
    for (index, step) in finding.trail.iter().enumerate() {
        said.push(words::sentence(&format!("Water path, step {}: {}", index + 1, visible(&step.message))));
    }
    if let Some(numbers) = words::values(finding) {
        said.push(words::sentence(&format!("Numbers: {numbers}")));
    }
    if let Some(fix) = &finding.fix {
        said.push(words::sentence(&format!("What to do: {}", visible(fix))));
    }
    if let Some(proved) = proved {
        said.push(words::sentence(&format!(
            "An edit that was tried and clears this finding without another: {}",
            visible(&proved.title)
        )));
    }
    for basis in finding.basis.iter() {
        said.push(words::sentence(&format!("Basis: {}", words::basis(basis))));
    }
    if let Some(waived) = &finding.waived {
        said.push(words::sentence(&format!("Waived because {}", words::waived(waived))));
    }
    said
}

/// `At line 34, column 9 of walls.detail, the words "lower", in the line "piece lower …".`
fn at(report: &Report, span: Span, opening: &str) -> Option<String> {
    let Place { file, start, end } = place(report, span)?;
    let source = report.source(span)?;
    let line = visible(source.text[source.lines().range(&source.text, start.line - 1)].trim()).into_owned();
    let words = visible(source.at(span)).into_owned();
    let quoted = if start.line == end.line && !words.is_empty() && words != line {
        format!(", the words \"{words}\"")
    } else {
        String::new()
    };
    let line: String =
        if line.chars().count() > 200 { line.chars().take(200).chain("...".chars()).collect() } else { line };
    Some(format!(
        "{opening} line {}, column {} of {}{quoted}, in the line \"{line}\".",
        start.line,
        start.column,
        visible(file)
    ))
}
