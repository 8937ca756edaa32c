//! Writing a file whole or not at all.

use std::ffi::OsStr;
use std::fs::{self, File, Metadata, OpenOptions, TryLockError};
use std::io::{self, BufWriter, Write};
use std::path::Path;
use std::time::Duration;

use tempfile::NamedTempFile;

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
        Some(about) => {
            fs::canonicalize(path).and_then(|real| put(&real, Some(about), true, &mut once(write), &|| Ok(())))
        }
        None => put(path, None, true, &mut once(write), &|| Ok(())),
    };
    done.map_err(|error| format!("{} cannot be written: {error}", path.display()))
}

/// The same for a file whose name comes from a text: a link of that name is not followed, whoever put it there.
///
/// # Errors
/// As `write_whole`; the path is a link.
pub fn write_named(path: &Path, write: impl FnOnce(&mut dyn Write) -> io::Result<()>) -> Result<(), String> {
    if fs::symlink_metadata(path).is_ok_and(|about| about.is_symlink()) {
        return Err(format!("{} is a link; drawings are not written through links", path.display()));
    }
    write_whole(path, write)
}

/// The same for a file that may be lost: it is not waited for until the disk has it.
///
/// # Errors
/// As `write_whole`.
pub fn write_quickly(path: &Path, write: impl FnOnce(&mut dyn Write) -> io::Result<()>) -> Result<(), String> {
    put(path, None, false, &mut once(write), &|| Ok(()))
        .map_err(|error| format!("{} cannot be written: {error}", path.display()))
}

/// Puts a text in the place of the bytes that a file holds, with its permissions kept. Of a link, the file that it leads
/// to is written and the link stays.
///
/// # Errors
/// In words, with the path: a file that is read-only, that cannot be written, or that has changed since it was read.
pub fn rewrite(path: &Path, before: &[u8], text: &str) -> Result<(), String> {
    let told = |why: &dyn std::fmt::Display| format!("{} cannot be written: {why}", path.display());
    let real = fs::canonicalize(path).map_err(|error| told(&error))?;
    let about = fs::metadata(&real).map_err(|error| told(&error))?;
    if about.permissions().readonly() {
        return Err(told(&"it is read-only"));
    }
    let unchanged = || match bytes(&real) {
        Ok(now) if now == before => Ok(()),
        Ok(_) => Err(io::Error::other("another program has just changed it")),
        Err(unreadable) => Err(io::Error::other(unreadable.why)),
    };
    let done = if names(&about) > 1 {
        // Another name of the same file would keep the old text.
        unchanged().and_then(|()| fs::write(&real, text))
    } else {
        put(&real, Some(&about), true, &mut |out| out.write_all(text.as_bytes()), &unchanged)
    };
    done.map_err(|error| told(&error))
}

/// How many names a file has.
#[cfg(unix)]
fn names(about: &Metadata) -> u64 {
    std::os::unix::fs::MetadataExt::nlink(about)
}

#[cfg(not(unix))]
fn names(_: &Metadata) -> u64 {
    1
}

/// Something that is done once, for one who could do it again.
fn once(write: impl FnOnce(&mut dyn Write) -> io::Result<()>) -> impl FnMut(&mut dyn Write) -> io::Result<()> {
    let mut write = Some(write);
    move |out| write.take().map_or(Ok(()), |write| write(out))
}

/// Results that are kept come to megabytes.
const BUFFER: usize = 1 << 18;

/// What the files begin with that are written beside others. Their names are short, whatever the other's is.
const BESIDE: &str = ".headlap-";
const PART: &str = ".part";

/// What of that name nobody holds a lock on after this time was left behind, where the file system knows no locks.
const LEFT_BEHIND: Duration = Duration::from_secs(60 * 60);

/// The file beside has a random name and is made for this call alone, so that no link is followed and no other run, in
/// another container on the same volume either, writes into it.
fn put(path: &Path, about: Option<&Metadata>, wait: bool, write: Writer<'_>, ready: Ready<'_>) -> io::Result<()> {
    let folder = path.parent().filter(|folder| !folder.as_os_str().is_empty()).unwrap_or(Path::new("."));
    remove_left_behind(folder);
    let mut beside = beside(folder)?;
    let mut out = BufWriter::with_capacity(BUFFER, beside.as_file_mut());
    write(&mut out)?;
    out.flush()?;
    drop(out);
    if let Some(about) = about {
        keep_owner(beside.path(), about);
        beside.as_file().set_permissions(about.permissions())?;
    }
    if wait {
        beside.as_file().sync_all()?;
    }
    ready()?;
    beside.persist(path).map(drop).map_err(|error| error.error)
}

/// Of a run that is killed nothing but its lock goes by itself, which is how the next run knows what it left behind. A run
/// may look between the making of a file and its locking: then the file is gone, and another one is made.
fn beside(folder: &Path) -> io::Result<NamedTempFile> {
    let mut builder = tempfile::Builder::new();
    builder.prefix(BESIDE).suffix(PART);
    #[cfg(unix)]
    builder.permissions(std::os::unix::fs::PermissionsExt::from_mode(0o666));
    loop {
        let file = builder.tempfile_in(folder)?;
        if file.as_file().lock().is_err() || file.path().exists() {
            return Ok(file);
        }
    }
}

