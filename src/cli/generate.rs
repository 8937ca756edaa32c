//! `headlap completions`, `man`, `schema`: what shells, manual readers and editors want to have.

use std::process::ExitCode;

use clap::CommandFactory;
use clap::builder::PossibleValuesParser;

use crate::cli::args::{Args, Completions, Man, Schema};
use crate::cli::failure::Failure;
use crate::cli::{Done, Message, print};
use crate::finding::PAGES;
use crate::output;
use crate::project;
use crate::rules::Pack;

pub fn completions(args: &Completions) -> Done {
    let mut script = Vec::new();
    clap_complete::generate(args.shell, &mut with_names(Args::command()), "headlap", &mut script);
    print::out(|out| out.write_all(&script))?;
    Ok(ExitCode::SUCCESS)
}

/// Rule ids are offered where a rule is expected, and names where an item is: those of the library around the working folder.
fn with_names(command: clap::Command) -> clap::Command {
    let working = project::working().ok();
    let pack = working.as_ref().and_then(|working| project::open(working, working).ok().map(|project| project.pack));
    let ids = pack.iter().flat_map(|pack| pack.rules.iter().map(|rule| rule.id.to_string()));
    let ids = ids.chain(PAGES.iter().map(|page| page.id.to_owned())).collect();
    let items = working.map_or(Vec::new(), |working| project::item_names(&working));
    // The parser of a command line keeps its words for good.
    let kept = |words: Vec<String>| words.into_iter().map(|word| &*Box::leak(word.into_boxed_str())).collect();
    offered(command, &Offered { ids: kept(ids), items: kept(items) })
}

struct Offered {
    ids: Vec<&'static str>,
    items: Vec<&'static str>,
}

fn offered(command: clap::Command, offer: &Offered) -> clap::Command {
    let names: Vec<String> = command.get_subcommands().map(|inner| inner.get_name().to_owned()).collect();
    let command =
        names.into_iter().fold(command, |command, name| command.mut_subcommand(name, |inner| offered(inner, offer)));
    command.mut_args(|arg| match arg.get_id().as_str() {
        "rule" | "not_rule" => arg.value_parser(PossibleValuesParser::new(offer.ids.clone())),
        "item" | "only" if !offer.items.is_empty() => arg.value_parser(PossibleValuesParser::new(offer.items.clone())),
        _ => arg,
    })
}

/// The page of the program on standard output, or one page for it and each command into a folder.
pub fn man(args: &Man) -> Done {
    let mut command = Args::command().disable_help_subcommand(true);
    command.build();
    let Some(folder) = &args.out else {
        let page = roff(&command)?;
        print::out(|out| out.write_all(&page))?;
        return Ok(ExitCode::SUCCESS);
    };
    let mut pages = Vec::new();
    gather(&command, "headlap", &mut pages)?;
    project::folder(folder)?;
    for (name, page) in pages {
        let path = folder.join(format!("{name}.1"));
        project::write_whole(&path, |out| out.write_all(&page))?;
        print::out(|out| writeln!(out, "{}", Message::Wrote { path: &path }.words()))?;
    }
    Ok(ExitCode::SUCCESS)
}

fn gather(command: &clap::Command, name: &str, pages: &mut Vec<(String, Vec<u8>)>) -> Result<(), Failure> {
    pages.push((name.to_owned(), roff(command)?));
    for inner in command.get_subcommands() {
        gather(inner, &format!("{name}-{}", inner.get_name()), pages)?;
    }
    Ok(())
}

fn roff(command: &clap::Command) -> Result<Vec<u8>, Failure> {
    let mut page = Vec::new();
    clap_mangen::Man::new(command.clone()).render(&mut page)?;
    Ok(page)
}

pub fn schema(args: &Schema) -> Done {
    let schema = match args.of.as_str() {
        "rules" => output::rule_schema(),
        of if of != "settings" => output::output_schema(of).ok_or(Message::NoSchema { of })?,
        // The schema is that of the built-in rules, the same wherever it is made.
        _ => output::settings_schema(&Pack::load(&[]).map_err(|_| Message::NoBuiltInRules)?),
    };
    print::out(|out| {
        serde_json::to_writer_pretty(&mut *out, &schema)?;
        writeln!(out)
    })?;
    Ok(ExitCode::SUCCESS)
}
