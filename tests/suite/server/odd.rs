//! Editors that say little, or odd things, and texts that lie nowhere.

use std::fs;
use std::path::Path;

use headlap::server::{SessionEnd, serve};
use lsp_server::{Connection, Message, Notification, Request};
use serde_json::{Value, json};

use super::{Client, RIGHT, library, wrong};
use crate::command::{scratch, write};

/// Judged by what comes with headlap, whatever the folder that the editor has open says.
#[test]
fn a_text_that_was_never_saved_has_all_that_a_file_has() {
    let folder = scratch("server/untitled");
    write(&folder, "headlap.toml", "[adjust.reverse-lap]\noff = true\nbecause = \"a test\"\n");
    write(&folder, "shared.detail", "include \"stock.detail\"\n");
    let mut client = Client::new(&folder, &["utf-8"]);
    for name in ["untitled:Untitled-1", "file://"] {
        client.open(name, &wrong());
        let found = client.diagnostics(name);
        assert_eq!(found.iter().map(|f| &f["code"]).collect::<Vec<_>>(), ["reverse-lap"], "{name}");
        assert_eq!(found[0]["relatedInformation"][0]["location"]["uri"], name, "places of the same text");
        let hover = client.at("textDocument/hover", name, (2, 7), json!({})).expect("an answer");
        assert!(hover["contents"]["value"].as_str().expect("words").contains("**detail** `A`"), "{hover}");
        let drawn = client.at("headlap/drawing", name, (4, 8), json!({})).expect("an answer");
        assert!(drawn["section"].as_str().expect("a drawing").starts_with("<svg"));
        let offered = client.at("textDocument/completion", name, (5, 2), json!({})).expect("an answer");
        assert!(offered.as_array().is_some_and(|offered| !offered.is_empty()));
        let (range, context) = (found[0]["range"].clone(), json!({ "diagnostics": [] }));
        let document = json!({ "uri": name });
        let asked = json!({ "textDocument": document, "range": range, "context": context });
        let cures = client.ask("textDocument/codeAction", asked);
        assert_eq!(cures[0]["title"], "Install `lower` before `upper`");
        assert!(cures[0]["edit"]["changes"][name].is_array(), "{cures}");
        let options = json!({ "tabSize": 2, "insertSpaces": true });
        let laid_out = client.ask("textDocument/formatting", json!({ "textDocument": document, "options": options }));
        assert_eq!(laid_out.as_array().map(Vec::len), Some(1), "{laid_out}");
        client.replace(name, &RIGHT.replace("stock.detail", "shared.detail"));
        let message = client.diagnostics(name)[0]["message"].clone();
        assert_eq!(message, "This cannot be included: this text has no folder to look in yet; save it first.");
    }
    // An editor that saves a text may open the file before it closes the text.
    let there = format!("untitled:{}", folder.join("new.detail").display());
    client.open(&there, &RIGHT.replace("stock.detail", "shared.detail"));
    assert_eq!(client.findings(&there), [], "it knows where it will be saved, and so what it includes");
    client.open("new.detail", RIGHT);
    client.tell("textDocument/didClose", json!({ "textDocument": { "uri": there } }));
    let symbols = client.about("textDocument/documentSymbol", "new.detail");
    assert!(symbols.as_array().is_some_and(|symbols| symbols.len() == 3), "{symbols}");
    assert_eq!(client.close(), Some(0));
}

#[test]
fn what_a_client_says_of_itself_may_be_odd() {
    let folder = library("server/greeting");
    let spaced = format!("file://{} ", folder.display());
    for said in [
        json!({}),
        json!({ "rootUri": null, "workspaceFolders": null, "capabilities": { "general": null } }),
        json!({ "rootUri": "", "capabilities": { "general": { "positionEncodings": "utf-8" } } }),
        json!({ "rootUri": spaced, "trace": "odd", "initializationOptions": "none", "capabilities": {} }),
        json!({ "rootPath": folder, "capabilities": { "general": { "positionEncodings": ["utf-32"] } } }),
    ] {
        let mut client = Client::greeting(&folder, said.clone());
        assert_eq!(client.greeting["capabilities"]["positionEncoding"], "utf-16", "{said}");
        client.open("a.detail", &wrong());
        assert_eq!(client.findings("a.detail"), [("reverse-lap".to_owned(), 5, 8)], "{said}");
        assert_eq!(client.close(), Some(0));
    }
}

