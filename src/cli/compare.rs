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
    print::out(|out| match args.format.as_str() {
        "json" => output::compare::json(&comparison, &before.report, &after.report, out),
        _ => output::compare::text(&comparison, &before.report, &after.report, print::page(page), out),
    })?;
    let failed = comparison.findings.new.iter().any(|f| fail_on.is_some_and(|least| f.level >= least));
    Ok(ExitCode::from(u8::from(failed)))
}
