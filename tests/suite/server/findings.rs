//! Findings while a text changes: as the shell would find them.

use std::fs;
use std::path::Path;

use serde_json::{Value, json};

use super::{Client, RIGHT, library, wrong};
use crate::command::{run, scratch, write};

#[test]
fn findings_come_and_go_with_the_text() {
    let folder = scratch("server/findings");
    write(&folder, "headlap.toml", "docs-url = \"https://example.org/details\"\n");
    let mut client = Client::new(&folder, &["utf-8", "utf-16"]);
    assert_eq!(client.greeting["capabilities"]["positionEncoding"], "utf-8");
    client.open("a.detail", &wrong());
    let found = client.diagnostics("a.detail");
    let lap = found.iter().find(|d| d["code"] == "reverse-lap").expect("it is found").clone();
    assert_eq!(lap["range"]["start"], json!({ "line": 5, "character": 8 }), "under the name of the lower piece: {lap}");
    assert_eq!((&lap["severity"], &lap["source"]), (&json!(1), &json!("headlap")));
    assert_eq!(lap["codeDescription"]["href"], "https://example.org/details/rules/drainage.html#reverse-lap");
    let message = lap["message"].as_str().expect("words");
    assert!(message.contains("gets behind `lower` at 150 mm.\nInstall `lower` before `upper`"), "{message}");
    let related = lap["relatedInformation"].as_array().expect("places");
    assert!(related.iter().any(|r| r["location"]["range"]["start"]["line"] == 4), "{related:?}");
    // The two lines are exchanged by two edits, each counted in the text that the one before it left.
    let line = wrong().lines().nth(5).expect("a line").to_owned() + "\n";
    let place = |line: usize, character: usize| json!({ "line": line, "character": character });
    client.change(
        "a.detail",
        json!([
            { "range": { "start": place(5, 0), "end": place(6, 0) }, "text": "" },
            { "range": { "start": place(4, 0), "end": place(4, 0) }, "text": line },
        ]),
    );
    assert_eq!(client.findings("a.detail"), []);
    client.tell("textDocument/didClose", json!({ "textDocument": { "uri": client.uri("a.detail") } }));
    assert_eq!(client.close(), Some(0));
}

#[test]
fn unsaved_text_wins_over_the_disk_for_includes_and_settings() {
    let folder = library("server/includes");
    let shared =
        "include \"stock.detail\"\nmaterial skin sheet { holds water, air; permeance 50 perm; thickness 0.2 mm }\n";
    write(&folder, "shared.detail", shared);
    let text = RIGHT.replace("stock.detail", "shared.detail").replace("wrap-open", "skin");
    write(&folder, "a.detail", &text);
    let mut client = Client::new(&folder, &[]);
    assert_eq!(client.greeting["capabilities"]["positionEncoding"], "utf-16");
    client.open("a.detail", &text);
    let before = client.findings("a.detail");
    assert!(before.iter().all(|(id, ..)| id != "unknown-name"), "{before:?}");
    client.open("shared.detail", &shared.replace("material skin", "material hide"));
    assert!(client.findings("a.detail").iter().any(|(id, ..)| id == "unknown-name"), "the open text is read");
    client.tell("textDocument/didClose", json!({ "textDocument": { "uri": client.uri("shared.detail") } }));
    assert_eq!(client.findings("a.detail"), before, "the disk holds again");
    // What an included file has wrong is shown there, open or not.
    write(&folder, "shared.detail", &format!("{shared}material skin sheet\n"));
    client.tell("textDocument/didSave", json!({ "textDocument": { "uri": client.uri("shared.detail") } }));
    assert!(!client.findings("shared.detail").is_empty());
    write(&folder, "shared.detail", shared);
    client.tell(
        "workspace/didChangeWatchedFiles",
        json!({ "changes": [{ "uri": client.uri("shared.detail"), "type": 2 }] }),
    );
    assert_eq!(client.findings("shared.detail"), []);
    // Settings as they are typed; while they cannot be read, the former ones hold.
    client.replace("a.detail", &wrong());
    assert!(client.findings("a.detail").iter().any(|(id, ..)| id == "reverse-lap"));
    let off = "[adjust.reverse-lap]\noff = true\nbecause = \"a test\"\n";
    client.open("headlap.toml", off);
    assert!(client.findings("a.detail").iter().all(|(id, ..)| id != "reverse-lap"), "switched off");
    client.replace("headlap.toml", &off.replace("off = true", "of = true"));
    assert_eq!(client.findings("headlap.toml").len(), 1);
    assert!(client.findings("a.detail").iter().all(|(id, ..)| id != "reverse-lap"), "the former settings hold");
    client.replace("headlap.toml", "units = \"metric\"\n");
    assert_eq!(client.findings("headlap.toml"), []);
    assert!(client.findings("a.detail").iter().any(|(id, ..)| id == "reverse-lap"));
    assert_eq!(client.close(), Some(0));
}

