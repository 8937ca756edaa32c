//! A session from its greeting to its end.

use std::collections::{BTreeSet, VecDeque};
use std::path::{Path, PathBuf};

use jiff::civil::Date;
use lsp_server::{Connection, ErrorCode, Message, Notification, Request, RequestId, Response};
use lsp_types::notification::{
    Cancel, DidChangeConfiguration, DidChangeTextDocument, DidChangeWatchedFiles, DidChangeWorkspaceFolders,
    DidCloseTextDocument, DidOpenTextDocument, DidSaveTextDocument, Exit, Initialized, Notification as _,
    PublishDiagnostics,
};
use lsp_types::request::{RegisterCapability, Request as _, Shutdown};
use serde_json::{Value, json};

use crate::server::capabilities::capabilities;
use crate::server::diagnostics;
use crate::server::dispatch::{answer, guarded};
use crate::server::greeting::{Greeting, folders};
use crate::server::message::Message as Refused;
use crate::server::state::State;

/// How a session ended.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum SessionEnd {
    /// The client took its leave, or is gone.
    Orderly,
    /// It ended the server without a shutdown request.
    Abrupt,
}

/// Answers until the client says goodbye or goes.
///
/// # Errors
/// In words, when the client does not begin as the protocol asks.
pub fn serve(connection: &Connection, folder: &Path, today: fn() -> Date) -> Result<SessionEnd, String> {
    let (id, said) = connection.initialize_start().map_err(|error| error.to_string())?;
    let Greeting { encoding, folders, watches } = Greeting::of(&said);
    let answer = json!({
        "capabilities": capabilities(encoding),
        "serverInfo": { "name": env!("CARGO_PKG_NAME"), "version": env!("CARGO_PKG_VERSION") },
    });
    let _ = connection.sender.send(Message::Response(Response::new_ok(id, answer)));
    let working = folders.first().cloned().unwrap_or_else(|| folder.to_path_buf());
    let mut state = State::new(working, folders, today, encoding);
    configure(&mut state, said.get("initializationOptions"));
    Ok(run(connection, &mut state, watches))
}

fn run(connection: &Connection, state: &mut State, watches: bool) -> SessionEnd {
    let (mut waiting, mut changed, mut over) = (VecDeque::new(), BTreeSet::new(), false);
    loop {
        waiting.extend(connection.receiver.try_iter());
        let message = match waiting.pop_front() {
            Some(message) => message,
            None => {
                settle(connection, state, &mut changed);
                let Ok(message) = connection.receiver.recv() else { return SessionEnd::Orderly };
                message
            }
        };
        match message {
            Message::Request(request) => {
                let answer = if over {
                    refused(request.id, ErrorCode::InvalidRequest, Refused::SessionOver.words())
                } else if request.method == Shutdown::METHOD {
                    over = true;
                    Response::new_ok(request.id, Value::Null)
                } else if waiting.iter().any(|later| cancels(later, &request.id)) {
                    refused(request.id, ErrorCode::RequestCanceled, Refused::Canceled.words())
                } else {
                    // An answer is about the text as it is.
                    settle(connection, state, &mut changed);
                    answer(state, request)
                };
                let _ = connection.sender.send(Message::Response(answer));
            }
            Message::Notification(notification) if notification.method == Exit::METHOD => {
                return if over { SessionEnd::Orderly } else { SessionEnd::Abrupt };
            }
            Message::Notification(notification) if notification.method == Initialized::METHOD => {
                if watches {
                    let _ = connection.sender.send(Message::Request(watch()));
                }
            }
            Message::Notification(notification) => {
                guarded(|| take(state, notification, &mut changed));
            }
            Message::Response(_) => {}
        }
    }
}

/// Is this the news that a request is no longer wanted?
fn cancels(message: &Message, request: &RequestId) -> bool {
    let Message::Notification(Notification { method, params }) = message else { return false };
    let same = |id: &Value| serde_json::from_value::<RequestId>(id.clone()).is_ok_and(|id| id == *request);
    method == Cancel::METHOD && params.get("id").is_some_and(same)
}

