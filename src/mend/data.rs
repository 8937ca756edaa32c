//! What the rules say may cure their findings: the tables `cures` and `cure-sizes`.

use crate::mend::{Case, Cure, add, extend, join, order, swap, take};
use crate::quantity::Quantity;
use crate::rules::{Literal, Pack};

/// A kind of edit, by the word that tables use for it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Verb {
    /// Install one of the pieces before the other.
    Move,
    Behind,
    Over,
    /// Carry an edge on until a length is what it has to be.
    Extend,
    /// Draw an edge back until a length is what it has to be.
    Shorten,
    Rolled,
    Primed,
    Drip,
    Bond,
    /// No longer claim to stick to what is out of reach.
    Unbond,
    Bead,
    /// Let a bead run along the whole contact.
    WholeBead,
    Tape,
    Weeps,
    EndDams,
    Spacing,
    /// Use another material of the same kind.
    Swap,
    /// Leave out a bead or a waiver that does nothing but harm.
    LeaveOut,
}

pub const VERBS: [(&str, Verb); 18] = [
    ("move", Verb::Move),
    ("behind", Verb::Behind),
    ("over", Verb::Over),
    ("extend", Verb::Extend),
    ("shorten", Verb::Shorten),
    ("rolled", Verb::Rolled),
    ("primed", Verb::Primed),
    ("drip", Verb::Drip),
    ("bond", Verb::Bond),
    ("unbond", Verb::Unbond),
    ("bead", Verb::Bead),
    ("whole-bead", Verb::WholeBead),
    ("tape", Verb::Tape),
    ("weeps", Verb::Weeps),
    ("end-dams", Verb::EndDams),
    ("spacing", Verb::Spacing),
    ("swap", Verb::Swap),
    ("leave-out", Verb::LeaveOut),
];

const CURES: &str = "cures";
const SIZES: &str = "cure-sizes";

impl Verb {
    pub fn drafts(self, case: &Case<'_>) -> Vec<Cure> {
        match self {
            Verb::Move => order::moves(case),
            Verb::Behind => order::beside(case, "behind"),
            Verb::Over => order::beside(case, "over"),
            Verb::Extend => extend::edges(case, 1.0),
            Verb::Shorten => extend::edges(case, -1.0),
            Verb::Spacing => extend::spacing(case),
            Verb::Rolled => add::flag(case, "rolled", |piece| piece.rolled),
            Verb::Primed => add::flag(case, "primed", |piece| piece.primed),
            Verb::Drip => add::flag(case, "with drip", |piece| piece.drip),
            Verb::Weeps => add::weeps(case),
            Verb::EndDams => add::end_dams(case),
            Verb::Bond => join::bonds(case),
            Verb::Unbond => take::bonds(case),
            Verb::WholeBead => take::places(case),
            Verb::Swap => swap::materials(case),
            Verb::LeaveOut => take::statements(case),
            Verb::Bead => join::beads(case),
            Verb::Tape => join::tapes(case),
        }
    }
}

/// The edits that may cure what a rule finds, in the order of the table.
pub fn verbs(pack: &Pack, rule: &str) -> Vec<Verb> {
    let table = pack.tables.iter().find(|table| &*table.name == CURES);
    let rows = table.iter().flat_map(|table| &table.rows);
    let own = rows.filter(|row| matches!(row.keys.first(), Some(Some(Literal::Word(word))) if **word == *rule));
    let words = own.filter_map(|row| match &row.value {
        Literal::Word(word) => Some(word.to_string()),
        _ => None,
    });
    words.filter_map(|word| VERBS.iter().find(|(known, _)| *known == word).map(|(_, verb)| *verb)).collect()
}

/// How large something that an edit adds is drawn, in the system of units of the detail.
pub fn size(case: &Case<'_>, of: &str) -> Option<Quantity> {
    let table = case.pack.tables.iter().find(|table| &*table.name == SIZES)?;
    let is = |key: &Option<Literal>, word: &str| matches!(key, Some(Literal::Word(name)) if &**name == word);
    let row = table
        .rows
        .iter()
        .find(|row| matches!(&row.keys[..], [what, system] if is(what, of) && is(system, case.system().word())));
    match &row?.value {
        Literal::Quantity(size) => Some(*size),
        _ => None,
    }
}
