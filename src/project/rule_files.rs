//! The rule files below a path.

use std::fs;
use std::path::{Path, PathBuf};

use walkdir::WalkDir;

use crate::project::Unread;

/// A rule file itself, or all files that end in `.toml` below a folder, in the order of their paths.
///
/// # Errors
/// No such path, or a folder without a rule file.
pub fn rule_files(path: &Path) -> Result<Vec<PathBuf>, Unread> {
    let about = fs::metadata(path).map_err(|_| Unread::NothingThere)?;
    if !about.is_dir() {
        return Ok(vec![path.to_path_buf()]);
    }
    // Unlike details, rules count whether or not git ignores them: a rule that is silently left out judges nothing.
    let mut files: Vec<PathBuf> = WalkDir::new(path)
        .into_iter()
        .filter_map(Result::ok)
        .filter(|entry| !entry.file_type().is_dir())
        .map(walkdir::DirEntry::into_path)
        .filter(|path| path.extension().is_some_and(|extension| extension == "toml"))
        .filter(|path| path.file_name().is_some_and(|name| name != crate::settings::NAME))
        .collect();
    files.sort();
    if files.is_empty() { Err(Unread::NoRuleFile) } else { Ok(files) }
}
