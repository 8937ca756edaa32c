//! What the rules say may cure their findings: the table `cures`, and those of what an edit adds.

use crate::finding::{Finding, Id};
use crate::mend::{Case, Cure, add, amount, extend, flash, hold, join, layer, let_in, order, past, relay, swap, take};
use crate::quantity::Quantity;
use crate::rules::{Literal, Pack, Row};
use crate::syntax::Hold;

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
    /// Carry an edge on until a piece laps the next one, has a hold on it, or meets it.
    Lap,
    Hold,
    Meet,
    /// Carry both ends past those of what lies below.
    Cover,
    /// Lift the foot out of the ground, or take the ground away.
    Raise,
    LowerGrade,
    /// Install a strip before the sheet that it is stuck to, on what lies behind that sheet.
    Relay,
    /// Let a counterflashing into the wall above.
    LetIn,
    /// Keep fasteners clear of a tape or a flashing.
    Clear,
    /// Write the limit in place of the amount.
    Limit,
    Slope,
    Rolled,
    Primed,
    Drip,
    Bond,
    Weld,
    Clamp,
    /// Tool a bead against a backer, half as deep as its joint is wide.
    Backer,
    Bead,
    /// Let a bead run along the whole contact.
    WholeBead,
    /// Seal a unit to the back of its pan, where the front stays open.
    BackBead,
    Tape,
    /// Let a strip run on that stops half way.
    RunThrough,
    Weeps,
    /// Bring weeps down to what the water stands on.
    LowerWeeps,
    EndDams,
    Spacing,
    /// Use another material of the same kind.
    Swap,
    /// Leave out a bead or a waiver that does nothing but harm.
    LeaveOut,
    /// Leave out a piece that should not be there.
    LeaveOutPiece,
    /// Leave the order of installation as it is, without `over` and `behind`.
    Unstack,
    /// No longer count on a layer that cannot serve.
    Unclaim,
    /// Let a layer control what none of the assembly controls.
    Controls,
    /// Draw a control layer of a joined assembly that the detail forgets.
    Draw,
    /// Draw the sheet for the rest of the face.
    DrawRest,
    /// Draw a flashing over an edge that has none.
    Flash,
}

pub const VERBS: [(&str, Verb); 41] = [
    ("move", Verb::Move),
    ("behind", Verb::Behind),
    ("over", Verb::Over),
    ("extend", Verb::Extend),
    ("shorten", Verb::Shorten),
    ("lap", Verb::Lap),
    ("hold", Verb::Hold),
    ("meet", Verb::Meet),
    ("cover", Verb::Cover),
    ("raise", Verb::Raise),
    ("lower-grade", Verb::LowerGrade),
    ("relay", Verb::Relay),
    ("let-in", Verb::LetIn),
    ("clear", Verb::Clear),
    ("limit", Verb::Limit),
    ("slope", Verb::Slope),
    ("rolled", Verb::Rolled),
    ("primed", Verb::Primed),
    ("drip", Verb::Drip),
    ("bond", Verb::Bond),
    ("weld", Verb::Weld),
    ("clamp", Verb::Clamp),
    ("backer", Verb::Backer),
    ("bead", Verb::Bead),
    ("whole-bead", Verb::WholeBead),
    ("back-bead", Verb::BackBead),
    ("tape", Verb::Tape),
    ("run-through", Verb::RunThrough),
    ("weeps", Verb::Weeps),
    ("lower-weeps", Verb::LowerWeeps),
    ("end-dams", Verb::EndDams),
    ("spacing", Verb::Spacing),
    ("swap", Verb::Swap),
    ("leave-out", Verb::LeaveOut),
    ("leave-out-piece", Verb::LeaveOutPiece),
    ("unstack", Verb::Unstack),
    ("unclaim", Verb::Unclaim),
    ("controls", Verb::Controls),
    ("draw", Verb::Draw),
    ("draw-rest", Verb::DrawRest),
    ("flash", Verb::Flash),
];

const CURES: &str = "cures";
const SIZES: &str = "cure-sizes";
const MATERIALS: &str = "cure-materials";
const SLOPES: &str = "cure-slopes";
const FLASHINGS: &str = "cure-flashings";

impl Verb {
    pub fn drafts(self, case: &Case<'_>) -> Vec<Cure> {
        match self {
            Verb::Move => order::moves(case),
            Verb::Behind => order::beside(case, "behind"),
            Verb::Over => order::beside(case, "over"),
            Verb::Extend => extend::edges(case, 1.0),
            Verb::Shorten => extend::edges(case, -1.0),
            Verb::Lap => size(case, "lap").map_or(Vec::new(), |lap| past::laps(case, lap.si)),
            Verb::Hold => size(case, "hold").map_or(Vec::new(), |hold| past::laps(case, hold.si)),
            Verb::Meet => past::laps(case, 0.0),
            Verb::Cover => past::covers(case),
            Verb::Raise => past::raised(case),
            Verb::LowerGrade => past::lowered(case),
            Verb::Relay => relay::moves(case),
            Verb::LetIn => let_in::drawn(case),
            Verb::Clear => past::clear(case),
            Verb::Limit => amount::limits(case),
            Verb::Slope => amount::slopes(case),
            Verb::Spacing => extend::spacing(case),
            Verb::Rolled => add::flag(case, "rolled", |piece| piece.rolled),
            Verb::Primed => add::flag(case, "primed", |piece| piece.primed),
            Verb::Drip => add::flag(case, "with drip", |piece| piece.drip),
            Verb::Weeps => add::weeps(case),
            Verb::LowerWeeps => add::lowered_weeps(case),
            Verb::EndDams => add::end_dams(case),
            Verb::Bond => hold::bonds(case, Hold::Adhesive),
            Verb::Weld => hold::bonds(case, Hold::Weld),
            Verb::Clamp => hold::bonds(case, Hold::Clamp),
            Verb::Backer => add::backers(case),
            Verb::WholeBead => take::places(case),
            Verb::BackBead => join::back_beads(case),
            Verb::Swap => swap::materials(case),
            Verb::LeaveOut => take::statements(case),
            Verb::LeaveOutPiece => take::pieces(case),
            Verb::Unstack => take::order(case),
            Verb::Unclaim => take::claims(case),
            Verb::Controls => layer::controls(case),
            Verb::Draw => layer::drawn(case),
            Verb::DrawRest => layer::rest(case),
            Verb::Flash => flash::drawn(case),
            Verb::RunThrough => join::run_through(case),
            Verb::Bead => join::beads(case),
            Verb::Tape => join::tapes(case),
        }
    }
}

