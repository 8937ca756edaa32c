//! `headlap compare`: a submittal against the issued details.

use std::process::ExitCode;

use crate::cli::args::{Compare, Page};
use crate::cli::failure::Failure;
use crate::cli::task::{Task, today};
use crate::cli::{Done, Message, print};
use crate::compare::{Side, compare};
use crate::finding::Level;
use crate::output;
use crate::project;

pub fn run(args: Compare, page: &Page) -> Done {
    let date = match &args.date {
        Some(typed) => typed.parse().map_err(|_| Message::NotADay { typed })?,
        None => today(),
    };
    let issued = Task::of(std::slice::from_ref(&args.issued))?;
    let submitted = Task::of_submittal(&args.issued, &args.submitted)?;
    if let Some(out) = &args.out {
        for part in issued.parts.iter().chain(&submitted.parts) {
            let inputs = project::inputs(&part.project, &part.walked, &issued.working);
            let inputs: Vec<_> = inputs.iter().map(|path| path.as_path()).collect();
            project::check_outputs(&[out], &inputs, &issued.working).map_err(Failure::Outputs)?;
        }
    }
    let settings = project::brought_settings(issued.first().project.config.as_ref(), &args.submitted, &issued.working);
    let (before, after) = (issued.run(true), submitted.run(true));
    let comparison = compare(
        &Side { checked: &before.checked, report: &before.report },
        &Side { checked: &after.checked, report: &after.report },
    );
    let sheet = output::compare::Input {
        comparison: &comparison,
        issued: &before.report,
        submitted: &after.report,
        before: &before.checked,
        checked: &after.checked,
        settings: &settings,
        project: args.project.as_deref(),
        number: args.submittal.as_deref(),
        date,
    };
    let write = |look: output::Look, out: &mut dyn std::io::Write| match args.format.as_str() {
        "json" => output::compare::json(&sheet, out),
        "html" => output::compare::html(&sheet, out),
        _ => output::compare::text(&sheet, look, out),
    };
    match &args.out {
        Some(path) => project::write_whole(path, |out| write(output::Look::PLAIN, out))?,
        None => print::out(|out| write(print::page(page), out))?,
    }
    let set = || issued.first().project.config.as_ref().and_then(|config| config.fail_on);
    let fail_on = args.fail_on.as_deref().and_then(project::fail_on).or_else(set).unwrap_or(Some(Level::Error));
    let findings = &comparison.findings;
    let unread = !findings.unread.is_empty() || !findings.unread_issued.is_empty();
    let failed = fail_on.is_some_and(|least| unread || findings.held().iter().any(|finding| finding.level >= least));
    Ok(ExitCode::from(u8::from(failed)))
}