/// Makes a folder with all that `fill` puts into it, or nothing: it is filled beside and renamed.
///
/// # Errors
/// Those of `fill`; in words, when the folder is there already or cannot be made.
pub fn folder_whole(path: &Path, fill: impl FnOnce(&Path) -> Result<(), String>) -> Result<(), String> {
    let told = |error: io::Error| format!("{} cannot be created: {error}", path.display());
    let above = path.parent().unwrap_or(path);
    fs::create_dir_all(above).map_err(told)?;
    remove_left_behind(above);
    let mut builder = tempfile::Builder::new();
    builder.prefix(BESIDE).suffix(PART);
    #[cfg(unix)]
    builder.permissions(std::os::unix::fs::PermissionsExt::from_mode(0o777));
    let beside = builder.tempdir_in(above).map_err(told)?;
    let held = File::open(beside.path()).and_then(|folder| folder.lock());
    fill(beside.path())?;
    fs::rename(beside.path(), path).map_err(told)?;
    // What was renamed is no longer there to be removed.
    drop((held, beside.keep()));
    Ok(())
}

/// What writes the bytes.
type Writer<'a> = &'a mut dyn FnMut(&mut dyn Write) -> io::Result<()>;

/// What is asked right before the file takes its place.
type Ready<'a> = &'a dyn Fn() -> io::Result<()>;

/// A file of another user stays that user's, where this one may give it away.
#[cfg(unix)]
fn keep_owner(path: &Path, about: &Metadata) {
    use std::os::unix::fs::MetadataExt;
    let _ = std::os::unix::fs::chown(path, Some(about.uid()), Some(about.gid()));
}

#[cfg(not(unix))]
fn keep_owner(_: &Path, _: &Metadata) {}

fn remove_left_behind(folder: &Path) {
    let Ok(entries) = fs::read_dir(folder) else { return };
    for entry in entries.filter_map(Result::ok) {
        let ours = is_left_behind(&entry.file_name());
        let Some(about) = ours.then(|| fs::symlink_metadata(entry.path()).ok()).flatten() else { continue };
        if about.is_file() && is_nobodys(&entry.path(), &about) {
            let _ = fs::remove_file(entry.path());
        } else if about.is_dir() && is_nobodys(&entry.path(), &about) {
            let _ = fs::remove_dir_all(entry.path());
        }
    }
}

/// It has the name of what is written beside others.
pub fn is_left_behind(name: &OsStr) -> bool {
    name.to_str().is_some_and(|name| name.starts_with(BESIDE) && name.ends_with(PART))
}

/// No run is writing it any more.
fn is_nobodys(path: &Path, about: &Metadata) -> bool {
    match File::open(path).map(|file| file.try_lock().map(|()| file)) {
        Ok(Ok(_)) => true,
        Ok(Err(TryLockError::WouldBlock)) => false,
        _ => is_older(about, LEFT_BEHIND),
    }
}

fn is_older(about: &Metadata, than: Duration) -> bool {
    about.modified().ok().and_then(|then| then.elapsed().ok()).is_some_and(|age| age > than)
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
    fs::create_dir_all(path).map_err(|error| format!("{} cannot be created: {error}", path.display()))
}

#[cfg(test)]
mod tests {
    use super::{put, rewrite};
    use std::fs;
    use std::io::Error;

    #[test]
    fn a_newer_save_wins_over_a_layout() {
        let folder = tempfile::tempdir().expect("a folder");
        let (one, twin) = (folder.path().join("a.detail"), folder.path().join("twin"));
        fs::write(&one, "saved since").expect("written");
        assert!(
            rewrite(&one, b"as it was read", "laid out")
                .expect_err("newer")
                .contains("another program has just changed it")
        );
        fs::hard_link(&one, &twin).expect("a second name");
        assert!(
            rewrite(&one, b"as it was read", "laid out")
                .expect_err("newer")
                .contains("another program has just changed it")
        );
        assert_eq!(fs::read_to_string(&twin).expect("there"), "saved since");
        assert_eq!(rewrite(&one, b"saved since", "laid out"), Ok(()));
        assert_eq!(fs::read_to_string(&twin).expect("there"), "laid out");
    }

    /// It is asked when nothing is left to do but the renaming.
    #[test]
    fn what_is_asked_last_sees_the_whole_file_beside() {
        let folder = tempfile::tempdir().expect("a folder");
        let path = folder.path().join("a");
        fs::write(&path, "old").expect("written");
        let names = || fs::read_dir(folder.path()).expect("a folder").flatten().map(|entry| entry.path());
        let ready = || {
            let beside = names().find(|name| *name != path).expect("a file beside");
            assert_eq!(fs::read_to_string(beside).expect("there"), "new");
            Err(Error::other("no"))
        };
        assert!(put(&path, None, true, &mut |out| out.write_all(b"new"), &ready).is_err());
        assert_eq!((fs::read_to_string(&path).expect("there").as_str(), names().count()), ("old", 1));
    }
}
