//! Files and folders made beside their place, under a lock by which the next run recognizes what was left behind.

use std::ffi::OsStr;
use std::fs::{self, File, Metadata, TryLockError};
use std::io::{self};
use std::path::Path;
use std::time::Duration;

use tempfile::{NamedTempFile, TempDir};

/// What the files begin with that are written beside others. Their names are short, whatever the other's is.
const BESIDE: &str = ".headlap-";

const PART: &str = ".part";

/// What of that name nobody holds a lock on after this time was left behind, where the file system knows no locks.
const LEFT_BEHIND: Duration = Duration::from_secs(60 * 60);

/// Of a run that is killed nothing but its lock goes by itself, which is how the next run knows what it left behind. A run
/// may look between the making of a file and its locking: then the file is gone, and another one is made.
pub(super) fn beside(folder: &Path) -> io::Result<NamedTempFile> {
    loop {
        let file = part(0o666).tempfile_in(folder)?;
        if file.as_file().lock().is_err() || file.path().exists() {
            return Ok(file);
        }
    }
}

/// With its lock, where the system has such locks.
pub(super) fn folder_beside(above: &Path) -> io::Result<(TempDir, Option<File>)> {
    loop {
        let folder = part(0o777).tempdir_in(above)?;
        let held = File::open(folder.path()).and_then(|held| held.lock().map(|()| held));
        if folder.path().exists() {
            return Ok((folder, held.ok()));
        }
    }
}

/// What is made beside its place, with the rights that the user's mask leaves of `mode`.
#[cfg_attr(not(unix), allow(unused_variables))]
fn part(mode: u32) -> tempfile::Builder<'static, 'static> {
    let mut builder = tempfile::Builder::new();
    builder.prefix(BESIDE).suffix(PART);
    #[cfg(unix)]
    builder.permissions(std::os::unix::fs::PermissionsExt::from_mode(mode));
    builder
}

pub(super) fn remove_left_behind(folder: &Path) {
    let Ok(entries) = fs::read_dir(folder) else { return };
    for entry in entries.filter_map(Result::ok) {
        let ours = is_left_behind(&entry.file_name());
        let Some(about) = ours.then(|| fs::symlink_metadata(entry.path()).ok()).flatten() else { continue };
        if !(about.is_file() || about.is_dir()) {
            continue;
        }
        // Its lock is held until it is gone: who makes it just now finds it gone, and makes another.
        let Some(_held) = nobodys(&entry.path(), &about) else { continue };
        let _ = if about.is_dir() { fs::remove_dir_all(entry.path()) } else { fs::remove_file(entry.path()) };
    }
}

/// It has the name of what is written beside others.
pub fn is_left_behind(name: &OsStr) -> bool {
    name.to_str().is_some_and(|name| name.starts_with(BESIDE) && name.ends_with(PART))
}

/// No run is writing it any more. With its lock, where the system has such locks.
fn nobodys(path: &Path, about: &Metadata) -> Option<Option<File>> {
    match File::open(path).map(|file| file.try_lock().map(|()| file)) {
        Ok(Ok(held)) => Some(Some(held)),
        Ok(Err(TryLockError::WouldBlock)) => None,
        _ => is_older(about, LEFT_BEHIND).then_some(None),
    }
}

fn is_older(about: &Metadata, than: Duration) -> bool {
    about.modified().ok().and_then(|then| then.elapsed().ok()).is_some_and(|age| age > than)
}
