//! Long and hostile sessions.

use std::ops::Range;
use std::path::Path;
use std::sync::Arc;

use headlap::project::{self, Unsaved, Walked};
use serde_json::{Value, json};

use super::{Client, RIGHT, library};
use crate::command::write;

/// Numbers that are the same in each run.
struct Dice(u64);

impl Dice {
    fn below(&mut self, limit: usize) -> usize {
        self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 33) as usize % limit.max(1)
    }

    /// Words or a line that go, and what comes in their place.
    fn edit(&mut self, text: &str) -> (Range<usize>, String) {
        let bounds: Vec<usize> = text.char_indices().map(|(at, _)| at).chain([text.len()]).collect();
        let first = self.below(bounds.len());
        let line = |at: usize| {
            let start = text[..at].rfind('\n').map_or(0, |before| before + 1);
            start..text[at..].find('\n').map_or(text.len(), |next| at + next + 1)
        };
        match self.below(6) {
            0 => (line(bounds[first]), String::new()),
            1 => (bounds[first]..bounds[first], text[line(bounds[self.below(bounds.len())])].to_owned()),
            2 => {
                let digits: Vec<usize> = text.match_indices(|c: char| c.is_ascii_digit()).map(|(at, _)| at).collect();
                let Some(at) = digits.get(self.below(digits.len())) else { return (0..0, "1".to_owned()) };
                (*at..at + 1, self.below(10).to_string())
            }
            _ => {
                let last = (first + self.below(6) * self.below(4)).min(bounds.len() - 1);
                (bounds[first]..bounds[last], CHUNKS[self.below(CHUNKS.len())].to_owned())
            }
        }
    }
}

/// What is typed, pasted and left half done.
const CHUNKS: [&str; 24] = [
    "\n",
    " ",
    "{",
    "}",
    "\"",
    "#",
    ";",
    ",",
    "piece ",
    "piece x plywood\n",
    "up ",
    "150 mm",
    "-25 mm",
    "bonds deck ",
    "of W",
    "rolled",
    "W",
    "wrap-open",
    "ü",
    "𝄞",
    "\r\n",
    "detail D course joins W {\n",
    "include \"stock.detail\"\n",
    "seal upper to lower with acrylic-sealant\n",
];

/// A file of three details that leans on another one. Both are open, and both are written in.
const FILES: [&str; 2] = ["a.detail", "shared.detail"];

fn right() -> [String; 2] {
    let shared = "include \"stock.detail\"\nmaterial skin sheet { holds water, air; permeance 50 perm; thickness 0.2 mm; surface polyolefin }\n";
    let first = RIGHT.replace("stock.detail", "shared.detail").replace("wrap-open", "skin");
    let again = first.split_once("detail A").map(|(_, rest)| rest).expect("one detail");
    let third = again.replace("150 mm", "75 mm").replace("piece upper", "piece upper\t");
    let text =
        format!("{first}\n# The same again.\ndetail B{again}material own sheet {{ holds water }}\ndetail C{third}");
    [text, shared.to_owned()]
}

/// After each edit the editor shows what a fresh review of the texts finds. Of many edits, each `step`th is compared.
fn soak(name: &str, edits: usize, step: usize, seed: u64) {
    let folder = library(name);
    let right = right();
    let mut texts = right.clone();
    for (name, text) in FILES.iter().zip(&texts) {
        write(&folder, name, text);
    }
    let project =
        project::open_at(&project::home_of(&folder, &folder), &folder).unwrap_or_else(|_| panic!("stock rules"));
    let mut client = Client::new(&folder, &["utf-16"]);
    for (name, text) in FILES.iter().zip(&texts) {
        client.open(name, text);
    }
    let mut dice = Dice(seed);
    let mut early = None;
    let (mut compared, mut shown) = (0, 0);
    for edit in 0..edits {
        let file = usize::from(dice.below(6) == 0);
        let (name, text) = (FILES[file], &mut texts[file]);
        // Now and then back to something that can be read, or nothing but ruins would be tried.
        if dice.below(12) == 0 {
            *text = right[file].clone();
            client.replace(name, text);
        } else {
            let (range, chunk) = dice.edit(text);
            // An editor has no place between the two signs of a line break.
            let split = |at: usize| text[..at].ends_with('\r') && text[at..].starts_with('\n');
            if split(range.start) || split(range.end) {
                continue;
            }
            let place = json!({ "start": place(text, range.start), "end": place(text, range.end) });
            client.change(name, json!([{ "range": place, "text": chunk }]));
            text.replace_range(range, &chunk);
        }
        if edit % step == 0 {
            let found = client.findings(FILES[0]);
            assert_eq!(found, fresh(&project, &folder, &texts), "edit {edit}:\n{}\n{}", texts[0], texts[1]);
            (compared, shown) = (compared + 1, shown + found.len());
        }
        if edit == edits / 4 {
            early = client.memory();
        }
    }
    let late = client.memory();
    println!("{edits} edits, {compared} compared, {shown} findings shown; memory {early:?} kB, then {late:?} kB");
    if let (Some(early), Some(late)) = (early, late) {
        assert!(late < early + early / 4 + 20_000, "memory grew from {early} to {late} kB");
    }
    assert_eq!(client.close(), Some(0));
}

