//! The face as water finds it that has got behind the cladding.

use crate::facts::face::budget::{Budget, TooLarge};
use crate::facts::face::{Cells, Face, Joints};
use crate::model::{Control, MaterialKind};

/// The cells without claddings, the air behind them and the battens that carry them; `None` when nothing is clad.
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
    let hidden: Vec<bool> = (0..count).map(|p| before(p) || batten(p)).collect();
    Ok(Some(cells.without(&hidden)))
}
