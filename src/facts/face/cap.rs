//! Copings and the feet of flashings: what a joint in metal leaves open, and what hides an outlet.

use crate::facts::face::budget::{Budget, TooLarge};
use crate::facts::face::{Cells, Face, Piece};
use crate::model::{Control, MaterialKind};

/// For each piece: rain falls on it first at the top of the face. Where the face folds over a parapet, the top is the band
/// between the two corners.
pub fn caps(face: &Face, cells: &Cells, budget: &mut Budget) -> Result<Vec<bool>, TooLarge> {
    let mut caps = vec![false; face.pieces.len()];
    let top = face.top();
    for column in 0..cells.columns() {
        for row in (0..cells.rows()).rev() {
            budget.spend(1)?;
            let within = top.is_none_or(|top| top.low < cells.row(row).high && cells.row(row).low < top.high);
            if let (true, Some(&piece)) = (within, cells.stack(column, row).last()) {
                caps[piece as usize] = true;
                if top.is_none() {
                    break;
                }
            }
        }
    }
    Ok(caps)
}

/// For each piece that holds no water itself: somewhere a single thing that comes in lengths, a flashing or a stone, is all
/// that keeps rain off it; a coping of roofing or of panels is one too. What stands outboard of a membrane may get wet.
pub fn under_joints(face: &Face, cells: &Cells, budget: &mut Budget) -> Result<Vec<bool>, TooLarge> {
    let mut under = vec![false; face.pieces.len()];
    for (column, row) in (0..cells.columns()).flat_map(|c| (0..cells.rows()).map(move |r| (c, r))) {
        let stack = cells.stack(column, row);
        budget.spend(1 + 2 * stack.len())?;
        if stack.iter().any(|&piece| whole(&face.pieces[piece as usize])) {
            continue;
        }
        let mut lengths = 0;
        for &piece in stack.iter().rev() {
            let said = &face.pieces[piece as usize];
            match said.holds.has(Control::Water) || said.is(MaterialKind::Cladding) && said.layer.is_none() {
                true => lengths += 1,
                false => under[piece as usize] |= lengths == 1,
            }
        }
    }
    Ok(under)
}

/// It holds water and has no joints: no flashing, and no stone that stands on its own.
fn whole(piece: &Piece) -> bool {
    let lengths = piece.is(MaterialKind::Flashing) && piece.bonds.is_empty()
        || piece.is(MaterialKind::Mass) && piece.layer.is_none();
    piece.holds.has(Control::Water) && !lengths
}

/// For each piece: wherever its lower edge lies, cladding outboard of it runs on below.
pub fn hidden_foot(face: &Face, cells: &Cells, budget: &mut Budget) -> Result<Vec<bool>, TooLarge> {
    let mut hidden = vec![false; face.pieces.len()];
    for (piece, hidden) in hidden.iter_mut().enumerate() {
        let block = cells.block(piece);
        let Some(below) = block.rows.start.checked_sub(1) else { continue };
        let mut there = block.columns.clone().filter(|&column| cells.has(column, block.rows.start, piece)).peekable();
        *hidden = there.peek().is_some();
        for column in there {
            let (stack, under) = (cells.stack(column, block.rows.start), cells.stack(column, below));
            budget.spend(1 + stack.len() * (1 + under.len()))?;
            let outboard = stack.iter().skip_while(|&&p| p as usize != piece).skip(1);
            let mut cladding = outboard.filter(|&&p| face.pieces[p as usize].is(MaterialKind::Cladding));
            *hidden &= cladding.any(|p| under.contains(p));
        }
    }
    Ok(hidden)
}
