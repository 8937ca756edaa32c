//! The commands and options of the command line.

use std::path::PathBuf;

use clap::{Parser, Subcommand, ValueEnum};

use crate::output::CAUTION;

#[derive(Parser)]
#[command(
    name = "headlap",
    version,
    about = "Checks wall and interface details written as plain text: where water gets in, where air leaks, what cannot dry.",
    after_help = CAUTION,
    disable_help_subcommand = true
)]
pub struct Args {
    #[command(subcommand)]
    pub command: Command,
    #[command(flatten)]
    pub page: Page,
}

#[derive(Subcommand)]
#[expect(clippy::large_enum_variant, reason = "made once in a run")]
pub enum Command {
    Review(Review),
    Facts(Facts),
    Draw(Draw),
    Sequence(Sequence),
    Tidy(Tidy),
    Lsp(Lsp),
    Rules(Rules),
    Explain(Explain),
    Materials(Materials),
    Compare(Compare),
    Known(Known),
    Exceptions(Exceptions),
    Climate(Climate),
    Start(Start),
    Completions(Completions),
    Man(Man),
    Schema(Schema),
}

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
    /// Show under each finding the first edit that was proved to cure it. It is found by trying, which takes longer.
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

/// Findings that somebody accepted.
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

/// Show all derived facts, so that they can be checked by hand: laps, water paths, what is continuous across each joint,
/// and the numbers of each assembly.
#[derive(clap::Args)]
pub struct Facts {
    /// Files, or folders to search for *.detail files.
    #[arg(value_name = "PATH", required = true)]
    pub paths: Vec<PathBuf>,
    /// Set the output format: text for people, json for programs.
    #[arg(long, value_name = "FORMAT", default_value = "text", value_parser = ["text", "json"])]
    pub format: String,
    /// Show only the details and assemblies with this name; repeat it for several.
    #[arg(long, value_name = "NAME")]
    pub only: Vec<String>,
}

/// Draw a section and an elevation of each detail, with its water paths and findings, and each assembly with its moisture.
///
/// Every drawing is an SVG file: NAME-section.svg, NAME-face.svg and, for an assembly, NAME-assembly.svg.
#[derive(clap::Args)]
pub struct Draw {
    /// Files, or folders to search for *.detail files.
    #[arg(value_name = "PATH", required = true)]
    pub paths: Vec<PathBuf>,
    /// Write into this folder; create it if it does not exist.
    #[arg(long, value_name = "DIR")]
    pub out: PathBuf,
    /// Show only the details and assemblies with this name; repeat it for several.
    #[arg(long, value_name = "NAME")]
    pub only: Vec<String>,
    /// Draw each detail as a sheet with a frame and title block, and collect all sheets in one PDF file, sheets.pdf.
    #[arg(long, value_name = "SIZE", value_parser = ["A3", "a3", "ansi-b"])]
    pub sheet: Option<String>,
    /// The form of the drawings: svg for pages, dxf for drawing programs. DXF has section and elevation of a detail in true size.
    #[arg(long, value_name = "FORMAT", default_value = "svg", value_parser = ["svg", "dxf"], conflicts_with = "sheet")]
    pub format: String,
    /// Cut sections at this place along the face, such as "120 mm"; cut plans at this height. Default: where the most findings are.
    #[arg(long, value_name = "LENGTH", allow_hyphen_values = true)]
    pub at: Option<String>,
}

/// Print the installation sequence of each detail, step by step, with what to check before it is covered.
#[derive(clap::Args)]
pub struct Sequence {
    /// Files, or folders to search for *.detail files.
    #[arg(value_name = "PATH", required = true)]
    pub paths: Vec<PathBuf>,
    /// Set the output format: text for a terminal, markdown for a handbook or an issue tracker.
    #[arg(long, value_name = "FORMAT", default_value = "text", value_parser = ["text", "markdown"])]
    pub format: String,
    /// Print only the details with this name; repeat it for several.
    #[arg(long, value_name = "NAME")]
    pub only: Vec<String>,
}

/// Format files: indentation, columns, and the order of clauses. Meaning and comments stay the same.
///
/// A file with errors is left alone, and its errors are reported. Exit status: 0 when all files are formatted, 1 with
/// --check when a file would change, 2 when a file could not be formatted.
#[derive(clap::Args)]
pub struct Tidy {
    /// Files, or folders to search for *.detail files; `-` alone formats standard input to standard output.
    #[arg(value_name = "PATH", required = true)]
    pub paths: Vec<PathBuf>,
    /// List the files that would change, and write nothing.
    #[arg(long)]
    pub check: bool,
}

