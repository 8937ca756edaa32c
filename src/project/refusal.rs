//! Why files could not be written, folders not made, or version control not asked: each refusal in one place.

use std::io;
use std::path::Path;

/// What stopped the project from doing what it was asked. The code that finds it builds the variant; its wording is here.
#[derive(Clone, Copy, Debug)]
pub enum Refusal<'a> {
    // Files and folders.
    NotWritten { path: &'a Path, why: &'a str },
    NotCreated { path: &'a Path, why: &'a str },
    NotRemoved { path: &'a Path, why: &'a str },
    NotListed { path: &'a Path, why: &'a str },
    NotEmpty { path: &'a Path },
    NoWorkingFolder { why: &'a str },
    // What `--out` names.
    OutIsDash,
    OutIsRead { path: &'a Path },
    OutTwice { path: &'a Path },
    // The list of known findings.
    ListTooLarge { path: &'a Path, megabytes: u64 },
    ListNotRegular { path: &'a Path },
    ListOfOthers { list: &'a str, file: &'a str },
    // What git is asked.
    NotARevision { typed: &'a str },
    NoGit { why: &'a str },
    GitRefused { why: &'a str },
}

/// Why nothing is written to a place, though the system would.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Unfit {
    Link,
    Folder,
    Special,
    ReadOnly,
    /// Since it was read.
    Changed,
    /// A folder that another run was quicker to make.
    Made,
}

impl Refusal<'_> {
    /// On one line.
    pub fn words(&self) -> String {
        match *self {
            Refusal::NotWritten { path, why } => format!("{} cannot be written: {why}", path.display()),
            Refusal::NotCreated { path, why } => format!("{} cannot be created: {why}", path.display()),
            Refusal::NotRemoved { path, why } => {
                format!("{} is from an earlier run and cannot be removed: {why}", path.display())
            }
            Refusal::NotListed { path, why } => format!("{} cannot be read: {why}", path.display()),
            Refusal::NotEmpty { path } => format!("{} is not empty; name a new or empty folder", path.display()),
            Refusal::NoWorkingFolder { why } => format!("the working directory cannot be found: {why}"),

            Refusal::OutIsDash => {
                "--out takes a file, not `-`; without --out, the output goes to standard output".to_owned()
            }
            Refusal::OutIsRead { path } => {
                format!("this run reads {} and would overwrite it; write to another file", path.display())
            }
            Refusal::OutTwice { path } => {
                format!("two outputs would be written to {}; give each its own file", path.display())
            }

            Refusal::ListTooLarge { path, megabytes } => format!(
                "{} would be larger than {megabytes} MB, the limit; adopt part of the library at a time, or switch off the rules that find the most",
                path.display()
            ),
            Refusal::ListNotRegular { path } => {
                format!("{} is not a regular file, and could not be read again", path.display())
            }
            Refusal::ListOfOthers { list, file } => format!(
                "{list} also lists findings of files outside of this run, such as {file}; use `headlap known add`, or check the whole library"
            ),

            Refusal::NotARevision { typed } => {
                format!("--changed-since takes a revision such as HEAD or main, not \"{typed}\"")
            }
            Refusal::NoGit { why } => format!("--changed-since asks git, and git could not be started: {why}"),
            Refusal::GitRefused { why } => format!("--changed-since asks git, and git answered: {why}"),
        }
    }
}

impl Unfit {
    /// After the path and a colon.
    pub fn words(self) -> &'static str {
        match self {
            Unfit::Link => "it is a link; name the file itself",
            Unfit::Folder => "it is a folder",
            Unfit::Special => "it is not a regular file",
            Unfit::ReadOnly => "it is read-only",
            Unfit::Changed => "another program has just changed it",
            Unfit::Made => "another run has made it meanwhile",
        }
    }
}

impl From<Unfit> for io::Error {
    fn from(unfit: Unfit) -> io::Error {
        io::Error::other(unfit.words())
    }
}
