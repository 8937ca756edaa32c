//! `headlap sequence`: the installation sequence.

use crate::cli::args::{Page, Sequence};
use crate::cli::task::Task;
use crate::cli::{Done, Message, print};
use crate::output::sequence;

pub fn run(args: Sequence, page: &Page) -> Done {
    let run = Task::of(&args.paths)?.run(true);
    print::named(&args.only, run.names())?;
    let details = run.checked.iter().flat_map(|checked| &checked.facts.details);
    let wanted = details.filter(|facts| args.only.is_empty() || args.only.iter().any(|n| **n == *facts.detail.name));
    let sequences: Vec<_> = wanted.map(sequence::sequence).collect();
    let text = match args.format.as_str() {
        "markdown" => sequence::markdown(&sequences),
        _ if print::page(page).narrate => sequence::narrated(&sequences, print::page(page).width),
        _ => sequence::text(&sequences, print::page(page).width),
    };
    print::out(|out| out.write_all(text.as_bytes()))?;
    Ok(print::unread(&run.report, Message::Incomplete, page))
}