/// Reviews what has changed and sends what was found.
fn settle(connection: &Connection, state: &mut State, changed: &mut BTreeSet<PathBuf>) {
    if changed.is_empty() {
        return;
    }
    let changed = std::mem::take(changed);
    let sent = guarded(|| {
        state.review(&changed);
        diagnostics::all(state)
    });
    for params in sent.unwrap_or_default() {
        let note = Notification::new(PublishDiagnostics::METHOD.to_owned(), params);
        let _ = connection.sender.send(Message::Notification(note));
    }
}

/// A notification that cannot be read is ignored: notifications have no answer.
fn take(state: &mut State, notification: Notification, changed: &mut BTreeSet<PathBuf>) {
    fn read<N: lsp_types::notification::Notification>(params: Value) -> Option<N::Params> {
        serde_json::from_value(params).ok()
    }
    let Notification { method, params } = notification;
    match &*method {
        DidOpenTextDocument::METHOD => {
            let opened = read::<DidOpenTextDocument>(params).map(|params| params.text_document);
            changed.extend(opened.and_then(|text| state.opened(text.uri, text.version, text.text)));
        }
        DidChangeTextDocument::METHOD => {
            let read = read::<DidChangeTextDocument>(params);
            changed.extend(read.and_then(|read| {
                state.changed(&read.text_document.uri, read.text_document.version, read.content_changes)
            }));
        }
        DidCloseTextDocument::METHOD => {
            let closed = read::<DidCloseTextDocument>(params);
            changed.extend(closed.and_then(|closed| state.closed(&closed.text_document.uri)));
        }
        DidSaveTextDocument::METHOD => {
            let saved = read::<DidSaveTextDocument>(params);
            changed.extend(saved.and_then(|saved| state.path(&saved.text_document.uri)));
        }
        DidChangeWatchedFiles::METHOD => {
            let files = read::<DidChangeWatchedFiles>(params).map(|read| read.changes).unwrap_or_default();
            changed.extend(files.iter().filter_map(|file| state.path(&file.uri)));
        }
        DidChangeWorkspaceFolders::METHOD => {
            let event = |part: &str| folders(params.pointer(part));
            let (gone, new) = (event("/event/removed"), event("/event/added"));
            state.libraries.folders.retain(|folder| !gone.contains(folder));
            state.libraries.folders.extend(new);
            // Other folders may be the libraries of the open files now.
            changed.extend(state.open.keys().cloned());
        }
        DidChangeConfiguration::METHOD => {
            configure(state, params.get("settings").map(|all| all.get("headlap").unwrap_or(all)));
        }
        _ => {}
    }
}

/// `{ "hints": false }` switches the hints of laps off.
fn configure(state: &mut State, options: Option<&Value>) {
    if let Some(hints) = options.and_then(|options| options.get("hints")).and_then(Value::as_bool) {
        state.hints = hints;
    }
}

/// Asks for notifications of files that change outside of the editor.
fn watch() -> Request {
    let patterns = ["**/*.detail", "**/*.toml", "**/*.jsonl", "**/*.json"];
    let watchers: Vec<Value> = patterns.iter().map(|pattern| json!({ "globPattern": pattern })).collect();
    let registration = json!({
        "id": "headlap-files",
        "method": DidChangeWatchedFiles::METHOD,
        "registerOptions": { "watchers": watchers },
    });
    Request::new(
        "headlap-watch".to_owned().into(),
        RegisterCapability::METHOD.to_owned(),
        json!({ "registrations": [registration] }),
    )
}

/// An answer that says why there is none.
pub fn refused(id: lsp_server::RequestId, code: lsp_server::ErrorCode, why: String) -> Response {
    Response::new_err(id, code as i32, why)
}
