//! The commands and options of the command line.

mod accepted;
mod review;
mod rules;
mod shown;

use std::path::PathBuf;

use clap::{Parser, Subcommand, ValueEnum};

use crate::output::CAUTION;

pub use accepted::{Exceptions, Known, KnownAction, KnownList, KnownRun};
pub use review::{Accepted, Filter, Format, Review};
pub use rules::{Explain, Materials, RuleSet, Rules, RulesAction};
pub use shown::{Compare, Draw, Facts, Sequence};

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
