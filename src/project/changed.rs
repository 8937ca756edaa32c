//! Which files a change concerns: those that it touches, and those that include them.

use std::collections::BTreeSet;
use std::path::{Path, PathBuf};
use std::process::Command;
use std::time::SystemTime;

use foldhash::HashSet;

use crate::project::load::{above, load};
use crate::project::shown::{plain, real};
use crate::project::walk::is_named_detail;
use crate::project::{IncludeGraph, Refusal, Unsaved, Walked};
use crate::settings::NAME;
use crate::text::FileId;

/// The files that differ from a revision, deleted and new ones among them, absolute. Version control is asked by its
/// command line.
///
/// # Errors
/// In words: no checkout, no git, no such revision.
pub fn changed_since(revision: &str, working: &Path) -> Result<Vec<PathBuf>, String> {
    if revision.starts_with('-') {
        return Err(Refusal::NotARevision { typed: revision }.words());
    }
    let top = git(&["rev-parse", "--show-toplevel"], working)?;
    let top = PathBuf::from(String::from_utf8_lossy(&top).trim_end_matches(['\n', '\r']).to_owned());
    let tracked =
        git(&["diff", "--name-only", "--no-renames", "--ignore-submodules=none", "-z", revision, "--"], &top)?;
    let new = git(&["ls-files", "-z", "--others", "--exclude-standard"], &top)?;
    Ok([tracked, new].iter().flat_map(|list| names(list)).map(|name| plain(&name, &top)).collect())
}

fn git(args: &[&str], folder: &Path) -> Result<Vec<u8>, String> {
    let output = Command::new("git")
        .args(args)
        .current_dir(folder)
        .env("GIT_OPTIONAL_LOCKS", "0")
        .output()
        .map_err(|error| Refusal::NoGit { why: &error.to_string() }.words())?;
    if output.status.success() {
        return Ok(output.stdout);
    }
    let why = String::from_utf8_lossy(&output.stderr);
    let why = why.lines().next().unwrap_or("it gave no reason");
    Err(Refusal::GitRefused { why }.words())
}

/// The names of a list: apart by NUL, or a line each, where git quotes unusual ones.
pub fn names(list: &[u8]) -> Vec<PathBuf> {
    if list.contains(&0) {
        return list.split(|byte| *byte == 0).filter(|name| !name.is_empty()).map(path_of).collect();
    }
    let lines = list.split(|byte| *byte == b'\n').map(|line| line.strip_suffix(b"\r").unwrap_or(line));
    lines.filter(|line| !line.is_empty()).map(|line| path_of(&unquoted(line))).collect()
}

/// `"a\303\244.detail"` as git writes the name of `aä.detail`.
fn unquoted(line: &[u8]) -> Vec<u8> {
    let [b'"', inner @ .., b'"'] = line else { return line.to_vec() };
    let mut plain = Vec::with_capacity(inner.len());
    let mut at = 0;
    while let Some(byte) = inner.get(at) {
        let octal = |digit: &u8| (b'0'..=b'7').contains(digit);
        match (byte, inner.get(at + 1)) {
            (b'\\', Some(first)) if octal(first) => {
                let digits: Vec<&u8> = inner[at + 1..].iter().take(3).take_while(|digit| octal(digit)).collect();
                plain.push(digits.iter().fold(0_u8, |value, digit| value.wrapping_mul(8).wrapping_add(**digit - b'0')));
                at += 1 + digits.len();
            }
            (b'\\', Some(letter)) => {
                plain.push(match letter {
                    b'n' => b'\n',
                    b't' => b'\t',
                    b'r' => b'\r',
                    other => *other,
                });
                at += 2;
            }
            (byte, _) => {
                plain.push(*byte);
                at += 1;
            }
        }
    }
    plain
}

#[cfg(unix)]
fn path_of(name: &[u8]) -> PathBuf {
    use std::os::unix::ffi::OsStrExt;
    std::ffi::OsStr::from_bytes(name).into()
}

#[cfg(not(unix))]
fn path_of(name: &[u8]) -> PathBuf {
    String::from_utf8_lossy(name).into_owned().into()
}

/// What has to be checked after a change of these files: the details among them that still exist, and all in `scope` that
/// include one of them, directly or not. A change of settings or rules concerns every detail of the scope, and so does one of a file
/// that settings name.
pub fn concerned(changed: &[PathBuf], scope: &Walked, working: &Path, now: SystemTime) -> Vec<PathBuf> {
    let files: Vec<PathBuf> = scope.files.iter().map(|found| found.path(working)).collect();
    let governs = |path: &&PathBuf| {
        let ending = path.extension().and_then(|extension| extension.to_str()).unwrap_or("");
        path.file_name().is_some_and(|name| name == NAME) || ending == "toml"
    };
    if changed.iter().any(|path| governs(&path)) {
        return files;
    }
    // A repository within this one is named as a whole, whatever has changed in it.
    let within: Vec<&PathBuf> = changed.iter().filter(|path| path.is_dir()).collect();
    let inside = files.iter().filter(|file| within.iter().any(|folder| file.starts_with(folder)));
    let changed: HashSet<PathBuf> = changed.iter().chain(inside).cloned().collect();
    let dependents = IncludeGraph::default().dependents(&changed, scope, working, now);
    let named: HashSet<PathBuf> = named_by_settings(&files, working).iter().map(|path| real(path)).collect();
    if changed.iter().chain(&dependents).any(|path| named.contains(&real(path))) {
        return files;
    }
    let known: HashSet<&Path> = files.iter().map(PathBuf::as_path).collect();
    let still_there = |path: &&PathBuf| known.contains(path.as_path()) || is_named_detail(path) && path.is_file();
    let all: BTreeSet<&PathBuf> = changed.iter().filter(still_there).chain(&dependents).collect();
    all.into_iter().cloned().collect()
}

/// The climates and the lists of known findings that the settings of these files name.
fn named_by_settings(files: &[PathBuf], working: &Path) -> Vec<PathBuf> {
    let folders: HashSet<&Path> = files.iter().filter_map(|file| file.parent()).collect();
    let settings: HashSet<PathBuf> = folders.into_iter().filter_map(above).collect();
    let named = |path: PathBuf| {
        // The run itself reports settings that cannot be read.
        let Ok(config) = load(&path, FileId::SETTINGS, working, &Unsaved::default()) else { return Vec::new() };
        let climate = config.climate.map(|(name, _)| plain(Path::new(&name), &config.root));
        climate.into_iter().chain(config.known).collect()
    };
    settings.into_iter().flat_map(named).collect()
}

#[cfg(test)]
mod tests {
    use super::names;
    use std::path::PathBuf;

    #[test]
    fn lists_are_read_as_git_and_others_write_them() {
        let paths = |names: &[&str]| names.iter().map(PathBuf::from).collect::<Vec<_>>();
        assert_eq!(names(b"a b.detail\0c\nd.detail\0"), paths(&["a b.detail", "c\nd.detail"]));
        assert_eq!(names(b"a.detail\r\n\nb.detail"), paths(&["a.detail", "b.detail"]));
        assert_eq!(names(b"\"t\\303\\274r \\\"x\\\".detail\"\n"), paths(&["t\u{fc}r \"x\".detail"]));
    }
}
