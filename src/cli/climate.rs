//! `headlap climate`: a climate block from an hourly table.

use std::path::Path;
use std::process::ExitCode;

use crate::cli::args::Climate;
use crate::cli::chosen::input;
use crate::cli::failure::Failure;
use crate::cli::{Done, Message, print};
use crate::output;
use crate::physics::hourly;
use crate::project;

pub fn run(args: Climate) -> Done {
    let stem = args.table.file_stem().map(|stem| stem.to_string_lossy().into_owned());
    let name = match args.name {
        Some(name) if !is_name(&name) => {
            let near = name_of(&name);
            return Err(Message::NotAName { near: &near }.into());
        }
        Some(name) => name,
        None => name_of(stem.as_deref().unwrap_or("")),
    };
    let table = if args.table == Path::new("-") { project::decode(input()?) } else { project::read(&args.table) };
    let shown = args.table.display();
    let table = table
        .map_err(|unreadable| Failure::from(Message::Unreadable { path: &args.table, why: &unreadable.why.words() }))?;
    let means = hourly::monthly_means(&table).map_err(|errors| {
        let lines: Vec<String> = errors.iter().map(|error| format!("{shown}: {error}")).collect();
        lines.join("\n")
    })?;
    let block = output::climate(&name, &stem.unwrap_or_else(|| "a table".into()), &means);
    print::out(|out| out.write_all(block.as_bytes()))?;
    Ok(ExitCode::SUCCESS)
}

/// What the language takes for a name.
fn is_name(text: &str) -> bool {
    text.starts_with(char::is_alphabetic) && text.chars().all(|c| c.is_alphanumeric() || "-_.".contains(c))
}

/// A name of the language from a file's name.
fn name_of(stem: &str) -> String {
    let plain: String = stem.chars().map(|c| if c.is_alphanumeric() || "-_.".contains(c) { c } else { '-' }).collect();
    if plain.starts_with(char::is_alphabetic) { plain } else { format!("climate-{plain}") }
}