/// Without settings, each folder that the editor has open is a library of its own.
#[test]
fn each_folder_of_a_workspace_is_a_library() {
    // Outside of this checkout, which would be the library of all that lies in it.
    let outside = tempfile::tempdir().expect("a folder");
    let folder = fs::canonicalize(outside.path()).expect("it is there");
    for part in ["one", "two"] {
        write(&folder, &format!("{part}/shared.detail"), "include \"stock.detail\"\n");
        write(&folder, &format!("{part}/walls/a.detail"), &RIGHT.replace("stock.detail", "../shared.detail"));
    }
    let uri = |part: &str| json!({ "uri": format!("file://{}", folder.join(part).display()), "name": part });
    let said = json!({ "workspaceFolders": [uri("one"), uri("two")], "capabilities": {} });
    let mut client = Client::greeting(&folder, said);
    let text = wrong().replace("stock.detail", "../shared.detail");
    let lap = [("reverse-lap".to_owned(), 5, 8)];
    for name in ["one/walls/a.detail", "two/walls/a.detail"] {
        client.open(name, &text);
        assert_eq!(client.findings(name), lap, "{name}");
    }
    let symbols = |client: &mut Client| {
        let found = client.ask("workspace/symbol", json!({ "query": "" }));
        found.as_array().expect("a list").iter().map(|symbol| symbol["name"].clone()).collect::<Vec<_>>()
    };
    assert_eq!(symbols(&mut client), ["W", "A", "W", "A"], "items, and no includes");
    let event = json!({ "added": [], "removed": [uri("two")] });
    client.tell("workspace/didChangeWorkspaceFolders", json!({ "event": event }));
    let found = client.findings("two/walls/a.detail");
    assert!(found.iter().any(|(id, ..)| id == "include-failed"), "a file by itself: {found:?}");
    let event = json!({ "added": [uri("two")], "removed": [] });
    client.tell("workspace/didChangeWorkspaceFolders", json!({ "event": event }));
    assert_eq!(client.findings("two/walls/a.detail"), lap);
    assert_eq!(client.close(), Some(0));
    let mut client = Client::greeting(&folder, json!({ "workspaceFolders": [uri("one")], "capabilities": {} }));
    assert_eq!(symbols(&mut client), ["W", "A"], "nothing is open");
    assert_eq!(client.close(), Some(0));
}

/// All that the client says is there before the server begins, so that its answers do not depend on timing.
fn session(said: &[Value]) -> (Result<SessionEnd, String>, Vec<Value>) {
    let (server, client) = Connection::memory();
    for message in said {
        let (method, params) = (message["method"].as_str().expect("a name").to_owned(), message["params"].clone());
        let message = match serde_json::from_value::<lsp_server::RequestId>(message["id"].clone()) {
            Ok(id) => Message::Request(Request { id, method, params }),
            Err(_) => Message::Notification(Notification { method, params }),
        };
        client.sender.send(message).expect("it waits");
    }
    let end = serve(&server, Path::new("/nowhere/at/all"), || jiff::civil::date(2026, 1, 1));
    drop(server);
    (end, client.receiver.iter().map(|message| serde_json::to_value(message).expect("JSON")).collect())
}

#[test]
fn a_request_that_nobody_waits_for_is_not_worked_on() {
    let document = json!({ "uri": "untitled:a", "languageId": "headlap", "version": 1, "text": RIGHT });
    let fold = |id: &str| json!({ "id": id, "method": "textDocument/foldingRange", "params": { "textDocument": { "uri": "untitled:a" } } });
    let (end, answers) = session(&[
        json!({ "id": 1, "method": "initialize", "params": {} }),
        json!({ "method": "textDocument/didOpen", "params": { "textDocument": document } }),
        fold("wanted"),
        fold("dropped"),
        json!({ "method": "$/cancelRequest", "params": { "id": "dropped" } }),
        json!({ "method": "$/cancelRequest", "params": { "id": 77 } }),
        json!({ "id": 2, "method": "shutdown", "params": null }),
        json!({ "method": "textDocument/didClose", "params": {} }),
        fold("late"),
        json!({ "method": "exit", "params": null }),
    ]);
    assert_eq!(end, Ok(SessionEnd::Orderly));
    let answer = |id: Value| answers.iter().find(|answer| answer["id"] == id).expect("an answer");
    assert!(answer(json!("wanted"))["result"].is_array());
    assert_eq!(answer(json!("dropped"))["error"]["code"], -32800);
    assert_eq!(answer(json!(2))["error"], Value::Null);
    assert_eq!(answer(json!("late"))["error"]["code"], -32600, "the session is over");
}

#[test]
fn a_client_that_leaves_without_a_word_shows_in_the_exit_status() {
    let begin = json!({ "id": 1, "method": "initialize", "params": {} });
    let exit = json!({ "method": "exit", "params": null });
    assert_eq!(session(&[begin, exit]).0, Ok(SessionEnd::Abrupt));
}
