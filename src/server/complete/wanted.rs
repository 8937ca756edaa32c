//! The names that may come next in a statement, by its words so far.

use crate::model::MaterialKind;
use crate::syntax::Keyword;

/// What a name may be the name of.
#[derive(Clone, Copy)]
pub(super) enum WantedName {
    /// Of these kinds; of any without one.
    Material(&'static [MaterialKind]),
    Assembly,
    Climate,
    Piece,
    Role,
    Rule,
    Kind,
    Control,
    MaterialKind,
    AssemblyKind,
    Fold,
    Surface,
    Substance,
    Adhesive,
    /// One that the author makes up.
    New,
}

/// The names that may stand behind these words of a statement; `None` where a clause may begin.
pub(super) fn wanted(keyword: Keyword, words: &[&str]) -> Option<Vec<WantedName>> {
    use Keyword::*;
    const ANY: WantedName = WantedName::Material(&[]);
    let last = words.last()?.trim_end_matches(',');
    let comma = words.last()?.ends_with(',');
    // A list goes on behind a comma.
    let word = if comma { words.iter().rev().find(|word| LISTS.contains(word))? } else { &last };
    let name = match (keyword, *word, words.len()) {
        (Material | Assembly | Detail | Climate | Piece, _, 1) if keyword != Climate => WantedName::New,
        (Climate, "climate", 1) => WantedName::New,
        (ClimateUse, _, 1) => WantedName::Climate,
        (Material, _, 2) => WantedName::MaterialKind,
        (Assembly, _, 2) => WantedName::AssemblyKind,
        (Detail, _, 2) | (Needs, _, 1) => WantedName::Kind,
        (Detail, "joins" | "to", _) | (Needs, "between" | "and" | "of", _) | (Piece, "of", _) => WantedName::Assembly,
        (Piece, _, 2) | (Layer, _, 1) => ANY,
        (Piece, "as", _) => WantedName::Role,
        (Piece, "bonds" | "over" | "behind", _) | (Cut | Fasten | Seal, _, 1) | (Seal, "to", _) => WantedName::Piece,
        (Seal, "with", _) => WantedName::Material(&[MaterialKind::Sealant, MaterialKind::Tape]),
        (Fasten, "with", _) => WantedName::Material(&[MaterialKind::Fastener]),
        (Seal, "on", _) => ANY,
        (Layer, "between", _) => WantedName::Material(&[MaterialKind::Frame]),
        (Layer, "as", _) => WantedName::New,
        (Layer, "controls", _) | (Holds, ..) => WantedName::Control,
        (Waive, _, 1) => WantedName::Rule,
        (Waive, "on", _) => WantedName::Piece,
        (Surface, _, 1) => WantedName::Surface,
        (MadeOf, _, 1) => WantedName::Substance,
        (Keyword::Adhesive, _, 1) => WantedName::Adhesive,
        (Fold, _, count) if count >= 4 => WantedName::Fold,
        _ => return None,
    };
    Some(vec![name])
}

/// Words that a list of names follows.
const LISTS: [&str; 7] = ["bonds", "over", "behind", "controls", "holds", "joins", "to"];
