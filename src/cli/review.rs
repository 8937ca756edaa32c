//! `headlap review`: the main job.

use std::io::{self, Write};
use std::iter::repeat;
use std::path::{Path, PathBuf};
use std::process::ExitCode;

use crate::cli::args::{Accepted, Format, Page, Review};
use crate::cli::failure::Failure;
use crate::cli::task::{Keep, Task, today};
use crate::cli::{Done, Message, chosen, explain, fix, print, stale, watch};
use crate::finding::{Finding, Level};
use crate::output::{self, Look};
use crate::project;
use crate::review::Run;
use crate::rules::Pack;

pub fn run(review: Review, page: &Page) -> Done {
    if review.fix && review.paths.iter().any(|path| path == Path::new("-")) {
        return Err(Message::FixOfPipe.into());
    }
    if review.write_known.is_some() && review.filter.narrows() {
        return Err(Message::WriteKnownOfPart.into());
    }
    if review.out.len() > review.format.len() {
        return Err(Message::MoreOutsThanFormats.into());
    }
    let files = review.out.iter().map(|out| !project::is_standard_output(out)).chain(repeat(false));
    let printed = || review.format.iter().zip(files.clone()).filter(|(_, file)| !file).map(|(format, _)| format);
    if printed().count() > 1 && printed().any(|format| format.is_for_programs()) {
        return Err(Message::FormatsShareOutput.into());
    }
    if let Some(file) = &review.explain_config {
        return explain::run(file, review.fail_on.as_deref(), review.known.as_deref(), print::page(page));
    }
    let typed: Vec<&Path> = review.files_from.iter().chain(&review.known).map(PathBuf::as_path).collect();
    project::check_outputs(&outputs(&review), &typed, &project::working()?).map_err(Failure::Outputs)?;
    let once = || reviewed(&review, page);
    if !review.watch {
        return once();
    }
    let promised = stale::of_review(&review);
    watch::run(&review, page, || once().inspect_err(|failure| stale::replace(&promised, failure)))
}

fn outputs(review: &Review) -> Vec<&Path> {
    review.out.iter().chain(&review.write_known).map(PathBuf::as_path).collect()
}

fn reviewed(review: &Review, page: &Page) -> Done {
    let Some(task) = chosen::task(review)? else {
        print::aside(&Message::NoFileToCheck.words());
        if review.require_files {
            return Err(Message::NothingChecked.into());
        }
        let (run, pack) = (Run::default(), Pack::default());
        write_all(review, &Written { run: &run, pack: &pack, fail_on: Some(Level::Error) }, page, true)?;
        return Ok(ExitCode::SUCCESS);
    };
    task.parts.iter().try_for_each(|part| review.filter.check(&part.project.pack))?;
    for part in &task.parts {
        let inputs = project::inputs(&part.project, &part.walked, &task.working);
        let mut inputs: Vec<&Path> = inputs.iter().map(PathBuf::as_path).collect();
        // The list of known findings may be written anew.
        inputs.retain(|path| {
            review.write_known.as_deref().map(|list| project::plain(list, &task.working)).as_deref() != Some(*path)
        });
        project::check_outputs(&outputs(review), &inputs, &task.working).map_err(Failure::Outputs)?;
    }
    if review.fix {
        let changed = fix::run(&task, review)?;
        if review.dry_run {
            return Ok(ExitCode::from(u8::from(changed > 0)));
        }
    }
    let mut runs =
        task.runs(Keep { facts: keeps_facts(review), texts: keeps_texts(review) }, cache(review, &task).as_deref());
    if let Some(list) = &review.write_known {
        return write_known(list, &task, runs, page);
    }
    review.filter.check_names(&runs, &task)?;
    let mut failed = false;
    let mut strictest = None;
    for (part, run) in task.parts.iter().zip(&mut runs) {
        if let Some(list) = part.known(review.known.as_deref()) {
            task.known_in(part, &list).mark(&mut run.report)?;
        }
        review.filter.apply(run);
        let set = || part.project.config.as_ref().and_then(|config| config.fail_on);
        let typed = review.fail_on.as_deref().and_then(project::fail_on);
        let open = |least: Level| run.report.findings.iter().any(|finding| finding.open() && finding.level >= least);
        match typed.or_else(set).unwrap_or(Some(Level::Error)) {
            Some(least) => {
                failed |= open(least);
                strictest = Some(strictest.map_or(least, |other: Level| other.min(least)));
            }
            None if typed.is_none() && open(Level::Error) => {
                let settings = part.project.config.as_ref().map_or("the settings", |config| &*config.source.name);
                print::aside(&Message::ErrorsPass { settings }.words());
            }
            None => {}
        }
    }
    let mut run = Run::together(runs);
    if review.edits {
        *run.report.proved = fix::proved(&task, review, &run.report);
    }
    let written = Written { run: &run, pack: &task.first().project.pack, fail_on: strictest };
    if review.statistics {
        print::out(|out| output::statistics(&run.report, written.pack, print::page(page), out))?;
    } else {
        write_all(review, &written, page, false)?;
    }
    if !review.watch {
        // The program ends here, and the system takes all of it back at once.
        std::mem::forget((task, run));
    }
    Ok(ExitCode::from(u8::from(failed)))
}

