//! Pieces put behind earlier ones.

use crate::facts::face::budget::{Budget, TooLarge};
use crate::facts::face::{Cells, Face, Joints};
use crate::model::MaterialKind;

/// A piece that goes behind one that was there before, where the two overlap.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Tuck {
    pub piece: usize,
    pub behind: usize,
    /// Whether the earlier one was bonded or fastened there by that time.
    pub fixed: bool,
}

/// All tucks that `behind` of the later piece or `over` of the earlier one asks for, by piece.
pub fn tucks(face: &Face, cells: &Cells, joints: &Joints, budget: &mut Budget) -> Result<Vec<Tuck>, TooLarge> {
    let count = face.pieces.len();
    let mut stated: Vec<(usize, usize)> = Vec::new();
    for (piece, said) in face.pieces.iter().enumerate() {
        stated.extend(said.behind.iter().map(|&earlier| (piece, earlier)));
        stated.extend(said.over.iter().map(|&later| (later, piece)));
    }
    stated.retain(|&(piece, behind)| behind < piece && piece < count);
    stated.sort_unstable();
    stated.dedup();
    let mut found = Vec::new();
    for (piece, behind) in stated {
        let (mut overlap, mut fixed) = (false, false);
        for (column, row) in cells.common(piece, behind).iter() {
            let whole = cells.whole(column, row);
            budget.spend(1 + 2 * whole.len() + face.fasten.len())?;
            if !(cells.has(column, row, piece) && cells.has(column, row, behind)) {
                continue;
            }
            overlap = true;
            let fastened = face
                .fasten
                .iter()
                .any(|f| f.piece == behind && f.after <= piece && f.rect.overlaps(cells.rect(column, row)));
            fixed |= fastened || bonded(face, joints, whole, behind, piece);
        }
        if overlap {
            found.push(Tuck { piece, behind, fixed });
        }
    }
    Ok(found)
}

/// Before `until` was installed the piece was bonded, in this cell, to what lay next to it. A tape that is stuck to the piece
/// alone does not hold it.
fn bonded(face: &Face, joints: &Joints, whole: &[u32], piece: usize, until: usize) -> bool {
    let mut base = None;
    let mut present = whole.iter().map(|&p| p as usize).filter(|&p| p < until);
    while let Some(next) = present.next() {
        if next == piece {
            let bonds = |other: usize| joints.bonded.has(other, piece);
            return base.is_some_and(bonds) || present.next().is_some_and(|o| bonds(o) && holds_down(face, o, piece));
        }
        base = Some(next);
    }
    false
}

fn holds_down(face: &Face, tape: usize, piece: usize) -> bool {
    face.pieces[tape].is(MaterialKind::Coat) || face.pieces[tape].bonds.iter().any(|bond| bond.onto != piece)
}
