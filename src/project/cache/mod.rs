//! Outcomes of earlier runs. They are found again by what they came from: the text of the file and of all that it
//! includes, the rules, the settings, the program, and the day where a waiver ends. So a stale one is never taken, and
//! the file can be deleted at any time.

mod entry;
mod place;
mod print;
mod stamp;
mod store;
mod tables;

use std::fs::Metadata;
use std::path::{Path, PathBuf};
use std::sync::atomic::{AtomicBool, AtomicUsize, Ordering};
use std::sync::{Arc, Mutex, OnceLock};
use std::time::SystemTime;

use foldhash::HashMap;
use rayon::prelude::*;

use crate::model::{builtin, is_builtin};
use crate::project::shown::plain;
use crate::project::texts::SourceLoader;
use crate::project::{FoundFile, Project, Walked, write};
use crate::review::{Day, Outcome};
use crate::rules::Pack;
use crate::text::{FileId, Source};

use entry::CacheEntry;
pub use place::default_folder;
use print::{Key, Printed, print};
pub use stamp::Stamp;
use store::Store;
use tables::Tables;

pub struct Cache<'a> {
    file: PathBuf,
    store: Store,
    /// The included texts of the store, where they are as they were.
    included: Vec<OnceLock<Option<Arc<Source>>>>,
    /// For each entry: its file was found unchanged.
    used: Vec<AtomicBool>,
    /// Tables for the next run, and the lines of outcomes that are new.
    tables: Mutex<Tables>,
    fresh: Mutex<String>,
    /// Of files that are being read, as they were before.
    stamps: Mutex<HashMap<FileId, Stamp>>,
    /// Of files whose entry is right but for the stamp.
    restamped: Mutex<HashMap<usize, Stamp>>,
    read: AtomicUsize,
    working: &'a Path,
    today: Day,
    now: SystemTime,
}