/// The edits that may cure what a rule finds, in the order of the table.
pub fn verbs(pack: &Pack, rule: &str) -> Vec<Verb> {
    let known = |word: &str| VERBS.iter().find(|(known, _)| *known == word).map(|(_, verb)| *verb);
    words(pack, CURES, rule).filter_map(known).collect()
}

/// Rows that name no edit. They are passed over, and whoever tests the rules is told.
pub fn unknown(pack: &Pack) -> Vec<Finding> {
    let rows = pack.tables.iter().filter(|table| &*table.name == CURES).flat_map(|table| &table.rows);
    let told = rows.filter_map(|row| {
        let word = match &row.value {
            Literal::Word(word) => word.to_string(),
            other => other.show(),
        };
        let names = VERBS.map(|(name, _)| name);
        let message = format!("`{word}` is no edit; expected {}", names.join(", "));
        (!names.contains(&&*word)).then(|| Id::RuleName.at(row.span, message))
    });
    told.collect()
}

/// The names of the materials that are tried for a bead or a tape, the likeliest first.
pub fn materials<'a>(pack: &'a Pack, of: &'a str) -> impl Iterator<Item = &'a str> {
    words(pack, MATERIALS, of)
}

fn words<'a>(pack: &'a Pack, table: &'a str, key: &'a str) -> impl Iterator<Item = &'a str> {
    let own =
        rows(pack, table).filter(move |row| row.keys.first().and_then(Option::as_ref).and_then(word) == Some(key));
    own.filter_map(|row| word(&row.value))
}

fn rows<'a>(pack: &'a Pack, table: &'a str) -> impl Iterator<Item = &'a Row> {
    let table = pack.tables.iter().find(move |own| &*own.name == table);
    table.into_iter().flat_map(|table| &table.rows)
}

/// A flashing as a row of the table describes it.
pub struct Flashing<'a> {
    /// The kind of detail that it belongs in.
    pub detail: &'a str,
    /// The role of the piece whose edge it covers, or the kind of its material.
    pub of: &'a str,
    pub edge: &'a str,
    /// Its role, or what it is called where there is no such role.
    pub role: &'a str,
    pub material: &'a str,
    pub drip: bool,
    /// It sticks to what lies behind it.
    pub stuck: bool,
    /// It reaches past both ends of that edge.
    pub past: bool,
    /// It goes around what it covers, and is clamped to it.
    pub around: bool,
    /// It runs on over that edge to the other side of what is drawn.
    pub through: bool,
}

/// The flashings that may cure what a rule finds, in the order of the table.
pub fn flashings<'a>(pack: &'a Pack, rule: &'a str) -> impl Iterator<Item = Flashing<'a>> {
    rows(pack, FLASHINGS).filter_map(move |row| {
        // `any` stands for whatever there is.
        let keys: Vec<&str> = row.keys.iter().filter_map(|key| key.as_ref().map_or(Some("any"), word)).collect();
        let [own, detail, of, edge, role, finish] = keys[..] else { return None };
        let is = |word: &str| finish.split('-').any(|own| own == word);
        let (drip, stuck, past) = (is("drip"), is("stuck"), is("past"));
        let (around, through) = (is("around"), is("through"));
        let material = word(&row.value)?;
        (own == rule).then_some(Flashing { detail, of, edge, role, material, drip, stuck, past, around, through })
    })
}

fn word(literal: &Literal) -> Option<&str> {
    match literal {
        Literal::Word(word) => Some(word),
        _ => None,
    }
}

/// How large something that an edit adds is drawn, in the system of units of the detail.
pub fn size(case: &Case<'_>, of: &str) -> Option<Quantity> {
    stated(case.pack, SIZES, &[of, case.system().word()])
}

/// How steep an edit makes something.
pub fn slope(case: &Case<'_>, of: &str) -> Option<Quantity> {
    stated(case.pack, SLOPES, &[of])
}

fn stated(pack: &Pack, table: &str, keys: &[&str]) -> Option<Quantity> {
    let table = pack.tables.iter().find(|own| &*own.name == table)?;
    let is = |(key, word): (&Option<Literal>, &&str)| matches!(key, Some(Literal::Word(name)) if **name == **word);
    let row = table.rows.iter().find(|row| row.keys.len() == keys.len() && row.keys.iter().zip(keys).all(is));
    match &row?.value {
        Literal::Quantity(stated) => Some(*stated),
        _ => None,
    }
}
