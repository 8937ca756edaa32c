//! Which files a run is about.

mod ignores;

use std::fs;
use std::path::{Path, PathBuf};
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::{Arc, Mutex};

use foldhash::HashSet;
use ignore::{DirEntry, WalkBuilder, WalkState};

use crate::project::home::home_of;
use crate::project::shown::{plain, real, shown};
use crate::project::{Unread, Unsaved};
use ignores::{IGNORES, details_below, has_strange_ignores, ignores_above};

/// A file to be checked, or a folder that could not be looked into. There may be hundreds of thousands.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct FoundFile {
    /// As findings show it.
    pub name: Box<str>,
    /// Absolute, where the name does not lead there: where it shows bytes that are no UTF-8.
    place: Option<Box<Path>>,
}

/// The files under the named paths.
#[derive(Clone, Debug, Default)]
pub struct Walked {
    /// In the order of their names, each once.
    pub files: Vec<FoundFile>,
    /// Folders that could not be looked into, with the reason.
    pub closed: Vec<(FoundFile, Unread)>,
    /// Folders that were named, absolute.
    pub folders: Vec<PathBuf>,
    /// Named paths that do not exist, as they were given.
    pub missing: Vec<PathBuf>,
    /// How many details a `.gitignore` left out. Where files belong to several libraries, the first counts them all.
    pub left_out: usize,
    /// Texts that replace the contents of files and includes.
    pub unsaved: Arc<Unsaved>,
}

impl FoundFile {
    fn new(path: &Path, working: &Path) -> FoundFile {
        let name = shown(path, working).into_boxed_str();
        let place = (working.join(&*name) != path).then(|| path.into());
        FoundFile { name, place }
    }

    /// Its name leads to it.
    pub(super) fn is_where_it_says(&self) -> bool {
        self.place.is_none()
    }

    /// The absolute path, with the folder that the walk began in.
    pub fn path(&self, working: &Path) -> PathBuf {
        self.place.as_deref().map_or_else(|| working.join(&*self.name), Path::to_path_buf)
    }
}

impl Walked {
    /// One file, with a text that is not read from it: what an editor holds, saved or not.
    pub fn given(path: &Path, text: String, working: &Path) -> Walked {
        let (place, mut unsaved) = (plain(path, working), Unsaved::default());
        unsaved.put(place.clone(), text);
        Walked::over(&[place], Arc::new(unsaved), working)
    }

    /// These files, which need not be there, with the texts that an editor holds of them and of others.
    pub fn over(paths: &[PathBuf], unsaved: Arc<Unsaved>, working: &Path) -> Walked {
        let mut files = paths.iter().map(|path| FoundFile::new(path, working)).collect();
        sort(&mut files);
        Walked { files, unsaved, ..Walked::default() }
    }

    /// Notes something that the run has to report because it could not look at it.
    pub fn refuse(&mut self, path: &Path, why: Unread, working: &Path) {
        self.closed.push((FoundFile::new(&plain(path, working), working), why));
    }

    /// A file of this name is among them.
    pub fn has(&self, name: &str) -> bool {
        self.files.binary_search_by(|found| (*found.name).cmp(name)).is_ok()
    }
}

/// Files that end in `.detail` below the named folders, without hidden ones and those that a `.gitignore` of the library
/// ignores. A named file is always among them, whatever its name. Links to files are followed, links to folders are not:
/// they could lead in a circle or out of the library.
pub fn walk(paths: &[PathBuf], working: &Path) -> Walked {
    let mut walked = Walked::default();
    let mut links = Vec::new();
    for path in paths {
        let place = plain(path, working);
        match fs::metadata(&place) {
            Err(_) => walked.missing.push(path.clone()),
            Ok(about) if about.is_dir() => {
                folder(&place, working, &mut walked, &mut links);
                walked.folders.push(place);
            }
            Ok(_) if fs::symlink_metadata(&place).is_ok_and(|about| about.is_symlink()) => {
                links.push(FoundFile::new(&place, working));
            }
            Ok(_) => walked.files.push(FoundFile::new(&place, working)),
        }
    }
    sort(&mut walked.files);
    if !links.is_empty() {
        let there = |found: &FoundFile| real(&found.path(working));
        refuse_ways_out(&mut links, &mut walked.closed, working);
        let mut seen: HashSet<PathBuf> = walked.files.iter().map(there).collect();
        sort(&mut links);
        links.retain(|link| seen.insert(there(link)));
        walked.files.extend(links);
        sort(&mut walked.files);
    }
    walked
}

/// Links to files outside of their library are refused as such includes are: what lies there is not the library's.
fn refuse_ways_out(links: &mut Vec<FoundFile>, closed: &mut Vec<(FoundFile, Unread)>, working: &Path) {
    links.retain(|link| {
        let path = link.path(working);
        let (Ok(target), Some(folder)) = (fs::canonicalize(&path), path.parent()) else { return true };
        let inside = target.starts_with(real(&home_of(folder, working).root()));
        if !inside {
            closed.push((link.clone(), Unread::LinkOutside));
        }
        inside && !path.is_dir()
    });
}

