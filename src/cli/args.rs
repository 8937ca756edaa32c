//! What can be typed.

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

/// Check files and folders of details, and say what is wrong, where, why, and what to do.
///
/// Exit status: 0 when nothing is found at or above the failing level, 1 when something is, 2 when the check could not be
/// made.
#[derive(clap::Args)]
pub struct Review {
    /// Files, and folders to look for *.detail files in; without any the current folder.
    #[arg(value_name = "PATH")]
    pub paths: Vec<PathBuf>,
    /// Read the paths from a file, one a line or apart by NUL; `-` reads them from standard input. Deleted files and files
    /// that are no details are skipped.
    #[arg(long, value_name = "FILE")]
    pub files_from: Option<PathBuf>,
    /// Check the files that differ from this revision of git, and those that include them. Paths narrow the search.
    #[arg(long, value_name = "REV", conflicts_with = "files_from")]
    pub changed_since: Option<String>,
    /// Also check the files of the library that include the named ones.
    #[arg(long)]
    pub with_dependents: bool,
    /// End with 2 when there was no file to check.
    #[arg(long)]
    pub require_files: bool,
    /// With `-` as the only path: take standard input for the text of this file, so that its includes are found.
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
    /// Check again after every change of a file, until it is stopped.
    #[arg(long, conflicts_with_all = ["files_from", "changed_since", "write_known", "stdin_name"])]
    pub watch: bool,
    /// Print findings alone: no count, no accepted findings, no caution.
    #[arg(long)]
    pub quiet: bool,
    /// Write cures into the files before the check: edits that were proved to clear their finding and to bring no other.
    #[arg(long, conflicts_with_all = ["write_known", "watch", "stdin_name"])]
    pub fix: bool,
    /// Show under each finding the first edit that was proved to cure it. It is found by trying, which takes longer.
    #[arg(long, conflicts_with = "watch")]
    pub edits: bool,
    /// With --fix: show the edits as a diff, and write nothing. Exit status 1 when there are some.
    #[arg(long, requires = "fix")]
    pub dry_run: bool,
    /// The form of the output. Give it several times, each followed by its --out, to write several at once.
    #[arg(long, value_name = "FORMAT", default_value = "text")]
    pub format: Vec<Format>,
    /// Write to this file instead of standard output; the first --out belongs to the first --format, and so on.
    #[arg(long, value_name = "FILE")]
    pub out: Vec<PathBuf>,
    /// The least level that makes the run fail: error, warning, note, or never. headlap.toml may set another.
    #[arg(long, value_name = "LEVEL", value_parser = ["error", "warning", "note", "never"])]
    pub fail_on: Option<String>,
    /// A list of findings that were there when headlap was taken up: only new ones fail. headlap.toml may name it.
    #[arg(long, value_name = "FILE")]
    pub known: Option<PathBuf>,
    /// Tell which settings hold for a file and where each comes from, and check nothing.
    #[arg(long, value_name = "FILE", conflicts_with_all = ["paths", "files_from", "out", "format"])]
    pub explain_config: Option<PathBuf>,
    /// Check everything anew, and keep nothing for the next run.
    #[arg(long, conflicts_with = "cache")]
    pub no_cache: bool,
    /// The folder to keep results in, so that the next run checks only what has changed. Without it, large libraries are
    /// kept in the user's folder for such files. It can be deleted at any time.
    #[arg(long, value_name = "DIR")]
    pub cache: Option<PathBuf>,
    /// Write the findings that there are now as such a list, with exit status 0.
    #[arg(long, value_name = "FILE", conflicts_with_all = ["known", "out", "format"])]
    pub write_known: Option<PathBuf>,
}

