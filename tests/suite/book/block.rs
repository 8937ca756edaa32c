//! Fenced blocks: each says in its first line what it is, and is held against the program.
//!
//! | block | check |
//! |---|---|
//! | `detail` | reviewed: nothing is found, or what the next `text` block shows |
//! | `detail,body` | statements of a detail: read |
//! | `detail,material` | properties of a material: read |
//! | `toml,settings`, `toml,rule` | read by the program; a rule passes its own examples |
//! | `sh` | each `headlap …` is run in a copy of the demo library; a `text` block after it is printed by it |
//! | `sh,form` | the command line is understood |
//! | `editor,WHAT` | settings of an editor: shown as they are |
//! | `json,KIND` | fits `headlap schema KIND` |
//! | `text` | after a `detail` or `sh` block: lines of its output, `…` for those left out |

use std::path::{Path, PathBuf};
use std::process::Command;
use std::sync::Arc;

use headlap::output::{self, Look};
use headlap::project::settings;
use headlap::review::{review_alone, review_text};
use headlap::rules::{Pack, idle_exceptions, test_rule};
use headlap::text::{FileId, Source};

use crate::book::Page;
use crate::command::{headlap, reported, scratch, write};
use crate::review::{TODAY, pack};

pub struct Blocks<'a> {
    page: &'a Page,
    blocks: Vec<Block>,
}

struct Block {
    line: usize,
    tag: String,
    text: String,
}

impl Blocks<'_> {
    pub fn of(page: &Page) -> Blocks<'_> {
        let mut blocks: Vec<Block> = Vec::new();
        let mut open: Option<Block> = None;
        for (at, line) in page.text.lines().enumerate() {
            match (line.strip_prefix("```"), &mut open) {
                (Some(_), Some(_)) => blocks.extend(open.take()),
                (Some(tag), None) => open = Some(Block { line: at + 1, tag: tag.to_owned(), text: String::new() }),
                (None, Some(block)) => block.text.extend([line, "\n"]),
                (None, None) => {}
            }
        }
        Blocks { page, blocks }
    }

    pub fn problems(&self) -> Vec<String> {
        let mut problems = Vec::new();
        let mut library = None;
        let mut printed: Option<String> = None;
        for (at, block) in self.blocks.iter().enumerate() {
            let next = self.blocks.get(at + 1).filter(|next| next.tag == "text").map(|next| next.text.as_str());
            let before = printed.take();
            let found = match block.tag.as_str() {
                "detail" => {
                    let (found, output) = reviewed(&block.text, next);
                    printed = Some(output);
                    found
                }
                "detail,body" => unread(&body(&block.text)),
                "detail,material" => unread(&format!("material m board {{\n{}}}\n", block.text)),
                "toml,settings" => settings_block(&block.text),
                "toml,rule" => rule_block(&block.text),
                "sh" => {
                    let folder: &PathBuf = library.get_or_insert_with(|| demo(self.page));
                    let (found, output) = commands(&block.text, folder, &[]);
                    printed = Some(output);
                    found
                }
                "sh,form" => commands(&block.text, Path::new("."), &["--help"]).0,
                "text" => before.map_or(Vec::new(), |output| not_printed(&block.text, &output)),
                "editor,lua" | "editor,toml" | "editor,elisp" => Vec::new(),
                tag => match tag.strip_prefix("json,") {
                    Some(kind) => json_block(kind, &block.text),
                    None => vec![format!("`{tag}` is no kind of block that is checked")],
                },
            };
            let place = format!("{}:{}", self.page.name, block.line);
            problems.extend(found.into_iter().map(|problem| format!("{place}: {problem}")));
        }
        problems
    }
}

/// A block that includes nothing gets the stock materials, as the book says.
fn whole(text: &str) -> String {
    let includes = text.lines().any(|line| line.trim_start().starts_with("include"));
    if includes { text.to_owned() } else { format!("include \"stock.detail\"\n{text}") }
}

fn body(lines: &str) -> String {
    format!(
        "include \"stock.detail\"\nassembly W wall {{ outside; layer wrap-open controls water; layer plywood; inside }}\n\
         detail D course joins W {{\n{lines}}}\n"
    )
}

/// What is found and not shown, and all that a review prints.
fn reviewed(text: &str, shown: Option<&str>) -> (Vec<String>, String) {
    let report = review_alone(pack(), &whole(text), TODAY, false).report;
    let shown = shown.map(one_line).unwrap_or_default();
    let silent = |message: &str, rule: &str| !shown.contains(&one_line(message)) && !shown.contains(rule);
    let open = report.findings.iter().filter(|finding| finding.open());
    let found = open.filter(|finding| silent(&finding.message, &finding.rule));
    let found = found.map(|finding| format!("{}: {}", finding.rule, finding.message)).collect();
    let mut printed = Vec::new();
    output::text(&report, Look::PLAIN, &mut printed).expect("memory takes it");
    (found, String::from_utf8(printed).expect("UTF-8"))
}

