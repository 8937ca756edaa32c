//! Which files a run is about.

use std::collections::HashSet;
use std::fs;
use std::path::{Path, PathBuf};
use std::sync::Mutex;

use ignore::{DirEntry, WalkBuilder, WalkState};

use crate::project::shown::{plain, shown};

/// A file to be checked, or a folder that could not be looked into.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Found {
    /// Absolute.
    pub path: PathBuf,
    /// As findings show it.
    pub name: String,
}

/// What stands under the named paths.
#[derive(Clone, Debug, Default)]
pub struct Walked {
    /// In the order of their names, each once.
    pub files: Vec<Found>,
    /// Folders that could not be looked into, with the reason.
    pub closed: Vec<(Found, String)>,
    /// Folders that were named, absolute.
    pub folders: Vec<PathBuf>,
    /// Named paths that lead nowhere, as they were given.
    pub missing: Vec<PathBuf>,
}

/// Files that end in `.detail` below the named folders, without hidden ones and those that a `.gitignore` ignores.
/// A named file is always among them, whatever its name. Links to files are followed, links to folders are not:
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
            Ok(_) => walked.files.push(found(place, working)),
        }
    }
    sort(&mut walked.files);
    if !links.is_empty() {
        let real = |found: &Found| fs::canonicalize(&found.path).unwrap_or_else(|_| found.path.clone());
        let mut seen: HashSet<PathBuf> = walked.files.iter().map(real).collect();
        sort(&mut links);
        links.retain(|link| seen.insert(real(link)));
        walked.files.extend(links);
        sort(&mut walked.files);
    }
    walked
}

fn folder(root: &Path, working: &Path, walked: &mut Walked, links: &mut Vec<Found>) {
    let threads = rayon::current_num_threads();
    let mut builder = WalkBuilder::new(root);
    builder.require_git(false).git_global(false).ignore(false).threads(threads);
    // Each thread gathers what it meets and hands it over when it is done.
    let met = Mutex::new(Vec::new());
    builder.build_parallel().run(|| {
        let mut mine = Handed { met: &met, mine: Vec::new() };
        Box::new(move |entry| {
            mine.mine.extend(look(entry, working));
            WalkState::Continue
        })
    });
    for met in met.into_inner().expect("no thread panics here") {
        match met {
            Met::File(found) => walked.files.push(found),
            Met::Link(found) => links.push(found),
            Met::Closed(found, why) => walked.closed.push((found, why)),
        }
    }
    walked.closed.sort_by(|(a, _), (b, _)| a.name.cmp(&b.name));
}

enum Met {
    File(Found),
    Link(Found),
    Closed(Found, String),
}

struct Handed<'a> {
    met: &'a Mutex<Vec<Met>>,
    mine: Vec<Met>,
}

impl Drop for Handed<'_> {
    fn drop(&mut self) {
        self.met.lock().expect("no thread panics here").append(&mut self.mine);
    }
}

fn look(entry: Result<DirEntry, ignore::Error>, working: &Path) -> Option<Met> {
    let entry = match entry {
        Ok(entry) => entry,
        Err(error) => return closed(&error, working).map(|(found, why)| Met::Closed(found, why)),
    };
    let wanted = entry.path().extension().is_some_and(|extension| extension == "detail");
    match entry.file_type() {
        Some(kind) if kind.is_dir() || !wanted => None,
        // A link to nothing is kept: the one who filed it should hear that it is broken.
        Some(kind) if kind.is_symlink() => {
            let folder = fs::metadata(entry.path()).is_ok_and(|about| about.is_dir());
            (!folder).then(|| Met::Link(found(entry.into_path(), working)))
        }
        _ => Some(Met::File(found(entry.into_path(), working))),
    }
}

fn closed(error: &ignore::Error, working: &Path) -> Option<(Found, String)> {
    match error {
        ignore::Error::WithPath { path, err } => Some((found(path.clone(), working), reason(err))),
        ignore::Error::WithDepth { err, .. } => closed(err, working),
        // A pattern of a .gitignore that cannot be read ignores nothing.
        _ => None,
    }
}

fn reason(error: &ignore::Error) -> String {
    match error.io_error().map(std::io::Error::kind) {
        Some(std::io::ErrorKind::PermissionDenied) => "its permissions do not allow it to be looked into".to_owned(),
        Some(std::io::ErrorKind::NotFound) => "it was gone when it was looked into".to_owned(),
        _ => format!("it cannot be looked into: {error}"),
    }
}

fn found(path: PathBuf, working: &Path) -> Found {
    let name = shown(&path, working);
    Found { path, name }
}

fn sort(files: &mut Vec<Found>) {
    files.sort_by(|a, b| a.name.cmp(&b.name).then_with(|| a.path.cmp(&b.path)));
    files.dedup();
}
