//! `review`: what to check, what to show of it, and where it goes.

use std::path::PathBuf;

use clap::ValueEnum;

/// Check details, and report what is wrong, where, why, and what to do.
///
/// Exit status: 0 when no finding reaches the failing level, 1 when one does, 2 when the check could not be
/// made.
#[derive(clap::Args)]
pub struct Review {
    /// Files, or folders to search for *.detail files. Default: the current folder.
    #[arg(value_name = "PATH")]
    pub paths: Vec<PathBuf>,
    /// Read the paths from a file, one per line or separated by NUL; `-` reads standard input. Deleted files and files that
    /// are not details are skipped.
    #[arg(long, value_name = "FILE")]
    pub files_from: Option<PathBuf>,
    /// Check the files that differ from this git revision, and the files that include them. Paths narrow the search.
    #[arg(long, value_name = "REV", conflicts_with = "files_from")]
    pub changed_since: Option<String>,
    /// Also check the files of the library that include the named files.
    #[arg(long)]
    pub with_dependents: bool,
    /// Exit with status 2 when there is no file to check.
    #[arg(long)]
    pub require_files: bool,
    /// Read standard input (path `-`) as the text of this file, so that its includes are found.
    #[arg(long, value_name = "FILE")]
    pub stdin_name: Option<PathBuf>,
    #[command(flatten)]
    pub filter: Filter,
    /// Count the findings by rule, topic, folder and level instead of showing them.
    #[arg(long, conflicts_with_all = ["format", "out", "write_known"])]
    pub statistics: bool,
    /// Show accepted findings in the formats that leave them out (lines and jsonl).
    #[arg(long, value_name = "WHICH", value_delimiter = ',')]
    pub show: Vec<Accepted>,
    /// Check again after every change to a file, until you stop it.
    #[arg(long, conflicts_with_all = ["files_from", "changed_since", "write_known", "stdin_name"])]
    pub watch: bool,
    /// Print only the findings: no count, no accepted findings, no caution.
    #[arg(long)]
    pub quiet: bool,
    /// Apply cures to the files before the check: only edits proved to clear their finding without causing another.
    #[arg(long, conflicts_with_all = ["write_known", "watch", "stdin_name"])]
    pub fix: bool,
    /// Show under each finding the first edit that is proved to cure it. headlap finds it by trial, which takes longer.
    #[arg(long, conflicts_with = "watch")]
    pub edits: bool,
    /// Show the edits of --fix as a diff, and write nothing. Exit status 1 when there are any.
    #[arg(long, requires = "fix")]
    pub dry_run: bool,
    /// Set the output format. Repeat it, each time with its own --out, to write several formats at once.
    #[arg(long, value_name = "FORMAT", default_value = "text")]
    pub format: Vec<Format>,
    /// Write to this file instead of standard output; the first --out belongs to the first --format, and so on.
    #[arg(long, value_name = "FILE")]
    pub out: Vec<PathBuf>,
    /// Fail at this level and above: error, warning, note, or never. headlap.toml can set another default.
    #[arg(long, value_name = "LEVEL", value_parser = ["error", "warning", "note", "never"])]
    pub fail_on: Option<String>,
    /// Use this list of known findings, so that only new findings fail. headlap.toml can name the list.
    #[arg(long, value_name = "FILE")]
    pub known: Option<PathBuf>,
    /// Show the effective settings for a file and where each comes from, and check nothing.
    #[arg(long, value_name = "FILE", conflicts_with_all = ["paths", "files_from", "out", "format"])]
    pub explain_config: Option<PathBuf>,
    /// Ignore the cache: check everything, and keep no results.
    #[arg(long, conflicts_with = "cache")]
    pub no_cache: bool,
    /// Cache results in this folder, so that the next run checks only what has changed. By default the results of large
    /// libraries are cached in the user's cache folder. The cache can be deleted at any time.
    #[arg(long, value_name = "DIR")]
    pub cache: Option<PathBuf>,
    /// Write the current findings as a list of known findings, with exit status 0.
    #[arg(long, value_name = "FILE", conflicts_with_all = ["known", "out", "format"])]
    pub write_known: Option<PathBuf>,
}

/// Which findings to show. The exit status counts the findings that are shown. Text that cannot be read is always shown.
#[derive(clap::Args)]
pub struct Filter {
    /// Show only findings of this rule; repeat it for several rules.
    #[arg(long, value_name = "RULE", help_heading = "Filters")]
    pub rule: Vec<String>,
    /// Hide findings of this rule.
    #[arg(long, value_name = "RULE", help_heading = "Filters")]
    pub not_rule: Vec<String>,
    /// Show findings of this level and above: error, warning or note.
    #[arg(long, value_name = "LEVEL", value_parser = ["error", "warning", "note"], help_heading = "Filters")]
    pub level: Option<String>,
    /// Show only findings in this detail, assembly or material.
    #[arg(long, value_name = "NAME", help_heading = "Filters")]
    pub item: Vec<String>,
    /// Show only findings in details on this sheet.
    #[arg(long, value_name = "SHEET", help_heading = "Filters")]
    pub sheet: Vec<String>,
}

/// Findings that were accepted.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub enum Accepted {
    Known,
    Waived,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub enum Format {
    /// For people at a terminal.
    Text,
    /// One JSON object, for other programs.
    Json,
    /// One line of JSON for each finding.
    Jsonl,
    /// SARIF 2.1.0, for services that show findings beside the text.
    Sarif,
    /// JUnit XML, for the viewers of CI services.
    Junit,
    /// One page for people, with drawings; it opens from disk and prints.
    Html,
    /// One line for each finding.
    Lines,
}

impl Format {
    /// Two of these in one stream are neither.
    pub fn is_for_programs(self) -> bool {
        !matches!(self, Format::Text | Format::Lines)
    }
}