#[test]
fn rule_files_have_findings_of_their_own() {
    let folder = library("server/rules");
    let page = include_str!("../../../docs/src/rules-of-your-own.md");
    let rule = page.split("```toml,rule\n").nth(1).and_then(|rest| rest.split("```").next()).expect("a rule");
    let mut client = Client::new(&folder, &["utf-8"]);
    client.open("wide-tape.toml", rule);
    assert_eq!(client.findings("wide-tape.toml"), []);
    client.replace("wide-tape.toml", &rule.replace("level", "levle"));
    let found = client.findings("wide-tape.toml");
    assert!(found.iter().any(|(id, ..)| id.starts_with("rule-")), "{found:?}");
    assert_eq!(client.close(), Some(0));
}

/// Names that a file lacks come from those that include it, whatever else the library holds, and go with them.
#[test]
fn a_fragment_is_shown_as_it_reads_in_its_includers() {
    let folder = library("server/fragment");
    let part = "detail F course joins W {\n  piece deck plywood of W\n}\n";
    write(&folder, "parts/part.detail", part);
    write(&folder, "between.detail", "include \"parts/part.detail\"\n");
    write(&folder, "apart.detail", RIGHT);
    let mut client = Client::new(&folder, &["utf-8"]);
    client.open("parts/part.detail", part);
    let unknown = |client: &mut Client| {
        client.findings("parts/part.detail").iter().filter(|(id, ..)| id == "unknown-name").count()
    };
    assert_eq!(unknown(&mut client), 2, "neither W nor plywood");
    let user = RIGHT.replacen('\n', "\ninclude \"between.detail\"\n", 1);
    write(&folder, "user.detail", &user);
    let changed = |client: &mut Client, kind: u8| {
        let changes = json!({ "changes": [{ "uri": client.uri("user.detail"), "type": kind }] });
        client.tell("workspace/didChangeWatchedFiles", changes);
    };
    changed(&mut client, 1);
    assert_eq!(unknown(&mut client), 0, "a file includes it by another one");
    assert!(!client.findings("parts/part.detail").is_empty(), "and it is judged with what that file gives");
    client.open("user.detail", &user.replace("include \"between.detail\"\n", ""));
    assert_eq!(unknown(&mut client), 2, "the open text is what counts");
    client.tell("textDocument/didClose", json!({ "textDocument": { "uri": client.uri("user.detail") } }));
    assert_eq!(unknown(&mut client), 0, "the disk holds again");
    fs::remove_file(folder.join("user.detail")).expect("it is there");
    changed(&mut client, 3);
    assert_eq!(unknown(&mut client), 2);
    assert_eq!(client.close(), Some(0));
}

/// For every file of a library: what the editor shows of it is what a review of the whole library finds in it.
#[test]
fn the_editor_shows_what_the_shell_finds() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    agree(&root.join("examples/millrace"), 1);
    agree(&root.join("tests/details/correct"), 5);
    agree(&root.join("tests/details/wrong"), 5);
}

#[test]
#[ignore = "every detail of the tests, which takes minutes in a program that is not optimized"]
fn the_editor_shows_what_the_shell_finds_in_every_file() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    agree(&root.join("tests/details"), 1);
    agree(&root.join("tests/findings"), 1);
}

/// Of every `step`th file.
fn agree(folder: &Path, step: usize) {
    let (_, log, said) = run(folder, &["review", ".", "--format", "json", "--no-cache"]);
    let log: Value = serde_json::from_str(&log).unwrap_or_else(|_| panic!("{said}"));
    let all = log["findings"].as_array().expect("a list");
    let mut client = Client::new(folder, &["utf-8"]);
    let mut names: Vec<String> = details_below(folder, folder);
    names.sort();
    for name in names.iter().step_by(step) {
        let text = fs::read_to_string(folder.join(name)).expect("it is there");
        client.open(name, &text);
        let mut shell: Vec<(String, u64, u64)> = all
            .iter()
            .filter(|f| f["file"] == **name && f["waived"].is_null() && f["known"].is_null())
            .map(|f| {
                let line = f["line"].as_u64().expect("a line") - 1;
                let column = f["column"].as_u64().expect("a column") as usize - 1;
                let before = text.lines().nth(line as usize).unwrap_or("").chars().take(column);
                (f["rule"].as_str().expect("an id").to_owned(), line, before.map(char::len_utf8).sum::<usize>() as u64)
            })
            .collect();
        shell.sort();
        shell.dedup();
        let mut shown = client.findings(name);
        shown.dedup();
        assert_eq!(shown, shell, "{}/{name}", folder.display());
        client.tell("textDocument/didClose", json!({ "textDocument": { "uri": client.uri(name) } }));
    }
    assert_eq!(client.close(), Some(0));
}

fn details_below(folder: &Path, root: &Path) -> Vec<String> {
    let entries = fs::read_dir(folder).expect("a folder").map(|entry| entry.expect("an entry").path());
    entries
        .flat_map(|path| match path.is_dir() {
            true => details_below(&path, root),
            false if path.extension().is_some_and(|ending| ending == "detail") => {
                vec![path.strip_prefix(root).expect("inside").to_str().expect("UTF-8").to_owned()]
            }
            false => Vec::new(),
        })
        .collect()
}
