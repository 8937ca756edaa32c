//! A small library to begin from.

use std::fs;
use std::path::{Path, PathBuf};

use include_dir::{Dir, include_dir};

static LIBRARY: Dir<'static> = include_dir!("$CARGO_MANIFEST_DIR/rules/start");

/// Writes the files of the small library into a folder, which is made when it is missing. Gives the files.
///
/// # Errors
/// In words: a folder that already holds something, which is left alone, or one that cannot be written.
pub fn start(folder: &Path) -> Result<Vec<PathBuf>, String> {
    match fs::read_dir(folder).map(|mut entries| entries.next().is_some()) {
        Ok(true) => {
            return Err(format!("{} already holds something; name a new or an empty folder", folder.display()));
        }
        Err(error) if error.kind() != std::io::ErrorKind::NotFound => {
            return Err(format!("{}: {error}", folder.display()));
        }
        _ => {}
    }
    fs::create_dir_all(folder).map_err(|error| format!("{}: {error}", folder.display()))?;
    let mut written = Vec::new();
    for file in LIBRARY.files() {
        let path = folder.join(file.path());
        fs::write(&path, file.contents()).map_err(|error| format!("{}: {error}", path.display()))?;
        written.push(path);
    }
    written.sort();
    Ok(written)
}
