//! From an edit to its findings, as an editor waits for them: `cargo bench --bench editor`.
//!
//! A file of 2,000 lines in a library of 1,000 files, reviewed by `headlap lsp` after each edit, of a length and of a name; then the cures of the findings that
//! the edits brought are asked for. Two times are shown of each: what the clock says from the message to its answer, and how long the
//! processor worked for the server, on all of its threads, until it was at rest again. The second does not grow with what else the
//! machine does. HEADLAP names another program to measure.

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
    let opened = editor.timed(|editor| {
        editor.tell(
            "textDocument/didOpen",
            json!({ "textDocument": { "uri": editor.uri(), "languageId": "headlap", "version": 1, "text": large } }),
        );
        editor.findings();
    });
    println!("a file of {lines} lines in a library of {FILES} files: opened in {:.1?}", opened.clock);
    let (lengths, names) = (lengths(&large), names(&large));
    let (mut misspelled, mut edits, mut cures) = (Vec::new(), Vec::new(), Vec::new());
    for number in 0..EDITS {
        // A name that nothing has, and the right one again.
        for digit in [2, 1] {
            misspelled.push(editor.timed(|editor| drop(editor.edit(digit, names[number * 7 % names.len()]))));
        }
    }
    for number in 0..EDITS {
        let mut found = Value::Null;
        let digit = 1 + number % 9;
        edits.push(editor.timed(|editor| found = editor.edit(digit, lengths[number * 7 % lengths.len()])));
        if let Some(range) =
            found["diagnostics"].as_array().and_then(|all| all.last()).map(|last| last["range"].clone())
        {
            cures.push(editor.timed(|editor| editor.cures(&range)));
        }
    }
    show("edit of a length to findings", edits);
    show("edit of a name to findings", misspelled);
    show("cures of a finding", cures);
    editor.end();
}

/// How long something took.
struct Took {
    clock: Duration,
    /// Where the system reports it.
    processor: Option<Duration>,
}

fn show(what: &str, took: Vec<Took>) {
    let line = |of: &str, mut times: Vec<Duration>| {
        times.sort();
        let at = |part: usize| times.get((times.len() * part / 100).min(times.len().saturating_sub(1)));
        if let (Some(middle), Some(late), Some(last)) = (at(50), at(95), times.last()) {
            let count = times.len();
            println!(
                "{what}, {of}, {count} times: median {middle:.1?}, 95th percentile {late:.1?}, longest {last:.1?}"
            );
        }
    };
    line("clock", took.iter().map(|took| took.clock).collect());
    line("processor", took.iter().filter_map(|took| took.processor).collect());
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

/// Line and column of the first digit of the lengths of each piece.
fn lengths(text: &str) -> Vec<(usize, usize)> {
    let digit = |line: &str| {
        let extent = [" up ", " along "].iter().filter_map(|word| line.find(word)).min()?;
        line[extent..].find(|c: char| c.is_ascii_digit() && c != '0').map(|at| extent + at)
    };
    pieces(text).filter_map(|(number, line)| Some((number, digit(line)?))).collect()
}

/// Line and column of the digit in the name of the assembly that a piece is of.
fn names(text: &str) -> Vec<(usize, usize)> {
    let digit = |line: &str| line.find(" of W1").or_else(|| line.find(" of F1")).map(|at| at + " of W".len());
    pieces(text).filter_map(|(number, line)| Some((number, digit(line)?))).collect()
}

fn pieces(text: &str) -> impl Iterator<Item = (usize, &str)> {
    text.lines().enumerate().filter(|(_, line)| line.trim_start().starts_with("piece "))
}

struct Editor {
    program: Child,
    to: ChildStdin,
    from: BufReader<ChildStdout>,
    address: String,
    version: usize,
    asked: i32,
}

impl Editor {
    fn new(folder: &Path) -> Editor {
        let program = std::env::var_os("HEADLAP").unwrap_or_else(|| env!("CARGO_BIN_EXE_headlap").into());
        let mut command = Command::new(program);
        let piped = command.arg("lsp").current_dir(folder).stdin(Stdio::piped()).stdout(Stdio::piped());
        let mut program = piped.spawn().expect("the program starts");
        let (to, from) = (program.stdin.take().expect("piped"), program.stdout.take().expect("piped"));
        let address = format!("file://{}/large.detail", folder.display());
        let mut editor = Editor { program, to, from: BufReader::new(from), address, version: 1, asked: 0 };
        let root = format!("file://{}", folder.display());
        editor.ask("initialize", json!({ "processId": null, "rootUri": root, "capabilities": {} }));
        editor.tell("initialized", json!({}));
        editor
    }

    fn uri(&self) -> String {
        self.address.clone()
    }

    /// How long something takes, and how long the server works for it.
    fn timed(&mut self, work: impl FnOnce(&mut Editor)) -> Took {
        let before = self.worked();
        let start = Instant::now();
        work(self);
        let clock = start.elapsed();
        let processor = before.zip(self.worked()).map(|(before, after)| after.saturating_sub(before));
        Took { clock, processor }
    }

    /// How long the processor has worked for the threads of the server, once it is at rest.
    fn worked(&self) -> Option<Duration> {
        let mut last = None;
        loop {
            std::thread::sleep(Duration::from_millis(4));
            let now = processor_time(self.program.id())?;
            if last.replace(now) == Some(now) {
                return last;
            }
        }
    }

    /// A digit becomes another one. What is found then.
    fn edit(&mut self, digit: usize, (line, column): (usize, usize)) -> Value {
        self.version += 1;
        let range =
            json!({ "start": { "line": line, "character": column }, "end": { "line": line, "character": column + 1 } });
        let change = json!([{ "range": range, "text": digit.to_string() }]);
        let document = json!({ "uri": self.uri(), "version": self.version });
        self.tell("textDocument/didChange", json!({ "textDocument": document, "contentChanges": change }));
        self.findings()
    }

    /// Waits for findings of the text as it is now.
    fn findings(&mut self) -> Value {
        loop {
            let message = self.read();
            if message["method"] == "textDocument/publishDiagnostics"
                && message["params"]["uri"] == self.address
                && message["params"]["version"] == self.version
            {
                return message["params"].clone();
            }
        }
    }

    fn cures(&mut self, range: &Value) {
        let document = json!({ "uri": self.uri() });
        let asked = json!({ "textDocument": document, "range": range, "context": { "diagnostics": [] } });
        self.ask("textDocument/codeAction", asked);
    }

    fn ask(&mut self, method: &str, params: Value) {
        self.asked += 1;
        self.send(Message::Request(Request::new(self.asked.into(), method.to_owned(), params)));
        while self.read()["id"] != self.asked {}
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

/// What the scheduler has counted for the threads that the program has.
fn processor_time(program: u32) -> Option<Duration> {
    let threads = fs::read_dir(format!("/proc/{program}/task")).ok()?;
    let counted = threads.filter_map(|thread| {
        let counted = fs::read_to_string(thread.ok()?.path().join("schedstat")).ok()?;
        counted.split_whitespace().next()?.parse::<u64>().ok()
    });
    Some(Duration::from_nanos(counted.sum()))
}