fn one_line(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// What of a text could not be read.
fn unread(text: &str) -> Vec<String> {
    let findings = review_text(pack(), text, TODAY);
    findings.iter().filter(|finding| finding.unread()).map(|finding| finding.message.clone()).collect()
}

/// The lines of a `text` block come in this order; `…` stands for any lines in between.
fn not_printed(shown: &str, output: &str) -> Vec<String> {
    let mut printed = output.lines();
    let wanted = shown.lines().filter(|line| line.trim() != "…");
    let missing = wanted.filter(|line| !printed.by_ref().any(|known| known.trim_end() == line.trim_end()));
    missing.map(|line| format!("not printed, or not in this order: {line}")).take(1).collect()
}

fn source(name: &str, text: &str) -> Arc<Source> {
    Arc::new(Source::new(FileId::detail(1 << 30), name, text))
}

fn settings_block(text: &str) -> Vec<String> {
    let config = match settings(source("headlap.toml", text), PathBuf::from("/library")) {
        Ok(config) => config,
        Err(findings) => return findings.into_iter().map(|finding| finding.message.clone()).collect(),
    };
    let mut problems = Vec::new();
    for adjustments in std::iter::once(&config.adjustments).chain(config.folders.iter().map(|f| &f.adjustments)) {
        let mut pack = Pack::load(&[]).unwrap_or_else(|findings| panic!("{findings:?}"));
        let reported = pack.adjust(adjustments).err().unwrap_or_default();
        problems.extend(reported.into_iter().map(|finding| finding.message.clone()));
    }
    problems
}

fn rule_block(text: &str) -> Vec<String> {
    let pack = match Pack::load(&[source("firm-rules/rule.toml", text)]) {
        Ok(pack) => pack,
        Err(findings) => return findings.into_iter().map(|finding| finding.message.clone()).collect(),
    };
    let review = |text: &str| review_text(&pack, text, TODAY);
    let own = pack.rules.iter().filter(|rule| pack.firm.contains(&rule.span.file));
    let reviewed = |pack: &Pack, text: &str| review_text(pack, text, TODAY);
    let problems_of =
        |rule| [test_rule(&pack, rule, &review).problems, idle_exceptions(&pack, rule, &reviewed)].concat();
    own.flat_map(problems_of).map(|finding| finding.message.clone()).collect()
}

fn json_block(kind: &str, text: &str) -> Vec<String> {
    let value = match serde_json::from_str(text) {
        Ok(value) => value,
        Err(why) => return vec![why.to_string()],
    };
    let Some(schema) = output::output_schema(kind) else { return vec![format!("there is no schema of {kind}")] };
    let validator = jsonschema::validator_for(&schema).expect("a schema");
    validator.iter_errors(&value).map(|error| format!("{error} at {}", error.instance_path())).collect()
}

/// A copy of the demo library under version control, in a folder of the page's own.
fn demo(page: &Page) -> PathBuf {
    let folder = scratch(&format!("book/{}", page.name.replace('/', "-")));
    let from = concat!(env!("CARGO_MANIFEST_DIR"), "/examples/millrace");
    let mut into = vec![folder.clone()];
    if page.text.contains("compare issued submitted") {
        into.extend([folder.join("issued"), folder.join("submitted")]);
    }
    for entry in std::fs::read_dir(from).expect("the demo library") {
        let path = entry.expect("an entry").path();
        let name = path.file_name().expect("a name").to_string_lossy().into_owned();
        let text = std::fs::read_to_string(&path).expect("a text");
        into.iter().for_each(|folder| _ = write(folder, &name, &text));
    }
    let git = |args: &[&str]| {
        let done = Command::new("git").current_dir(&folder).args(args).output().expect("git runs");
        assert!(done.status.success(), "git {args:?}: {}", String::from_utf8_lossy(&done.stderr));
    };
    git(&["init", "--quiet"]);
    git(&["add", "."]);
    git(&["-c", "user.name=A", "-c", "user.email=a@example.org", "commit", "--quiet", "-m", "Issue"]);
    folder
}

/// Runs each `headlap …` of a block. Findings are no failure; a command that could not be done is one.
fn commands(text: &str, folder: &Path, more: &[&str]) -> (Vec<String>, String) {
    let (mut problems, mut printed) = (Vec::new(), String::new());
    for line in text.lines().filter(|line| !line.is_empty()) {
        let words = words(line);
        match words.split_first() {
            Some((first, args)) if first == "headlap" => {
                let mut command = headlap();
                command.current_dir(folder).args(args).args(more).env("XDG_CACHE_HOME", folder.join(".cache"));
                let (status, out, said) = reported(command.output().expect("the program runs"));
                if status > 1 || (status == 1 && !more.is_empty()) {
                    problems.push(format!("{line}: {status}: {said}"));
                }
                printed.push_str(&out);
            }
            Some((first, _)) if ["cargo", "git", "python3", "scripts/book"].contains(&first.as_str()) => {}
            _ => problems.push(format!("nobody tries this command: {line}")),
        }
    }
    (problems, printed)
}

/// The words of a command line, as a shell takes them apart.
fn words(line: &str) -> Vec<String> {
    let (mut words, mut word, mut quoted) = (Vec::new(), None::<String>, false);
    for letter in line.chars() {
        match letter {
            '"' => {
                quoted = !quoted;
                word.get_or_insert_default();
            }
            ' ' if !quoted => words.extend(word.take()),
            letter => word.get_or_insert_default().push(letter),
        }
    }
    words.extend(word);
    words
}
