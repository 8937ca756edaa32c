//! Writing a file whole or not at all.

use std::fs::{self, Metadata, OpenOptions};
use std::io::{self, BufWriter, Write};
use std::path::Path;
use std::time::Duration;

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
        Ok(_) => Err(io::Error::other("it was changed by someone else just now")),
        Err(unreadable) => Err(io::Error::other(unreadable.why)),
    };
    unchanged().map_err(|error| told(&error))?;
    if names(&about) > 1 {
        // Another name of the same file would keep the old text.
        return fs::write(&real, text).map_err(|error| told(&error));
    }
    put(&real, Some(&about), true, &mut |out| out.write_all(text.as_bytes()), &unchanged).map_err(|error| told(&error))
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

/// A file of that name which nobody finished in this time was left behind by a run that was killed.
const LEFT_BEHIND: Duration = Duration::from_secs(60 * 60);

/// The file beside has a random name and is made for this call alone, so that no link is followed and no other run, in
/// another container on the same volume either, writes into it.
fn put(path: &Path, about: Option<&Metadata>, wait: bool, write: Writer<'_>, ready: Ready<'_>) -> io::Result<()> {
    let folder = path.parent().filter(|folder| !folder.as_os_str().is_empty()).unwrap_or(Path::new("."));
    remove_left_behind(folder);
    let mut builder = tempfile::Builder::new();
    builder.prefix(BESIDE).suffix(".part");
    #[cfg(unix)]
    builder.permissions(std::os::unix::fs::PermissionsExt::from_mode(0o666));
    let mut beside = builder.tempfile_in(folder)?;
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
        let name = entry.file_name();
        let ours = name.to_str().is_some_and(|name| name.starts_with(BESIDE) && name.ends_with(".part"));
        let old = || entry.metadata().ok()?.modified().ok()?.elapsed().ok().filter(|age| *age > LEFT_BEHIND);
        if ours && old().is_some() {
            let _ = fs::remove_file(entry.path());
        }
    }
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
