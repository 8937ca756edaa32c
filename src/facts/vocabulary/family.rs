//! The lists that the words of rules come from.

use crate::model::{AssemblyKind, Control, FoldKind, MaterialKind, Words};

/// A list of words. A word that its list cannot hold is refused when a rule is loaded.
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
        Some(match self {
            Family::Control => Control::ALL.iter().map(|c| c.word()).collect(),
            Family::MaterialKind => MaterialKind::ALL.iter().map(|k| k.word()).collect(),
            Family::AssemblyKind => AssemblyKind::ALL.iter().map(|k| k.word()).collect(),
            Family::FoldKind => FoldKind::ALL.iter().map(|k| k.word()).collect(),
            Family::DetailKind => words.kinds.keys().map(|k| &**k).collect(),
            Family::Surface => words.surfaces.iter().map(|w| &**w).collect(),
            Family::Substance => words.substances.iter().map(|w| &**w).collect(),
            Family::Adhesive => words.adhesives.iter().map(|w| &**w).collect(),
            Family::Event => EVENTS.to_vec(),
            Family::End => ENDS.to_vec(),
            Family::Run => RUNS.to_vec(),
            Family::Side => SIDES.to_vec(),
            Family::VaporClass => VAPOR_CLASSES.to_vec(),
            Family::Open => return None,
        })
    }
}
