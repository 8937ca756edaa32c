//! The language: what is read, what is refused, and where.

use std::fs;
use std::path::{Path, PathBuf};

use headlap::finding::Finding;
use headlap::syntax::{accepts_file, parse};
use headlap::text::{FileId, Source};

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

/// Findings as `line:words at fault: rule: message`.
fn told(source: &Source, findings: &[Finding]) -> Vec<String> {
    findings
        .iter()
        .map(|f| {
            format!("{}:{}: {}: {}", source.position(f.span.start as usize).line, source.at(f.span), f.rule, f.message)
        })
        .collect()
}

fn read(text: &str) -> Vec<String> {
    let source = Source::new(FileId(0), "a.detail", text);
    let (_, findings) = parse(&source);
    told(&source, &findings)
}

#[test]
fn well_formed_files_are_read_without_a_word() {
    for folder in ["rules", "examples"] {
        for path in files(folder) {
            let text = fs::read_to_string(&path).expect("a text");
            assert_eq!(read(&text), [""; 0], "{}", path.display());
            assert!(accepts_file(&text), "the grammar takes {} whole", path.display());
        }
    }
}
