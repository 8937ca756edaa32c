//! The lists that the words of rules come from.

use crate::model::{AssemblyKind, Control, FoldKind, MaterialKind, Words};

/// A list of words. A word that is not in its list is refused when a rule is loaded.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Family {
    Control,
    MaterialKind,
    AssemblyKind,
    DetailKind,
    FoldKind,
    Surface,
    Substance,
    Adhesive,
    /// What happens to a drop.
    Event,
    /// How a drop ends.
    End,
    /// `head` or `side`.
    Run,
    /// `top bottom left right`.
    Side,
    /// `I II III open`.
    VaporClass,
    /// Names that authors choose: roles, zones.
    Open,
}

pub const EVENTS: &[&str] =
    &["reverse", "joint", "relies", "bare", "wets", "enters", "gap", "pools", "behind", "drains", "held"];
pub const ENDS: &[&str] = &["drains", "held", "behind", "wets", "enters", "pools", "gap"];
pub const RUNS: &[&str] = &["head", "side"];
pub const SIDES: &[&str] = &["top", "bottom", "left", "right"];
pub const VAPOR_CLASSES: &[&str] = &["I", "II", "III", "open"];

impl Family {
    /// Every word of the list, or `None` when authors may choose their own.
    pub fn words(self, words: &Words) -> Option<Vec<&str>> {
        let mut all = Vec::new();
        let mut take = |word| {
            all.push(word);
            false
        };
        self.any(words, &mut take).map(|_| all)
    }

    /// Whether it is in the list. Rules are full of such words, and a start of the program reads many rules.
    pub fn has(self, wanted: &str, words: &Words) -> bool {
        self.any(words, &mut |word| word == wanted).unwrap_or(true)
    }

    /// Goes through the list until a word passes the test.
    fn any<'w>(self, words: &'w Words, is: &mut dyn FnMut(&'w str) -> bool) -> Option<bool> {
        Some(match self {
            Family::Control => Control::ALL.iter().any(|control| is(control.word())),
            Family::MaterialKind => MaterialKind::ALL.iter().any(|kind| is(kind.word())),
            Family::AssemblyKind => AssemblyKind::ALL.iter().any(|kind| is(kind.word())),
            Family::FoldKind => FoldKind::ALL.iter().any(|kind| is(kind.word())),
            Family::DetailKind => words.kinds.keys().any(|kind| is(kind)),
            Family::Surface => words.surfaces.iter().any(|word| is(word)),
            Family::Substance => words.substances.iter().any(|word| is(word)),
            Family::Adhesive => words.adhesives.iter().any(|word| is(word)),
            Family::Event => EVENTS.iter().any(|word| is(word)),
            Family::End => ENDS.iter().any(|word| is(word)),
            Family::Run => RUNS.iter().any(|word| is(word)),
            Family::Side => SIDES.iter().any(|word| is(word)),
            Family::VaporClass => VAPOR_CLASSES.iter().any(|word| is(word)),
            Family::Open => return None,
        })
    }
}
