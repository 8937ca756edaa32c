//! The texts of included files, each read once in a run.

use std::path::{Path, PathBuf};
use std::sync::atomic::{AtomicU32, Ordering};
use std::sync::{Arc, Mutex, OnceLock};

use foldhash::HashMap;

use crate::project::shown::{plain, real, shown};
use crate::project::{NOWHERE, Unread, Unsaved};
use crate::text::{FileId, Source, nearest};

type LoadedOnce = OnceLock<Result<Arc<Source>, String>>;

pub struct SourceLoader<'a> {
    root: &'a Path,
    working: &'a Path,
    unsaved: &'a Unsaved,
    next: AtomicU32,
    read: Mutex<HashMap<PathBuf, Arc<LoadedOnce>>>,
    /// By the path without links: a file has one name in a run, so that links in a circle end.
    real: Mutex<HashMap<PathBuf, Arc<Source>>>,
    folders: Mutex<HashMap<PathBuf, Arc<FolderNames>>>,
}

/// The names in a folder, in the order of their letters, and of their letters from the last to the first.
#[derive(Default)]
struct FolderNames {
    forward: Vec<String>,
    backward: Vec<String>,
}

/// The names on either side of a place in their order that are compared with a name that is not there: a slip leaves the
/// beginning or the end of a name as it is, and thousands of slips may meet a folder of thousands of files.
const COMPARED: usize = 50;

impl FolderNames {
    fn of(folder: &Path) -> FolderNames {
        let entries = std::fs::read_dir(folder).into_iter().flatten();
        let mut forward: Vec<String> = entries.filter_map(|entry| entry.ok()?.file_name().into_string().ok()).collect();
        let mut backward: Vec<String> = forward.iter().map(|name| reversed(name)).collect();
        forward.sort_unstable();
        backward.sort_unstable();
        FolderNames { forward, backward }
    }

    /// A file whose name is nearly this one, and which is not that other.
    fn near(&self, wanted: &str, other: Option<&str>) -> Option<String> {
        let around = |names: &[String], wanted: &str| {
            let at = names.partition_point(|name| **name < *wanted);
            names[at.saturating_sub(COMPARED)..(at + COMPARED).min(names.len())].to_vec()
        };
        let forward = around(&self.forward, wanted);
        let backward = around(&self.backward, &reversed(wanted)).iter().map(|name| reversed(name)).collect();
        let all = [forward, backward].concat();
        nearest(wanted, all.iter().map(String::as_str).filter(|name| Some(*name) != other)).map(str::to_owned)
    }
}

fn reversed(name: &str) -> String {
    name.chars().rev().collect()
}

impl<'a> SourceLoader<'a> {
    /// No text outside of `root` is read. Numbers of files begin at `first`.
    pub fn new(root: &'a Path, working: &'a Path, first: u32, unsaved: &'a Unsaved) -> SourceLoader<'a> {
        let (next, read, real, folders) = (AtomicU32::new(first), Mutex::default(), Mutex::default(), Mutex::default());
        SourceLoader { root, working, unsaved, next, read, real, folders }
    }

    /// The text of a path, relative to the working folder.
    ///
    /// # Errors
    /// In words: what cannot be read, and what does not lie in the library's folder.
    pub fn fetch(&self, path: &str) -> Result<Arc<Source>, String> {
        let place = plain(Path::new(path), self.working);
        let cell = self.read.lock().expect("no thread panics here").entry(place.clone()).or_default().clone();
        cell.get_or_init(|| self.open(&place)).clone()
    }

    /// The file has to lie in the library's folder, links followed: a library that is handed on must not read what lies
    /// beside it.
    fn open(&self, place: &Path) -> Result<Arc<Source>, String> {
        let file = real(place);
        let unsaved = self.root.file_name().is_some_and(|name| name == NOWHERE);
        if unsaved && !self.unsaved.has(place) {
            return Err(Unread::NeverSaved.words());
        }
        if !place.starts_with(self.root) || !file.starts_with(real(self.root)) {
            let root = shown(self.root, self.working);
            return Err(Unread::OutsideLibrary { root }.words());
        }
        let text = self.unsaved.read(place).map_err(|unreadable| unreadable.why.words())?;
        let id = FileId::detail(self.next.fetch_add(1, Ordering::Relaxed) as usize);
        let source = || Arc::new(Source::new(id, shown(place, self.working), text));
        Ok(self.real.lock().expect("no thread panics here").entry(file).or_insert_with(source).clone())
    }

    /// A file of the same folder whose name is nearly that of an include that failed. It is not the includer.
    pub fn near(&self, path: &str, includer: &str) -> Option<String> {
        let [place, includer] = [path, includer].map(|path| plain(Path::new(path), self.working));
        if !place.starts_with(self.root) || place.exists() {
            return None;
        }
        let (folder, name) = (place.parent()?, place.file_name()?.to_str()?);
        let own = includer.strip_prefix(folder).ok().and_then(Path::to_str);
        let mut folders = self.folders.lock().expect("no thread panics here");
        let names = folders.entry(folder.to_path_buf()).or_insert_with(|| Arc::new(FolderNames::of(folder))).clone();
        drop(folders);
        names.near(name, own)
    }
}
