//! What a bonded piece has to hold on to.

use std::ops::Range;

use crate::facts::face::budget::{Budget, TooLarge};
use crate::facts::face::joint::ground;
use crate::facts::face::{Cells, Coordinate, Extent, Face, Joints, MILLIMETRE, OPEN_HIGH};
use crate::model::MaterialKind;

/// One `bonds` clause, or one contact of a coat with its ground.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Bond {
    pub piece: usize,
    pub onto: usize,
    /// The two are in contact somewhere.
    pub contact: bool,
    /// They are, but the other lies on the back of the piece, where it has no adhesive.
    pub dry: bool,
    /// How wide the band of contact is over most of its area; `None` without contact, and when it is open-ended both ways.
    pub width: Option<Coordinate>,
}

/// All bonds, by piece.
pub fn bonds(face: &Face, cells: &Cells, joints: &Joints, budget: &mut Budget) -> Result<Vec<Bond>, TooLarge> {
    let mut found = Vec::new();
    for (piece, said) in face.pieces.iter().enumerate() {
        let mut onto: Vec<usize> =
            said.bonds.iter().map(|b| b.onto).filter(|&onto| onto != piece && onto < face.pieces.len()).collect();
        if said.is(MaterialKind::Coat) {
            onto.extend(ground(&joints.contact, piece));
        }
        onto.sort_unstable();
        onto.dedup();
        for onto in onto {
            let contact = joints.contact.has(piece, onto);
            let width = if contact { width(cells, piece, onto, budget)? } else { None };
            let dry = joints.dry.binary_search(&(piece, onto)).is_ok();
            found.push(Bond { piece, onto, contact, dry, width });
        }
    }
    Ok(found)
}

/// At each place of their contact, the shorter of its runs up and along through that place; of all places the width that half of the
/// area has at least.
///
/// For a rectangle that is its smaller extent. A frame or an angle is as wide as its leg, not as its outline; a strip that
/// crosses another tape is as wide as where it lies flat, and the slivers beside the crossing do not count.
fn width(cells: &Cells, a: usize, b: usize, budget: &mut Budget) -> Result<Option<Coordinate>, TooLarge> {
    let block = cells.common(a, b);
    budget.spend(block.iter().map(|(c, r)| 3 + cells.whole(c, r).len()).sum())?;
    let (columns, rows) = (block.columns.clone(), block.rows.clone());
    let at = |c: usize, r: usize| (c - columns.start) * rows.len() + (r - rows.start);
    let touches: Vec<bool> = block.iter().map(|(c, r)| cells.touch(c, r, a, b)).collect();
    let mut widths = vec![OPEN_HIGH; touches.len()];
    for c in columns.clone() {
        runs(
            rows.clone(),
            |r| touches[at(c, r)],
            |run| {
                let extent = Extent { low: cells.row(run.start).low, high: cells.row(run.end - 1).high };
                run.for_each(|r| widths[at(c, r)] = extent.length().unwrap_or(OPEN_HIGH));
            },
        );
    }
    let mut places: Vec<(Coordinate, f64)> = Vec::new();
    for r in rows.clone() {
        runs(
            columns.clone(),
            |c| touches[at(c, r)],
            |run| {
                let extent = Extent { low: cells.column(run.start).low, high: cells.column(run.end - 1).high };
                let along = extent.length().unwrap_or(OPEN_HIGH);
                run.for_each(|c| {
                    let area = side(cells.column(c)) * side(cells.row(r));
                    places.push((along.min(widths[at(c, r)]), area));
                });
            },
        );
    }
    places.sort_by_key(|(width, _)| std::cmp::Reverse(*width));
    let half = places.iter().map(|(_, area)| area).sum::<f64>() / 2.0;
    let mut area = 0.0;
    let usual = places.iter().find(|(_, own)| {
        area += own;
        area >= half
    });
    Ok(usual.map(|(width, _)| *width).filter(|width| *width != OPEN_HIGH))
}

/// An extent as a side of an area; one that runs off the detail weighs as ten metres of it.
fn side(extent: Extent) -> f64 {
    const OPEN: Coordinate = 10_000 * MILLIMETRE;
    extent.length().unwrap_or(OPEN) as f64
}

/// Hands over each unbroken run of places at which something is so.
fn runs(places: Range<usize>, is: impl Fn(usize) -> bool, mut each: impl FnMut(Range<usize>)) {
    let mut from = places.start;
    for at in places.clone() {
        if !is(at) {
            if from < at {
                each(from..at);
            }
            from = at + 1;
        }
    }
    if from < places.end {
        each(from..places.end);
    }
}
