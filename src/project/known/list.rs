//! The file of the list: a header, then one finding a line, sorted, so that version control merges it without conflict.

use std::collections::BTreeMap;
use std::fs;
use std::path::Path;
use std::sync::Arc;

use serde::{Deserialize, Serialize};

use crate::finding::Finding;
use crate::project::Message;
use crate::project::read::read_within;
use crate::project::shown::shown;
use crate::project::{Refusal, write_whole};
use crate::report::Report;
use crate::text::{FileId, Source, Span};

const ABOUT: &str = "Findings that were accepted when headlap was adopted. They do not fail a review; new ones do. \
One finding a line. `headlap known` adds, prunes and lists them.";

/// Bytes of the largest list: some 300,000 findings.
const LARGEST: u64 = 64 * 1024 * 1024;

/// A list as it was read.
pub struct List {
    pub source: Arc<Source>,
    pub entries: Vec<KnownEntry>,
}

/// One finding. Rule, item and names decide; the message is for people. Unknown keys are refused: a list that is half
/// understood would let too much pass.
#[derive(Clone, Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct KnownEntry {
    /// Relative to the list's folder, with `/`.
    pub file: String,
    pub rule: String,
    pub item: Option<String>,
    /// The names that it is about.
    #[serde(default)]
    pub about: Vec<String>,
    pub message: String,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub because: Option<String>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub by: Option<String>,
    /// Of the format before this one, which names nothing else that decides.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub fingerprint: Option<String>,
    /// Where the entry is written.
    #[serde(skip)]
    pub at: Span,
}

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct ListHeader {
    about: String,
    format: u32,
}

/// The format before this one: one object with all entries.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct FormerList {
    #[serde(rename = "about")]
    _about: String,
    known: Vec<KnownEntry>,
}

/// Writes the list. Gives the number of findings on it.
///
/// # Errors
/// In words, when the file cannot be written.
pub fn write(path: &Path, entries: &[KnownEntry]) -> Result<usize, String> {
    let mut lines: Vec<String> =
        entries.iter().map(|entry| serde_json::to_string(entry).expect("words only")).collect();
    lines.sort();
    // What is written has to be read again: the next run is held against it.
    let size = lines.iter().map(|line| line.len() as u64 + 1).sum::<u64>() + ABOUT.len() as u64 + 100;
    if size > LARGEST {
        return Err(Refusal::ListTooLarge { path, megabytes: LARGEST / 1024 / 1024 }.words());
    }
    if fs::metadata(path).is_ok_and(|about| !about.is_file()) {
        return Err(Refusal::ListNotRegular { path }.words());
    }
    write_whole(path, |out| {
        writeln!(out, "{}", serde_json::to_string(&ListHeader { about: ABOUT.to_owned(), format: 2 })?)?;
        lines.iter().try_for_each(|line| writeln!(out, "{line}"))
    })?;
    Ok(lines.len())
}

/// Reads a list of this format or of the one before.
///
/// # Errors
/// A report of what is wrong with it, at its place.
pub fn load(path: &Path, working: &Path) -> Result<List, Report> {
    let name = shown(path, working);
    let text = read_within(path, LARGEST).map_err(|unreadable| {
        let span = Span::new(FileId::KNOWN_LIST, unreadable.at.start, unreadable.at.end);
        let finding = Message::UnreadableList { list: &name, why: &unreadable.why.words() }.at(span);
        refused(Arc::new(Source::new(FileId::KNOWN_LIST, name.as_str(), unreadable.text)), finding)
    })?;
    let source = Arc::new(Source::new(FileId::KNOWN_LIST, name.as_str(), text));
    let first = source.text.lines().find(|line| !line.trim().is_empty()).unwrap_or("");
    let entries = match serde_json::from_str::<serde_json::Value>(first) {
        Ok(first) if first.get("known").is_none() => lines(&source)?,
        _ => former(&source)?,
    };
    Ok(List { source, entries })
}

fn lines(source: &Arc<Source>) -> Result<Vec<KnownEntry>, Report> {
    let mut entries = Vec::new();
    for number in 0..source.lines().count() {
        let range = source.lines().range(&source.text, number);
        let line = &source.text[range.clone()];
        if line.trim().is_empty() || serde_json::from_str::<ListHeader>(line).is_ok_and(|head| head.format == 2) {
            continue;
        }
        let entry: KnownEntry = serde_json::from_str(line).map_err(|error| not_a_list(source, range.start, &error))?;
        entries.push(KnownEntry { at: Span::new(source.id, range.start, range.end), ..entry });
    }
    Ok(entries)
}

fn former(source: &Arc<Source>) -> Result<Vec<KnownEntry>, Report> {
    let list: FormerList = serde_json::from_str(&source.text).map_err(|error| {
        let start = source.lines().range(&source.text, error.line().saturating_sub(1)).start;
        not_a_list(source, start, &error)
    })?;
    let marker = "\"fingerprint\"";
    let places: Vec<usize> = source.text.match_indices(marker).map(|(at, _)| at + marker.len()).collect();
    let placed = list.known.into_iter().enumerate().map(|(number, entry)| {
        let print = entry.fingerprint.as_deref().unwrap_or("");
        let key = places.get(number).copied().unwrap_or(0);
        let start = source.text[key..].find(print).map_or(key, |at| key + at);
        KnownEntry { at: Span::new(source.id, start, start + print.len()), ..entry }
    });
    Ok(placed.collect())
}

fn not_a_list(source: &Arc<Source>, line: usize, error: &serde_json::Error) -> Report {
    let at = (line + error.column().saturating_sub(1)).min(source.text.len());
    let at = (0..=at).rev().find(|at| source.text.is_char_boundary(*at)).unwrap_or(0);
    let why = error.to_string();
    let why = why.rsplit_once(" at line ").map_or(why.as_str(), |(why, _)| why);
    let message = Message::NotAList { list: &source.name, why };
    refused(source.clone(), message.at(Span::new(source.id, at, at)))
}

fn refused(source: Arc<Source>, finding: Finding) -> Report {
    Report { findings: vec![finding], sources: BTreeMap::from([(source.id, source)]), files: 1, ..Report::default() }
}

#[cfg(test)]
mod tests {
    use super::{KnownEntry, LARGEST, write};
    use crate::text::{FileId, Span};

    #[test]
    fn a_list_that_could_not_be_read_again_is_not_written() {
        let entry = |message: String| KnownEntry {
            file: "a.detail".to_owned(),
            rule: "short-head-lap".to_owned(),
            item: None,
            about: Vec::new(),
            message,
            because: None,
            by: None,
            fingerprint: None,
            at: Span::new(FileId::detail(0), 0, 0),
        };
        let folder = tempfile::tempdir().expect("a folder");
        let path = folder.path().join("known.jsonl");
        let refused = write(&path, &[entry("x".repeat(LARGEST as usize))]).expect_err("too large");
        assert!(refused.contains("larger than 64 MB") && !path.exists(), "{refused}");
        let refused = write(folder.path(), &[entry(String::new())]).expect_err("a folder");
        assert!(refused.contains("not a regular file"), "{refused}");
        assert_eq!(write(&path, &[entry(String::new())]), Ok(1));
    }
}
