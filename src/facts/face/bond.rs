//! Which pieces a bonded piece is bonded to, and how wide the contact is.

use std::ops::Range;

use crate::facts::face::budget::{Budget, TooLarge};
use crate::facts::face::joint::ground;
use crate::facts::face::{Cells, Coordinate, Extent, Face, Joints, MILLIMETRE, OPEN_HIGH, OPEN_LOW};
use crate::model::MaterialKind;

/// One `bonds` clause, or one contact of a coat with its substrate.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Bond {
    pub piece: usize,
    pub onto: usize,
    /// The two are in contact somewhere.
    pub contact: bool,
    /// They are in contact, but the other lies on the back of the piece, which has no adhesive.
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

/// How wide the contact of two pieces is. At each place of the contact, the width is the shorter of the two runs of contact
/// through it, upward and along. The result is the width that at least half of the area has.
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
    let across = view(cells.column(columns.start).low, cells.column(columns.end - 1).high);
    let upward = view(cells.row(rows.start).low, cells.row(rows.end - 1).high);
    let mut places: Vec<(Coordinate, i128)> = Vec::new();
    for r in rows.clone() {
        runs(
            columns.clone(),
            |c| touches[at(c, r)],
            |run| {
                let extent = Extent { low: cells.column(run.start).low, high: cells.column(run.end - 1).high };
                let along = extent.length().unwrap_or(OPEN_HIGH);
                run.for_each(|c| {
                    let area = within(cells.column(c), across).saturating_mul(within(cells.row(r), upward));
                    places.push((along.min(widths[at(c, r)]), area));
                });
            },
        );
    }
    places.sort_by_key(|(width, _)| std::cmp::Reverse(*width));
    let whole = places.iter().fold(0_i128, |sum, (_, area)| sum.saturating_add(*area));
    let mut area = 0_i128;
    let usual = places.iter().find(|(_, own)| {
        area = area.saturating_add(*own);
        area >= whole - area
    });
    Ok(usual.map(|(width, _)| *width).filter(|width| *width != OPEN_HIGH))
}

/// The part of a contact from `low` to `high` that counts: of one that runs off the detail, ten meters from its other end.
fn view(low: Coordinate, high: Coordinate) -> Extent {
    const SHOWN: Coordinate = 10_000 * MILLIMETRE;
    match (low == OPEN_LOW, high == OPEN_HIGH) {
        (true, true) => Extent { low: -SHOWN / 2, high: SHOWN / 2 },
        (true, false) => Extent { low: high.saturating_sub(SHOWN), high },
        (false, true) => Extent { low, high: low.saturating_add(SHOWN) },
        (false, false) => Extent { low, high },
    }
}

/// How much of an extent lies in the view. Splitting the extent in two does not change the sum.
fn within(extent: Extent, view: Extent) -> i128 {
    (i128::from(extent.high.min(view.high)) - i128::from(extent.low.max(view.low))).max(0)
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
