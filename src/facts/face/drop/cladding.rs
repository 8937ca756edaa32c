//! The face as water finds it that has got behind the cladding.

use crate::facts::face::budget::{Budget, TooLarge};
use crate::facts::face::{Cells, Face, Joints, LayerEnd, Piece};
use crate::model::{Control, MaterialKind};

/// The cells without claddings, the air behind them, the battens that carry them, and sheets that come before the water
/// layer; `None` when nothing is clad.
///
/// A cladding that holds water is the water layer, and stays.
pub fn without(face: &Face, cells: &Cells, joints: &Joints, budget: &mut Budget) -> Result<Option<Cells>, TooLarge> {
    let is = |piece: usize, kind| face.pieces[piece].is(kind);
    let clads = |p: usize| is(p, MaterialKind::Cladding) && !face.pieces[p].holds.has(Control::Water);
    let count = face.pieces.len();
    if !(0..count).any(clads) {
        return Ok(None);
    }
    budget.spend(2 * cells.members.len() + count * (1 + count / 64))?;
    let before = |p: usize| clads(p) || is(p, MaterialKind::Gap);
    let batten = |p: usize| is(p, MaterialKind::Frame) && joints.contact.of(p).any(before);
    let inmost = inmost_of_water(face);
    let hidden: Vec<bool> = (0..count).map(|p| before(p) || batten(p) || is_spent(&face.pieces[p], &inmost)).collect();
    Ok(Some(cells.without(&hidden)))
}

/// A sheet outboard of the layer that its assembly says controls water, as the outer paper that stucco sticks to.
fn is_spent(piece: &Piece, inmost: &[LayerEnd]) -> bool {
    let outboard = |own: LayerEnd| inmost.iter().any(|end| end.assembly == own.assembly && end.layer > own.layer);
    let sheet = piece.is(MaterialKind::Sheet) && !piece.inside && !piece.controls.has(Control::Water);
    sheet && piece.layer.is_some_and(outboard)
}

/// Of each assembly the inmost layer that controls water and has an end on the outer face.
fn inmost_of_water(face: &Face) -> Vec<LayerEnd> {
    let mut inmost: Vec<LayerEnd> = Vec::new();
    let ends = face.pieces.iter().filter(|p| p.controls.has(Control::Water) && !p.inside).filter_map(|p| p.layer);
    for end in ends {
        match inmost.iter_mut().find(|known| known.assembly == end.assembly) {
            Some(known) => known.layer = known.layer.max(end.layer),
            None => inmost.push(end),
        }
    }
    inmost
}
