//! Words that are allowed, or all but some, and what two such sets have in common.

use std::collections::BTreeSet;
use std::sync::Arc;

/// The allowed words: either these, or all but these.
#[derive(Clone)]
pub struct Allowed {
    pub words: BTreeSet<Arc<str>>,
    pub not: bool,
    /// The constants that some of them come from.
    pub constants: BTreeSet<Arc<str>>,
}

impl Allowed {
    pub fn allows(&self, word: &str) -> bool {
        self.words.contains(word) != self.not
    }

    pub fn both(&self, other: &Allowed) -> Allowed {
        let words = match (self.not, other.not) {
            (false, false) => &self.words & &other.words,
            (false, true) => &self.words - &other.words,
            (true, false) => &other.words - &self.words,
            (true, true) => &self.words | &other.words,
        };
        Allowed { words, not: self.not && other.not, constants: &self.constants | &other.constants }
    }

    fn opposite(self) -> Allowed {
        Allowed { not: !self.not, ..self }
    }

    pub fn either(&self, other: &Allowed) -> Allowed {
        self.clone().opposite().both(&other.clone().opposite()).opposite()
    }
}
