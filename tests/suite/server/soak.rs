//! Long and hostile sessions.

use headlap::project::{self, Walked};
use serde_json::{Value, json};

use super::{Client, RIGHT, library};

/// Numbers that are the same in each run.
struct Dice(u64);

impl Dice {
    fn below(&mut self, limit: usize) -> usize {
        self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 33) as usize % limit.max(1)
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

/// After each edit the editor shows what a fresh review of the text finds.
fn soak(name: &str, edits: usize, seed: u64) {
    let folder = library(name);
    let path = folder.join("a.detail");
    let project =
        project::open_at(&project::home_of(&folder, &folder), &folder).unwrap_or_else(|_| panic!("stock rules"));
    let mut client = Client::new(&folder, &["utf-16"]);
    let mut text = RIGHT.to_owned();
    client.open("a.detail", &text);
    let mut dice = Dice(seed);
    let mut early = None;
    for edit in 0..edits {
        // Now and then back to something that can be read, or nothing but ruins would be tried.
        if dice.below(12) == 0 {
            text = RIGHT.to_owned();
            client.replace("a.detail", &text);
        } else {
            let bounds: Vec<usize> = text.char_indices().map(|(at, _)| at).chain([text.len()]).collect();
            let first = dice.below(bounds.len());
            let last = (first + dice.below(6) * dice.below(4)).min(bounds.len() - 1);
            // An editor has no place between the two signs of a line break.
            let split = |at: usize| text[..at].ends_with('\r') && text[at..].starts_with('\n');
            let (start, end) = (bounds[first], bounds[last]);
            if split(start) || split(end) {
                continue;
            }
            let chunk = CHUNKS[dice.below(CHUNKS.len())];
            let range = json!({ "start": place(&text, start), "end": place(&text, end) });
            client.change("a.detail", json!([{ "range": range, "text": chunk }]));
            text.replace_range(start..end, chunk);
        }
        assert_eq!(client.findings("a.detail"), fresh(&project, &path, &text, &folder), "edit {edit}:\n{text}");
        if edit == edits / 4 {
            early = client.memory();
        }
    }
    if let (Some(early), Some(late)) = (early, client.memory()) {
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

fn fresh(
    project: &project::Project,
    path: &std::path::Path,
    text: &str,
    folder: &std::path::Path,
) -> Vec<(String, u64, u64)> {
    let walked = Walked::given(path, text.to_owned(), folder);
    let today = jiff::civil::date(2026, 6, 1);
    let review = project::Review {
        project,
        walked: &walked,
        working: folder,
        today: today.into(),
        keep: false,
        texts: true,
        cache: None,
        progress: &|_| {},
    };
    let report = project::review(&review).report;
    let mut found: Vec<_> = report
        .findings
        .iter()
        .filter(|finding| finding.open())
        .map(|finding| {
            let place = place(text, finding.span.range().start);
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
    soak("server/soak", 200, 7);
}

#[test]
#[ignore = "takes some minutes; run before a release"]
fn ten_thousand_random_edits_leave_memory_flat() {
    soak("server/long-soak", 10_000, 11);
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
