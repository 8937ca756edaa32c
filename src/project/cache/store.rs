//! The file that outcomes are kept in: a line of tables, a line for each outcome, and a print of it all.

use std::collections::HashMap;
use std::fs;
use std::hash::{BuildHasher, Hash, Hasher, RandomState};
use std::path::Path;
use std::sync::Arc;

use rayon::prelude::*;
use serde::{Deserialize, Serialize};
use siphasher::sip128::{Hasher128, SipHasher13};

use crate::project::cache::entry::Entry;
use crate::project::write;
use crate::review::Interface;
use crate::text::{FileId, Source};

/// What the first line says.
#[derive(Clone, Default, Serialize, Deserialize)]
pub struct Head {
    /// The print of the program and of all that is built into it.
    pub program: String,
    /// The print of the project's rules and settings.
    pub project: String,
    /// Secret, so that nobody can make up a text that has the print of another.
    pub key: (u64, u64),
    /// Included texts, by name and print. Entries give their numbers.
    pub includes: Vec<(String, String)>,
    /// What details join: a kind, and for each assembly its file and its name. Entries give their numbers.
    interfaces: Vec<(String, Vec<(String, String)>)>,
}

pub struct Store {
    pub head: Head,
    pub interfaces: Vec<Arc<Interface>>,
    /// In the order of their names.
    pub entries: Vec<Entry>,
}

impl Store {
    /// Of the right program and project, or an empty one.
    pub fn read(file: &Path, program: &str, project: &str) -> Store {
        let fitting = |head: &Head| head.program == program && head.project == project;
        Store::parse(file).filter(|store| fitting(&store.head)).unwrap_or_else(|| {
            let random = || RandomState::new().build_hasher().finish();
            let (program, project) = (program.to_owned(), project.to_owned());
            let head = Head { program, project, key: (random(), random()), ..Head::default() };
            Store { head, interfaces: Vec::new(), entries: Vec::new() }
        })
    }

    /// A file that was cut short, or that a dying disk gave back in part, holds nothing: its last line is the print of all
    /// before it.
    fn parse(file: &Path) -> Option<Store> {
        let text = fs::read_to_string(file).ok()?;
        let (body, last) = text.split_at(text.rfind('\n')? + 1);
        let mut lines = body.lines();
        let head: Head = serde_json::from_str(lines.next()?).ok()?;
        if last != print(head.key, &[body]) {
            return None;
        }
        let lines: Vec<&str> = lines.collect();
        let entries: Option<Vec<Entry>> = lines.par_iter().map(|line| serde_json::from_str(line).ok()).collect();
        let entries = entries.filter(|entries| entries.is_sorted_by(|a, b| a.name < b.name))?;
        let interface = |(kind, joined): &(String, Vec<(String, String)>)| {
            let joined = joined.iter().map(|(file, name)| (file.clone(), name.as_str().into())).collect();
            Arc::new(Interface { kind: kind.as_str().into(), joined })
        };
        let interfaces = head.interfaces.iter().map(interface).collect();
        Some(Store { head, interfaces, entries })
    }
}

impl Store {
    /// The number of the entry of a file.
    pub fn find(&self, name: &str) -> Option<usize> {
        self.entries.binary_search_by(|entry| entry.name.as_str().cmp(name)).ok()
    }
}

/// The tables of a file that is written anew, with nothing in them that no entry mentions.
pub struct Tables {
    pub head: Head,
    includes: HashMap<(String, String), u32>,
    texts: HashMap<FileId, u32>,
    interfaces: HashMap<Arc<Interface>, u32>,
}

impl Tables {
    pub fn new(head: &Head) -> Tables {
        let head = Head { includes: Vec::new(), interfaces: Vec::new(), ..head.clone() };
        Tables { head, includes: HashMap::new(), texts: HashMap::new(), interfaces: HashMap::new() }
    }

    pub fn include(&mut self, name: &str, print: &str) -> u32 {
        let list = &mut self.head.includes;
        *self.includes.entry((name.to_owned(), print.to_owned())).or_insert_with(|| {
            list.push((name.to_owned(), print.to_owned()));
            list.len() as u32 - 1
        })
    }

    /// The same of a text of this run, whose print is worked out once.
    pub fn text(&mut self, text: &Source, print: impl Fn(&Source) -> String) -> u32 {
        match self.texts.get(&text.id) {
            Some(known) => *known,
            None => {
                let number = self.include(&text.name, &print(text));
                self.texts.insert(text.id, number);
                number
            }
        }
    }

    pub fn interface(&mut self, interface: &Arc<Interface>) -> u32 {
        let list = &mut self.head.interfaces;
        *self.interfaces.entry(interface.clone()).or_insert_with(|| {
            let joined = interface.joined.iter().map(|(file, name)| (file.clone(), name.to_string())).collect();
            list.push((interface.kind.to_string(), joined));
            list.len() as u32 - 1
        })
    }

    /// Writes the file as a whole, so that of two runs at once one wins.
    ///
    /// # Errors
    /// In words, when it cannot be written.
    pub fn write(&self, file: &Path, entries: &[Entry]) -> Result<(), String> {
        let line = |of: serde_json::Result<String>| of.map(|line| line + "\n").map_err(|error| error.to_string());
        let mut text = line(serde_json::to_string(&self.head))?;
        for entry in entries {
            text.push_str(&line(serde_json::to_string(entry))?);
        }
        let end = print(self.head.key, &[&text]);
        text.push_str(&end);
        write::folder(file.parent().unwrap_or(Path::new(".")))?;
        write::write_quickly(file, |out| out.write_all(text.as_bytes()))
    }
}

/// 128 bits that no two texts share but by an accident that will not happen, in hexadecimal.
pub fn print(key: (u64, u64), texts: &[&str]) -> String {
    let mut hasher = SipHasher13::new_with_keys(key.0, key.1);
    for text in texts {
        text.hash(&mut hasher);
    }
    let hash = hasher.finish128();
    format!("{:016x}{:016x}", hash.h1, hash.h2)
}