/// Which findings to show. The exit status counts the findings that are shown. Text that cannot be read is always shown.
#[derive(clap::Args)]
pub struct Filter {
    /// Show only findings of this rule; give it several times for several rules.
    #[arg(long, value_name = "RULE", help_heading = "Filters")]
    pub rule: Vec<String>,
    /// Leave out findings of this rule.
    #[arg(long, value_name = "RULE", help_heading = "Filters")]
    pub not_rule: Vec<String>,
    /// Show findings of this level and above: error, warning or note.
    #[arg(long, value_name = "LEVEL", value_parser = ["error", "warning", "note"], help_heading = "Filters")]
    pub level: Option<String>,
    /// Show only findings in this detail, assembly or material.
    #[arg(long, value_name = "NAME", help_heading = "Filters")]
    pub item: Vec<String>,
    /// Show only findings in details of this sheet.
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
    /// One JSON object, for programs.
    Json,
    /// A line of JSON for each finding.
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

/// Show everything that is worked out, so that it can be checked by hand: laps, the ways of drops, what goes on across
/// each joint, and the numbers of each assembly.
#[derive(clap::Args)]
pub struct Facts {
    /// Files, and folders to look for *.detail files in.
    #[arg(value_name = "PATH", required = true)]
    pub paths: Vec<PathBuf>,
    /// The form of the output: text for people, json for programs.
    #[arg(long, value_name = "FORMAT", default_value = "text", value_parser = ["text", "json"])]
    pub format: String,
    /// Only the details and assemblies of these names.
    #[arg(long, value_name = "NAME")]
    pub only: Vec<String>,
}

/// Draw each detail, cut and from outside, with the ways of drops and its findings, and each assembly with its moisture.
///
/// Every drawing is an SVG file: NAME-section.svg, NAME-face.svg and, for an assembly, NAME-assembly.svg.
#[derive(clap::Args)]
pub struct Draw {
    /// Files, and folders to look for *.detail files in.
    #[arg(value_name = "PATH", required = true)]
    pub paths: Vec<PathBuf>,
    /// The folder to write into; it is made if it is not there.
    #[arg(long, value_name = "DIR")]
    pub out: PathBuf,
    /// Only the details and assemblies of these names.
    #[arg(long, value_name = "NAME")]
    pub only: Vec<String>,
    /// Draw a whole sheet for each detail, with a frame and a title block, and all of them as one PDF file, sheets.pdf.
    #[arg(long, value_name = "SIZE", value_parser = ["A3", "a3", "ansi-b"])]
    pub sheet: Option<String>,
    /// The form of the drawings: svg for pages, dxf for drawing programs. DXF has section and elevation of a detail in true size.
    #[arg(long, value_name = "FORMAT", default_value = "svg", value_parser = ["svg", "dxf"], conflicts_with = "sheet")]
    pub format: String,
    /// Cut details here, such as "120 mm" along the face; in a plan, at this height. By default where most is found.
    #[arg(long, value_name = "LENGTH", allow_hyphen_values = true)]
    pub at: Option<String>,
}

/// Tell the order of work of each detail, step by step, with what to check before it is covered.
#[derive(clap::Args)]
pub struct Sequence {
    /// Files, and folders to look for *.detail files in.
    #[arg(value_name = "PATH", required = true)]
    pub paths: Vec<PathBuf>,
    /// The form of the output: text for a terminal, markdown for a handbook or an issue tracker.
    #[arg(long, value_name = "FORMAT", default_value = "text", value_parser = ["text", "markdown"])]
    pub format: String,
    /// Only the details of these names.
    #[arg(long, value_name = "NAME")]
    pub only: Vec<String>,
}

/// Lay files out in one way: indentation, columns, the order of clauses. What they say and their comments stay.
///
/// A file that cannot be read whole is left alone and its findings are told. Exit status: 0 when all is laid out, 1 with
/// --check when a file would change, 2 when a file could not be laid out.
#[derive(clap::Args)]
pub struct Tidy {
    /// Files, and folders to look for *.detail files in; `-` alone lays out standard input to standard output.
    #[arg(value_name = "PATH", required = true)]
    pub paths: Vec<PathBuf>,
    /// List the files that would change, and write nothing.
    #[arg(long)]
    pub check: bool,
}

/// Serve an editor over standard input and output: findings while you type, hover, completion, cures.
///
/// It speaks the open Language Server Protocol. Editors start it by themselves; the page on the editor in the book says how.
#[derive(clap::Args)]
pub struct Lsp {
    /// Taken and not needed: standard input and output are the only way.
    #[arg(long, hide = true)]
    pub stdio: bool,
}

/// How text is to look, for every command.
#[derive(clap::Args)]
pub struct Page {
    /// Colors: on a terminal unless NO_COLOR is set, always, or never.
    #[arg(long, global = true, value_name = "WHEN", default_value = "auto", help_heading = "Page")]
    pub color: Color,
    /// Whole sentences without drawn lines, for a screen reader (also: HEADLAP_NARRATE=1).
    #[arg(long, global = true, help_heading = "Page")]
    pub narrate: bool,
    /// Draw with plain ASCII signs.
    #[arg(long, global = true, help_heading = "Page")]
    pub ascii: bool,
    /// Characters in a line; on a terminal its own width, elsewhere 100.
    #[arg(long, global = true, value_name = "N", value_parser = clap::value_parser!(u16).range(20..=1000), help_heading = "Page")]
    pub width: Option<u16>,
}

#[derive(Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum Color {
    Auto,
    Always,
    Never,
}

