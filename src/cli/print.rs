//! Standard output and standard error.

use std::io::{self, BufWriter, ErrorKind, IsTerminal, Write};
use std::process::ExitCode;

use crate::cli::Message;
use crate::cli::args::{Color, Page};
use crate::cli::failure::Failure;
use crate::finding::Finding;
use crate::output::{self, Look, visible};
use crate::report::Report;
use crate::text::nearest;

/// Passes buffered standard output to `write`. It is not an error when the reader closes the pipe early.
pub fn out(write: impl FnOnce(&mut dyn Write) -> io::Result<()>) -> Result<(), Failure> {
    let mut out = BufWriter::with_capacity(1 << 16, io::stdout().lock());
    match write(&mut out).and_then(|()| out.flush()) {
        Err(error) if error.kind() != ErrorKind::BrokenPipe => Err(error.into()),
        _ => {
            // What a closed pipe did not take must not be tried again when the buffer is dropped.
            let _ = out.into_parts();
            Ok(())
        }
    }
}

/// A remark on standard error. A closed standard error is no reason to fail.
pub fn aside(words: &str) {
    let _ = writeln!(io::stderr(), "headlap: {}", visible(words));
}

/// Prints what is wrong with a file, and the consequence, on standard error.
pub fn refusal(report: &Report, so: Message<'_>, page: &Page) {
    let (look, mut out) = (look(page, &io::stderr()), io::stderr().lock());
    let _ = output::findings(report, look, &mut out);
    let _ = writeln!(out, "headlap: {}", visible(&so.words()));
}

/// The exit status of a command that shows what it worked out: 2 when a file could not be read at all, 1 when some text
/// of a file could not. Standard error reports both, and the consequence.
pub fn unread(report: &Report, so: Message<'_>, typed: &Page) -> ExitCode {
    let findings: Vec<Finding> = report.findings.iter().filter(|finding| finding.unread()).cloned().collect();
    if findings.is_empty() {
        return ExitCode::SUCCESS;
    }
    let lost = findings.iter().any(|finding| &*finding.rule == "unreadable");
    let report = Report { findings, sources: report.sources.clone(), files: report.files, ..Report::default() };
    refusal(&report, so, typed);
    ExitCode::from(if lost { 2 } else { 1 })
}

/// The first of the wanted names that nothing has, with the nearest name that something has.
pub fn named<'a>(wanted: &[String], known: impl Iterator<Item = &'a str> + Clone) -> Result<(), Failure> {
    let Some(name) = wanted.iter().find(|name| known.clone().all(|other| other != name.as_str())) else {
        return Ok(());
    };
    Err(Message::NoneToShow { name, near: nearest(name, known) }.into())
}

/// How text looks on standard output.
pub fn page(page: &Page) -> Look {
    look(page, &io::stdout())
}

fn look(page: &Page, stream: &impl IsTerminal) -> Look {
    let terminal = stream.is_terminal();
    let set = |name: &str| std::env::var_os(name).is_some_and(|value| !value.is_empty());
    let is = |name: &str, wanted: &str| std::env::var_os(name).is_some_and(|value| value == wanted);
    let color = match page.color {
        Color::Always => true,
        Color::Never => false,
        Color::Auto => terminal && !set("NO_COLOR") && !is("TERM", "dumb"),
    };
    let width = page.width.map(usize::from).unwrap_or_else(|| {
        // Longer lines are hard to read back from end to start.
        let own = terminal_size::terminal_size().filter(|_| terminal);
        own.map_or(100, |(width, _)| usize::from(width.0).clamp(40, 120))
    });
    // The text console of a machine without a screen system draws few signs.
    let unicode = !page.ascii && !(terminal && (is("TERM", "linux") || is("TERM", "dumb")));
    let narrate = page.narrate || (set("HEADLAP_NARRATE") && !is("HEADLAP_NARRATE", "0"));
    // Services that run gates set CI.
    let caution = terminal || !set("CI") || is("CI", "false");
    Look { color, unicode, width, narrate, quiet: false, caution }
}