fn folder(root: &Path, working: &Path, walked: &mut Walked, links: &mut Vec<FoundFile>) {
    let before = walked.files.len() + links.len();
    let closed = |folder: &Path| (FoundFile::new(folder, working), Unread::StrangeIgnores);
    if has_strange_ignores(root) {
        return walked.closed.push(closed(root));
    }
    let outer = ignores_above(root, working);
    let strange_folders = Arc::new(Mutex::new(Vec::new()));
    let strange = strange_folders.clone();
    let ignores = Arc::new(AtomicBool::new(!outer.is_empty() || root.join(IGNORES).is_file()));
    let met = ignores.clone();
    let mut builder = walker(root);
    builder.git_ignore(true).require_git(false).filter_entry(move |entry| {
        let is_folder = entry.file_type().is_some_and(|kind| kind.is_dir());
        if is_folder && has_strange_ignores(entry.path()) {
            strange.lock().expect("no thread panics here").push(entry.path().to_path_buf());
            return false;
        }
        if is_folder && !met.load(Ordering::Relaxed) && entry.path().join(IGNORES).is_file() {
            met.store(true, Ordering::Relaxed);
        }
        // The nearest one that speaks of it decides.
        let said = outer.iter().map(|outer| outer.matched(entry.path(), is_folder)).find(|said| !said.is_none());
        !said.is_some_and(|said| said.is_ignore())
    });
    // Each thread gathers what it meets and hands it over when it is done.
    let all = Mutex::new((&mut *walked, &mut *links));
    builder.build_parallel().run(|| {
        let mut mine = ThreadFinds { all: &all, files: Vec::new(), links: Vec::new(), closed: Vec::new() };
        Box::new(move |entry| {
            mine.look(entry, working);
            WalkState::Continue
        })
    });
    walked.closed.extend(strange_folders.lock().expect("no thread panics here").iter().map(|folder| closed(folder)));
    walked.closed.sort_by(|(a, _), (b, _)| a.name.cmp(&b.name));
    if ignores.load(Ordering::Relaxed) {
        let found = walked.files.len() + links.len() - before;
        walked.left_out += details_below(root).saturating_sub(found);
    }
}

/// Leaves out hidden files, and nothing else.
fn walker(root: &Path) -> WalkBuilder {
    let mut builder = WalkBuilder::new(root);
    builder.standard_filters(false).hidden(true).threads(rayon::current_num_threads());
    builder
}

/// `.DETAIL` is the ending of some systems.
pub fn is_named_detail(path: &Path) -> bool {
    path.extension().is_some_and(|extension| extension.eq_ignore_ascii_case("detail"))
}

/// What one thread has met.
struct ThreadFinds<'a, 'w> {
    all: &'a Mutex<(&'w mut Walked, &'w mut Vec<FoundFile>)>,
    files: Vec<FoundFile>,
    links: Vec<FoundFile>,
    closed: Vec<(FoundFile, Unread)>,
}

impl ThreadFinds<'_, '_> {
    fn look(&mut self, entry: Result<DirEntry, ignore::Error>, working: &Path) {
        let entry = match entry {
            Ok(entry) => entry,
            Err(error) => return self.closed.extend(closed(&error, working)),
        };
        let wanted = is_named_detail(entry.path());
        match entry.file_type() {
            // Links to folders are not followed. One to details elsewhere must not look as if they had been checked.
            Some(kind) if kind.is_symlink() && entry.path().is_dir() && details_below(entry.path()) > 0 => {
                self.links.push(FoundFile::new(entry.path(), working));
            }
            Some(kind) if kind.is_dir() || !wanted => {}
            Some(kind) if kind.is_symlink() => {
                // A link to nothing is kept: the one who filed it should hear that it is broken.
                if !fs::metadata(entry.path()).is_ok_and(|about| about.is_dir()) {
                    self.links.push(FoundFile::new(entry.path(), working));
                }
            }
            _ => self.files.push(FoundFile::new(entry.path(), working)),
        }
    }
}

impl Drop for ThreadFinds<'_, '_> {
    fn drop(&mut self) {
        let mut all = self.all.lock().expect("no thread panics here");
        let (walked, links) = &mut *all;
        walked.files.append(&mut self.files);
        walked.closed.append(&mut self.closed);
        links.append(&mut self.links);
    }
}

fn closed(error: &ignore::Error, working: &Path) -> Option<(FoundFile, Unread)> {
    match error {
        ignore::Error::WithPath { path, err } => Some((FoundFile::new(path, working), reason(err))),
        ignore::Error::WithDepth { err, .. } => closed(err, working),
        // A pattern of a .gitignore that cannot be read ignores nothing.
        _ => None,
    }
}

fn reason(error: &ignore::Error) -> Unread {
    match error.io_error().map(std::io::Error::kind) {
        Some(std::io::ErrorKind::PermissionDenied) => Unread::ForbiddenFolder,
        Some(std::io::ErrorKind::NotFound) => Unread::Vanished,
        _ => Unread::NotListed { why: error.to_string() },
    }
}

fn sort(files: &mut Vec<FoundFile>) {
    files.sort_unstable();
    files.dedup();
}
