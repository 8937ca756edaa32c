//! Which library a file belongs to: that of the nearest `headlap.toml` above it, wherever the run starts.

use std::path::{Path, PathBuf};

use foldhash::{HashMap, HashMapExt};

use crate::project::load::above;
use crate::project::shown::plain;
use crate::project::{FoundFile, Walked};

/// What holds for the files of one library.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Home {
    /// The path of its `headlap.toml`.
    Settings(PathBuf),
    /// Without one: the folder that no include leads out of.
    Folder(PathBuf),
}

impl Home {
    /// The folder that no include leads out of.
    pub fn root(&self) -> PathBuf {
        match self {
            Home::Settings(file) => file.parent().unwrap_or(file).to_path_buf(),
            Home::Folder(folder) => folder.clone(),
        }
    }
}

/// Where texts stand that were never saved. No folder can have this name everywhere, and none of theirs has settings.
pub const NOWHERE: &str = "untitled:";

/// Without settings, the top of the version-control checkout is the root; without that, the folder that the run starts in,
/// if the files lie below it.
pub fn home_of(folder: &Path, working: &Path) -> Home {
    if folder.file_name().is_some_and(|name| name == NOWHERE) {
        return Home::Folder(folder.to_path_buf());
    }
    if let Some(settings) = above(folder) {
        return Home::Settings(settings);
    }
    let checkout = checkout_of(folder);
    let started = || folder.starts_with(working).then_some(working);
    Home::Folder(checkout.or_else(started).unwrap_or(folder).to_path_buf())
}

/// The library or the checkout that a folder lies in, whichever is nearer.
pub fn top_of(folder: &Path, working: &Path) -> PathBuf {
    let home = home_of(folder, working).root();
    match checkout_of(folder) {
        Some(checkout) if checkout.starts_with(&home) => checkout.to_path_buf(),
        _ => home,
    }
}

fn checkout_of(folder: &Path) -> Option<&Path> {
    folder.ancestors().find(|folder| CHECKOUTS.iter().any(|name| folder.join(name).exists()))
}

/// What version control leaves at the top of a checkout.
const CHECKOUTS: [&str; 4] = [".git", ".jj", ".hg", ".svn"];

/// The folder that a named path stands for.
pub fn folder_of(path: &Path, working: &Path) -> PathBuf {
    let path = plain(path, working);
    if path.is_dir() { path } else { path.parent().map_or(working.to_path_buf(), Path::to_path_buf) }
}

/// The files of a run by the library that they belong to, in the order of their first file. Of a run without files, the
/// library of the first named path.
pub fn libraries(walked: Walked, paths: &[PathBuf], working: &Path) -> Vec<(Home, Walked)> {
    let first = paths.first().map_or_else(|| working.to_path_buf(), |path| folder_of(path, working));
    let mut homes: HashMap<PathBuf, Home> = HashMap::new();
    let mut home = |found: &FoundFile| {
        let folder = found.path(working).parent().map_or_else(|| working.to_path_buf(), Path::to_path_buf);
        homes.entry(folder).or_insert_with_key(|folder| home_of(folder, working)).clone()
    };
    let mut parts: Vec<(Home, Walked)> = Vec::new();
    let empty = Walked { folders: walked.folders.clone(), unsaved: walked.unsaved.clone(), ..Walked::default() };
    // Files of one folder come one after the other, so that each folder is looked up once.
    let mut last: Option<(Box<str>, usize)> = None;
    let of_name = |name: &str| name.rfind('/').map_or("", |slash| &name[..slash]).into();
    for found in walked.files {
        let folder: Box<str> = of_name(&found.name);
        let at = match &last {
            Some((same, at)) if *same == folder && found.is_where_it_says() => *at,
            _ => part_of(home(&found), &empty, &mut parts),
        };
        last = Some((folder, at));
        parts[at].1.files.push(found);
    }
    for (found, why) in walked.closed {
        let at = part_of(home(&found), &empty, &mut parts);
        parts[at].1.closed.push((found, why));
    }
    if parts.is_empty() {
        parts.push((home_of(&first, working), empty));
    }
    parts[0].1.left_out = walked.left_out;
    parts
}

fn part_of(home: Home, empty: &Walked, parts: &mut Vec<(Home, Walked)>) -> usize {
    parts.iter().position(|(known, _)| *known == home).unwrap_or_else(|| {
        parts.push((home, empty.clone()));
        parts.len() - 1
    })
}
