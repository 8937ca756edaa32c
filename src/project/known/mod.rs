//! Findings that a firm accepted when it adopted the tool: a list that lets them pass, so that only new ones fail.

mod list;
mod matching;

use std::path::{Component, Path, PathBuf};

use crate::finding::Finding;
use crate::project::shown::{plain, shown};
use crate::project::{Message, Refusal, Walked};
use crate::report::{Report, fingerprint};

pub use list::KnownEntry;
use list::{List, load};
use matching::Matched;

/// A run with the list that it is held against.
pub struct KnownFindings<'a> {
    pub path: &'a Path,
    pub walked: &'a Walked,
    pub working: &'a Path,
}

impl KnownFindings<'_> {
    /// Writes the open findings of a report as the list. Text that could not be read is left out. Gives the count.
    ///
    /// # Errors
    /// In words: a list that holds findings of files outside of this run, or that cannot be written.
    pub fn write(&self, report: &Report) -> Result<usize, String> {
        let path = self.place();
        if path.is_file()
            && let Ok(list) = load(&path, self.working)
        {
            let outside = list.entries.iter().find(|entry| !self.covers(entry) && self.file(entry).exists());
            if let Some(entry) = outside {
                let list = &shown(&path, self.working);
                return Err(Refusal::ListOfOthers { list, file: &entry.file }.words());
            }
        }
        let entries: Vec<KnownEntry> = self.open(report).into_iter().map(|open| open.entry).collect();
        list::write(&path, &entries)
    }

    /// Marks the findings of a report that are on the list. An entry whose finding is gone becomes a note of its own, so
    /// that the list shrinks, but only where the run looked or where the file no longer exists.
    ///
    /// # Errors
    /// A report of what is wrong with the list.
    pub fn mark(&self, report: &mut Report) -> Result<(), Report> {
        let list = load(&self.place(), self.working)?;
        let found = self.open(report);
        let matched = self.matched(&list, &found);
        for (finding, _) in &matched.pairs {
            report.findings[found[*finding].number].listed = true;
        }
        let gone_entry: Vec<Finding> = matched.idle.iter().map(|entry| gone_entry(&list.entries[*entry])).collect();
        if !gone_entry.is_empty() {
            report.findings.extend(gone_entry);
            report.sources.insert(list.source.id, list.source);
            report.sort();
        }
        Ok(())
    }

    /// Adds the findings that are not on the list yet and that `wanted` picks, with a reason. Gives how many.
    ///
    /// # Errors
    /// A report of what is wrong with the list; in words, when it cannot be written.
    pub fn add(
        &self,
        report: &Report,
        wanted: impl Fn(&Finding) -> bool,
        because: Option<&str>,
        by: Option<&str>,
    ) -> Result<Result<usize, String>, Report> {
        let path = self.place();
        let list = if path.is_file() { Some(load(&path, self.working)?) } else { None };
        let found = self.open(report);
        let known: Vec<usize> = list.as_ref().map_or(Vec::new(), |list| {
            self.matched(list, &found).pairs.into_iter().map(|(finding, _)| finding).collect()
        });
        let mut known_already = vec![false; found.len()];
        known.into_iter().for_each(|finding| known_already[finding] = true);
        let new =
            found.iter().zip(known_already).filter(|(open, known)| !known && wanted(&report.findings[open.number]));
        let new = new.map(|(open, _)| KnownEntry {
            because: because.map(str::to_owned),
            by: by.map(str::to_owned),
            ..open.entry.clone()
        });
        let mut entries: Vec<KnownEntry> = list.map_or(Vec::new(), |list| list.entries);
        let before = entries.len();
        entries.extend(new);
        Ok(list::write(&path, &entries).map(|count| count - before))
    }

    /// Takes the entries off the list whose findings are gone, and writes the others as they are found now. Gives those
    /// that were taken off.
    ///
    /// # Errors
    /// As `add`.
    pub fn prune(&self, report: &Report) -> Result<Result<Vec<KnownEntry>, String>, Report> {
        let path = self.place();
        let List { mut entries, source } = load(&path, self.working)?;
        let found = self.open(report);
        let Matched { pairs, idle } = self.matched(&List { source, entries: entries.clone() }, &found);
        for (finding, entry) in pairs {
            let KnownEntry { because, by, .. } = entries[entry].clone();
            entries[entry] = KnownEntry { because, by, ..found[finding].entry.clone() };
        }
        let mut is_idle = vec![false; entries.len()];
        idle.into_iter().for_each(|entry| is_idle[entry] = true);
        let (gone, kept): (Vec<_>, Vec<_>) = entries.into_iter().enumerate().partition(|(at, _)| is_idle[*at]);
        let kept: Vec<KnownEntry> = kept.into_iter().map(|(_, entry)| entry).collect();
        Ok(list::write(&path, &kept).map(|_| gone.into_iter().map(|(_, entry)| entry).collect()))
    }

    /// The entries of the list.
    ///
    /// # Errors
    /// A report of what is wrong with it.
    pub fn entries(&self) -> Result<Vec<KnownEntry>, Report> {
        Ok(load(&self.place(), self.working)?.entries)
    }

    fn place(&self) -> PathBuf {
        plain(self.path, self.working)
    }

    fn folder(&self) -> PathBuf {
        self.place().parent().unwrap_or(self.working).to_path_buf()
    }

    fn file(&self, entry: &KnownEntry) -> PathBuf {
        plain(Path::new(&entry.file), &self.folder())
    }

    /// The run checked the file of an entry, or that file no longer exists where the run looked.
    fn covers(&self, entry: &KnownEntry) -> bool {
        let file = self.file(entry);
        self.walked.has(&shown(&file, self.working))
            || !file.exists() && self.walked.folders.iter().any(|folder| file.starts_with(folder))
    }

    /// The findings that a list can hold: not those that a waiver covers, nor text that could not be read.
    fn open(&self, report: &Report) -> Vec<OpenFinding> {
        let folder = self.folder();
        let open = report.findings.iter().enumerate().filter(|(_, f)| f.waived.is_none() && !f.unread());
        open.map(|(number, finding)| {
            let file = report.source(finding.span).map_or("", |source| source.name.as_str());
            let entry = KnownEntry {
                file: relative(&plain(Path::new(file), self.working), &folder),
                rule: finding.rule.to_string(),
                item: finding.item.as_deref().map(str::to_owned),
                about: finding.subject.iter().map(|name| name.to_string()).collect(),
                message: finding.message.clone(),
                because: None,
                by: None,
                fingerprint: None,
                at: finding.span,
            };
            OpenFinding { number, entry, print: format!("{:016x}", fingerprint(finding)) }
        })
        .collect()
    }
}

/// A finding that a list can hold.
struct OpenFinding {
    /// In the report.
    number: usize,
    entry: KnownEntry,
    /// By which lists of the former format know it.
    print: String,
}

fn gone_entry(entry: &KnownEntry) -> Finding {
    let message = match crate::finding::unread(&entry.rule) {
        true => Message::RefusedEntry { entry },
        false => Message::EntryGone { entry },
    };
    message.at(entry.at)
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
