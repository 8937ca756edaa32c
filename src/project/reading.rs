//! One file with the names of all that it includes, for those who ask what stands where.

use std::path::{Path, PathBuf};
use std::sync::Arc;

use crate::model::{Reading, SourceMap};
use crate::project::home::{home_of, libraries};
use crate::project::shown::shown;
use crate::project::texts::SourceLoader;
use crate::project::{Project, Unreadable, Unsaved, Walked, walk};
use crate::text::{FileId, Source};

/// Reads a file and resolves its names; nothing is judged.
///
/// # Errors
/// As `project::read`.
pub fn reading(project: &Project, path: &Path, unsaved: &Unsaved, working: &Path) -> Result<Reading, Unreadable> {
    let texts = SourceLoader::new(&project.root, working, 1, unsaved);
    let fetch = |path: &str| texts.fetch(path);
    let near = |path: &str, includer: &str| texts.near(path, includer);
    let source_map = SourceMap::new(&fetch, &project.pack.words).guessing(&near);
    let source = Source::new(FileId::detail(0), shown(path, working), unsaved.read(path)?);
    Ok(source_map.read(Arc::new(source)))
}

/// All files of the library that a file belongs to, those that are not saved yet among them. It is the library of a run
/// that starts in the folder `started`; names are shown from the folder `working`.
pub fn library_of(path: &Path, unsaved: &Arc<Unsaved>, working: &Path, started: &Path) -> Walked {
    let folder = path.parent().unwrap_or(started);
    let home = home_of(folder, started);
    let parts = libraries(walk(&[home.root()], started), &[home.root()], started);
    let found = parts.into_iter().find(|(other, _)| *other == home).map(|(_, walked)| walked).unwrap_or_default();
    let closed = found.closed;
    let mut paths: Vec<PathBuf> = found.files.iter().map(|found| found.path(started)).collect();
    let ours = |path: &&PathBuf| {
        super::is_named_detail(path) && path.parent().is_some_and(|folder| home_of(folder, started) == home)
    };
    paths.extend(unsaved.paths().filter(ours).cloned());
    paths.sort();
    paths.dedup();
    Walked { closed, ..Walked::over(&paths, unsaved.clone(), working) }
}
