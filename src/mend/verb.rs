//! The edits that rows of the table `cures` can name.

use crate::mend::data::size;
use crate::mend::{
    Case, Cure, add, amount, extend, flash, hold, join, layer, let_in, order, past, relay, stack, swap, take,
};
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
    /// Lift the foot out of the ground.
    Raise,
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
    /// Use another material for a layer of the assembly, add a layer, or make a gap wider.
    SwapLayer,
    AddLayer,
    Widen,
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

pub const VERBS: [(&str, Verb); 43] = [
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
    ("swap-layer", Verb::SwapLayer),
    ("add-layer", Verb::AddLayer),
    ("widen", Verb::Widen),
    ("leave-out", Verb::LeaveOut),
    ("leave-out-piece", Verb::LeaveOutPiece),
    ("unstack", Verb::Unstack),
    ("unclaim", Verb::Unclaim),
    ("controls", Verb::Controls),
    ("draw", Verb::Draw),
    ("draw-rest", Verb::DrawRest),
    ("flash", Verb::Flash),
];

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
            Verb::SwapLayer => stack::swapped(case),
            Verb::AddLayer => stack::added(case),
            Verb::Widen => stack::widened(case),
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