/// Serve an editor over standard input and output: findings while you type, hover, completion, cures.
///
/// It speaks the open Language Server Protocol. Editors start it by themselves; the book's page on editors says how.
#[derive(clap::Args)]
pub struct Lsp {
    /// Accepted but not needed: the server always uses standard input and output.
    #[arg(long, hide = true)]
    pub stdio: bool,
}

/// How text looks, for every command.
#[derive(clap::Args)]
pub struct Page {
    /// Use color: auto (on a terminal, unless NO_COLOR is set), always, or never.
    #[arg(long, global = true, value_name = "WHEN", default_value = "auto", help_heading = "Page")]
    pub color: Color,
    /// Write whole sentences without drawn lines, for a screen reader (also: HEADLAP_NARRATE=1).
    #[arg(long, global = true, help_heading = "Page")]
    pub narrate: bool,
    /// Draw with plain ASCII characters.
    #[arg(long, global = true, help_heading = "Page")]
    pub ascii: bool,
    /// Set the characters in a line. Default: the width of the terminal, or 100 elsewhere.
    #[arg(long, global = true, value_name = "N", value_parser = clap::value_parser!(u16).range(20..=1000), help_heading = "Page")]
    pub width: Option<u16>,
}

#[derive(Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum Color {
    Auto,
    Always,
    Never,
}

/// Show the rules that details are checked against, and test your own.
#[derive(clap::Args)]
pub struct Rules {
    #[command(subcommand)]
    pub action: RulesAction,
}

#[derive(Subcommand)]
pub enum RulesAction {
    /// List every rule with its level and title.
    List {
        #[command(flatten)]
        set: RuleSet,
        /// Set the output format: text for people, json for programs.
        #[arg(long, value_name = "FORMAT", default_value = "text", value_parser = ["text", "json"])]
        format: String,
    },
    /// Show one rule whole: what it looks at, its limits, their basis, and details that fail and pass it.
    Show {
        /// The rule's id, such as short-head-lap.
        rule: String,
        #[command(flatten)]
        set: RuleSet,
    },
    /// Test each rule of a folder, or each built-in rule, against its own examples.
    ///
    /// A rule must find fault with each text under `fails` and with no text under `passes`. An example that fails can
    /// have the text after the cure, as `cured`: there the finding must be gone, with no new one in its place.
    Test {
        /// Rule files and folders. Default: the built-in rules and the project's own.
        #[arg(value_name = "PATH")]
        paths: Vec<PathBuf>,
    },
    /// Print a manual of the rules as Markdown, by topic: limits, basis, and drawn details that fail and pass.
    Book {
        #[command(flatten)]
        set: RuleSet,
        /// Write a page for each topic into this folder, with drawings; create the folder if it does not exist.
        #[arg(long, value_name = "DIR")]
        out: Option<PathBuf>,
    },
    /// List what a rule can ask: the kinds of thing and their fields.
    Fields {
        /// Kinds of thing, such as lap. Default: all of them.
        kind: Vec<String>,
        #[command(flatten)]
        set: RuleSet,
    },
}

/// List the materials that come with headlap, for every file that says `include "stock.detail"`.
#[derive(clap::Args)]
pub struct Materials {
    /// Show only materials with this word in their name, kind or title, such as wood.
    #[arg(value_name = "WORD")]
    pub word: Option<String>,
    /// Set the output format: text for people, json for programs.
    #[arg(long, value_name = "FORMAT", default_value = "text", value_parser = ["text", "json"])]
    pub format: String,
}

/// Compare a submittal with the issued details: what it changes, and which findings are new.
///
/// The settings and rules of the issued side judge both sides. Exit status: 1 when a new or worse finding reaches the
/// failing level, or when some text could not be read.
#[derive(clap::Args)]
pub struct Compare {
    /// The issued file or folder.
    #[arg(value_name = "ISSUED")]
    pub issued: PathBuf,
    /// The submitted file or folder.
    #[arg(value_name = "SUBMITTED")]
    pub submitted: PathBuf,
    /// Set the output format: text for a terminal, json for programs, html for one page with the reviewer's sheet.
    #[arg(long, value_name = "FORMAT", default_value = "text", value_parser = ["text", "json", "html"])]
    pub format: String,
    /// Write to this file instead of standard output.
    #[arg(long, value_name = "FILE")]
    pub out: Option<PathBuf>,
    /// Fail on new findings at this level and above: error, warning, note, or never.
    #[arg(long, value_name = "LEVEL", value_parser = ["error", "warning", "note", "never"])]
    pub fail_on: Option<String>,
    /// Print this project name on the sheet.
    #[arg(long, value_name = "NAME")]
    pub project: Option<String>,
    /// Print this submittal number on the sheet.
    #[arg(long, value_name = "NUMBER")]
    pub submittal: Option<String>,
    /// Print this date on the sheet instead of today.
    #[arg(long, value_name = "DATE")]
    pub date: Option<String>,
}

