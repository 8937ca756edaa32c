//! `headlap compare`: a submittal against the issued details.

use std::process::ExitCode;

use crate::cli::args::{Compare, Page};
use crate::cli::task::Task;
use crate::cli::{Done, print};
use crate::compare::{Side, compare};
use crate::finding::Level;
use crate::output;
use crate::project;

pub fn run(args: Compare, page: &Page) -> Done {
    let issued = Task::of(std::slice::from_ref(&args.issued))?;
    let submitted = Task::of(std::slice::from_ref(&args.submitted))?;
    let (before, after) = (issued.run(true), submitted.run(true));
    let comparison = compare(
        &Side { checked: &before.checked, report: &before.report },
        &Side { checked: &after.checked, report: &after.report },
    );
    let fail_on = args.fail_on.as_deref().and_then(project::fail_on).unwrap_or(Some(Level::Error));
    let (old, new) = (&before.report, &after.report);
    let write = |look: output::Look, out: &mut dyn std::io::Write| match args.format.as_str() {
        "json" => output::compare::json(&comparison, old, new, out),
        "html" => output::compare::html(&comparison, old, new, out),
        _ => output::compare::text(&comparison, old, new, look, out),
    };
    match &args.out {
        Some(path) => project::write_whole(path, |out| write(output::Look::PLAIN, out))?,
        None => print::out(|out| write(print::page(page), out))?,
    }
    let failed = comparison.findings.new.iter().any(|f| fail_on.is_some_and(|least| f.level >= least));
    Ok(ExitCode::from(u8::from(failed)))
}
