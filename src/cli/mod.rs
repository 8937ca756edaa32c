//! The command line: what was typed becomes what will be done; every command is a thin shell over the library.

mod args;
mod chosen;
mod climate;
mod compare;
mod draw;
mod exceptions;
mod explain;
mod facts;
mod failure;
mod filter;
mod generate;
mod known;
mod materials;
mod print;
mod review;
mod rules;
mod sequence;
mod start;
mod task;
mod tidy;
mod watch;

use std::process::ExitCode;

use clap::Parser;

use crate::cli::args::{Args, Command};
use crate::cli::failure::Failure;

/// Runs the command that was typed. 0: nothing at or above the failing level; 1: findings; 2: it could not be done.
pub fn main() -> ExitCode {
    // Help and version leave with 0, a mistyped command with 2.
    let args = Args::parse();
    let done = match args.command {
        Command::Review(review) => review::run(review, &args.page),
        Command::Draw(draw) => draw::run(draw, &args.page),
        Command::Facts(facts) => facts::run(facts, &args.page),
        Command::Sequence(sequence) => sequence::run(sequence, &args.page),
        Command::Tidy(tidy) => tidy::run(&tidy, &args.page),
        Command::Rules(rules) => rules::run(rules, &args.page),
        Command::Explain(explain) => rules::show(&explain.rule, &explain.set, &args.page),
        Command::Materials(materials) => materials::run(&materials, &args.page),
        Command::Compare(compare) => compare::run(compare, &args.page),
        Command::Exceptions(exceptions) => exceptions::run(&exceptions, &args.page),
        Command::Known(known) => known::run(known.action, &args.page),
        Command::Climate(climate) => climate::run(climate),
        Command::Start(start) => start::run(start),
        Command::Completions(args) => generate::completions(&args),
        Command::Man(args) => generate::man(&args),
        Command::Schema(args) => generate::schema(&args),
    };
    match done {
        Ok(code) => code,
        Err(failure) => failure.tell(&args.page),
    }
}

/// What a command comes to, when it could be done.
type Done = Result<ExitCode, Failure>;
