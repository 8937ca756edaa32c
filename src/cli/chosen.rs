//! Which files a review is about: named ones, those of a list, or those that a change concerns.

use std::io::{self, Read};
use std::path::{Path, PathBuf};
use std::time::SystemTime;

use crate::cli::args::Review;
use crate::cli::failure::Failure;
use crate::cli::task::Task;
use crate::cli::{Message, print};
use crate::project::{self, Unread};

/// The files to check. `None` when a list or a change leaves none, which is not an error by itself.
///
/// # Errors
/// Paths that do not exist, folders without a detail, lists that cannot be read, a revision that git does not know.
pub fn task(review: &Review) -> Result<Option<Task>, Failure> {
    let working = project::working()?;
    let here = || vec![PathBuf::from(".")];
    if review.paths.iter().any(|path| path == Path::new("-")) {
        return if review.paths.len() > 1 || review.files_from.is_some() || review.changed_since.is_some() {
            Err(Message::PathsBesidePipe.into())
        } else {
            piped(review).map(Some)
        };
    }
    if review.stdin_name.is_some() {
        return Err(Message::StdinNameWithoutPipe.into());
    }
    if let Some(revision) = &review.changed_since {
        let scope = if review.paths.is_empty() { here() } else { review.paths.clone() };
        let changed = project::changed_since(revision, &working)?;
        return of(project::concerned(&changed, &walk(&scope, &working)?, &working, SystemTime::now()));
    }
    let Some(list) = &review.files_from else {
        let paths = if review.paths.is_empty() { here() } else { review.paths.clone() };
        if !review.with_dependents {
            return Task::of(&paths).map(Some);
        }
        let walked = walk(&paths, &working)?;
        let named: Vec<PathBuf> = walked.files.iter().map(|found| found.path(&working)).collect();
        return of(concerned(&named, &working));
    };
    let listed: Vec<PathBuf> = listed(list)?.iter().map(|path| project::plain(path, &working)).collect();
    let (there, gone): (Vec<_>, Vec<_>) = listed.into_iter().partition(|path| path.exists());
    if !gone.is_empty() {
        print::aside(&Message::SkippedDeleted { count: gone.len(), first: &gone[0] }.words());
    }
    if review.with_dependents {
        let all: Vec<PathBuf> = there.into_iter().chain(gone).collect();
        let typed = walk(&review.paths, &working)?.files.into_iter().map(|found| found.path(&working));
        return of(concerned(&typed.chain(all).collect::<Vec<_>>(), &working));
    }
    let details = there.into_iter().filter(|path| path.is_dir() || project::is_named_detail(path));
    of(review.paths.iter().cloned().chain(details).collect())
}

fn piped(review: &Review) -> Result<Task, Failure> {
    let text = project::decode(input()?)
        .map_err(|unreadable| Failure::from(Message::UnreadableInput { why: &unreadable.why.words() }))?;
    let name = review.stdin_name.clone().unwrap_or_else(|| PathBuf::from("standard-input.detail"));
    Task::of_text(&name, text)
}

/// All of standard input that is read, and a byte more where there is too much.
pub fn input() -> Result<Vec<u8>, Failure> {
    let mut bytes = Vec::new();
    let read = io::stdin().lock().take(project::LARGEST + 1).read_to_end(&mut bytes);
    read.map_err(|error| Failure::from(Message::UnreadableInput { why: &error.to_string() }))?;
    Ok(bytes)
}

fn of(paths: Vec<PathBuf>) -> Result<Option<Task>, Failure> {
    if paths.is_empty() { Ok(None) } else { Task::of(&paths).map(Some) }
}

/// Within the libraries of the files themselves.
fn concerned(changed: &[PathBuf], working: &Path) -> Vec<PathBuf> {
    let mut roots: Vec<PathBuf> =
        changed.iter().map(|path| project::top_of(&project::folder_of(path, working), working)).collect();
    roots.sort();
    roots.dedup();
    project::concerned(changed, &project::walk(&roots, working), working, SystemTime::now())
}

fn walk(paths: &[PathBuf], working: &Path) -> Result<project::Walked, Failure> {
    let walked = project::walk(paths, working);
    match walked.missing.first() {
        Some(path) => Err(Message::NoPath { path }.into()),
        None => Ok(walked),
    }
}

/// The paths of a list, from a file or from standard input.
fn listed(list: &Path) -> Result<Vec<PathBuf>, Failure> {
    let bytes = if list == Path::new("-") {
        let mut bytes = Vec::new();
        let most = project::LARGEST + 1;
        io::stdin().lock().take(most).read_to_end(&mut bytes).map_err(|error| error.to_string()).map(|_| bytes)
    } else {
        project::bytes(list).map_err(|unreadable| unreadable.why.words())
    };
    let bounded = |bytes: Vec<u8>| {
        let most = project::LARGEST;
        if bytes.len() as u64 > most {
            Err(Unread::TooLarge { megabytes: most / 1024 / 1024 }.words())
        } else {
            Ok(bytes)
        }
    };
    let bytes = bytes.and_then(bounded).map_err(|why| Failure::from(Message::UnreadableList { list, why: &why }))?;
    Ok(project::names(&bytes))
}