/// Show the rules that details are held against, and test your own.
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
        /// The output format: text for people, json for programs.
        #[arg(long, value_name = "FORMAT", default_value = "text", value_parser = ["text", "json"])]
        format: String,
    },
    /// Tell all of one rule: what it looks at, its limits, their basis, and details that fail and pass it.
    Show {
        /// The rule's id, such as short-head-lap.
        rule: String,
        #[command(flatten)]
        set: RuleSet,
    },
    /// Test every rule of a folder, or the built-in ones, against the examples that it carries.
    ///
    /// A rule must find fault with each text under `fails` and let each text under `passes` alone. An example that fails may
    /// carry the text after the cure, as `cured`: there the finding must be gone, and no other may have come.
    Test {
        /// Rule files and folders; the built-in rules and the project's own when none is named.
        #[arg(value_name = "PATH")]
        paths: Vec<PathBuf>,
    },
    /// Print a manual of the rules as Markdown, by topic: limits, basis, and details that fail and pass, drawn.
    Book {
        #[command(flatten)]
        set: RuleSet,
        /// Write a page for each topic into this folder, with the drawings; it is made when it is missing.
        #[arg(long, value_name = "DIR")]
        out: Option<PathBuf>,
    },
    /// List what a rule may ask: the kinds of thing and their fields.
    Fields {
        /// Kinds of thing, such as lap; all of them when none is named.
        kind: Vec<String>,
        #[command(flatten)]
        set: RuleSet,
    },
}

/// List the materials that come with headlap, for every file that says `include "stock.detail"`.
#[derive(clap::Args)]
pub struct Materials {
    /// Only those with this word in their name, kind or title, such as wood.
    #[arg(value_name = "WORD")]
    pub word: Option<String>,
    /// The output format: text for people, json for programs.
    #[arg(long, value_name = "FORMAT", default_value = "text", value_parser = ["text", "json"])]
    pub format: String,
}

/// Show what a submittal changes against the issued details, and which findings are new.
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
    /// The form of the output: text for a terminal, json for programs, html for one page with the reviewer's sheet.
    #[arg(long, value_name = "FORMAT", default_value = "text", value_parser = ["text", "json", "html"])]
    pub format: String,
    /// Write to this file instead of standard output.
    #[arg(long, value_name = "FILE")]
    pub out: Option<PathBuf>,
    /// The least level of a new finding that makes the run fail: error, warning, note, or never.
    #[arg(long, value_name = "LEVEL", value_parser = ["error", "warning", "note", "never"])]
    pub fail_on: Option<String>,
    /// Print the name of the project on the sheet.
    #[arg(long, value_name = "NAME")]
    pub project: Option<String>,
    /// Print the number of the submittal on the sheet.
    #[arg(long, value_name = "NUMBER")]
    pub submittal: Option<String>,
    /// Print this date on the sheet instead of today.
    #[arg(long, value_name = "DATE")]
    pub date: Option<String>,
}

