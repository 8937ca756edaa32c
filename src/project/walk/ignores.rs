//! Ignore files: which of them count, and what they would hide.

use std::fs;
use std::path::Path;
use std::sync::atomic::{AtomicUsize, Ordering};

use ignore::gitignore::Gitignore;
use ignore::{DirEntry, WalkState};

use super::{is_named_detail, walker};
use crate::project::LARGEST;
use crate::project::home::top_of;

pub(super) const IGNORES: &str = ".gitignore";

/// An ignore file that would be waited for, or never end.
pub(super) fn has_strange_ignores(folder: &Path) -> bool {
    fs::metadata(folder.join(IGNORES)).is_ok_and(|about| !about.is_file() || about.len() > LARGEST)
}

/// The ignore files between a folder and the top of its library or of its checkout, whichever is nearer; the nearest first.
/// What lies above belongs to someone else, and must not empty a review.
pub(super) fn ignores_above(root: &Path, working: &Path) -> Vec<Gitignore> {
    let top = top_of(root, working);
    let above = root.ancestors().skip(1).take_while(|folder| folder.starts_with(&top));
    above.map(|folder| folder.join(IGNORES)).filter(|file| file.is_file()).map(|file| Gitignore::new(file).0).collect()
}

/// All details below a folder, ignored or not.
pub(super) fn details_below(root: &Path) -> usize {
    let count = AtomicUsize::new(0);
    walker(root).build_parallel().run(|| {
        Box::new(|entry| {
            let is_detail = |entry: &DirEntry| {
                let kind = entry.file_type();
                let folder = kind.is_some_and(|kind| kind.is_dir())
                    || kind.is_some_and(|kind| kind.is_symlink())
                        && fs::metadata(entry.path()).is_ok_and(|about| about.is_dir());
                is_named_detail(entry.path()) && !folder
            };
            if entry.is_ok_and(|entry| is_detail(&entry)) {
                count.fetch_add(1, Ordering::Relaxed);
            }
            WalkState::Continue
        })
    });
    count.into_inner()
}
