//! Whether anything has changed that a review reads.

use std::fs;
use std::hash::{Hash, Hasher};
use std::path::{Path, PathBuf};

use siphasher::sip::SipHasher13;
use walkdir::WalkDir;

use crate::project::home::{folder_of, top_of};
use crate::project::walk::is_named_detail;

/// A print of the names, sizes and times of all details, settings, rules and lists of the libraries of these paths.
pub fn stamp_of(paths: &[PathBuf], working: &Path) -> u64 {
    let mut roots: Vec<PathBuf> = paths.iter().map(|path| top_of(&folder_of(path, working), working)).collect();
    roots.sort();
    roots.dedup();
    let mut hasher = SipHasher13::new();
    for root in roots {
        let visible = |entry: &walkdir::DirEntry| {
            entry.depth() == 0 || !entry.file_name().to_str().is_some_and(|name| name.starts_with('.'))
        };
        let files = WalkDir::new(root).sort_by_file_name().into_iter().filter_entry(visible).filter_map(Result::ok);
        for path in files.map(walkdir::DirEntry::into_path).filter(|path| is_read(path)) {
            path.hash(&mut hasher);
            let about = fs::metadata(&path).ok();
            about.map(|about| (about.len(), about.modified().ok())).hash(&mut hasher);
        }
    }
    hasher.finish()
}

fn is_read(path: &Path) -> bool {
    let ending = path.extension().and_then(|extension| extension.to_str()).unwrap_or("");
    is_named_detail(path) || matches!(ending, "toml" | "jsonl" | "json")
}
