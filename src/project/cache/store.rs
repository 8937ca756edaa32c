//! The file that outcomes are kept in: a line of what they hold for, a line for each of them, a line of tables, and a
//! print of it all. It stays a text in memory, and an outcome is made of its line when it is asked for: most never are.

use std::hash::{BuildHasher, Hasher, RandomState};
use std::path::Path;
use std::sync::Arc;

use serde::{Deserialize, Serialize};

use crate::project::cache::entry::{CacheEntry, beginning};
use crate::project::cache::print::{Key, is_whole};
use crate::project::cache::tables::Listed;
use crate::project::read::read_within;
use crate::review::Interface;

/// Bytes of the largest file of results that is read. Those of 100,000 files with findings are some 100 MB.
const LARGEST: u64 = 1024 * 1024 * 1024;

/// What the first line says.
#[derive(Serialize, Deserialize)]
pub struct CacheHeader {
    /// The print of the program and of all that is built into it.
    program: String,
    /// The print of the project's rules and settings.
    project: String,
    /// Secret, so that no one can construct a text that has the print of another.
    pub key: Key,
}

pub struct Store {
    pub head: CacheHeader,
    /// By name and print.
    pub includes: Vec<(String, String)>,
    pub interfaces: Vec<Arc<Interface>>,
    text: String,
    /// Where the lines of outcomes begin, and behind them where the last one ends.
    starts: Vec<usize>,
}

impl Store {
    /// Of the right program and project, or an empty one.
    pub fn read(file: &Path, program: &str, project: &str) -> Store {
        let fitting = |head: &CacheHeader| head.program == program && head.project == project;
        Store::parse(file).filter(|store| fitting(&store.head)).unwrap_or_else(|| {
            let random = || RandomState::new().build_hasher().finish();
            let (program, project) = (program.to_owned(), project.to_owned());
            let head = CacheHeader { program, project, key: (random(), random()) };
            Store { head, includes: Vec::new(), interfaces: Vec::new(), text: String::new(), starts: vec![0] }
        })
    }

    /// A file that was cut short, or that a dying disk gave back in part, holds nothing.
    fn parse(file: &Path) -> Option<Store> {
        let text = read_within(file, LARGEST).ok()?;
        let (lines, last) = text.split_at(text.rfind('\n')? + 1);
        let mut starts: Vec<usize> = lines.match_indices('\n').map(|(at, _)| at + 1).collect();
        let head: CacheHeader = serde_json::from_str(&text[..*starts.first()?]).ok()?;
        if !is_whole(head.key, lines, last) {
            return None;
        }
        let end = starts.pop()?;
        let tables: Listed = serde_json::from_str(&text[*starts.last()?..end]).ok()?;
        Some(Store { head, interfaces: tables.interfaces, includes: tables.includes, text, starts })
    }

    /// How many outcomes there are. Each has a number.
    pub fn count(&self) -> usize {
        self.starts.len() - 1
    }

    pub fn line(&self, number: usize) -> &str {
        &self.text[self.starts[number]..self.starts[number + 1] - 1]
    }

    /// Nothing, when the line makes no sense.
    pub fn entry(&self, number: usize) -> Option<CacheEntry> {
        serde_json::from_str(self.line(number)).ok()
    }

    /// The outcome of a file. Lines are in the order of their letters, and begin with the name.
    pub fn find(&self, name: &str) -> Option<(usize, CacheEntry)> {
        if self.count() == 0 {
            return None;
        }
        let wanted = beginning(name);
        let starts = &self.starts[..self.count()];
        let number = starts.partition_point(|start| self.text[*start..] < *wanted);
        let found = self.text[*starts.get(number)?..].starts_with(&wanted);
        found.then(|| Some((number, self.entry(number)?))).flatten()
    }
}
