//! The edits that rows of the table `cures` can name.

use crate::mend::{
    Context, Cure, add, amount, assembly, bond, control_layer, extend, fasten, flashing, lap, material, order, reglet,
    relay, remove, seal,
};
use crate::syntax::Hold;

/// A kind of edit.
#[derive(Clone, Copy)]
pub struct EditKind {
    /// What tables call it.
    pub word: &'static str,
    pub drafts: fn(&Context<'_>) -> Vec<Cure>,
}

pub const EDIT_KINDS: [EditKind; 43] = [
    // The installation sequence.
    kind("move", order::moves),
    kind("behind", |context| order::beside(context, "behind")),
    kind("over", |context| order::beside(context, "over")),
    kind("relay", relay::moves),
    kind("unstack", remove::order_clauses),
    // How far a piece goes, and how steep it is.
    kind("extend", |context| extend::edges(context, 1.0)),
    kind("shorten", |context| extend::edges(context, -1.0)),
    kind("lap", |context| lap::laps_by(context, "lap")),
    kind("hold", |context| lap::laps_by(context, "hold")),
    kind("meet", |context| lap::laps(context, 0.0)),
    kind("cover", lap::covers),
    kind("raise", lap::raised),
    kind("run-through", seal::run_through),
    kind("limit", amount::limits),
    kind("slope", amount::slopes),
    // Fasteners.
    kind("clear", fasten::clear),
    kind("spacing", fasten::spacing),
    // Clauses of a piece.
    kind("rolled", |context| add::flag(context, "rolled", |piece| piece.rolled)),
    kind("primed", |context| add::flag(context, "primed", |piece| piece.primed)),
    kind("drip", |context| add::flag(context, "with drip", |piece| piece.drip)),
    // Bonds, beads and tapes.
    kind("bond", |context| bond::bonds(context, Hold::Adhesive)),
    kind("weld", |context| bond::bonds(context, Hold::Weld)),
    kind("clamp", |context| bond::bonds(context, Hold::Clamp)),
    kind("bead", seal::beads),
    kind("whole-bead", remove::bead_places),
    kind("back-bead", seal::back_beads),
    kind("backer", add::backers),
    kind("tape", seal::tapes),
    // What a detail lacks.
    kind("weeps", add::weeps),
    kind("lower-weeps", add::lowered_weeps),
    kind("end-dams", add::end_dams),
    kind("flash", flashing::drawn),
    kind("let-in", reglet::drawn),
    // What does nothing but harm.
    kind("leave-out", remove::statements),
    kind("leave-out-piece", remove::pieces),
    // Layers and materials.
    kind("swap", material::substitutes),
    kind("swap-layer", assembly::substitutes),
    kind("add-layer", assembly::added),
    kind("widen", assembly::widened),
    kind("controls", control_layer::controls),
    kind("unclaim", remove::controls),
    kind("draw", control_layer::drawn),
    kind("draw-rest", control_layer::rest),
];

const fn kind(word: &'static str, drafts: fn(&Context<'_>) -> Vec<Cure>) -> EditKind {
    EditKind { word, drafts }
}
