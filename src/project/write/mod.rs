//! Writing a file whole or not at all.

mod beside;

use std::fs::{self, Metadata, OpenOptions};
use std::io::{self, BufWriter, ErrorKind, Write};
use std::path::Path;

use crate::project::read::bytes;
use crate::project::{Refusal, Unfit};
pub use beside::is_left_behind;
use beside::{beside, folder_beside, remove_left_behind};

/// Writes beside the file and renames, so that the file is the old one or the new one and never half of it. What the
/// system offers under `/dev` is written into: standard output, what a shell puts in the place of a file, `/dev/null`.
///
/// # Errors
/// In words, with the path; nothing half-written stays behind. A link, whoever put it there, could lead to any file of
/// the user's, and a pipe may have no reader: neither is written.
pub fn write_whole(path: &Path, write: impl FnOnce(&mut dyn Write) -> io::Result<()>) -> Result<(), String> {
    let done = match unfit(path) {
        Some(why) => Err(why.into()),
        None if is_offered(path) => into(path, write),
        None => put(path, fs::symlink_metadata(path).ok().as_ref(), true, &mut once(write), &|| Ok(())),
    };
    done.map_err(|error| not_written(path, &error))
}

/// The system makes it, and no file of the user is there.
pub fn is_offered(path: &Path) -> bool {
    cfg!(unix) && (path.starts_with("/dev") || path.starts_with("/proc/self/fd"))
}

/// Why nothing is written there.
pub fn unfit(path: &Path) -> Option<Unfit> {
    let about = fs::symlink_metadata(path).ok().filter(|about| !about.is_file() && !is_offered(path))?;
    Some(match about.file_type() {
        kind if kind.is_symlink() => Unfit::Link,
        kind if kind.is_dir() => Unfit::Folder,
        _ => Unfit::Special,
    })
}

fn not_written(path: &Path, error: &io::Error) -> String {
    Refusal::NotWritten { path, why: &error.to_string() }.words()
}

fn not_created(path: &Path, error: &io::Error) -> String {
    Refusal::NotCreated { path, why: &error.to_string() }.words()
}

/// Takes away what an earlier run wrote.
///
/// # Errors
/// In words, with the path.
pub fn remove(path: &Path) -> Result<(), String> {
    if is_offered(path) || !fs::symlink_metadata(path).is_ok_and(|about| about.is_file()) {
        return Ok(());
    }
    fs::remove_file(path).map_err(|error| Refusal::NotRemoved { path, why: &error.to_string() }.words())
}

/// The same for a file that may be lost: it is not waited for until the disk has it.
///
/// # Errors
/// As `write_whole`.
pub fn write_quickly(path: &Path, write: impl FnOnce(&mut dyn Write) -> io::Result<()>) -> Result<(), String> {
    put(path, None, false, &mut once(write), &|| Ok(())).map_err(|error| not_written(path, &error))
}

/// Puts a text in the place of the bytes that a file holds, with its permissions kept. Of a link, the file that it leads
/// to is written and the link stays.
///
/// # Errors
/// In words, with the path: a file that is read-only, that cannot be written, or that has changed since it was read.
pub fn rewrite(path: &Path, before: &[u8], text: &str) -> Result<(), String> {
    let failed = |error: io::Error| not_written(path, &error);
    let real = fs::canonicalize(path).map_err(failed)?;
    let about = fs::metadata(&real).map_err(failed)?;
    if about.permissions().readonly() {
        return Err(failed(Unfit::ReadOnly.into()));
    }
    let unchanged = || match bytes(&real) {
        Ok(now) if now == before => Ok(()),
        Ok(_) => Err(Unfit::Changed.into()),
        Err(unreadable) => Err(io::Error::other(unreadable.why.words())),
    };
    let done = if names(&about) > 1 {
        // Another name of the same file would keep the old text.
        unchanged().and_then(|()| fs::write(&real, text))
    } else {
        put(&real, Some(&about), true, &mut |out| out.write_all(text.as_bytes()), &unchanged)
    };
    // Another run may have laid it out meanwhile: then it holds what was to be written.
    let there = || bytes(&real).is_ok_and(|now| now == text.as_bytes());
    done.or_else(|error| if there() { Ok(()) } else { Err(failed(error)) })
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

/// Makes a folder with all that `fill` puts into it, or nothing: it is filled beside and renamed.
///
/// # Errors
/// Those of `fill`; in words, when another run has made the folder meanwhile, or it cannot be made.
pub fn folder_whole(path: &Path, fill: impl FnOnce(&Path) -> Result<(), String>) -> Result<(), String> {
    let failed = |error: io::Error| not_created(path, &error);
    let above = path.parent().unwrap_or(path);
    fs::create_dir_all(above).map_err(failed)?;
    remove_left_behind(above);
    let (beside, held) = folder_beside(above).map_err(failed)?;
    fill(beside.path())?;
    fs::rename(beside.path(), path).map_err(|error| match error.kind() {
        ErrorKind::DirectoryNotEmpty => failed(Unfit::Made.into()),
        _ => failed(error),
    })?;
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

fn into(path: &Path, write: impl FnOnce(&mut dyn Write) -> io::Result<()>) -> io::Result<()> {
    // At the end of what a shell led there.
    let mut out = BufWriter::new(OpenOptions::new().append(true).open(path)?);
    write(&mut out).and_then(|()| out.flush())
}

/// Makes a folder and those above it, if they are missing.
///
/// # Errors
/// In words, with the path.
pub fn folder(path: &Path) -> Result<(), String> {
    fs::create_dir_all(path).map_err(|error| not_created(path, &error))
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

    #[test]
    fn of_two_runs_that_write_the_same_neither_fails() {
        let folder = tempfile::tempdir().expect("a folder");
        let path = folder.path().join("a.detail");
        fs::write(&path, "laid out").expect("written by the other");
        assert_eq!(rewrite(&path, b"as it was read", "laid out"), Ok(()));
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
