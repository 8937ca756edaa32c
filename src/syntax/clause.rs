//! The table of clauses: the word of each, its rule in the grammar, how it is written, what it makes, and its place in the
//! usual layout. The grammar remains the definition of what can be written; tests compare the two.

use serde::{Deserialize, Serialize};

use crate::quantity::Quantity;
use crate::syntax::document::{Clause, Extent};
use crate::syntax::grammar::Rule;
use crate::syntax::measure::{self, Want};
use crate::text::Span;

/// A kind of clause. A statement has at most one of each, except for those that may repeat.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub enum ClauseKind {
    Title,
    Joins,
    Of,
    Role,
    Up,
    Along,
    UpAt,
    AlongAt,
    Bonds,
    Over,
    Behind,
    Drip,
    Slope,
    Rolled,
    Primed,
    Inside,
    With,
    Every,
    On,
    Width,
    Depth,
    Paved,
    Per,
    Because,
    By,
    Until,
    Thickness,
    Controls,
    Between,
    At,
    Outdoor,
    Indoor,
    Days,
    Vapor,
    Saturation,
    Meets,
}

/// One kind of clause: everything that the readers, the messages and the layout know about it.
pub struct ClauseForm {
    pub kind: ClauseKind,
    /// The word that it begins with; the two that begin with a number or a quote have none.
    pub word: &'static str,
    /// How it is written.
    pub shape: &'static str,
    pub rule: Rule,
    pub takes: Takes,
    /// Its place among the clauses of a statement in the usual layout.
    pub rank: usize,
}

/// What follows the word of a clause, and the clause that it makes.
#[derive(Clone, Copy)]
pub enum Takes {
    Nothing(fn() -> Clause),
    Word(&'static str, fn() -> Clause),
    Name(fn(Span) -> Clause),
    StatementNames(fn(Vec<Span>) -> Clause),
    Text(fn(Span) -> Clause),
    Amount(&'static Want, fn(Quantity) -> Clause),
    /// A temperature and a relative humidity.
    Air(fn(Quantity, Quantity) -> Clause),
    /// From where to where.
    Extent(fn(Extent) -> Clause),
    /// A form of its own, which each reader has code for.
    Own,
}

/// Every kind of clause, in the order of `ClauseKind`.
pub static CLAUSES: &[ClauseForm] = &[
    clause(ClauseKind::Title, "", "\"title\"", Rule::title, Takes::Text(Clause::Title), 0),
    clause(ClauseKind::Joins, "joins", "joins A to B", Rule::joins, Takes::Own, 1),
    clause(ClauseKind::Of, "of", "of ASSEMBLY", Rule::of, Takes::Name(Clause::Of), 2),
    clause(ClauseKind::Role, "as", "as NAME", Rule::role, Takes::Name(Clause::Role), 8),
    clause(ClauseKind::Up, "up", "up 0 mm to 150 mm", Rule::up, Takes::Extent(Clause::Up), 9),
    clause(ClauseKind::Along, "along", "along 0 mm to 150 mm", Rule::along, Takes::Extent(Clause::Along), 10),
    clause(ClauseKind::UpAt, "up", "up 20 mm", Rule::up_at, Takes::Amount(&measure::HEIGHT, Clause::UpAt), 9),
    clause(
        ClauseKind::AlongAt,
        "along",
        "along 20 mm",
        Rule::along_at,
        Takes::Amount(&measure::HEIGHT, Clause::AlongAt),
        10,
    ),
    clause(ClauseKind::Bonds, "bonds", "bonds PIECE, PIECE", Rule::bonds, Takes::Own, 12),
    clause(ClauseKind::Over, "over", "over PIECE", Rule::over, Takes::StatementNames(Clause::Over), 13),
    clause(ClauseKind::Behind, "behind", "behind PIECE", Rule::behind, Takes::StatementNames(Clause::Behind), 14),
    clause(ClauseKind::Drip, "with", "with drip", Rule::drip, Takes::Word("drip", || Clause::Drip), 15),
    clause(ClauseKind::Slope, "slope", "slope 1:12", Rule::slope, Takes::Amount(&measure::SLOPE, Clause::Slope), 16),
    clause(ClauseKind::Rolled, "rolled", "rolled", Rule::rolled, Takes::Nothing(|| Clause::Rolled), 17),
    clause(ClauseKind::Primed, "primed", "primed", Rule::primed, Takes::Nothing(|| Clause::Primed), 18),
    clause(ClauseKind::Inside, "inside", "inside", Rule::inside, Takes::Nothing(|| Clause::Inside), 19),
    clause(ClauseKind::With, "with", "with MATERIAL", Rule::with, Takes::Name(Clause::With), 3),
    clause(ClauseKind::Every, "every", "every 400 mm", Rule::every, Takes::Amount(&measure::SIZE, Clause::Every), 4),
    clause(ClauseKind::On, "on", "on NAME", Rule::on, Takes::Name(Clause::On), 22),
    clause(ClauseKind::Width, "width", "width 10 mm", Rule::width, Takes::Amount(&measure::SIZE, Clause::Width), 20),
    clause(ClauseKind::Depth, "depth", "depth 6 mm", Rule::depth, Takes::Amount(&measure::SIZE, Clause::Depth), 21),
    clause(ClauseKind::Paved, "paved", "paved", Rule::paved, Takes::Nothing(|| Clause::Paved), 40),
    clause(ClauseKind::Per, "per", "per in", Rule::per, Takes::Amount(&measure::SIZE, Clause::Per), 40),
    clause(ClauseKind::Because, "because", "because \"why\"", Rule::because, Takes::Text(Clause::Because), 23),
    clause(ClauseKind::By, "by", "by \"who\"", Rule::by, Takes::Text(Clause::By), 24),
    clause(ClauseKind::Until, "until", "until 2027-03-31", Rule::until, Takes::Own, 25),
    clause(ClauseKind::Thickness, "", "12 mm", Rule::thickness, Takes::Amount(&measure::SIZE, Clause::Amount), 5),
    clause(
        ClauseKind::Controls,
        "controls",
        "controls water, air",
        Rule::controls,
        Takes::StatementNames(Clause::Controls),
        6,
    ),
    clause(ClauseKind::Between, "between", "between FRAME 38 mm at 400 mm", Rule::between, Takes::Own, 7),
    clause(ClauseKind::At, "at", "at 75 Pa", Rule::at, Takes::Amount(&measure::PRESSURE, Clause::At), 40),
    clause(ClauseKind::Outdoor, "outdoor", "outdoor -5 C 80 %", Rule::outdoor, Takes::Air(Clause::Outdoor), 30),
    clause(ClauseKind::Indoor, "indoor", "indoor 20 C 50 %", Rule::indoor, Takes::Air(Clause::Indoor), 31),
    clause(ClauseKind::Days, "for", "for 90 days", Rule::days, Takes::Amount(&measure::DAYS, Clause::Days), 34),
    clause(
        ClauseKind::Vapor,
        "vapor",
        "vapor 1200 Pa",
        Rule::vapor,
        Takes::Amount(&measure::PRESSURE, Clause::Vapor),
        32,
    ),
    clause(
        ClauseKind::Saturation,
        "saturation",
        "saturation 1700 Pa",
        Rule::saturation,
        Takes::Amount(&measure::PRESSURE, Clause::Saturation),
        33,
    ),
    clause(ClauseKind::Meets, "between", "between A and B", Rule::meets, Takes::Own, 1),
];

const fn clause(
    kind: ClauseKind,
    word: &'static str,
    shape: &'static str,
    rule: Rule,
    takes: Takes,
    rank: usize,
) -> ClauseForm {
    ClauseForm { kind, word, shape, rule, takes, rank }
}

impl ClauseKind {
    pub fn form(self) -> &'static ClauseForm {
        &CLAUSES[self as usize]
    }

    pub fn rule(self) -> Rule {
        self.form().rule
    }

    pub fn shape(self) -> &'static str {
        self.form().shape
    }

