//! Details as offices draw them. Those below `tests/details/correct` bring no error and no warning. Those below
//! `tests/details/wrong` carry one mistake each: the finding written under a line (`# ^^^^ rule-id`) is demanded, and
//! what else is found may only be a note.
//!
//! A file may include what lies beside it, or in `tests/details`, as assemblies that many share do.

use std::collections::BTreeSet;
use std::fmt::Write;
use std::fs;
use std::path::{Path, PathBuf};

use headlap::finding::Level;

use crate::findings::{Reported, expected};
use crate::review::review_texts;

#[test]
fn correct_details_bring_no_error_and_no_warning() {
    let wrong: String = files("correct").iter().map(|file| unlike(file, &BTreeSet::new())).collect();
    assert!(wrong.is_empty(), "\n{wrong}");
}

#[test]
fn each_wrong_detail_brings_the_finding_of_its_mistake() {
    let mut wrong = String::new();
    for file in files("wrong") {
        let demanded = expected(&text(&file));
        if demanded.is_empty() {
            let _ = writeln!(wrong, "{}: names no finding", file.display());
        }
        wrong += &unlike(&file, &demanded);
    }
    assert!(wrong.is_empty(), "\n{wrong}");
}

/// The rules that some wrong detail has to bring.
pub fn demanded() -> BTreeSet<String> {
    files("wrong").iter().flat_map(|file| expected(&text(file))).map(|(.., rule)| rule).collect()
}

/// What was demanded and not found, and what was found beyond notes and not demanded.
fn unlike(file: &Path, demanded: &BTreeSet<Reported>) -> String {
    let name = file.file_name().expect("a name").to_string_lossy();
    let mut texts = vec![(name.to_string(), text(file))];
    texts.extend(included(file));
    let texts: Vec<(&str, &str)> = texts.iter().map(|(name, text)| (name.as_str(), text.as_str())).collect();
    let report = review_texts(&texts);
    let mut open = demanded.clone();
    let mut wrong = String::new();
    for finding in report.findings.iter().filter(|finding| finding.waived.is_none()) {
        let Some((of, at)) = report.place(finding.span).filter(|(of, _)| **of == *name) else { continue };
        let reported = (at.line, at.column, finding.rule.to_string());
        if !open.remove(&reported) && !demanded.contains(&reported) && finding.level != Level::Note {
            let _ = writeln!(wrong, "{of}:{}:{}: {} not expected: {}", at.line, at.column, reported.2, finding.message);
        }
    }
    for (line, column, rule) in open {
        let _ = writeln!(wrong, "{name}:{line}:{column}: expected {rule}, not found");
    }
    wrong
}

/// What a file names, of the files beside it and of those in `tests/details`.
fn included(file: &Path) -> Vec<(String, String)> {
    let own = text(file);
    let folders = [file.parent().expect("a folder").to_owned(), root()];
    let beside = folders.iter().flat_map(|folder| fs::read_dir(folder).expect("a folder").flatten()).map(|e| e.path());
    beside
        .filter_map(|path| Some((path.file_name()?.to_string_lossy().into_owned(), path)))
        .filter(|(name, path)| path != file && own.contains(&format!("include \"{name}\"")))
        .map(|(name, path)| (name, text(&path)))
        .collect()
}

fn text(file: &Path) -> String {
    fs::read_to_string(file).unwrap_or_default()
}

fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/details")
}

fn files(folder: &str) -> Vec<PathBuf> {
    let mut files: Vec<PathBuf> = walkdir::WalkDir::new(root().join(folder))
        .into_iter()
        .flatten()
        .map(walkdir::DirEntry::into_path)
        .filter(|path| path.extension().is_some_and(|e| e == "detail"))
        .collect();
    files.sort();
    files
}
