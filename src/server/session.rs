//! A session from its greeting to its end.

use std::collections::BTreeSet;
use std::path::{Path, PathBuf};

use jiff::civil::Date;
use lsp_server::{Connection, Message, Notification, Request, Response};
use lsp_types::notification::{
    DidChangeConfiguration, DidChangeTextDocument, DidChangeWatchedFiles, DidCloseTextDocument, DidOpenTextDocument,
    DidSaveTextDocument, Notification as _, PublishDiagnostics,
};
use lsp_types::request::{RegisterCapability, Request as _};
use lsp_types::{InitializeParams, PositionEncodingKind};
use serde_json::{Value, json};

use crate::server::address::path_of;
use crate::server::capabilities::capabilities;
use crate::server::diagnostics;
use crate::server::dispatch::{answer, guarded};
use crate::server::position::Encoding;
use crate::server::state::State;

/// Answers until the client says goodbye or goes.
///
/// # Errors
/// In words, when the client does not keep to the protocol.
pub fn serve(connection: &Connection, folder: &Path, today: fn() -> Date) -> Result<(), String> {
    let wrong = |error: lsp_server::ProtocolError| error.to_string();
    let (id, params) = connection.initialize_start().map_err(wrong)?;
    let params: InitializeParams = serde_json::from_value(params).map_err(|error| error.to_string())?;
    let encoding = Encoding::agreed(&encodings(&params));
    let told = json!({
        "capabilities": capabilities(encoding),
        "serverInfo": { "name": env!("CARGO_PKG_NAME"), "version": env!("CARGO_PKG_VERSION") },
    });
    connection.initialize_finish(id, told).map_err(wrong)?;
    let mut state = State::new(root(&params).unwrap_or_else(|| folder.to_path_buf()), today, encoding);
    configure(&mut state, params.initialization_options.as_ref());
    if watches(&params) {
        let _ = connection.sender.send(Message::Request(watch()));
    }
    run(connection, &mut state)
}

fn run(connection: &Connection, state: &mut State) -> Result<(), String> {
    let mut changed = BTreeSet::new();
    loop {
        if connection.receiver.is_empty() {
            settle(connection, state, &mut changed);
        }
        let Ok(message) = connection.receiver.recv() else { return Ok(()) };
        match message {
            Message::Request(request) => {
                if connection.handle_shutdown(&request).map_err(|error| error.to_string())? {
                    return Ok(());
                }
                // An answer is about the text as it is.
                settle(connection, state, &mut changed);
                let _ = connection.sender.send(Message::Response(answer(state, request)));
            }
            Message::Notification(notification) if notification.method == "exit" => return Ok(()),
            Message::Notification(notification) => {
                guarded(|| take(state, notification, &mut changed));
            }
            Message::Response(_) => {}
        }
    }
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

/// A notification that cannot be read is passed over: there is nobody to answer.
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

fn encodings(params: &InitializeParams) -> Vec<PositionEncodingKind> {
    let general = params.capabilities.general.as_ref();
    general.and_then(|general| general.position_encodings.clone()).unwrap_or_default()
}

/// The folder that the editor has open.
#[expect(deprecated, reason = "older clients send nothing else")]
fn root(params: &InitializeParams) -> Option<PathBuf> {
    let first = params.workspace_folders.iter().flatten().next().map(|folder| &folder.uri);
    first.or(params.root_uri.as_ref()).and_then(path_of)
}

fn watches(params: &InitializeParams) -> bool {
    let files = params.capabilities.workspace.as_ref().and_then(|workspace| workspace.did_change_watched_files);
    files.and_then(|files| files.dynamic_registration).unwrap_or(false)
}

/// Asks to be told of files that change outside of the editor.
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
