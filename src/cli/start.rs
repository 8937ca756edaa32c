//! `headlap start`: a small library to begin from.

use std::process::ExitCode;

use crate::cli::args::Start;
use crate::cli::{Done, Message, print};
use crate::project;

pub fn run(start: Start) -> Done {
    let working = project::working()?;
    let folder = project::plain(&start.folder, &working);
    let written = project::start(&folder)?;
    print::out(|out| {
        for path in &written {
            let path = project::shown(path, &working);
            writeln!(out, "{}", Message::Wrote { path: path.as_ref() }.words())?;
        }
        let folder = project::shown(&folder, &working);
        writeln!(out, "{}", Message::CheckWith { folder: &folder }.words())
    })?;
    Ok(ExitCode::SUCCESS)
}
