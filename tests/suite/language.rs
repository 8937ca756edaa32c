//! The language: what is read, what is refused, and where.

mod hostile;
mod includes;
mod meaning;
mod page;
mod shortcut;

use std::fs;
use std::path::{Path, PathBuf};
use std::sync::Arc;

use headlap::finding::{Finding, Id};
use headlap::model::{Reading, SourceMap};
use headlap::syntax::{accepts_file, parse};
use headlap::text::{FileId, Source};

use crate::review::pack;

fn root() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

/// All detail files below a folder of the package, in the order of their names.
pub fn files(folder: &str) -> Vec<PathBuf> {
    let mut found = Vec::new();
    let mut folders = vec![root().join(folder)];
    while let Some(folder) = folders.pop() {
        for entry in fs::read_dir(folder).expect("a folder of the package") {
            let path = entry.expect("an entry").path();
            match path.is_dir() {
                true => folders.push(path),
                false if path.extension().is_some_and(|extension| extension == "detail") => found.push(path),
                false => {}
            }
        }
    }
    found.sort();
    found
}

/// Reads one text with the names of the built-in libraries and the words of the stock rules.
fn read(text: &str) -> Reading {
    let fetch = |_: &str| Err("there is no such file".to_owned());
    let words = &pack().words;
    SourceMap::new(&fetch, words).read(Arc::new(Source::new(FileId::detail(0), "a.detail", text)))
}

/// Findings as `line: words at fault: rule: message`.
fn reported(source: &Source, findings: &[Finding]) -> Vec<String> {
    let line = |f: &Finding| source.position(f.span.start as usize).line;
    findings.iter().map(|f| format!("{}: {}: {}: {}", line(f), source.at(f.span), f.rule, f.message)).collect()
}

/// For signs of a drawing the message gives the spelling of the language. A unit is only corrected where no other is as near.
#[test]
fn numbers_as_drawings_have_them_are_shown_with_their_spelling() {
    let signs = "Write feet and inches as `1 ft 6 in`.";
    let units = "Write the number with one of the units `mm`, `cm`, `m`, `in`, `ft`, `mil`, `um`.";
    for (extent, fix) in [
        ("up to 1'", signs),
        ("up 2\" to 6\"", signs),
        ("up 1'-6\" to 2'-0\"", signs),
        ("up 1\u{2032} to 2 ft", signs),
        ("up 1 1/2 in to 3 in", "Join a whole number to its fraction: `1-1/2`."),
        ("up 1½ in to 3 in", "Write a fraction with a slash: `1-1/2`."),
        ("up \u{2212}5 mm to 5 mm", "Write a minus as `-`, with no space before the number: `-25`."),
        ("up - 5 mm to 5 mm", "Write a minus as `-`, with no space before the number: `-25`."),
        ("up to 3 inches", "Write `in`."),
        ("up to 3 Feet", "Write `ft`."),
        ("up to 3 millimetres", "Write `mm`."),
        ("up to 3 mmm", "Write `mm`."),
        ("up to 3 mn", units),
        ("up to 3 nm", units),
        ("up to 3 furlongs", units),
    ] {
        let text = format!(
            "assembly A wall {{ outside; inside }}\ndetail D course joins A {{\n  piece a plywood {extent}\n}}"
        );
        let source = Source::new(FileId::detail(0), "a.detail", text);
        let fixes: Vec<_> = parse(&source).1.into_iter().map(|f| f.fix.clone().unwrap_or_default()).collect();
        assert_eq!(fixes.first().map(|fix| &**fix), Some(fix), "{extent}");
    }
}

#[test]
fn well_formed_files_are_read_without_a_word() {
    for folder in ["rules", "examples"] {
        for path in files(folder) {
            let text = fs::read_to_string(&path).expect("a text");
            let source = Source::new(FileId::detail(0), "a.detail", text.as_str());
            assert_eq!(reported(&source, &parse(&source).1), [""; 0], "{}", path.display());
            assert!(accepts_file(&text), "the grammar takes {} whole", path.display());
        }
    }
}

/// An expected finding: line, first and last column, rule, message. Columns count characters from 1.
type Expected = (usize, usize, usize, String, String);

/// Carets under the words at fault of the last line that is no annotation, then the rule and what it says. Carets cannot
/// reach column 1; `(from column 1)` at the end says that the words begin there.
fn annotations(text: &str) -> Vec<Expected> {
    let mut expected = Vec::new();
    let mut above = 0;
    for (number, line) in text.lines().enumerate() {
        match annotation(line, above) {
            Some(one) => expected.push(one),
            None => above = number + 1,
        }
    }
    expected
}

fn annotation(line: &str, above: usize) -> Option<Expected> {
    let body = line.trim_start().strip_prefix('#')?;
    let carets = body.trim_start();
    let words = carets.trim_start_matches('^');
    let count = carets.len() - words.len();
    let (rule, message) = words.trim_start().split_once(": ")?;
    Id::from_word(rule).filter(|id| id.of_text())?;
    let first = line.chars().count() - carets.chars().count() + 1;
    Some(match message.strip_suffix(" (from column 1)") {
        Some(message) => (above, 1, count + 1, rule.to_owned(), message.to_owned()),
        None => (above, first, first + count - 1, rule.to_owned(), message.to_owned()),
    })
}

#[test]
fn errors_stand_under_the_words_at_fault() {
    let mut wrong = Vec::new();
    let paths = files("tests/language");
    assert!(paths.len() >= 4);
    for path in paths {
        let text = fs::read_to_string(&path).expect("a text");
        let reading = read(&text);
        let place = |f: &Finding| {
            let (start, end) = (f.span.start as usize, f.span.end as usize);
            let (from, last) = (reading.source.position(start), reading.source.position(end - 1));
            (from.line, from.column, last.column, f.rule.to_string(), f.message.clone())
        };
        let found: Vec<Expected> = reading.findings.iter().map(place).collect();
        let expected = annotations(&text);
        let name = path.file_name().expect("a name").to_string_lossy().into_owned();
        wrong.extend(expected.iter().filter(|e| !found.contains(e)).map(|e| format!("{name}: expected {e:?}")));
        wrong.extend(found.iter().filter(|f| !expected.contains(f)).map(|f| format!("{name}: found {f:?}")));
        assert_eq!(found.len(), expected.len(), "{name}: each once\n{}", wrong.join("\n"));
    }
    assert!(wrong.is_empty(), "\n{}", wrong.join("\n"));
}
