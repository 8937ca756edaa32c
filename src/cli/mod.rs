//! The command line: what was typed becomes what will be done; every command is a thin shell over the library.

mod args;
mod book;
mod chosen;
mod climate;
mod compare;
mod draw;
mod exceptions;
mod explain;
mod facts;
mod failure;
mod filter;
mod fix;
mod generate;
mod known;
mod lsp;
mod materials;
mod message;
mod print;
mod review;
mod rules;
mod sequence;
mod stale;
mod start;
mod task;
mod tidy;
mod watch;

use std::ffi::OsString;
use std::panic::AssertUnwindSafe;
use std::path::Path;
use std::process::ExitCode;

use clap::Parser;

use crate::cli::args::{Args, Command, Page};
use crate::cli::failure::Failure;
pub use crate::cli::message::Message;

/// Runs the command that was typed. 0: nothing at or above the failing level; 1: findings; 2: it could not be done.
pub fn main() -> ExitCode {
    // Help and version leave with 0, a mistyped command with 2.
    let args = Args::try_parse_from(asked()).unwrap_or_else(|error| {
        if error.use_stderr() {
            stale::replace(&stale::of_words(std::env::args_os()), &Failure::Words(error.kind().to_string()));
        }
        error.exit()
    });
    // Threads that cannot be had would fail in the midst of the work.
    if !is_about_one_text(&args.command)
        && let Err(error) = rayon::ThreadPoolBuilder::new().build_global()
    {
        return Failure::from(Message::NoThreads { why: &error.to_string() }).report(&args.page);
    }
    let page = args.page;
    let promised = stale::of(&args.command);
    let done = std::panic::catch_unwind(AssertUnwindSafe(|| run(args.command, &page)));
    done.unwrap_or_else(|_| Err(Message::Crashed.into())).unwrap_or_else(|failure| {
        stale::replace(&promised, &failure);
        failure.report(&page)
    })
}

/// The words that were typed. `headlap help review` asks what `headlap review --help` does.
fn asked() -> Vec<OsString> {
    let mut words: Vec<OsString> = std::env::args_os().collect();
    if words.get(1).is_some_and(|word| word == "help") {
        words.remove(1);
        words.push("--help".into());
    }
    words
}

/// It is done before threads have been started for it.
fn is_about_one_text(command: &Command) -> bool {
    let Command::Review(review) = command else { return false };
    matches!(&review.paths[..], [path] if path.is_file() || path == Path::new("-"))
}

fn run(command: Command, page: &Page) -> Done {
    match command {
        Command::Review(review) => review::run(review, page),
        Command::Draw(draw) => draw::run(draw, page),
        Command::Facts(facts) => facts::run(facts, page),
        Command::Sequence(sequence) => sequence::run(sequence, page),
        Command::Lsp(_) => lsp::run(),
        Command::Tidy(tidy) => tidy::run(&tidy, page),
        Command::Rules(rules) => rules::run(rules, page),
        Command::Explain(explain) => rules::show(&explain.rule, &explain.set, page),
        Command::Materials(materials) => materials::run(&materials, page),
        Command::Compare(compare) => compare::run(compare, page),
        Command::Exceptions(exceptions) => exceptions::run(&exceptions, page),
        Command::Known(known) => known::run(known.action, page),
        Command::Climate(climate) => climate::run(climate),
        Command::Start(start) => start::run(start),
        Command::Completions(args) => generate::completions(&args),
        Command::Man(args) => generate::man(&args),
        Command::Schema(args) => generate::schema(&args),
    }
}

/// What a command comes to, when it could be done.
type Done = Result<ExitCode, Failure>;
