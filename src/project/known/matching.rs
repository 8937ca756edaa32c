//! Which finding of a run is which entry of a list: by rule, item and names, whatever its numbers and its wording.

use std::path::PathBuf;

use foldhash::{HashMap, HashMapExt, HashSet};

use crate::project::known::list::{KnownEntry, List};
use crate::project::known::{KnownFindings, OpenFinding};
use crate::project::read;

/// Pairs of numbers, of a finding and of an entry, and the entries whose findings the run should have met.
pub struct Matched {
    pub pairs: Vec<(usize, usize)>,
    pub idle: Vec<usize>,
}

/// What has to be the same, from the strictest to the loosest. A finding takes the first entry that is left.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Stage {
    Worded,
    InPlace,
    /// The file was renamed, or the detail was moved to another file.
    Moved,
    /// The detail has another name in the same file.
    Renamed,
}

impl KnownFindings<'_> {
    pub(super) fn matched(&self, list: &List, found: &[OpenFinding]) -> Matched {
        let mut entry_of: Vec<Option<usize>> = vec![None; found.len()];
        let mut taken: Vec<bool> = list.entries.iter().map(|entry| crate::finding::unread(&entry.rule)).collect();
        let mut homes = Homes { known: self, defined: HashMap::new() };
        for stage in [Stage::Worded, Stage::InPlace, Stage::Moved, Stage::Renamed] {
            let mut waiting: HashMap<String, Vec<usize>> = HashMap::new();
            for (number, entry) in list.entries.iter().enumerate().rev().filter(|(number, _)| !taken[*number]) {
                // A finding beside one that is still there is a copy of it, and new.
                let free = matches!(stage, Stage::Worded | Stage::InPlace) || homes.is_gone(entry);
                if let Some(key) = stage.key_of(entry).filter(|_| free) {
                    waiting.entry(key).or_default().push(number);
                }
            }
            for (open, entry_of) in found.iter().zip(&mut entry_of).filter(|(_, entry)| entry.is_none()) {
                *entry_of = stage.keys_of(open).find_map(|key| waiting.get_mut(&key)?.pop());
                if let Some(entry) = *entry_of {
                    taken[entry] = true;
                }
            }
        }
        let pairs = entry_of.iter().enumerate().filter_map(|(finding, entry)| Some((finding, (*entry)?))).collect();
        let unread = |entry: &KnownEntry| crate::finding::unread(&entry.rule);
        let idle = list
            .entries
            .iter()
            .enumerate()
            .filter(|(number, entry)| (!taken[*number] || unread(entry)) && self.covers(entry));
        Matched { pairs, idle: idle.map(|(number, _)| number).collect() }
    }
}

impl Stage {
    fn key_of(self, entry: &KnownEntry) -> Option<String> {
        match &entry.fingerprint {
            Some(print) => self.key(entry, "", print),
            None => self.key(entry, &entry.about.join("\0"), ""),
        }
    }

    /// As an entry of this format, and of the one before, would have it.
    fn keys_of(self, open: &OpenFinding) -> impl Iterator<Item = String> {
        let new = self.key(&open.entry, &open.entry.about.join("\0"), "");
        new.into_iter().chain(self.key(&open.entry, "", &open.print))
    }

    fn key(self, entry: &KnownEntry, about: &str, print: &str) -> Option<String> {
        let KnownEntry { file, rule, item, message, .. } = entry;
        let item = item.as_deref().unwrap_or("");
        let parts: [&str; 6] = match self {
            Stage::Worded => [file, rule, item, about, print, message],
            Stage::InPlace => [file, rule, item, about, print, ""],
            Stage::Moved => ["", rule, item, about, print, ""],
            // The old prints hold the name of the item.
            Stage::Renamed if print.is_empty() => [file, rule, "", about, "", ""],
            Stage::Renamed => return None,
        };
        Some(parts.join("\u{1}"))
    }
}

/// Whether the files of a list still define what its entries are about.
struct Homes<'k> {
    known: &'k KnownFindings<'k>,
    /// The names that each file defines, each file read once; nothing for one that cannot be read.
    defined: HashMap<PathBuf, Option<HashSet<String>>>,
}

impl Homes<'_> {
    /// The file is no more, or the run looked at it and it does not define the item any more.
    fn is_gone(&mut self, entry: &KnownEntry) -> bool {
        let place = self.known.file(entry);
        if !place.exists() {
            return true;
        }
        let (true, Some(item)) = (self.known.covers(entry), &entry.item) else { return false };
        let defined = self.defined.entry(place).or_insert_with_key(|place| read(place).ok().map(|text| defined(&text)));
        defined.as_ref().is_some_and(|names| !names.contains(item))
    }
}

/// The words of each line that begins an item: its name is one of them.
fn defined(text: &str) -> HashSet<String> {
    let lines = text.split(['\n', ';', '}']).map(str::split_whitespace);
    let heads = lines.filter_map(|mut words| {
        let keyword = words.next()?;
        matches!(keyword, "detail" | "assembly" | "material" | "climate" | "set").then_some(words)
    });
    heads.flatten().map(|word| word.trim_matches(['"', '{']).to_owned()).collect()
}
