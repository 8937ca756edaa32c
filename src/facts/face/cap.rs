//! Copings, what lies under their joints, and flashings whose foot is hidden.

use crate::facts::face::budget::{Budget, TooLarge};
use crate::facts::face::{Cells, Face, Piece};
use crate::model::{Control, MaterialKind};

/// For each piece, whether it is the first that rain falls on at the top of the face. Where the face folds over a parapet, the
/// top is the band between the two corners.
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

/// For each piece that does not hold water itself, whether at some place a single jointed thing is all that keeps rain off it:
/// a flashing, a stone, or a coping of roofing or panels, which all come in lengths. A piece outboard of a membrane may get
/// wet.
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

/// Whether it holds water and has no joints, unlike a flashing or a row of stones.
fn whole(piece: &Piece) -> bool {
    let lengths = piece.is(MaterialKind::Flashing) && piece.bonds.is_empty()
        || piece.is(MaterialKind::Mass) && piece.layer.is_none();
    piece.holds.has(Control::Water) && !lengths
}

/// For each piece, whether cladding outboard of it goes on below its lower edge, all along that edge.
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
