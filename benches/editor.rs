//! From an edit to its findings, as an editor waits for them: `cargo bench --bench editor`.
//!
//! A file of 2,000 lines in a library of 1,000 files, reviewed by `headlap lsp` after each of 200 edits. The table shows the time from the
//! message with the edit to that with the findings: the middle, the 95th percentile and the longest. HEADLAP names another program to
//! measure.

use std::fs;
use std::io::BufReader;
use std::path::Path;
use std::process::{Child, ChildStdin, ChildStdout, Command, Stdio};
use std::time::{Duration, Instant};

use lsp_server::{Message, Notification, Request};
use serde_json::{Value, json};

#[path = "corpus/mod.rs"]
#[allow(dead_code, reason = "other benchmarks use the rest of it")]
mod corpus;

const FILES: u64 = 1000;
const LINES: usize = 2000;
const EDITS: usize = 200;

fn main() {
    let folder = tempfile::tempdir().expect("a folder");
    fs::write(folder.path().join("shared.detail"), corpus::SHARED).expect("written");
    for index in 0..FILES {
        fs::write(folder.path().join(format!("f{index}.detail")), corpus::file(7, index)).expect("written");
    }
    let large = large();
    fs::write(folder.path().join("large.detail"), &large).expect("written");
    let lines = large.lines().count();
    let mut editor = Editor::new(folder.path());
    let start = Instant::now();
    editor.tell(
        "textDocument/didOpen",
        json!({ "textDocument": { "uri": editor.uri(), "languageId": "headlap", "version": 1, "text": large } }),
    );
    editor.findings();
    let opened = start.elapsed();
    let numbers: Vec<(usize, usize)> = places(&large);
    let mut took: Vec<Duration> = (0..EDITS).map(|edit| editor.edit(edit, numbers[edit * 7 % numbers.len()])).collect();
    took.sort();
    println!("a file of {lines} lines in a library of {FILES} files: opened in {opened:.1?}");
    println!(
        "edit to findings, {EDITS} edits: median {:.1?}, 95th percentile {:.1?}, longest {:.1?}",
        took[EDITS / 2],
        took[EDITS * 95 / 100],
        took[EDITS - 1]
    );
    editor.end();
}

/// Details of the corpus, one after the other, each with a name of its own.
fn large() -> String {
    let mut text = String::from("include \"shared.detail\"\n");
    for index in 0.. {
        if text.lines().count() >= LINES {
            break;
        }
        let file = corpus::file(3, index);
        let body = file.lines().filter(|line| !line.starts_with("include"));
        let named = body.map(|line| match line.strip_prefix("detail ") {
            Some(rest) => format!("detail L{index}-{rest}"),
            None => line.to_owned(),
        });
        named.for_each(|line| text.push_str(&format!("{line}\n")));
    }
    text
}

/// Line and column of the first digit of each length of a piece: what is edited.
fn places(text: &str) -> Vec<(usize, usize)> {
    let pieces = text.lines().enumerate().filter(|(_, line)| line.trim_start().starts_with("piece "));
    pieces.filter_map(|(number, line)| Some((number, line.find(|c: char| c.is_ascii_digit() && c != '0')?))).collect()
}

struct Editor {
    program: Child,
    to: ChildStdin,
    from: BufReader<ChildStdout>,
    address: String,
    version: usize,
}

impl Editor {
    fn new(folder: &Path) -> Editor {
        let program = std::env::var_os("HEADLAP").unwrap_or_else(|| env!("CARGO_BIN_EXE_headlap").into());
        let mut command = Command::new(program);
        let piped = command.arg("lsp").current_dir(folder).stdin(Stdio::piped()).stdout(Stdio::piped());
        let mut program = piped.spawn().expect("the program starts");
        let (to, from) = (program.stdin.take().expect("piped"), program.stdout.take().expect("piped"));
        let address = format!("file://{}/large.detail", folder.display());
        let mut editor = Editor { program, to, from: BufReader::new(from), address, version: 1 };
        let root = format!("file://{}", folder.display());
        editor.ask("initialize", json!({ "processId": null, "rootUri": root, "capabilities": {} }));
        editor.tell("initialized", json!({}));
        editor
    }

    fn uri(&self) -> String {
        self.address.clone()
    }

    /// A digit becomes another one. How long it takes until the findings are there.
    fn edit(&mut self, number: usize, (line, column): (usize, usize)) -> Duration {
        self.version += 1;
        let range =
            json!({ "start": { "line": line, "character": column }, "end": { "line": line, "character": column + 1 } });
        let change = json!([{ "range": range, "text": (1 + number % 9).to_string() }]);
        let document = json!({ "uri": self.uri(), "version": self.version });
        let start = Instant::now();
        self.tell("textDocument/didChange", json!({ "textDocument": document, "contentChanges": change }));
        self.findings();
        start.elapsed()
    }

    /// Waits for findings of the text as it is now.
    fn findings(&mut self) {
        loop {
            let message = self.read();
            if message["method"] == "textDocument/publishDiagnostics"
                && message["params"]["uri"] == self.address
                && message["params"]["version"] == self.version
            {
                return;
            }
        }
    }

    fn ask(&mut self, method: &str, params: Value) {
        self.send(Message::Request(Request::new(1.into(), method.to_owned(), params)));
        while self.read()["id"] != 1 {}
    }

    fn tell(&mut self, method: &str, params: Value) {
        self.send(Message::Notification(Notification::new(method.to_owned(), params)));
    }

    fn send(&mut self, message: Message) {
        message.write(&mut self.to).expect("the server reads");
    }

    fn read(&mut self) -> Value {
        let message = Message::read(&mut self.from).expect("the server writes messages").expect("it still runs");
        serde_json::to_value(&message).expect("JSON")
    }

    fn end(mut self) {
        self.tell("exit", Value::Null);
        let _ = self.program.wait();
    }
}
