//! Files of an earlier run must not pass for those of a run that could not be made.

use std::ffi::OsString;
use std::path::{Path, PathBuf};

use clap::ValueEnum;

use crate::cli::args::{Command, Format, Review};
use crate::cli::failure::Failure;
use crate::cli::print;
use crate::output;
use crate::project;

/// The files that a command was to write, each with its format where that has words for a failed run.
pub type Promised = Vec<(Option<Format>, PathBuf)>;

pub fn of(command: &Command) -> Promised {
    match command {
        Command::Review(review) => of_review(review),
        Command::Compare(compare) => compare.out.iter().map(|out| (None, out.clone())).collect(),
        _ => Vec::new(),
    }
}

pub fn of_review(review: &Review) -> Promised {
    let formats = review.format.iter().copied().map(Some).chain(std::iter::repeat(None));
    formats.zip(review.out.iter().cloned()).collect()
}

/// From words that could not be taken whole: what stands after each `--format` and each `--out`.
pub fn of_words(words: impl Iterator<Item = OsString>) -> Promised {
    let words: Vec<String> = words.skip(1).filter_map(|word| word.into_string().ok()).collect();
    if !words.iter().any(|word| word == "review" || word == "compare") {
        return Vec::new();
    }
    let values = |option: &str| -> Vec<String> {
        let after = |(at, word): (usize, &String)| match word.strip_prefix(option)? {
            "" => words.get(at + 1).filter(|value| !value.starts_with('-')).cloned(),
            rest => rest.strip_prefix('=').map(str::to_owned),
        };
        words.iter().enumerate().filter_map(after).collect()
    };
    let formats = values("--format").into_iter().map(|word| Format::from_str(&word, false).ok());
    formats.chain(std::iter::repeat(None)).zip(values("--out").into_iter().map(PathBuf::from)).collect()
}

/// SARIF and JUnit have words for a run that failed. A file of another format goes: who looks for it finds nothing.
pub fn replace(promised: &Promised, failure: &Failure) {
    if failure.is_of_outputs() {
        return replace_our_own(promised, &failure.words());
    }
    let outputs: Vec<&Path> = promised.iter().map(|(_, path)| path.as_path()).collect();
    let Ok(working) = project::working() else { return };
    if project::check_outputs(&outputs, &[], &working).is_err() || outputs.iter().any(|path| may_be_read(path)) {
        return;
    }
    let why = failure.words();
    for (format, path) in promised {
        let written = match format {
            Some(Format::Sarif) => project::write_whole(path, |out| output::sarif_of_failure(&why, out)),
            Some(Format::Junit) => project::write_whole(path, |out| output::junit_of_failure(&why, out)),
            _ => project::remove(path),
        };
        if let Err(why) = written {
            print::aside(&why);
        }
    }
}

/// One of the outputs was refused, and what lies at their places may be anything. A SARIF log that says that it is of this program was
/// of an earlier run.
fn replace_our_own(promised: &Promised, why: &str) {
    let alone = |path: &Path| promised.iter().filter(|(_, other)| other == path).count() == 1;
    let ours = |path: &Path| project::bytes(path).is_ok_and(|bytes| output::is_sarif_of_ours(&bytes));
    for (_, path) in
        promised.iter().filter(|(format, path)| *format == Some(Format::Sarif) && alone(path) && ours(path))
    {
        if let Err(why) = project::write_whole(path, |out| output::sarif_of_failure(why, out)) {
            print::aside(&why);
        }
    }
}

/// A rule file or a list of known findings. What a run would have read that could not be made is not known.
fn may_be_read(path: &Path) -> bool {
    let rules = path.extension().is_some_and(|ending| ending == "toml");
    let list = || {
        project::bytes(path).is_ok_and(|bytes| bytes.starts_with(b"{\"about\"") || bytes.starts_with(b"{\n  \"about\""))
    };
    rules || list()
}
