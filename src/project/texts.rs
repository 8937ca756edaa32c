//! The texts of included files, each read once for as long as somebody needs it.

use std::hash::BuildHasher;
use std::path::{Path, PathBuf};
use std::sync::atomic::{AtomicU32, Ordering};
use std::sync::{Arc, Mutex, OnceLock, Weak};

use foldhash::HashMap;
use foldhash::quality::FixedState;

use crate::project::shown::{plain, real, shown};
use crate::project::{NOWHERE, Unread, Unsaved};
use crate::text::{FileId, Source, nearest};

type LoadedOnce = OnceLock<Result<Arc<KnownFile>, String>>;

/// A file under one number and one name for the whole run. Its text goes when nobody needs it, and is read again when somebody does.
struct KnownFile {
    name: String,
    text: Mutex<KnownText>,
}

struct KnownText {
    id: FileId,
    /// Of the words that the number stands for.
    print: u64,
    held: Weak<Source>,
}

pub struct SourceLoader<'a> {
    root: &'a Path,
    working: &'a Path,
    unsaved: &'a Unsaved,
    next: AtomicU32,
    read: Mutex<HashMap<PathBuf, Arc<LoadedOnce>>>,
    /// By the path without links: a file has one name in a run, so that links in a circle end.
    real: Mutex<HashMap<PathBuf, Arc<KnownFile>>>,
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
        // The first to open a file has read it, and hands on what it read.
        let mut first = None;
        let file = cell.get_or_init(|| self.open(&place, &mut first)).clone()?;
        first.map_or_else(|| self.held(&file, &place), Ok)
    }

    /// The file has to lie in the library's folder, links followed: a library that is handed on must not read what lies
    /// beside it.
    fn open(&self, place: &Path, first: &mut Option<Arc<Source>>) -> Result<Arc<KnownFile>, String> {
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
        let known = || {
            let (name, print) = (shown(place, self.working), print(&text));
            let source = Arc::new(Source::new(self.number(), &*name, text));
            let text = KnownText { id: source.id, print, held: Arc::downgrade(&source) };
            *first = Some(source);
            Arc::new(KnownFile { name, text: Mutex::new(text) })
        };
        Ok(self.real.lock().expect("no thread panics here").entry(file).or_insert_with(known).clone())
    }

    /// The text of a file that was opened before.
    fn held(&self, file: &KnownFile, place: &Path) -> Result<Arc<Source>, String> {
        let mut known = file.text.lock().expect("no thread panics here");
        if let Some(source) = known.held.upgrade() {
            return Ok(source);
        }
        let text = self.unsaved.read(place).map_err(|unreadable| unreadable.why.words())?;
        let print = print(&text);
        // Places in the words of before would lead astray in a text that has changed since.
        if print != known.print {
            (known.id, known.print) = (self.number(), print);
        }
        let source = Arc::new(Source::new(known.id, &*file.name, text));
        known.held = Arc::downgrade(&source);
        Ok(source)
    }

    fn number(&self) -> FileId {
        FileId::detail(self.next.fetch_add(1, Ordering::Relaxed) as usize)
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

fn print(text: &str) -> u64 {
    FixedState::default().hash_one(text)
}

#[cfg(test)]
mod tests {
    use super::SourceLoader;
    use crate::project::Unsaved;

    #[test]
    fn a_text_that_is_read_again_keeps_its_number_unless_it_has_changed() {
        let folder = std::env::temp_dir().join(format!("headlap-texts-{}", std::process::id()));
        std::fs::create_dir_all(&folder).unwrap();
        let folder = folder.canonicalize().unwrap();
        let file = folder.join("a.detail");
        std::fs::write(&file, "one").unwrap();
        let unsaved = Unsaved::default();
        let loader = SourceLoader::new(&folder, &folder, 1, &unsaved);
        let fetch = || loader.fetch("a.detail").unwrap();
        let held = fetch();
        assert!(std::sync::Arc::ptr_eq(&held, &fetch()));
        let (id, name) = (held.id, held.name.clone());
        drop(held);
        assert_eq!((fetch().id, &fetch().name), (id, &name));
        std::fs::write(&file, "two").unwrap();
        let changed = fetch();
        assert!(changed.id != id && changed.text == "two" && changed.name == name);
        std::fs::remove_dir_all(&folder).unwrap();
    }
}
