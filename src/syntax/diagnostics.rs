//! The errors of a text, limited to a number that people can read.

use crate::finding::{Finding, Id};
use crate::syntax::message::Message;
use crate::text::{FileId, Span};

/// The findings of one text, limited to a number that people can read.
#[derive(Clone, Debug, Default)]
pub struct Diagnostics {
    pub list: Vec<Finding>,
    left_out: usize,
    first_left_out: Option<Span>,
    counts: [usize; Id::ALL.len()],
}

/// A file with more errors of one kind than this is broken as a whole, or is not a detail file.
pub const MOST_OF_A_KIND: usize = 50;

impl Diagnostics {
    /// Keeps a finding of a text, unless there are enough of its kind.
    pub fn add(&mut self, finding: Finding) {
        let Some(id) = Id::from_word(&finding.rule) else { return self.list.push(finding) };
        if self.full(id) {
            self.leave_out(id, finding.span);
        } else {
            self.counts[id as usize] += 1;
            self.list.push(finding);
        }
    }

    /// Counts a finding that is not listed, since there are enough of its kind, without making it.
    pub fn leave_out(&mut self, id: Id, span: Span) {
        self.counts[id as usize] += 1;
        self.left_out += 1;
        self.first_left_out.get_or_insert(span);
    }

    /// How many of a kind there are, including those left out.
    pub fn count(&self, id: Id) -> usize {
        self.counts[id as usize]
    }

    /// Whether another of this kind would be left out.
    pub fn full(&self, id: Id) -> bool {
        self.counts[id as usize] >= MOST_OF_A_KIND
    }

    pub fn finish(mut self, file: FileId) -> Vec<Finding> {
        if self.left_out > 0 {
            let span = self.first_left_out.unwrap_or(Span::new(file, 0, 0));
            self.list.push(Message::More { count: self.left_out }.at(span));
        }
        self.list
    }
}

/// Words cut to what a message can hold.
pub fn short(words: &str) -> String {
    match words.char_indices().nth(40) {
        Some((cut, _)) => format!("{}…", &words[..cut]),
        None => words.to_owned(),
    }
}

/// The most names that are listed; the rest are counted.
const WRITTEN: usize = 3;

/// `a`, `b`, `c` and 4 more.
pub fn several(names: &[impl AsRef<str>]) -> String {
    let shown: Vec<String> = names.iter().take(WRITTEN).map(|name| format!("`{}`", short(name.as_ref()))).collect();
    match (&shown[..], names.len().saturating_sub(WRITTEN)) {
        ([before @ .., last], 0) if !before.is_empty() => format!("{} and {last}", before.join(", ")),
        (_, 0) => shown.concat(),
        (_, more) => format!("{} and {more} more", shown.join(", ")),
    }
}
