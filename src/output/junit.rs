//! Findings as a JUnit result file: a suite for each file, a case for each finding.

use std::io::{self, Write};

use crate::finding::{Finding, Level};
use crate::output::{visible, words};
use crate::report::Report;

/// A finding at or above `fail_on` (`None`: never) is a failed case, an accepted one is skipped with its reason, any
/// other passes with its words as output, so that a viewer is red exactly when the run fails.
/// The first suite holds one case for the run as a whole: viewers take a file without cases for an accident.
///
/// # Errors
/// Those of `out`.
pub fn junit(report: &Report, fail_on: Option<Level>, out: &mut dyn Write) -> io::Result<()> {
    let state = |finding: &Finding| match fail_on {
        _ if !finding.open() => State::Skipped,
        Some(least) if finding.level >= least => State::Failed,
        _ => State::Passed,
    };
    let failures = report.findings.iter().filter(|f| state(f) == State::Failed).count();
    let tests = report.findings.len() + 1;
    writeln!(out, "<?xml version=\"1.0\" encoding=\"UTF-8\"?>")?;
    writeln!(out, "<testsuites name=\"headlap\" tests=\"{tests}\" failures=\"{failures}\" errors=\"0\">")?;
    let run = words::counted(report.files, "file");
    writeln!(out, "  <testsuite name=\"review\" tests=\"1\" failures=\"0\" errors=\"0\" skipped=\"0\">")?;
    writeln!(out, "    <testcase name=\"{run} checked\" classname=\"headlap\"/>")?;
    writeln!(out, "  </testsuite>")?;
    for suite in report.findings.chunk_by(|a, b| a.span.file == b.span.file) {
        let file = report.source(suite[0].span).map_or("", |source| source.name.as_str());
        let count = |wanted: State| suite.iter().filter(|f| state(f) == wanted).count();
        writeln!(
            out,
            "  <testsuite name=\"{}\" tests=\"{}\" failures=\"{}\" errors=\"0\" skipped=\"{}\" file=\"{0}\">",
            escaped(file),
            suite.len(),
            count(State::Failed),
            count(State::Skipped),
        )?;
        for finding in suite {
            case(report, finding, state(finding), out)?;
        }
        writeln!(out, "  </testsuite>")?;
    }
    writeln!(out, "</testsuites>")
}

/// The result file of a run that could not be made, in the place of an older one that would seem to hold still.
///
/// # Errors
/// Those of `out`.
pub fn junit_of_failure(why: &str, out: &mut dyn Write) -> io::Result<()> {
    let why = escaped(why);
    writeln!(out, "<?xml version=\"1.0\" encoding=\"UTF-8\"?>")?;
    writeln!(out, "<testsuites name=\"headlap\" tests=\"1\" failures=\"0\" errors=\"1\">")?;
    writeln!(out, "  <testsuite name=\"review\" tests=\"1\" failures=\"0\" errors=\"1\" skipped=\"0\">")?;
    writeln!(out, "    <testcase name=\"the review could not be made\" classname=\"headlap\">")?;
    writeln!(out, "      <error type=\"error\" message=\"{why}\"/>")?;
    writeln!(out, "    </testcase>\n  </testsuite>\n</testsuites>")
}

#[derive(Clone, Copy, PartialEq, Eq)]
enum State {
    Passed,
    Failed,
    Skipped,
}

fn case(report: &Report, finding: &Finding, state: State, out: &mut dyn Write) -> io::Result<()> {
    let place = report.place(finding.span);
    let line = place.map_or(String::new(), |(_, at)| format!(", line {}", at.line));
    let item = finding.item.as_ref().map_or(String::new(), |item| format!("{item}: "));
    let name = format!("{item}{} ({}{line})", finding.message, finding.rule);
    writeln!(out, "    <testcase name=\"{}\" classname=\"{}\">", escaped(&name), escaped(&finding.rule))?;
    let (message, level) = (escaped(&finding.message), finding.level.word());
    let body = escaped_lines(&long(report, finding));
    match (state, &finding.waived) {
        (State::Failed, _) => {
            writeln!(out, "      <failure type=\"{level}\" message=\"{message}\">{body}</failure>")?;
        }
        (_, Some(waived)) => {
            writeln!(out, "      <skipped type=\"{level}\" message=\"{}\"/>", escaped(&words::waived(waived)))?;
        }
        (State::Skipped, None) => writeln!(out, "      <skipped type=\"{level}\" message=\"{}\"/>", words::KNOWN)?,
        (_, None) => writeln!(out, "      <system-out>{level}: {body}</system-out>")?,
    }
    writeln!(out, "    </testcase>")
}

/// All that a person needs who sees only this case.
fn long(report: &Report, finding: &Finding) -> String {
    let mut lines = Vec::new();
    if let Some((file, at)) = report.place(finding.span) {
        lines.push(format!("{}:{}:{}", visible(file), at.line, at.column));
    }
    lines.push(visible(&finding.message).into_owned());
    lines.extend(finding.trail.iter().enumerate().map(|(i, step)| format!("{}. {}", i + 1, visible(&step.message))));
    if let Some(numbers) = words::values(finding) {
        lines.push(format!("Numbers: {numbers}"));
    }
    lines.extend(finding.fix.iter().map(|fix| format!("To do: {}", visible(fix))));
    lines.extend(finding.basis.iter().map(|basis| format!("Basis: {}", words::basis(basis))));
    lines.join("\n")
}

/// Text for an attribute or an element; what XML cannot hold is spelled out.
fn escaped(text: &str) -> String {
    escaped_lines(&visible(text))
}

/// The same for text that was made visible already and has line breaks of its own.
fn escaped_lines(text: &str) -> String {
    text.replace('&', "&amp;").replace('<', "&lt;").replace('>', "&gt;").replace('"', "&quot;").replace('\'', "&apos;")
}
