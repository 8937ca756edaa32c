//! What a field of fasteners penetrates, and what is laid over its heads.

use crate::facts::face::budget::{Budget, TooLarge};
use crate::facts::face::{Cells, Face};
use crate::model::MaterialKind;

/// One field of fasteners.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Fastening {
    /// Index into `Face::fasten`.
    pub fasten: usize,
    /// Tapes laid later, right on the heads.
    pub taped_over: Vec<usize>,
    /// Flashings laid later, right on the heads.
    pub flashed_over: Vec<usize>,
    /// Flashings that the fasteners penetrate: those already installed then, other than the fastened piece.
    pub pierces: Vec<usize>,
    /// The same for tapes on the same face of the wall.
    pub pierces_tapes: Vec<usize>,
}

pub fn fastenings(face: &Face, cells: &Cells, budget: &mut Budget) -> Result<Vec<Fastening>, TooLarge> {
    let mut found = Vec::with_capacity(face.fasten.len());
    for (index, fasten) in face.fasten.iter().enumerate() {
        let mut fastening = Fastening { fasten: index, ..Fastening::default() };
        if fasten.piece < face.pieces.len() {
            for (column, row) in cells.block(fasten.piece).iter() {
                let whole = cells.whole(column, row);
                budget.spend(1 + whole.len())?;
                if cells.rect(column, row).overlaps(fasten.rect)
                    && let Some(at) = whole.iter().position(|&p| p as usize == fasten.piece)
                {
                    fastening.look(face, whole, at, fasten.after);
                }
            }
        }
        let Fastening { taped_over, flashed_over, pierces, pierces_tapes, .. } = &mut fastening;
        for pieces in [taped_over, flashed_over, pierces, pierces_tapes] {
            pieces.sort_unstable();
            pieces.dedup();
        }
        found.push(fastening);
    }
    Ok(found)
}

impl Fastening {
    /// Looks through one stack in which the fastened piece stands at `at`.
    fn look(&mut self, face: &Face, whole: &[u32], at: usize, after: usize) {
        let piece = |p: &u32| &face.pieces[*p as usize];
        for there in whole.iter().filter(|p| (**p as usize) < after && **p != whole[at]) {
            if piece(there).serves_as_flashing() {
                self.pierces.push(*there as usize);
            } else if piece(there).is(MaterialKind::Tape) && piece(there).inside == piece(&whole[at]).inside {
                self.pierces_tapes.push(*there as usize);
            }
        }
        // The heads sit on what was outermost at that time. Only the piece that is laid over them next rests on them.
        let laid = |p: &&u32| **p as usize >= after;
        let next = match piece(&whole[at]).inside {
            true => whole[..at].iter().rev().find(laid),
            false => whole[at + 1..].iter().find(laid),
        };
        if let Some(next) = next {
            if piece(next).is(MaterialKind::Tape) {
                self.taped_over.push(*next as usize);
            }
            if piece(next).serves_as_flashing() {
                self.flashed_over.push(*next as usize);
            }
        }
    }
}
