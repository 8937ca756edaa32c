//! Where an opinion comes from, and how well its source is known.

/// Where a rule's opinion comes from.
///
/// ```
/// use headlap::{Basis, Known};
///
/// let basis = Basis { source: "IRC 2015".into(), clause: Some("R703.4".into()), says: None, known: Known::Read };
/// assert_eq!(basis.known.word(), "read");
/// ```
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Basis {
    /// A code, a standard, a paper; or `-` for practice.
    pub source: String,
    /// Where in the source.
    pub clause: Option<String>,
    /// What it says there, in few words.
    pub says: Option<String>,
    /// How well it is known.
    pub known: Known,
}

/// How well a source is known: read in its text, remembered, or practice of the trade without a source.
///
/// ```
/// assert_eq!(headlap::Known::from_word("practice"), Some(headlap::Known::Practice));
/// ```
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Known {
    /// Its text was read.
    Read,
    /// It is remembered, and has yet to be read.
    Memory,
    /// The trade does so.
    Practice,
}

impl Known {
    /// The best known first.
    pub const ALL: [Known; 3] = [Known::Read, Known::Memory, Known::Practice];

    /// As it is written in rules and outputs.
    pub fn word(self) -> &'static str {
        match self {
            Known::Read => "read",
            Known::Memory => "memory",
            Known::Practice => "practice",
        }
    }

    /// From its word.
    pub fn from_word(word: &str) -> Option<Known> {
        Known::ALL.into_iter().find(|k| k.word() == word)
    }
}
