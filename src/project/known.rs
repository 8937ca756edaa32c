//! Findings that were there before the tool was: a list that lets them pass, so that only new ones fail.

use std::collections::BTreeMap;
use std::path::{Component, Path, PathBuf};
use std::sync::Arc;

use serde::{Deserialize, Serialize};

use crate::finding::{Finding, Level};
use crate::project::shown::{plain, shown};
use crate::project::{Walked, read, write_whole};
use crate::report::Report;
use crate::text::{FileId, Source, Span};

/// The list's number, out of the way of details, settings and rules.
const LIST: FileId = FileId((1 << 31) - 1);

const ABOUT: &str = "Findings that were there when headlap was taken up. They do not fail a review; new ones do. \
`headlap review PATH --write-known FILE` writes this file anew.";

/// The file as it is written. Unknown keys are refused: a list that is half understood would let too much pass.
#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct List {
    about: String,
    known: Vec<Entry>,
}

/// One finding. The fingerprint decides; the rest is for people, and the file tells equal findings apart.
#[derive(Clone, Serialize, Deserialize, PartialEq, Eq, PartialOrd, Ord)]
#[serde(deny_unknown_fields)]
struct Entry {
    /// Relative to the list's folder, with `/`.
    file: String,
    rule: String,
    item: Option<String>,
    fingerprint: String,
    message: String,
}

/// Writes the open findings of a report as the list of known ones. Gives their count.
///
/// # Errors
/// In words, when the file cannot be written.
pub fn write_known(path: &Path, report: &Report, working: &Path) -> Result<usize, String> {
    let path = plain(path, working);
    let mut entries: Vec<Entry> = open(report, &path, working).into_iter().map(|(_, entry)| entry).collect();
    entries.sort();
    write_whole(&path, |out| {
        // An entry a line, so that a change of one finding is a change of one line.
        writeln!(out, "{{\n  \"about\": {},\n  \"known\": [", serde_json::to_string(ABOUT)?)?;
        for (number, entry) in entries.iter().enumerate() {
            let comma = if number + 1 < entries.len() { "," } else { "" };
            writeln!(out, "    {}{comma}", serde_json::to_string(entry)?)?;
        }
        writeln!(out, "  ]\n}}")
    })?;
    Ok(entries.len())
}

/// Marks the findings of a report that are on the list. An entry whose finding is gone becomes a note of its own, so
/// that the list shrinks: but only where the run looked, or where the file is no more.
///
/// # Errors
/// A report of what is wrong with the list.
pub fn mark_known(path: &Path, report: &mut Report, walked: &Walked, working: &Path) -> Result<(), Report> {
    let id = LIST;
    let path = plain(path, working);
    let (source, list) = load(&path, id, working)?;
    let mut waiting: BTreeMap<&str, Vec<(usize, &Entry)>> = BTreeMap::new();
    for (number, entry) in list.known.iter().enumerate() {
        waiting.entry(&entry.fingerprint).or_default().push((number, entry));
    }
    let found = open(report, &path, working);
    // First those that are where they were, then those that moved.
    for moved in [false, true] {
        for (number, entry) in &found {
            let Some(entries) = waiting.get_mut(entry.fingerprint.as_str()) else { continue };
            let finding = &mut report.findings[*number];
            let place = entries.iter().position(|(_, known)| moved || known.file == entry.file);
            if let Some(place) = place.filter(|_| !finding.listed) {
                entries.remove(place);
                finding.listed = true;
            }
        }
    }
    let gone = waiting.into_values().flatten().filter(|(_, entry)| {
        let file = plain(Path::new(&entry.file), path.parent().unwrap_or(working));
        walked.has(&shown(&file, working))
            || !file.exists() && walked.folders.iter().any(|folder| file.starts_with(folder))
    });
    let gone: Vec<Finding> = gone.map(|(number, entry)| told(&source, number, entry)).collect();
    if !gone.is_empty() {
        report.findings.extend(gone);
        report.sources.insert(id, source);
        report.sort();
    }
    Ok(())
}

