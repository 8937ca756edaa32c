//! Flashings between the two pieces of a head lap.

use crate::facts::face::budget::{Budget, TooLarge};
use crate::facts::face::lap::{CellLine, FoundLap};
use crate::facts::face::{Face, Piece};
use crate::model::{Axis, Control, FoldKind};

/// Whether a flashing lies between the two all through the lap, goes down beyond the foot of the upper piece, and drips off
/// outboard of the lower one: it catches what the upper piece sheds, and none of that reaches the lower one.
pub fn led_out(face: &Face, line: &CellLine, lap: &FoundLap, budget: &mut Budget) -> Result<bool, TooLarge> {
    let (over, under) = (lap.over as usize, lap.under as usize);
    if !lap.shingled || !face.valleys.is_empty() || lies_flat(face, under) {
        return Ok(false);
    }
    for flashing in line.between(lap.first as usize, under, over).filter(|&piece| leads(&face.pieces[piece])) {
        budget.spend(3 * line.depth(0..lap.end as usize))?;
        let within = lap.rows().all(|at| line.between(at, under, over).any(|piece| piece == flashing));
        let mut below = (0..lap.first as usize).rev().take_while(|&at| line.has(at, flashing)).peekable();
        if within && below.peek().is_some() && below.all(|at| line.in_front(at, flashing, under)) {
            return Ok(true);
        }
    }
    Ok(false)
}

/// Whether the piece lies below a base, that is, on a roof or on grade, where water that drips from above stays on it.
fn lies_flat(face: &Face, piece: usize) -> bool {
    let low = face.pieces[piece].rect.up.low;
    face.folds.iter().any(|fold| fold.axis == Axis::Up && fold.kind == FoldKind::Base && low < fold.at)
}

fn leads(piece: &Piece) -> bool {
    piece.serves_as_flashing() && piece.holds.has(Control::Water) && piece.drip
}
