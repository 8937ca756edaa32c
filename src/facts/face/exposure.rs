//! Pieces that stay uncovered until the cladding is installed, and cladding whose upper edge is open to rain.

use crate::facts::face::budget::{Budget, TooLarge};
use crate::facts::face::{Cells, Face};
use crate::model::{Control, MaterialKind};

/// For each piece, whether at some place it is outermost, or has over it only cladding installed later, with the air and the
/// insulation behind that. Such insulation is installed with the cladding, so that until then the piece is exposed.
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
            let insulates = said.holds.has(Control::Thermal) && !said.holds.has(Control::Water);
            let board = said.is(MaterialKind::Board) || said.is(MaterialKind::Fill);
            if !(said.is(MaterialKind::Cladding) || said.is(MaterialKind::Gap) || board && insulates) {
                break;
            }
            first_cladding = first_cladding.min(piece);
        }
    }
    Ok(uncovered)
}

/// For each piece of cladding, whether rain falls on its upper edge somewhere: nothing lies outboard of that edge, no masonry
/// stands on it, and no other cladding hangs above.
pub fn open_above(face: &Face, cells: &Cells, budget: &mut Budget) -> Result<Vec<bool>, TooLarge> {
    let mut open = vec![false; face.pieces.len()];
    let is_clad = |piece: usize| face.pieces[piece].is(MaterialKind::Cladding);
    if !face.weather || !(0..face.pieces.len()).any(is_clad) {
        return Ok(open);
    }
    for column in 0..cells.columns() {
        for row in (0..cells.rows().saturating_sub(1)).rev() {
            let (stack, above) = (cells.stack(column, row), cells.stack(column, row + 1));
            budget.spend(1 + stack.len() + above.len())?;
            let top = cells.row(row).high;
            let stands = |piece: u32| {
                let said = &face.pieces[piece as usize];
                said.rect.up.low == top && (said.is(MaterialKind::Mass) || said.is(MaterialKind::Unit))
            };
            if let Some(piece) = stack.last().map(|&p| p as usize).filter(|&p| is_clad(p)) {
                let ends = face.pieces[piece].rect.up.high == top
                    && !face.sheltered.iter().any(|band| band.low <= top && top < band.high);
                open[piece] |= ends && !above.iter().any(|&p| stands(p));
            }
            if stack.iter().any(|&p| is_clad(p as usize)) {
                break;
            }
        }
    }
    Ok(open)
}
