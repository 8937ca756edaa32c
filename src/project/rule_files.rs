//! The rule files below a path.

use std::fs;
use std::path::{Path, PathBuf};

use walkdir::WalkDir;

/// A rule file itself, or all files that end in `.toml` below a folder, in the order of their paths.
///
/// # Errors
/// In words: no such path, or a folder without a rule file.
pub fn rule_files(path: &Path) -> Result<Vec<PathBuf>, String> {
    let about = fs::metadata(path).map_err(|_| "there is no such file or folder".to_owned())?;
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
    if files.is_empty() { Err("the folder has no rule file (*.toml)".to_owned()) } else { Ok(files) }
}
