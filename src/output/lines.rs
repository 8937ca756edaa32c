//! One line for each finding, for plain logs.

use std::io::{self, Write};

use crate::finding::Finding;
use crate::output::visible;
use crate::report::Report;

/// `walls.detail:7:9: warning: upper laps lower by 120 mm; at least 150 mm is wanted (short-head-lap)`.
/// Only those that are wanted are listed, and accepted ones say so in the place of their level.
///
/// # Errors
/// Those of `out`.
pub fn lines(report: &Report, wanted: &dyn Fn(&Finding) -> bool, out: &mut dyn Write) -> io::Result<()> {
    for finding in report.findings.iter().filter(|finding| wanted(finding)) {
        if let Some((file, at)) = report.place(finding.span) {
            write!(out, "{}:{}:{}: ", visible(file), at.line, at.column)?;
        }
        let level = match finding.level {
            _ if finding.waived.is_some() => "waived",
            _ if finding.listed => "known",
            level => level.word(),
        };
        writeln!(out, "{level}: {} ({})", visible(&finding.message), visible(&finding.rule))?;
    }
    Ok(())
}
