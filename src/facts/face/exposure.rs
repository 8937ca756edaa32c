//! What stays uncovered until the cladding comes.

use crate::facts::face::budget::{Budget, TooLarge};
use crate::facts::face::{Cells, Face};
use crate::model::MaterialKind;

/// For each piece: it is outermost somewhere, or only later claddings, or the air behind them, lie over it there.
pub fn uncovered(face: &Face, cells: &Cells, budget: &mut Budget) -> Result<Vec<bool>, TooLarge> {
    let mut uncovered = vec![false; face.pieces.len()];
    for (column, row) in (0..cells.columns()).flat_map(|c| (0..cells.rows()).map(move |r| (c, r))) {
        let stack = cells.stack(column, row);
        budget.spend(1 + stack.len())?;
        let mut first_cladding = usize::MAX;
        for &piece in stack.iter().rev() {
            let piece = piece as usize;
            let said = &face.pieces[piece];
            uncovered[piece] |= piece < first_cladding;
            if !said.is(MaterialKind::Cladding) && !said.is(MaterialKind::Gap) {
                break;
            }
            first_cladding = first_cladding.min(piece);
        }
    }
    Ok(uncovered)
}
