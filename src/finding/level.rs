//! How grave a finding is.

/// How grave a finding is (the words of SARIF). Ordered: a note is the least.
///
/// ```
/// use headlap::Level;
///
/// assert!(Level::Error > Level::Warning);
/// assert_eq!(Level::from_word("note"), Some(Level::Note));
/// ```
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Level {
    /// What cannot be judged, or is worth a look.
    Note,
    /// What practice advises against.
    Warning,
    /// What a code forbids, or what lets water in.
    Error,
}

impl Level {
    /// The least first.
    pub const ALL: [Level; 3] = [Level::Note, Level::Warning, Level::Error];

    /// As it is written in rules and outputs.
    pub fn word(self) -> &'static str {
        match self {
            Level::Note => "note",
            Level::Warning => "warning",
            Level::Error => "error",
        }
    }

    /// From its word.
    pub fn from_word(word: &str) -> Option<Level> {
        Level::ALL.into_iter().find(|l| l.word() == word)
    }
}
