//! The errors of a text, as findings.

use crate::finding::Finding;
use crate::text::{FileId, Span};

/// What can be wrong with a text: the promised ids.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Problem {
    Syntax,
    UnknownName,
    DuplicateName,
    WrongUnit,
    EmptyExtent,
    IncludeFailed,
    UnknownLayer,
    MissingProperty,
    TooLarge,
    Unreadable,
    LeftOut,
    UnknownRole,
    Internal,
}

impl Problem {
    pub const ALL: [Problem; 13] = [
        Problem::Syntax,
        Problem::UnknownName,
        Problem::DuplicateName,
        Problem::WrongUnit,
        Problem::EmptyExtent,
        Problem::IncludeFailed,
        Problem::UnknownLayer,
        Problem::MissingProperty,
        Problem::TooLarge,
        Problem::Unreadable,
        Problem::LeftOut,
        Problem::UnknownRole,
        Problem::Internal,
    ];

    pub fn id(self) -> &'static str {
        match self {
            Problem::Syntax => "syntax",
            Problem::UnknownName => "unknown-name",
            Problem::DuplicateName => "duplicate-name",
            Problem::WrongUnit => "wrong-unit",
            Problem::EmptyExtent => "empty-extent",
            Problem::IncludeFailed => "include-failed",
            Problem::UnknownLayer => "unknown-layer",
            Problem::MissingProperty => "missing-property",
            Problem::TooLarge => "too-large",
            Problem::Unreadable => "unreadable",
            Problem::LeftOut => "errors-left-out",
            Problem::UnknownRole => "unknown-role",
            Problem::Internal => "internal-error",
        }
    }

    pub fn at(self, span: Span, message: impl Into<String>) -> Finding {
        Finding::on_page(self.id(), span, message)
    }
}

/// The findings of one text, held to a number that somebody can read.
#[derive(Clone, Debug, Default)]
pub struct Problems {
    pub list: Vec<Finding>,
    left_out: usize,
    first_left_out: Option<Span>,
    counts: [usize; Problem::ALL.len()],
}

/// A file with more errors of one kind than this is broken as a whole, or no detail file at all.
pub const MOST_OF_A_KIND: usize = 50;

impl Problems {
    /// Keeps a finding, unless there are enough of its kind.
    pub fn add(&mut self, problem: Problem, finding: Finding) {
        let count = &mut self.counts[problem as usize];
        *count += 1;
        if *count > MOST_OF_A_KIND {
            self.left_out += 1;
            self.first_left_out.get_or_insert(finding.span);
        } else {
            self.list.push(finding);
        }
    }

    /// How many of a kind there are, with those that are left out.
    pub fn count(&self, problem: Problem) -> usize {
        self.counts[problem as usize]
    }

    /// Whether another of this kind would be left out, so that it need not be made.
    pub fn full(&self, problem: Problem) -> bool {
        self.counts[problem as usize] >= MOST_OF_A_KIND
    }

    pub fn finish(mut self, file: FileId) -> Vec<Finding> {
        if self.left_out > 0 {
            let span = self.first_left_out.unwrap_or(Span::new(file, 0, 0));
            let more = match self.left_out {
                1 => "1 more error from here on is not listed".to_owned(),
                more => format!("{more} more errors from here on are not listed"),
            };
            self.list.push(Problem::LeftOut.at(span, more).fix("Fix the first ones, then check again."));
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

/// So many names are written out; of more there is the number.
const WRITTEN: usize = 3;

/// `a`, `b`, `c` and 4 more.
pub fn several(names: &[impl AsRef<str>]) -> String {
    let told: Vec<String> = names.iter().take(WRITTEN).map(|name| format!("`{}`", short(name.as_ref()))).collect();
    match (&told[..], names.len().saturating_sub(WRITTEN)) {
        ([before @ .., last], 0) if !before.is_empty() => format!("{} and {last}", before.join(", ")),
        (_, 0) => told.concat(),
        (_, more) => format!("{} and {more} more", told.join(", ")),
    }
}
