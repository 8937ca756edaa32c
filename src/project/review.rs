//! Files of a project, reviewed.

use std::path::Path;
use std::sync::Arc;
use std::sync::atomic::{AtomicU32, AtomicUsize, Ordering};

use jiff::civil::Date;

use crate::model::Shelf;
use crate::project::shown::{plain, shown};
use crate::project::{Found, Project, Unreadable, Walked, read};
use crate::review::{Given, Reviewer, Run, run};
use crate::syntax::Problem;
use crate::text::{FileId, Source, Span};

/// How a review is to be done.
pub struct Review<'a> {
    pub project: &'a Project,
    pub walked: &'a Walked,
    pub working: &'a Path,
    pub today: Date,
    /// Keep the facts of every file, for outputs that show them.
    pub keep: bool,
    /// Told how many files are done, from any thread.
    pub progress: &'a (dyn Fn(usize) + Sync),
}

/// Reviews the files that were found. What cannot be read is a finding, and the rest is still checked.
pub fn review(task: &Review<'_>) -> Run {
    let (files, closed) = (&task.walked.files, &task.walked.closed);
    let next = AtomicU32::new((files.len() + closed.len()) as u32);
    let fetch = |path: &str| fetch(path, task, &next);
    let shelf = Shelf::new(&fetch, &task.project.pack.words);
    let pack_of = |name: &str| task.project.rules_for(&plain(Path::new(name), task.working));
    let reviewer = Reviewer::new(&shelf, &task.project.pack, task.today);
    let reviewer = if task.project.folders.is_empty() { reviewer } else { reviewer.by_file(&pack_of) };
    let done = AtomicUsize::new(0);
    let given = |number: usize| {
        (task.progress)(done.fetch_add(1, Ordering::Relaxed));
        let id = FileId(number as u32);
        match files.get(number) {
            Some(found) => given(found, id),
            None => {
                let (found, why) = &closed[number - files.len()];
                refused(found, id, Unreadable { why: why.clone(), fix: None, text: String::new(), at: 0..0 })
            }
        }
    };
    run(&reviewer, files.len() + closed.len(), &given, task.keep)
}

fn given(found: &Found, id: FileId) -> Given {
    match read(&found.path) {
        Ok(text) => Given::Text(Arc::new(Source::new(id, found.name.as_str(), text))),
        Err(unreadable) => refused(found, id, unreadable),
    }
}

fn refused(found: &Found, id: FileId, unreadable: Unreadable) -> Given {
    let span = Span::new(id, unreadable.at.start, unreadable.at.end);
    let mut finding = Problem::Syntax.at(span, format!("this file could not be checked: {}", unreadable.why));
    finding.title = "File that cannot be read".into();
    finding.fix = unreadable.fix;
    Given::Unreadable(Arc::new(Source::new(id, found.name.as_str(), unreadable.text)), finding)
}

/// The text of an included file. It has to lie in the library's folder, links followed: a library that is handed on
/// must not read what lies beside it.
fn fetch(path: &str, task: &Review<'_>, next: &AtomicU32) -> Result<Arc<Source>, String> {
    let place = plain(Path::new(path), task.working);
    let root = &task.project.root;
    let leads_out = || format!("it leads out of the library's folder, {}", shown(root, task.working));
    if !place.starts_with(root) {
        return Err(leads_out());
    }
    let real = |path: &Path| std::fs::canonicalize(path).unwrap_or_else(|_| path.to_path_buf());
    if !real(&place).starts_with(real(root)) {
        return Err(leads_out());
    }
    let text = read(&place).map_err(|unreadable| unreadable.why)?;
    Ok(Arc::new(Source::new(FileId(next.fetch_add(1, Ordering::Relaxed)), shown(&place, task.working), text)))
}
