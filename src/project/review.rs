//! Files of a project, reviewed.

use std::path::Path;
use std::sync::Arc;
use std::sync::atomic::{AtomicUsize, Ordering};

use crate::model::SourceMap;
use crate::project::shown::plain;
use crate::project::texts::SourceLoader;
use crate::project::{Cache, FoundFile, Message, Project, Unreadable, Walked, look, read_known};
use crate::review::{Day, Files, Given, Memory, Outcome, Reviewer, Run, run};
use crate::text::{FileId, Source, Span};

/// How a review is to be done.
pub struct ReviewTask<'a> {
    pub project: &'a Project,
    pub walked: &'a Walked,
    pub working: &'a Path,
    pub today: Day,
    /// Keep the facts of every file, for outputs that show them.
    pub keep: bool,
    /// Keep the texts that findings stand in, for outputs that show their words. Places are known without them.
    pub texts: bool,
    /// What came of the files in earlier runs. It knows no facts, so that it has to be left out where they are kept.
    pub cache: Option<&'a Cache<'a>>,
    /// What the last reviews of the files worked out, under the rules of this project.
    pub memory: Option<&'a Memory>,
    /// Told how many files are done, from any thread.
    pub progress: &'a (dyn Fn(usize) + Sync),
}

/// Reviews the files that were found. What cannot be read is a finding, and the rest is still checked.
pub fn review(task: &ReviewTask<'_>) -> Run {
    review_from(task, 0)
}

/// The same with numbers of files from `first` on, so that the reports of several libraries can be put together.
pub fn review_from(task: &ReviewTask<'_>, first: u32) -> Run {
    let (files, closed) = (&task.walked.files, &task.walked.closed);
    let next = first + (files.len() + closed.len()) as u32;
    let texts = SourceLoader::new(&task.project.root, task.working, next, &task.walked.unsaved);
    let fetch = |path: &str| texts.fetch(path);
    let near = |path: &str, includer: &str| texts.near(path, includer);
    let built_ins = task.memory.map(|memory| &memory.built_ins);
    let source_map = SourceMap::new(&fetch, &task.project.pack.words).guessing(&near).knowing(built_ins);
    let pack_of = |name: &str| match task.project.folders.is_empty() {
        true => &*task.project.pack,
        false => task.project.rules_for(&plain(Path::new(name), task.working)),
    };
    let note = |source: &Source, outcome: &Outcome| {
        // Files that the command did not name are read with their includers.
        if let Some(cache) = task.cache.filter(|_| ((source.id.0 - first) as usize) < files.len()) {
            cache.note(source, outcome, pack_of(&source.name));
        }
    };
    let reviewer = Reviewer::new(&source_map, &task.project.pack, task.today.clone())
        .by_file(&pack_of)
        .remembering(task.memory)
        .on_outcome(&note)
        .showing_texts(task.texts);
    let done = AtomicUsize::new(0);
    let given = |number: usize| {
        (task.progress)(done.fetch_add(1, Ordering::Relaxed));
        let id = FileId::detail(first as usize + number);
        let Some(found) = files.get(number) else {
            let (found, why) = &closed[number - files.len()];
            return refused(found, id, why.clone().into());
        };
        let path = found.path(task.working);
        if task.walked.unsaved.has(&path)
            && let Ok(text) = task.walked.unsaved.read(&path)
        {
            return Given::Text(Arc::new(Source::new(id, &*found.name, text)));
        }
        let about = match look(&path) {
            Ok(about) => about,
            Err(unreadable) => return refused(found, id, unreadable),
        };
        if let Some(cache) = task.cache
            && let Some(outcome) = cache.recall_untouched(found, &about, id, pack_of(&found.name), &texts)
        {
            return Given::Known(outcome);
        }
        let source = match read_known(&path, &about) {
            Ok(text) => Arc::new(Source::new(id, &*found.name, text)),
            Err(unreadable) => return refused(found, id, unreadable),
        };
        let known = task.cache.and_then(|cache| cache.recall(&source, pack_of(&source.name), &texts));
        known.map_or(Given::Text(source), Given::Known)
    };
    let files = Files { count: files.len() + closed.len(), read: &given, has: &|name| task.walked.has(name) };
    let mut run = run(&reviewer, &files, task.keep);
    run.report.off = task.project.off(task.working);
    run.report.left_out = task.walked.left_out;
    run
}

fn refused(found: &FoundFile, id: FileId, unreadable: Unreadable) -> Given {
    let span = Span::new(id, unreadable.at.start, unreadable.at.end);
    let finding = Message::Unreadable { why: &unreadable.why }.at(span);
    Given::Unreadable(Arc::new(Source::new(id, &*found.name, unreadable.text)), finding)
}