fn load(path: &Path, id: FileId, working: &Path) -> Result<(Arc<Source>, List), Report> {
    let name = shown(path, working);
    let anew = format!("Write the list anew: `headlap review PATH --write-known {name}`.");
    let refused = |source: Arc<Source>, span: Span, why: String| {
        let finding =
            Finding::new("known-findings", "List of known findings that cannot be used", Level::Error, span, why)
                .fix(anew.clone());
        let sources = BTreeMap::from([(source.id, source)]);
        Report { findings: vec![finding], sources, files: 1 }
    };
    let text = read(path).map_err(|unreadable| {
        let span = Span::new(id, unreadable.at.start, unreadable.at.end);
        let why = format!("{name}: {}", unreadable.why);
        refused(Arc::new(Source::new(id, name.as_str(), unreadable.text)), span, why)
    })?;
    let source = Arc::new(Source::new(id, name, text));
    match serde_json::from_str(&source.text) {
        Ok(list) => Ok((source, list)),
        Err(error) => {
            let line = source.lines().range(&source.text, error.line().saturating_sub(1));
            let at = (line.start + error.column().saturating_sub(1)).clamp(line.start, line.end);
            let at = (line.start..=at).rev().find(|at| source.text.is_char_boundary(*at)).unwrap_or(line.start);
            let why = error.to_string();
            let why = why.rsplit_once(" at line ").map_or(why.as_str(), |(why, _)| why);
            let why = format!("this is no list of known findings: {why}");
            Err(refused(source.clone(), Span::new(id, at, at), why))
        }
    }
}

/// The note about the nth entry of the list, under its fingerprint.
fn told(source: &Source, number: usize, entry: &Entry) -> Finding {
    let marker = "\"fingerprint\"";
    let key = source.text.match_indices(marker).nth(number).map_or(0, |(at, _)| at + marker.len());
    let start = source.text[key..].find(&entry.fingerprint).map_or(key, |at| key + at);
    let span = Span::new(source.id, start, start + entry.fingerprint.len());
    let item = entry.item.as_ref().map_or(String::new(), |item| format!(" in {item}"));
    let message = format!("the known {}{item} of {} is gone: {}", entry.rule, entry.file, entry.message);
    Finding::new("known-finding-gone", "Known finding that is gone", Level::Note, span, message)
        .fix("Take it off the list, so that it cannot come back unseen; --write-known writes the list anew.")
}

/// The findings that nobody waived, by their number in the report.
fn open(report: &Report, list: &Path, working: &Path) -> Vec<(usize, Entry)> {
    let folder = list.parent().unwrap_or(working);
    let prints = report.fingerprints();
    let numbered = report.findings.iter().zip(prints).enumerate().filter(|(_, (finding, _))| finding.waived.is_none());
    numbered
        .map(|(number, (finding, print))| {
            let file = report.source(finding.span).map_or("", |source| source.name.as_str());
            let entry = Entry {
                file: relative(&plain(Path::new(file), working), folder),
                rule: finding.rule.to_string(),
                item: finding.item.as_deref().map(str::to_owned),
                // Numbers of equal findings change when files are renamed; the file tells these apart.
                fingerprint: print.split('.').next().unwrap_or(&print).to_owned(),
                message: finding.message.clone(),
            };
            (number, entry)
        })
        .collect()
}

/// A path as seen from a folder, with `/`.
fn relative(path: &Path, folder: &Path) -> String {
    let common = path.components().zip(folder.components()).take_while(|(a, b)| a == b).count();
    let up = folder.components().skip(common).map(|_| Component::ParentDir);
    let relative: PathBuf = up.chain(path.components().skip(common)).collect();
    shown(&relative, folder)
}

#[cfg(test)]
mod tests {
    use super::relative;
    use std::path::Path;

    #[test]
    fn files_are_named_from_the_list() {
        assert_eq!(relative(Path::new("/firm/walls/a.detail"), Path::new("/firm")), "walls/a.detail");
        assert_eq!(relative(Path::new("/firm/a.detail"), Path::new("/firm/ci")), "../a.detail");
    }
}