/// List, add to, and prune the list of known findings.
#[derive(clap::Args)]
pub struct Known {
    #[command(subcommand)]
    pub action: KnownAction,
}

#[derive(Subcommand)]
pub enum KnownAction {
    /// List the known findings.
    List(KnownList),
    /// Add the findings of these paths that are not on the list yet.
    Add {
        #[command(flatten)]
        run: KnownRun,
        /// Add only findings of this rule; repeat it for several rules.
        #[arg(long, value_name = "RULE")]
        rule: Vec<String>,
        /// Say why they are accepted.
        #[arg(long, value_name = "REASON")]
        because: Option<String>,
        /// Say who accepts them.
        #[arg(long, value_name = "NAME")]
        by: Option<String>,
    },
    /// Take findings that these paths no longer have off the list, and follow renamed files and details.
    Prune(KnownRun),
}

/// List every exception: waivers, adjusted rules and known findings, with reason, author and days left.
///
/// Exit status: 1 with --warn-before when a waiver ends within that time or has ended.
#[derive(clap::Args)]
pub struct Exceptions {
    /// Files, or folders to search for *.detail files.
    #[arg(value_name = "PATH", default_value = ".")]
    pub paths: Vec<PathBuf>,
    /// Set the output format: text for people, json for programs.
    #[arg(long, value_name = "FORMAT", default_value = "text", value_parser = ["text", "json"])]
    pub format: String,
    /// Warn of waivers that end within this time, such as "30 days", and exit with status 1.
    #[arg(long, value_name = "TIME")]
    pub warn_before: Option<String>,
}

#[derive(clap::Args)]
pub struct KnownList {
    /// Use this list instead of the one that headlap.toml names.
    #[arg(long, value_name = "FILE")]
    pub known: Option<PathBuf>,
}

#[derive(clap::Args)]
pub struct KnownRun {
    /// Files, or folders to search for *.detail files. Default: the current folder.
    #[arg(value_name = "PATH")]
    pub paths: Vec<PathBuf>,
    /// Use this list instead of the one that headlap.toml names.
    #[arg(long, value_name = "FILE")]
    pub known: Option<PathBuf>,
}

/// Make a climate block from a CSV table of hourly temperature and relative humidity that covers at least a year.
#[derive(clap::Args)]
pub struct Climate {
    /// The table; `-` reads it from standard input.
    #[arg(value_name = "FILE.csv")]
    pub table: PathBuf,
    /// Name the climate. Default: the name of the file.
    #[arg(long, value_name = "NAME")]
    pub name: Option<String>,
}

/// Explain a finding by its id: what the rule looks at, its limits, their basis, and details that fail and pass it.
#[derive(clap::Args)]
pub struct Explain {
    /// The id, such as short-head-lap or syntax.
    #[arg(value_name = "ID")]
    pub rule: String,
    #[command(flatten)]
    pub set: RuleSet,
}

/// The built-in rules, and those of the project that the working folder belongs to.
#[derive(clap::Args)]
pub struct RuleSet {
    /// Add these rule files and folders to the built-in rules, instead of those that headlap.toml names.
    #[arg(long = "rules", value_name = "PATH")]
    pub rules: Vec<PathBuf>,
}

/// Write a small library to start from. It is clean except for one finding to learn from.
#[derive(clap::Args)]
pub struct Start {
    /// A new or empty folder.
    #[arg(value_name = "DIR")]
    pub folder: PathBuf,
}

/// Write a script that completes commands and options in a shell.
#[derive(clap::Args)]
pub struct Completions {
    /// The shell that you use.
    pub shell: clap_complete::Shell,
}

/// Print the manual page, or with --out write a page for each command.
#[derive(clap::Args)]
pub struct Man {
    /// Write the pages into this folder; create it if it does not exist.
    #[arg(long, value_name = "DIR")]
    pub out: Option<PathBuf>,
}

/// Print a JSON schema: of rule files or headlap.toml, for editors that check TOML, or of a command's JSON output.
#[derive(clap::Args)]
pub struct Schema {
    /// rules for rule files, settings for headlap.toml; findings, facts, compare, rule-list, materials and exceptions for
    /// the JSON of those commands.
    #[arg(value_name = "WHAT", value_parser = SCHEMAS)]
    pub of: String,
}

const SCHEMAS: [&str; 8] =
    ["rules", "settings", "findings", "facts", "compare", "rule-list", "materials", "exceptions"];