/// Add to, prune, and show the list of known findings.
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
        /// Add only findings of this rule; give it several times for several rules.
        #[arg(long, value_name = "RULE")]
        rule: Vec<String>,
        /// Say why they are accepted.
        #[arg(long, value_name = "REASON")]
        because: Option<String>,
        /// Say who accepts them.
        #[arg(long, value_name = "NAME")]
        by: Option<String>,
    },
    /// Take the findings off the list that these paths no longer have, and follow renamed files and details.
    Prune(KnownRun),
}

/// List everything that is let pass: waivers, adjusted rules, known findings, with reason, author and days left.
///
/// Exit status: 1 with --warn-before when a waiver ends within that time or has ended.
#[derive(clap::Args)]
pub struct Exceptions {
    /// Files, and folders to look for *.detail files in.
    #[arg(value_name = "PATH", default_value = ".")]
    pub paths: Vec<PathBuf>,
    /// The output format: text for people, json for programs.
    #[arg(long, value_name = "FORMAT", default_value = "text", value_parser = ["text", "json"])]
    pub format: String,
    /// Warn of waivers that end within this time, such as "30 days", and end with 1.
    #[arg(long, value_name = "TIME")]
    pub warn_before: Option<String>,
}

#[derive(clap::Args)]
pub struct KnownList {
    /// The list; without it the one that headlap.toml names.
    #[arg(long, value_name = "FILE")]
    pub known: Option<PathBuf>,
}

#[derive(clap::Args)]
pub struct KnownRun {
    /// Files, and folders to look for *.detail files in; without any the current folder.
    #[arg(value_name = "PATH")]
    pub paths: Vec<PathBuf>,
    /// The list; without it the one that headlap.toml names.
    #[arg(long, value_name = "FILE")]
    pub known: Option<PathBuf>,
}

/// Make a climate block from a table of hourly temperature and relative humidity (CSV) of at least a year.
#[derive(clap::Args)]
pub struct Climate {
    /// The table; `-` reads it from standard input.
    #[arg(value_name = "FILE.csv")]
    pub table: PathBuf,
    /// The name of the climate; by default that of the file.
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

/// Which rules: the built-in ones and those of the project that the working folder belongs to.
#[derive(clap::Args)]
pub struct RuleSet {
    /// Rule files and folders besides the built-in rules, instead of what headlap.toml names.
    #[arg(long = "rules", value_name = "PATH")]
    pub rules: Vec<PathBuf>,
}

/// Write a small library to begin from. It reviews clean but for one finding to learn from.
#[derive(clap::Args)]
pub struct Start {
    /// A new or an empty folder.
    #[arg(value_name = "DIR")]
    pub folder: PathBuf,
}

/// Write a script that completes commands and options in a shell.
#[derive(clap::Args)]
pub struct Completions {
    /// The shell that you type commands in.
    pub shell: clap_complete::Shell,
}

/// Write the manual page, or with --out a page for each command.
#[derive(clap::Args)]
pub struct Man {
    /// A folder for the pages; it is made when it is missing.
    #[arg(long, value_name = "DIR")]
    pub out: Option<PathBuf>,
}

/// Write a JSON schema: of rule files or headlap.toml, for editors that check TOML, or of what a command writes as JSON.
#[derive(clap::Args)]
pub struct Schema {
    /// rules for rule files, settings for headlap.toml; findings, facts, compare, rule-list, materials and exceptions for
    /// the JSON of those commands.
    #[arg(value_name = "WHAT", value_parser = SCHEMAS)]
    pub of: String,
}

const SCHEMAS: [&str; 8] =
    ["rules", "settings", "findings", "facts", "compare", "rule-list", "materials", "exceptions"];
