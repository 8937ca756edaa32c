//! `headlap review`: the main job.

use std::fs::File;
use std::io::{self, BufWriter, Read, Write};
use std::path::{Path, PathBuf};
use std::process::ExitCode;

use crate::cli::args::{Format, Page, Review};
use crate::cli::failure::Failure;
use crate::cli::task::Task;
use crate::cli::{Done, print};
use crate::finding::Level;
use crate::output::{self, Look};
use crate::project;
use crate::review::Run;

pub fn run(review: Review, page: &Page) -> Done {
    if review.out.len() > review.format.len() {
        return Err("there are more --out than --format; each file needs its form".to_owned().into());
    }
    let mut paths = review.paths.clone();
    if let Some(list) = &review.files_from {
        paths.extend(listed(list)?);
    }
    let task = Task::of(&paths)?;
    let run = task.run(false);
    let fail_on = match review.fail_on.as_deref().and_then(project::fail_on) {
        Some(typed) => typed,
        None => task.project.config.as_ref().and_then(|config| config.fail_on).unwrap_or(Some(Level::Error)),
    };
    for (number, format) in review.format.iter().enumerate() {
        match review.out.get(number) {
            Some(path) => to_file(path, |out| write(*format, &run, fail_on, Look::PLAIN, out))?,
            None => print::out(|out| write(*format, &run, fail_on, print::page(page), out))?,
        }
    }
    let failed = |finding: &crate::finding::Finding| {
        finding.waived.is_none() && fail_on.is_some_and(|least| finding.level >= least)
    };
    Ok(ExitCode::from(u8::from(run.report.findings.iter().any(failed))))
}

fn write(format: Format, run: &Run, fail_on: Option<Level>, look: Look, out: &mut dyn Write) -> io::Result<()> {
    match format {
        Format::Text => output::text(&run.report, look, out),
        Format::Json => output::json(&run.report, out),
        Format::Jsonl => output::jsonl(&run.report, out),
        Format::Sarif => output::sarif(&run.report, out),
        Format::Junit => output::junit(&run.report, fail_on, out),
        Format::Lines => output::lines(&run.report, out),
    }
}

/// Writes beside the file and renames, so that the file is the old one or the new one and never half of it.
fn to_file(path: &Path, write: impl FnOnce(&mut dyn Write) -> io::Result<()>) -> Result<(), Failure> {
    let told = |error: io::Error| Failure::from(format!("{} cannot be written: {error}", path.display()));
    let mut beside = path.as_os_str().to_owned();
    beside.push(format!(".{}.part", std::process::id()));
    let beside = PathBuf::from(beside);
    let done = File::create(&beside).and_then(|file| {
        let mut out = BufWriter::new(file);
        write(&mut out)?;
        out.into_inner().map_err(io::IntoInnerError::into_error)?.sync_all()?;
        std::fs::rename(&beside, path)
    });
    if done.is_err() {
        // Nothing half-written stays behind.
        let _ = std::fs::remove_file(&beside);
    }
    done.map_err(told)
}

fn listed(list: &Path) -> Result<Vec<PathBuf>, Failure> {
    let mut text = String::new();
    let read = if list == Path::new("-") {
        io::stdin().lock().read_to_string(&mut text)
    } else {
        File::open(list).and_then(|mut file| file.read_to_string(&mut text))
    };
    read.map_err(|error| format!("the list of files {} cannot be read: {error}", list.display()))?;
    Ok(text.lines().map(str::trim_end).filter(|line| !line.is_empty()).map(PathBuf::from).collect())
}