/// Line and column in units of UTF-16.
fn place(text: &str, offset: usize) -> Value {
    let before = &text[..offset];
    let start = before.rfind('\n').map_or(0, |at| at + 1);
    json!({ "line": before.matches('\n').count(), "character": before[start..].encode_utf16().count() })
}

fn fresh(project: &project::Project, folder: &Path, texts: &[String; 2]) -> Vec<(String, u64, u64)> {
    let mut unsaved = Unsaved::default();
    for (name, text) in FILES.iter().zip(texts) {
        unsaved.put(folder.join(name), text.as_str());
    }
    let walked = Walked::over(&[folder.join(FILES[0])], Arc::new(unsaved), folder);
    let today = jiff::civil::date(2026, 6, 1);
    let review = project::ReviewTask {
        project,
        walked: &walked,
        working: folder,
        today: today.into(),
        keep: false,
        texts: true,
        cache: None,
        memory: None,
        progress: &|_| {},
    };
    let report = project::review(&review).report;
    let mut found: Vec<_> = report
        .findings
        .iter()
        .filter(|finding| finding.open())
        .filter(|finding| report.source(finding.span).is_some_and(|source| source.name == FILES[0]))
        .map(|finding| {
            let place = place(&texts[0], finding.span.range().start);
            (
                finding.rule.to_string(),
                place["line"].as_u64().expect("a line"),
                place["character"].as_u64().expect("a column"),
            )
        })
        .collect();
    found.sort();
    found
}

#[test]
fn random_edits_end_in_what_a_fresh_review_finds() {
    soak("server/soak", 200, 1, 7);
}

#[test]
#[ignore = "takes some minutes; run before a release"]
fn ten_thousand_random_edits_leave_memory_flat() {
    soak("server/long-soak", 10_000, 10, 11);
}

/// Whatever is sent, the next request is answered.
#[test]
fn nonsense_does_not_end_a_session() {
    let folder = library("server/nonsense");
    let mut client = Client::new(&folder, &["utf-8"]);
    let hostile = format!("{RIGHT}detail \u{202e}{}", "{".repeat(3000));
    client.open("a.detail", &hostile);
    let methods = [
        "textDocument/hover",
        "textDocument/completion",
        "textDocument/definition",
        "textDocument/references",
        "textDocument/rename",
        "textDocument/prepareRename",
        "textDocument/documentSymbol",
        "textDocument/foldingRange",
        "textDocument/formatting",
        "textDocument/inlayHint",
        "textDocument/semanticTokens/full",
        "textDocument/codeAction",
        "headlap/drawing",
        "textDocument/nonsense",
        "$/nonsense",
    ];
    let far = json!({ "line": 4_000_000_000_u32, "character": 4_000_000_000_u32 });
    let near = json!({ "line": 2, "character": 4_000_000_000_u32 });
    let turned = json!({ "start": far, "end": { "line": 0, "character": 0 } });
    for uri in [client.uri("a.detail"), client.uri("none.detail"), "untitled:one".to_owned(), "file:///%FF".to_owned()]
    {
        for place in [&far, &near] {
            for method in methods {
                let params = json!({
                    "textDocument": { "uri": uri }, "position": place, "range": turned, "newName": "x",
                    "context": { "includeDeclaration": true, "diagnostics": [] },
                    "options": { "tabSize": 2, "insertSpaces": true },
                });
                if let Err(error) = client.try_ask(method, params) {
                    assert_ne!(error["code"], -32603, "{method}: {error}");
                }
            }
        }
        client.tell("textDocument/didChange", json!({ "textDocument": { "uri": uri, "version": 9 }, "contentChanges": [{ "range": turned, "text": "x" }] }));
        client.tell("textDocument/didClose", json!({ "textDocument": { "uri": uri } }));
        client.tell("textDocument/didClose", json!({ "textDocument": { "uri": uri } }));
    }
    for method in methods {
        for params in [Value::Null, json!([]), json!({ "textDocument": 7 }), json!({ "textDocument": { "uri": "::" } })]
        {
            let _ = client.try_ask(method, params);
        }
    }
    client.tell("textDocument/didOpen", json!({ "nonsense": true }));
    client.open("a.detail", RIGHT);
    assert_eq!(client.findings("a.detail"), []);
    assert_eq!(client.close(), Some(0));
}
