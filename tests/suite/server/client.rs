//! An editor for tests: a session over the real program's standard input and output.

use std::collections::BTreeMap;
use std::io::BufReader;
use std::path::{Path, PathBuf};
use std::process::{Child, ChildStdin, ChildStdout, Command, Stdio};

use lsp_server::{Message, Notification, Request};
use serde_json::{Value, json};

pub struct Client {
    program: Child,
    to: ChildStdin,
    from: BufReader<ChildStdout>,
    folder: PathBuf,
    last: i32,
    version: i32,
    /// The last findings of each file, by its address.
    found: BTreeMap<String, Vec<Value>>,
    pub greeting: Value,
}

impl Client {
    /// A session in a folder, with the encodings that the editor knows.
    pub fn new(folder: &Path, encodings: &[&str]) -> Client {
        let root = format!("file://{}", folder.display());
        let capabilities = json!({ "general": { "positionEncodings": encodings } });
        Client::greeting(folder, json!({ "processId": null, "rootUri": root, "capabilities": capabilities }))
    }

    /// A session with an editor that says this of itself.
    pub fn greeting(folder: &Path, params: Value) -> Client {
        let mut command = Command::new(assert_cmd::cargo::cargo_bin!("headlap"));
        let piped = command.arg("lsp").current_dir(folder).stdin(Stdio::piped()).stdout(Stdio::piped());
        let mut program = piped.spawn().expect("the program starts");
        let (to, from) = (program.stdin.take().expect("piped"), program.stdout.take().expect("piped"));
        let mut client = Client {
            program,
            to,
            from: BufReader::new(from),
            folder: folder.to_path_buf(),
            last: 0,
            version: 1,
            found: BTreeMap::new(),
            greeting: Value::Null,
        };
        client.greeting = client.ask("initialize", params);
        client.tell("initialized", json!({}));
        client
    }

    /// The address of a file in the folder. An address stays what it is.
    pub fn uri(&self, name: &str) -> String {
        if name.contains(':') {
            return name.to_owned();
        }
        format!("file://{}", self.folder.join(name).display())
    }

    pub fn open(&mut self, name: &str, text: &str) {
        let text = json!({ "uri": self.uri(name), "languageId": "headlap", "version": 1, "text": text });
        self.tell("textDocument/didOpen", json!({ "textDocument": text }));
    }

    /// The whole text anew.
    pub fn replace(&mut self, name: &str, text: &str) {
        self.change(name, json!([{ "text": text }]));
    }

    pub fn change(&mut self, name: &str, changes: Value) {
        self.version += 1;
        let document = json!({ "uri": self.uri(name), "version": self.version });
        self.tell("textDocument/didChange", json!({ "textDocument": document, "contentChanges": changes }));
    }

    pub fn tell(&mut self, method: &str, params: Value) {
        self.send(Message::Notification(Notification::new(method.to_owned(), params)));
    }

    /// The answer, or what the server says instead of one.
    pub fn try_ask(&mut self, method: &str, params: Value) -> Result<Value, Value> {
        self.last += 1;
        self.send(Message::Request(Request::new(self.last.into(), method.to_owned(), params)));
        loop {
            let message = Message::read(&mut self.from).expect("the server writes messages").expect("it still runs");
            match serde_json::to_value(&message).expect("JSON") {
                note if note["method"] == "textDocument/publishDiagnostics" => {
                    let findings = note["params"]["diagnostics"].as_array().expect("a list").clone();
                    self.found.insert(note["params"]["uri"].as_str().expect("an address").to_owned(), findings);
                }
                answer if answer["id"] == self.last => {
                    return if answer["error"].is_null() {
                        Ok(answer["result"].clone())
                    } else {
                        Err(answer["error"].clone())
                    };
                }
                _ => {}
            }
        }
    }

    pub fn ask(&mut self, method: &str, params: Value) -> Value {
        self.try_ask(method, params).unwrap_or_else(|error| panic!("{method}: {error}"))
    }

    /// A request about a file as a whole.
    pub fn about(&mut self, method: &str, name: &str) -> Value {
        self.ask(method, json!({ "textDocument": { "uri": self.uri(name) } }))
    }

    /// A request about a place, with more of its parameters.
    pub fn at(
        &mut self,
        method: &str,
        name: &str,
        (line, character): (usize, usize),
        more: Value,
    ) -> Result<Value, Value> {
        let place = json!({ "line": line, "character": character });
        let mut params = json!({ "textDocument": { "uri": self.uri(name) }, "position": place });
        for (key, value) in more.as_object().expect("an object") {
            params[key] = value.clone();
        }
        self.try_ask(method, params)
    }

    /// The findings of a file as it is now: id, line and column from 0.
    pub fn findings(&mut self, name: &str) -> Vec<(String, u64, u64)> {
        let of = |finding: &Value| {
            let start = &finding["range"]["start"];
            let id = finding["code"].as_str().expect("an id").to_owned();
            (id, start["line"].as_u64().expect("a line"), start["character"].as_u64().expect("a column"))
        };
        let mut found: Vec<_> = self.diagnostics(name).iter().map(of).collect();
        found.sort();
        found
    }

    pub fn diagnostics(&mut self, name: &str) -> Vec<Value> {
        // An answer comes after all that the changes before it brought.
        let uri = self.uri(name);
        let _ = self.try_ask("textDocument/foldingRange", json!({ "textDocument": { "uri": uri } }));
        self.found.get(&uri).cloned().unwrap_or_default()
    }

    /// Memory of the server in kB, where the system reports it.
    pub fn memory(&self) -> Option<u64> {
        let status = std::fs::read_to_string(format!("/proc/{}/status", self.program.id())).ok()?;
        status.lines().find_map(|line| line.strip_prefix("VmRSS:"))?.trim().trim_end_matches(" kB").parse().ok()
    }

    /// Says goodbye; gives the exit status.
    pub fn close(mut self) -> Option<i32> {
        self.ask("shutdown", Value::Null);
        self.tell("exit", Value::Null);
        let Client { mut program, to, .. } = self;
        drop(to);
        program.wait().expect("it ends").code()
    }

    fn send(&mut self, message: Message) {
        message.write(&mut self.to).expect("the server reads");
    }
}
