//! `headlap facts`: everything that is worked out.

use crate::cli::args::{Facts, Page};
use crate::cli::task::Task;
use crate::cli::{Done, Message, print};
use crate::output;

pub fn run(args: Facts, page: &Page) -> Done {
    let run = Task::of(&args.paths)?.run(true);
    print::named(&args.only, run.names())?;
    let look = print::page(page);
    print::out(|out| match args.format.as_str() {
        "json" => output::facts::json(&run.checked, &args.only, out),
        _ => output::facts::text(&run.checked, &args.only, look, out),
    })?;
    Ok(print::unread(&run.report, Message::Incomplete, page))
}
