//! Writing a file whole or not at all.

use std::fs::{self, File};
use std::io::{self, BufWriter, Write};
use std::path::{Path, PathBuf};

/// Writes beside the file and renames, so that the file is the old one or the new one and never half of it.
///
/// # Errors
/// In words, with the path; nothing half-written stays behind.
pub fn write_whole(path: &Path, write: impl FnOnce(&mut dyn Write) -> io::Result<()>) -> Result<(), String> {
    let told = |error: io::Error| format!("{} cannot be written: {error}", path.display());
    let mut beside = path.as_os_str().to_owned();
    beside.push(format!(".{}.part", std::process::id()));
    let beside = PathBuf::from(beside);
    let done = File::create(&beside).and_then(|file| {
        let mut out = BufWriter::new(file);
        write(&mut out)?;
        out.into_inner().map_err(io::IntoInnerError::into_error)?.sync_all()?;
        fs::rename(&beside, path)
    });
    if done.is_err() {
        // Nothing half-written stays behind.
        let _ = fs::remove_file(&beside);
    }
    done.map_err(told)
}

/// Makes a folder and those above it, if they are missing.
///
/// # Errors
/// In words, with the path.
pub fn folder(path: &Path) -> Result<(), String> {
    fs::create_dir_all(path).map_err(|error| format!("{} cannot be made: {error}", path.display()))
}
