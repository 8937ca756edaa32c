//! The face as water finds it that has got behind the cladding.

use crate::facts::face::budget::{Budget, TooLarge};
use crate::facts::face::{Cells, Face, Joints, Piece};
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
    budget.spend(2 * cells.members.len() + count * (1 + count / 64 + count))?;
    let before = |p: usize| clads(p) || is(p, MaterialKind::Gap);
    let batten = |p: usize| is(p, MaterialKind::Frame) && joints.contact.of(p).any(before);
    let hidden: Vec<bool> = (0..count).map(|p| before(p) || batten(p) || is_spent(face, p)).collect();
    Ok(Some(cells.without(&hidden)))
}

/// A sheet outboard of the layer that its assembly says controls water, as the outer paper that stucco sticks to.
fn is_spent(face: &Face, piece: usize) -> bool {
    let of = |p: &Piece| p.layer.filter(|_| !p.inside);
    let Some(own) = of(&face.pieces[piece]).filter(|_| face.pieces[piece].is(MaterialKind::Sheet)) else {
        return false;
    };
    let mut ends = face.pieces.iter().filter(|p| p.controls.has(Control::Water)).filter_map(of);
    !face.pieces[piece].controls.has(Control::Water)
        && ends.any(|end| end.assembly == own.assembly && end.layer > own.layer)
}
