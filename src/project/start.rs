//! A small library to begin from.

use std::fs;
use std::io::ErrorKind;
use std::path::{Path, PathBuf};

use include_dir::{Dir, include_dir};

use crate::project::Refusal;
use crate::project::read::bytes;
use crate::project::write::{folder_whole, is_left_behind, write_whole};
use crate::settings::NAME;

static LIBRARY: Dir<'static> = include_dir!("$CARGO_MANIFEST_DIR/rules/start");

/// Writes the files of the small library into a folder, which is made when it is missing. Gives the files. A new folder is
/// there with all of them or not at all; one that was empty is finished by the next call, should this one be cut short.
///
/// # Errors
/// In words: a folder that already holds something else, which is left alone, or one that cannot be written.
pub fn start(folder: &Path) -> Result<Vec<PathBuf>, String> {
    match fs::read_dir(folder) {
        Ok(entries) => {
            if entries.filter_map(Result::ok).any(|entry| !is_ours(&entry.path())) {
                return Err(Refusal::NotEmpty { path: folder }.words());
            }
            fill(folder)?;
        }
        Err(error) if error.kind() == ErrorKind::NotFound => folder_whole(folder, fill)?,
        Err(error) => return Err(Refusal::NotListed { path: folder, why: &error.to_string() }.words()),
    }
    let mut written: Vec<PathBuf> = LIBRARY.files().map(|file| folder.join(file.path())).collect();
    written.sort();
    Ok(written)
}

/// The settings come last: without them the next call goes on.
fn fill(folder: &Path) -> Result<(), String> {
    let (settings, details): (Vec<_>, Vec<_>) = LIBRARY.files().partition(|file| file.path() == Path::new(NAME));
    details
        .into_iter()
        .chain(settings)
        .try_for_each(|file| write_whole(&folder.join(file.path()), |out| out.write_all(file.contents())))
}

/// One of the files of the library, or what a call that was cut short left beside them.
fn is_ours(path: &Path) -> bool {
    let name = path.file_name().unwrap_or_default();
    let ours = LIBRARY.files().find(|file| file.path() == Path::new(name) && name != NAME);
    is_left_behind(name) || ours.is_some_and(|file| bytes(path).is_ok_and(|bytes| bytes == file.contents()))
}
