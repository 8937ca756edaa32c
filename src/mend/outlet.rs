//! Outlets for water: no edit may shut one, and a flashing that an edit adds has to be lapped by the water control layer above it.

use crate::facts::DetailFacts;
use crate::mend::guard::EditedDetail;
use crate::model::{Control, MaterialKind, Piece, Seal};

/// Flashings that drain at their lower edge, with a drip or without.
const OUTLETS: [&str; 3] = ["head-flashing", "pan", "through-wall-flashing"];

/// Flashings whose upper leg goes behind the water control layer. The cap of a ledger has no role and goes by its name.
const TUCKED: [&str; 3] = ["head-flashing", "through-wall-flashing", "cap"];

/// Pieces of a sill pan, which may be sealed to a unit.
const ON_PAN: [&str; 3] = ["pan", "back-dam", "end-dam"];

pub fn stay_open(change: &EditedDetail<'_>) -> bool {
    let shut =
        change.brings(|facts, outlet, cover| is_outlet(&facts.detail.pieces[outlet]) && covers(facts, outlet, cover));
    let new = |piece: &Piece| change.old(piece).is_none();
    let pieces = &change.after.detail.pieces;
    let tucked = (0..pieces.len()).filter(|&own| new(&pieces[own])).all(|own| is_tucked(change.after, own));
    !shut
        && tucked
        && !change.brings(|facts, unit, other| seals_foot(facts, unit, other) || seals_head(facts, unit, other))
}

fn is_outlet(piece: &Piece) -> bool {
    let role = piece.role.as_deref().is_some_and(|role| OUTLETS.contains(&role));
    !piece.inside && (role || piece.drip)
}

/// Does the cover lie outboard of the lower edge and go on below it?
fn covers(facts: &DetailFacts, outlet: usize, cover: usize) -> bool {
    let (piece, cells) = (&facts.detail.pieces[cover], &facts.face.cells);
    let soft = [MaterialKind::Sheet, MaterialKind::Tape, MaterialKind::Coat, MaterialKind::Fill];
    let insulates = piece.material.kind == Some(MaterialKind::Board) && piece.material.holds.has(Control::Thermal);
    if piece.inside || !(insulates || piece.material.kind.is_some_and(|kind| soft.contains(&kind))) {
        return false;
    }
    let block = cells.block(outlet);
    let Some(below) = block.rows.start.checked_sub(1) else { return false };
    let outboard = |column: usize| {
        let stack = cells.stack(column, block.rows.start);
        let place = |own: usize| stack.iter().position(|&at| at as usize == own);
        place(outlet).zip(place(cover)).is_some_and(|(outlet, cover)| cover > outlet)
    };
    // `behind` and `over` count even where they contradict each other.
    let stated = facts.detail.pieces[outlet].behind.iter().any(|other| other.index == cover)
        || piece.over.iter().any(|other| other.index == outlet);
    block.columns.clone().any(|column| (stated || outboard(column)) && cells.has(column, below, cover))
}

/// Does its upper edge lie inboard of the insulation, and of a water control that goes on above it? A bonded flashing needs no lap.
fn is_tucked(facts: &DetailFacts, own: usize) -> bool {
    let (pieces, cells) = (&facts.detail.pieces, &facts.face.cells);
    let piece = &pieces[own];
    let called = piece.role.as_deref().unwrap_or(&piece.name);
    if piece.material.kind != Some(MaterialKind::Flashing) || !TUCKED.contains(&called) {
        return true;
    }
    let block = cells.block(own);
    let Some(top) = block.rows.end.checked_sub(1) else { return true };
    block.columns.clone().filter(|&column| cells.has(column, top, own)).all(|column| {
        let stack = cells.stack(column, top);
        let at = stack.iter().position(|&other| other as usize == own).unwrap_or(0);
        let insulation = |&other: &u32| {
            let other = &pieces[other as usize].material;
            other.holds.has(Control::Thermal) && matches!(other.kind, Some(MaterialKind::Board | MaterialKind::Fill))
        };
        let laps = |&other: &u32| {
            let material = &pieces[other as usize].material;
            let cladding = material.kind == Some(MaterialKind::Cladding);
            material.holds.has(Control::Water)
                && !cladding
                && top + 1 < cells.rows()
                && cells.has(column, top + 1, other as usize)
        };
        let stuck = piece.material.adhesive.is_some() && !piece.bonds.is_empty();
        !stack[..at].iter().any(insulation) && (stuck || stack[at + 1..].iter().any(laps))
    })
}

/// Does a bead along the foot of a unit on a pan seal it to something other than the pan? Then the pan cannot drain.
fn seals_foot(facts: &DetailFacts, unit: usize, other: usize) -> bool {
    let pieces = &facts.detail.pieces;
    let is = |index: usize, role: &str| pieces[index].role.as_deref() == Some(role);
    let pan = (0..pieces.len()).any(|index| is(index, "pan"));
    let foot = facts.face.cells.block(unit).rows.start;
    let rows = &facts.face.cells.block(other).rows;
    pan && seals(facts, unit, other, |seal| seal.at.is_none())
        && pieces[unit].material.kind == Some(MaterialKind::Unit)
        && !ON_PAN.iter().any(|role| is(other, role))
        && rows.start < foot
        && rows.end >= foot
}

/// Does a bead seal a head flashing to the unit below it? Then water behind the flashing cannot drain.
fn seals_head(facts: &DetailFacts, unit: usize, other: usize) -> bool {
    let pieces = &facts.detail.pieces;
    pieces[unit].material.kind == Some(MaterialKind::Unit)
        && pieces[other].role.as_deref() == Some("head-flashing")
        && seals(facts, unit, other, |_| true)
}

fn seals(facts: &DetailFacts, a: usize, b: usize, is: impl Fn(&Seal) -> bool) -> bool {
    let joins = |seal: &Seal| [[a, b], [b, a]].contains(&[seal.first.index, seal.second.index]);
    facts.detail.seals.iter().any(|seal| joins(seal) && is(seal))
}