/// What the outputs are made from.
struct Written<'a> {
    run: &'a Run,
    pack: &'a Pack,
    fail_on: Option<Level>,
}

/// Every format into its file, and the rest to standard output.
fn write_all(review: &Review, written: &Written<'_>, page: &Page, files_only: bool) -> Result<(), Failure> {
    let quiet = |look: Look| Look { quiet: review.quiet, ..look };
    for (number, format) in review.format.iter().enumerate() {
        match review.out.get(number) {
            Some(path) => {
                project::write_whole(path, |out| write(*format, review, written, quiet(Look::PLAIN), out))
                    .map_err(Failure::Outputs)?;
            }
            None if files_only => {}
            None => print::out(|out| write(*format, review, written, quiet(print::page(page)), out))?,
        }
    }
    Ok(())
}

fn write_known(list: &Path, task: &Task, runs: Vec<Run>, page: &Page) -> Done {
    let [part] = &task.parts[..] else {
        return Err(Message::SeveralLibraries { instead: "write one list for each library" }.into());
    };
    let run = Run::together(runs);
    let count = task.known_in(part, list).write(&run.report)?;
    print::out(|out| writeln!(out, "{}", Message::ListWritten { count, list }.words()))?;
    Ok(print::unread(&run.report, Message::NotListed, page))
}

/// Below so many files a review is done before an earlier one has been looked up.
const FEW: usize = 200;

/// Pages show facts.
fn keeps_facts(review: &Review) -> bool {
    review.format.contains(&Format::Html)
}

/// People see the words at fault, but for those who only count. Sheets are looked for in the texts.
fn keeps_texts(review: &Review) -> bool {
    let shown = |format: &Format| matches!(format, Format::Text | Format::Html);
    review.format.iter().any(shown) && !review.statistics || !review.filter.sheet.is_empty()
}

/// The folder of cached results. Facts are not cached.
fn cache(review: &Review, task: &Task) -> Option<PathBuf> {
    if review.no_cache || keeps_facts(review) {
        return None;
    }
    let usual = || project::cache_folder().filter(|_| task.files() >= FEW);
    review.cache.as_ref().map(|folder| project::plain(folder, &task.working)).or_else(usual)
}

fn write(format: Format, review: &Review, written: &Written<'_>, look: Look, out: &mut dyn Write) -> io::Result<()> {
    let Written { run, pack, fail_on } = *written;
    match format {
        Format::Text => output::text(&run.report, look, out),
        Format::Json => output::json(&run.report, out),
        Format::Jsonl => output::jsonl(&run.report, &|finding| is_shown(finding, &review.show), out),
        Format::Sarif => output::sarif(&run.report, out),
        Format::Junit => output::junit(&run.report, fail_on, out),
        Format::Html => {
            let (report, checked, needs) = (&run.report, &run.checked[..], &run.needs[..]);
            output::html::html(&output::html::Input { report, checked, needs, pack, today: today() }, out)
        }
        Format::Lines => output::lines(&run.report, &|finding| is_shown(finding, &review.show), out),
    }
}

/// It is not accepted, or accepted ones of its kind were asked for.
fn is_shown(finding: &Finding, show: &[Accepted]) -> bool {
    match (&finding.waived, finding.listed) {
        (Some(_), _) => show.contains(&Accepted::Waived),
        (None, true) => show.contains(&Accepted::Known),
        (None, false) => true,
    }
}
