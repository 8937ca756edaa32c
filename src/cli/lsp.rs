//! `headlap lsp`: the editor's side, over standard input and output.

use std::process::ExitCode;

use lsp_server::Connection;

use crate::cli::Done;
use crate::cli::task::today;
use crate::project;
use crate::server::{self, SessionEnd};

pub fn run() -> Done {
    let working = project::working()?;
    let (streams, threads) = Connection::stdio();
    // What the client has written is taken at once, so that the session sees all that waits: one that lets the next message in only when
    // the last one is done cannot know that it is no longer wanted.
    let (own, others) = Connection::memory();
    let connection = Connection { sender: streams.sender, receiver: own.receiver };
    std::thread::spawn(move || streams.receiver.into_iter().try_for_each(|message| others.sender.send(message)));
    let served = server::serve(&connection, &working, today);
    // The writer ends with what it is given, so that it has to be gone first.
    drop(connection);
    threads.join()?;
    Ok(match served? {
        SessionEnd::Orderly => ExitCode::SUCCESS,
        SessionEnd::Abrupt => ExitCode::FAILURE,
    })
}
