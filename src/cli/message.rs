//! What commands say besides their output: why one could not do what was typed, and remarks on what it did.

use std::path::Path;

use crate::output::words::{self, counted};

/// What is wrong with a command line or with what it names, and what to know of a run. The code that finds it builds the variant; its wording is here.
#[derive(Clone, Copy, Debug)]
pub enum Message<'a> {
    // Options that do not go together.
    PathsBesidePipe,
    StdinNameWithoutPipe,
    FixOfPipe,
    WriteKnownOfPart,
    MoreOutsThanFormats,
    FormatsShareOutput,
    SeveralLibraries { instead: &'static str },
    NoKnownList,
    // Values that cannot be read.
    NotALength { typed: &'a str },
    NotADay { typed: &'a str },
    NotATime { typed: &'a str },
    NotAName { near: &'a str },
    // Names of nothing.
    NoRule { id: &'a str, near: Option<&'a str> },
    NoSuch { what: &'a str, word: &'a str, near: Option<&'a str>, all: &'a str },
    NoneInRun { what: &'a str, name: &'a str, near: Option<&'a str> },
    NoneToShow { name: &'a str, near: Option<&'a str> },
    NoSchema { of: &'a str },
    // Files.
    NoPath { path: &'a Path },
    NoDetail { paths: &'a [String], done: &'a str, left_out: usize },
    NothingChecked,
    Unreadable { path: &'a Path, why: &'a str },
    UnreadableInput { why: &'a str },
    UnreadableList { list: &'a Path, why: &'a str },
    // Remarks beside the output.
    SkippedDeleted { count: usize, first: &'a Path },
    NoFileToCheck,
    ErrorsPass { settings: &'a str },
    WaitingForChanges,
    NotCached { why: &'a str },
    TooManyEdges { detail: &'a str },
    AssemblyAsDxf { assembly: &'a str },
    WaiverEnds { rule: &'a str, days: i32 },
    // What a command has done.
    Wrote { path: &'a Path },
    CheckWith { folder: &'a str },
    Listed { count: usize, list: &'a Path },
    Pruned { count: usize, list: &'a Path },
    Entries { count: usize, list: &'a Path },
    ListWritten { count: usize, list: &'a Path },
    RulesTested { rules: usize, examples: usize, cures: usize, failed: usize },
    // What follows from findings that stop a command.
    CorrectFirst,
    NotFormatted { name: &'a str },
    NotListed,
    NotPruned,
    Incomplete,
    // The program itself.
    NoOutput { why: &'a str },
    NoThreads { why: &'a str },
    NoBuiltInRules,
    Crashed,
}

impl Message<'_> {
    /// On one line.
    pub fn words(&self) -> String {
        match *self {
            Message::PathsBesidePipe => {
                "`-` has to be the only path: check standard input or files, not both".to_owned()
            }
            Message::StdinNameWithoutPipe => "--stdin-name works only with the path `-`".to_owned(),
            Message::FixOfPipe => "--fix takes files, not `-`".to_owned(),
            Message::WriteKnownOfPart => {
                "--write-known lists the whole review; to list a part, use `headlap known add --rule ID`".to_owned()
            }
            Message::MoreOutsThanFormats => {
                "there are more --out options than --format options; each file needs its own format".to_owned()
            }
            Message::FormatsShareOutput => {
                "several formats cannot share standard output; give each its own --out".to_owned()
            }
            Message::SeveralLibraries { instead } => format!("these files belong to several libraries; {instead}"),
            Message::NoKnownList => {
                "no list of known findings; name it with --known FILE, or write `known = \"FILE\"` in headlap.toml"
                    .to_owned()
            }

            Message::NotALength { typed } => format!("--at takes a length such as \"120 mm\", not \"{typed}\""),
            Message::NotADay { typed } => format!("--date takes a day such as 2026-05-31, not \"{typed}\""),
            Message::NotATime { typed } => format!("--warn-before takes a time such as \"30 days\", not \"{typed}\""),
            Message::NotAName { near } => format!("--name takes letters, digits, `-`, `_` and `.`, such as {near}"),

            Message::NoRule { id, near } => format!("there is no rule \"{id}\"{}", quoted(near)),
            Message::NoSuch { what, word, near, all } => match near {
                Some(_) => format!("there is no {what} \"{word}\"{}", quoted(near)),
                None => format!("there is no {what} \"{word}\"; {all}"),
            },
            Message::NoneInRun { what, name, near } => {
                format!("no file in this run has the {what} \"{name}\"{}", quoted(near))
            }
            Message::NoneToShow { name, near } => {
                let near = near.map_or(String::new(), |near| format!("; did you mean {near}?"));
                format!("--only {name}: no detail or assembly has this name{near}")
            }
            Message::NoSchema { of } => format!("there is no schema of {of}"),

            Message::NoPath { path } => format!("there is no such file or folder: {}", path.display()),
            Message::NoDetail { paths, done, left_out } => {
                let left_out = match left_out {
                    0 => String::new(),
                    count => format!("; {}", words::left_out(count)),
                };
                format!("there is no *.detail file in {}, so nothing was {done}{left_out}", paths.join(", "))
            }
            Message::NothingChecked => "--require-files: nothing was checked".to_owned(),
            Message::Unreadable { path, why } => format!("{}: {why}", path.display()),
            Message::UnreadableInput { why } => format!("standard input: {why}"),
            Message::UnreadableList { list, why } => {
                format!("the list of files {} cannot be read: {why}", list.display())
            }

            Message::SkippedDeleted { count, first } => {
                format!("skipped {}, such as {}", counted(count, "deleted file"), first.display())
            }
            Message::NoFileToCheck => "there was no file to check".to_owned(),
            Message::ErrorsPass { settings } => {
                format!("the errors do not fail this run, because {settings} says `fail-on = \"never\"`")
            }
            Message::WaitingForChanges => "waiting for changes; stop with Ctrl-C".to_owned(),
            Message::NotCached { why } => format!("the results could not be cached: {why}"),
            Message::TooManyEdges { detail } => format!("{detail} has too many edges to be drawn"),
            Message::AssemblyAsDxf { assembly } => {
                format!("{assembly} is an assembly, and a DXF file holds a detail; draw it as SVG")
            }
            Message::WaiverEnds { rule, days } if days < 0 => format!("the waiver of {rule} has ended"),
            Message::WaiverEnds { rule, days } => format!("the waiver of {rule} ends in {days} days"),

            Message::Wrote { path } => format!("wrote {}", path.display()),
            Message::CheckWith { folder } => format!("Check it with:  headlap review {folder}"),
            Message::Listed { count, list } => format!("added {count} findings to {}", list.display()),
            Message::Pruned { count, list } => format!("removed {count} findings from {}", list.display()),
            Message::Entries { count, list } => format!("{count} findings are on {}", list.display()),
            Message::ListWritten { count, list } => {
                let list = list.display();
                format!("{count} findings are on the list {list}; with --known {list} only new ones fail")
            }
            Message::RulesTested { rules, examples, cures, failed } => {
                let passed = rules - failed;
                format!("{rules} rules, {examples} examples, {cures} cures: {passed} rules pass, {failed} fail")
            }

            Message::CorrectFirst => "nothing was checked; correct this first".to_owned(),
            Message::NotFormatted { name } => format!("{name} was not formatted"),
            Message::NotListed => "no list accepts text that could not be read".to_owned(),
            Message::NotPruned => "nothing was removed from the list".to_owned(),
            Message::Incomplete => "some text could not be read, so the output is incomplete".to_owned(),

            Message::NoOutput { why } => format!("the output cannot be written: {why}"),
            Message::NoThreads { why } => format!("threads cannot be started: {why}"),
            Message::NoBuiltInRules => "the built-in rules cannot be read".to_owned(),
            Message::Crashed => {
                "headlap failed, so nothing was checked; report this with the output of `headlap --version`".to_owned()
            }
        }
    }
}

fn quoted(near: Option<&str>) -> String {
    near.map_or(String::new(), |near| format!("; did you mean \"{near}\"?"))
}
