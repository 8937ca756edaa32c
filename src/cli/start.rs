//! `headlap start`: a small library to begin from.

use std::process::ExitCode;

use crate::cli::args::Start;
use crate::cli::{Done, print};
use crate::project;

pub fn run(start: Start) -> Done {
    let working = project::working()?;
    let folder = project::plain(&start.folder, &working);
    let written = project::start(&folder)?;
    print::out(|out| {
        for path in &written {
            writeln!(out, "wrote {}", project::shown(path, &working))?;
        }
        writeln!(out, "Check it with:  headlap review {}", project::shown(&folder, &working))
    })?;
    Ok(ExitCode::SUCCESS)
}