impl<'a> Cache<'a> {
    /// The outcomes of a project in a folder. A file that is missing, damaged, or of other rules or another program holds
    /// none.
    pub fn open(
        folder: &Path,
        project: &Project,
        working: &'a Path,
        today: impl Into<Day>,
        now: SystemTime,
    ) -> Cache<'a> {
        let place = print((0, 0), &[&project.root.to_string_lossy(), &working.to_string_lossy()]);
        let file = folder.join(format!("{place}.jsonl"));
        let store = Store::read(&file, env!("HEADLAP_BUILD"), &fingerprint(project));
        Cache {
            file,
            included: store.includes.iter().map(|_| OnceLock::new()).collect(),
            used: (0..store.count()).map(|_| AtomicBool::new(false)).collect(),
            store,
            tables: Mutex::default(),
            fresh: Mutex::default(),
            stamps: Mutex::default(),
            restamped: Mutex::default(),
            read: AtomicUsize::new(0),
            working,
            today: today.into(),
            now,
        }
    }

    /// What came of a file, if it was not touched and there was nothing to say of it: it is not even read. Else the file
    /// has to be read after this call, so that what is kept of it holds for the text that its stamp stands for.
    pub fn recall_untouched(
        &self,
        found: &FoundFile,
        about: &Metadata,
        id: FileId,
        pack: &Pack,
        texts: &SourceLoader<'_>,
    ) -> Option<Outcome> {
        let stamp = Stamp::of(about, self.now)?;
        let known = self.store.find(&found.name).filter(|(_, entry)| entry.silent() && entry.stamp == Some(stamp));
        let empty = || Arc::new(Source::new(id, &*found.name, ""));
        let outcome = known.and_then(|(at, entry)| self.outcome(at, &entry, &empty(), pack, texts));
        if outcome.is_none() {
            lock(&self.stamps).insert(id, stamp);
        }
        outcome
    }

    /// What came of a text before, if nothing has changed that it depends on.
    pub fn recall(&self, source: &Arc<Source>, pack: &Pack, texts: &SourceLoader<'_>) -> Option<Outcome> {
        self.read.fetch_add(1, Ordering::Relaxed);
        let (at, entry) = self.store.find(&source.name).filter(|(_, entry)| entry.text == self.print(source))?;
        let outcome = self.outcome(at, &entry, source, pack, texts)?;
        let stamp = lock(&self.stamps).remove(&source.id).filter(|stamp| entry.stamp != Some(*stamp));
        lock(&self.restamped).extend(stamp.map(|stamp| (at, stamp)));
        Some(outcome)
    }

    /// How many files were found unchanged, and how many texts were read to find out.
    #[cfg_attr(sealed, expect(dead_code, reason = "tests ask it"))]
    pub fn recalled(&self) -> (usize, usize) {
        (self.used.iter().filter(|used| used.load(Ordering::Relaxed)).count(), self.read.load(Ordering::Relaxed))
    }

    /// Takes note of an outcome, from any thread.
    pub fn note(&self, source: &Source, outcome: &Outcome, pack: &Pack) {
        let day = outcome.dated.then(|| self.today.date().to_string());
        let stamp = lock(&self.stamps).remove(&source.id);
        let Some(mut entry) = CacheEntry::of(source, self.print(source), stamp, day, outcome, pack) else { return };
        let print = |text: &Source| print_of(text, self.store.head.key);
        let mut tables = lock(&self.tables);
        entry.includes = outcome.included.iter().map(|text| tables.text(text, print)).collect();
        entry.joined = outcome.interfaces.iter().map(|interface| tables.interface(interface)).collect();
        drop(tables);
        let line = entry.line();
        lock(&self.fresh).extend([&*line, "\n"]);
    }

    /// Writes the file anew, when there is something new.
    ///
    /// # Errors
    /// In words, when it cannot be written. The run is none the worse.
    pub fn close(self, walked: &Walked) -> Result<(), String> {
        let (store, fresh, restamped) = (&self.store, inner(self.fresh), inner(self.restamped));
        let used: Vec<bool> = self.used.into_iter().map(AtomicBool::into_inner).collect();
        if fresh.is_empty() && restamped.is_empty() && !used.contains(&false) {
            return Ok(());
        }
        // Other parts of the library stay as they are; of this part, what was not found again is gone.
        let gone = |entry: CacheEntry| {
            let place = plain(Path::new(&entry.name), self.working);
            walked.has(&entry.name) || walked.folders.iter().any(|folder| place.starts_with(folder))
        };
        let old = (0..store.count()).filter(|at| used[*at] || store.entry(*at).is_some_and(|entry| !gone(entry)));
        let mut lines: Vec<(&str, Option<usize>)> = old.map(|at| (store.line(at), Some(at))).collect();
        lines.extend(fresh.lines().map(|line| (line, None)));
        lines.par_sort_unstable();
        let mut tables = inner(self.tables);
        write::folder(self.file.parent().unwrap_or(Path::new(".")))?;
        // As a whole, so that of two runs at once one wins.
        write::write_quickly(&self.file, |out| {
            let mut out = Printed::new(store.head.key, out);
            out.line(&serde_json::to_string(&store.head)?)?;
            for (line, old) in lines {
                match old {
                    None => out.line(line)?,
                    Some(at) => {
                        let Some(mut entry) = store.entry(at) else { continue };
                        renumber(&mut entry, store, &mut tables);
                        entry.stamp = restamped.get(&at).copied().or(entry.stamp);
                        out.line(&entry.line())?;
                    }
                }
            }
            out.line(&serde_json::to_string(&tables.listed)?)?;
            out.end()
        })
    }

    fn outcome(
        &self,
        at: usize,
        entry: &CacheEntry,
        source: &Arc<Source>,
        pack: &Pack,
        texts: &SourceLoader<'_>,
    ) -> Option<Outcome> {
        if entry.day.as_ref().is_some_and(|day| *day != self.today.date().to_string()) {
            return None;
        }
        let included = entry.includes.iter().map(|number| self.included(*number, texts)).collect::<Option<_>>()?;
        let interfaces = entry.joined.iter().map(|number| self.store.interfaces.get(*number as usize).cloned());
        let outcome = entry.outcome(source, included, interfaces.collect::<Option<_>>()?, pack)?;
        self.used[at].store(true, Ordering::Relaxed);
        Some(outcome)
    }

    /// An included text of the store, if it is as it was.
    fn included(&self, number: u32, texts: &SourceLoader<'_>) -> Option<Arc<Source>> {
        let (name, known) = self.store.includes.get(number as usize)?;
        let read = || {
            let text = match builtin(name) {
                Some(text) => text,
                None => texts.fetch(name).ok()?,
            };
            (print_of(&text, self.store.head.key) == *known).then_some(text)
        };
        self.included.get(number as usize)?.get_or_init(read).clone()
    }

    fn print(&self, source: &Source) -> String {
        print(self.store.head.key, &[&source.text])
    }
}

/// Makes an entry of a store refer to other tables.
fn renumber(entry: &mut CacheEntry, store: &Store, tables: &mut Tables) {
    let includes = entry.includes.iter().filter_map(|number| store.includes.get(*number as usize));
    entry.includes = includes.map(|(name, print)| tables.include(name, print)).collect();
    let joined = entry.joined.iter().filter_map(|number| store.interfaces.get(*number as usize));
    entry.joined = joined.map(|interface| tables.interface(interface)).collect();
}

/// Of an included text. Built-in ones are part of the program.
fn print_of(text: &Source, key: Key) -> String {
    if is_builtin(&text.name) { String::new() } else { print(key, &[&text.text]) }
}

/// Of all in a project that findings depend on, besides the details: rules, settings, the climate.
fn fingerprint(project: &Project) -> String {
    let pack = &project.pack;
    let mut texts: Vec<&str> = Vec::new();
    for source in pack.firm.iter().filter_map(|id| pack.sources().get(id)) {
        texts.extend([source.name.as_str(), source.text.as_str()]);
    }
    texts.extend(project.config.as_ref().map(|config| config.source.text.as_str()));
    let climate = format!("{:?}", pack.words.climate);
    texts.push(&climate);
    print((0, 0), &texts)
}

fn lock<T>(of: &Mutex<T>) -> std::sync::MutexGuard<'_, T> {
    of.lock().expect("no thread panics here")
}

fn inner<T>(of: Mutex<T>) -> T {
    of.into_inner().expect("no thread panics here")
}