    /// The kind of clause that a rule of the grammar reads.
    pub fn of_rule(rule: Rule) -> Option<ClauseKind> {
        CLAUSES.iter().find(|form| form.rule == rule).map(|form| form.kind)
    }

    /// What is expected of a quantity of the clause; if it has two, of the first or of the second.
    pub fn want(self, first: bool) -> &'static Want {
        match self.form().takes {
            Takes::Amount(want, _) => want,
            Takes::Air(_) if first => &measure::TEMPERATURE,
            Takes::Air(_) => &measure::HUMIDITY,
            Takes::Own if self == ClauseKind::Between => &measure::SIZE,
            _ => &measure::HEIGHT,
        }
    }

    /// Whether a statement may have several: a sheet may be welded to one piece and clamped to another.
    pub fn repeats(self) -> bool {
        self == ClauseKind::Bonds
    }

    /// The word that the clause begins with; the two that begin with a number or a quote have none.
    pub fn word(self) -> Option<&'static str> {
        Some(self.form().word).filter(|word| !word.is_empty())
    }

    /// Whether a clause of this kind begins with that word.
    pub fn begins(self, word: &str) -> bool {
        match self {
            ClauseKind::Title => word.starts_with('"'),
            ClauseKind::Thickness => word.trim_start_matches('-').starts_with(|c: char| c.is_ascii_digit()),
            kind => kind.form().word == word,
        }
    }
}

/// Which clauses a statement already has.
#[derive(Clone, Copy, Debug, Default)]
pub struct ClauseSet(u64);

impl ClauseSet {
    pub fn has(self, kind: ClauseKind) -> bool {
        self.0 & 1 << kind as u64 != 0
    }

    pub fn put(&mut self, kind: ClauseKind) {
        self.0 |= 1 << kind as u64;
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn each_clause_has_its_place_and_is_written_as_it_begins() {
        for (at, form) in CLAUSES.iter().enumerate() {
            assert_eq!(form.kind as usize, at, "{:?}", form.kind);
            assert!(form.shape.starts_with(form.word), "{:?}", form.kind);
            assert!(form.kind.begins(form.shape.split(' ').next().unwrap_or_default()), "{:?}", form.kind);
        }
    }
}
