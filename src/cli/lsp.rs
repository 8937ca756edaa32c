//! `headlap lsp`: the editor's side, over standard input and output.

use std::process::ExitCode;

use lsp_server::Connection;

use crate::cli::Done;
use crate::cli::task::today;
use crate::project;
use crate::server;

pub fn run() -> Done {
    let working = project::working()?;
    let (connection, threads) = Connection::stdio();
    let served = server::serve(&connection, &working, today);
    // The writer ends with what it is given, so that it has to be gone first.
    drop(connection);
    threads.join()?;
    served?;
    Ok(ExitCode::SUCCESS)
}
