//! Writing a file whole or not at all.

use std::fs::{self, File, OpenOptions, Permissions};
use std::io::{self, BufWriter, Write};
use std::path::{Path, PathBuf};

use crate::project::read::bytes;

/// Writes beside the file and renames, so that the file is the old one or the new one and never half of it. Of a link, the
/// file that it leads to is written. A device or a pipe is written into: it must not turn into a file.
///
/// # Errors
/// In words, with the path; nothing half-written stays behind.
pub fn write_whole(path: &Path, write: impl FnOnce(&mut dyn Write) -> io::Result<()>) -> Result<(), String> {
    let about = fs::metadata(path).ok();
    let done = match &about {
        Some(about) if !about.is_file() && !about.is_dir() => into(path, write),
        Some(about) => fs::canonicalize(path).and_then(|real| put(&real, Some(about.permissions()), true, write)),
        None => put(path, None, true, write),
    };
    done.map_err(|error| format!("{} cannot be written: {error}", path.display()))
}

/// The same for a file that may be lost: it is not waited for until the disk has it.
///
/// # Errors
/// As `write_whole`.
pub fn write_quickly(path: &Path, write: impl FnOnce(&mut dyn Write) -> io::Result<()>) -> Result<(), String> {
    put(path, None, false, write).map_err(|error| format!("{} cannot be written: {error}", path.display()))
}

/// Puts a text in the place of the bytes that a file holds, with its permissions kept. Of a link, the file that it leads
/// to is written and the link stays.
///
/// # Errors
/// In words, with the path: a file that is read-only, that cannot be written, or that has changed since it was read.
pub fn rewrite(path: &Path, before: &[u8], text: &str) -> Result<(), String> {
    let told = |why: &dyn std::fmt::Display| format!("{} cannot be written: {why}", path.display());
    let real = fs::canonicalize(path).map_err(|error| told(&error))?;
    let permissions = fs::metadata(&real).map_err(|error| told(&error))?.permissions();
    if permissions.readonly() {
        return Err(told(&"it is read-only"));
    }
    if bytes(&real).map_err(|unreadable| told(&unreadable.why))? != before {
        return Err(told(&"it was changed by someone else just now"));
    }
    put(&real, Some(permissions), true, |out| out.write_all(text.as_bytes())).map_err(|error| told(&error))
}

/// Results that are kept come to megabytes.
const BUFFER: usize = 1 << 18;

fn put(
    path: &Path,
    permissions: Option<Permissions>,
    wait: bool,
    write: impl FnOnce(&mut dyn Write) -> io::Result<()>,
) -> io::Result<()> {
    let mut beside = path.as_os_str().to_owned();
    beside.push(format!(".{}.part", std::process::id()));
    let beside = PathBuf::from(beside);
    let done = File::create(&beside).and_then(|file| {
        let mut out = BufWriter::with_capacity(BUFFER, file);
        write(&mut out)?;
        let file = out.into_inner().map_err(io::IntoInnerError::into_error)?;
        if let Some(permissions) = permissions {
            file.set_permissions(permissions)?;
        }
        if wait {
            file.sync_all()?;
        }
        fs::rename(&beside, path)
    });
    if done.is_err() {
        // Nothing half-written stays behind.
        let _ = fs::remove_file(&beside);
    }
    done
}

fn into(path: &Path, write: impl FnOnce(&mut dyn Write) -> io::Result<()>) -> io::Result<()> {
    let mut out = BufWriter::new(OpenOptions::new().write(true).open(path)?);
    write(&mut out).and_then(|()| out.flush())
}

/// Makes a folder and those above it, if they are missing.
///
/// # Errors
/// In words, with the path.
pub fn folder(path: &Path) -> Result<(), String> {
    fs::create_dir_all(path).map_err(|error| format!("{} cannot be made: {error}", path.display()))
}
