//! Joints that are drawn at their real width: those that a bead fills are closed.

use std::borrow::Cow;

use crate::facts::face::{Coordinate, Extent, Face, Seal};
use crate::model::Axis;

/// The face with the edges that a wide bead joins brought together in the middle of their joint.
pub fn closed(face: &Face) -> Cow<'_, Face> {
    let mut closed = Cow::Borrowed(face);
    let count = face.pieces.len();
    for seal in face.seals.iter().filter(|s| s.width > 0 && s.first < count && s.second < count && s.first != s.second)
    {
        let [a, b] = [seal.first, seal.second].map(|piece| closed.pieces[piece].rect);
        let beside = a.up.overlaps(b.up);
        let above = a.along.overlaps(b.along);
        let (mut first, mut second) = (a, b);
        let met = match (beside, above) {
            (true, false) => meet(&mut first.along, &mut second.along, seal.width),
            (false, true) => meet(&mut first.up, &mut second.up, seal.width),
            _ => false,
        };
        if met {
            let pieces = &mut closed.to_mut().pieces;
            (pieces[seal.first].rect, pieces[seal.second].rect) = (first, second);
        } else if beside && above {
            around(&mut closed, *seal);
        }
    }
    closed
}

/// Where one piece goes through a hole in the other, the hole closes up to it where the bead is.
fn around(face: &mut Cow<'_, Face>, seal: Seal) {
    for cut in 0..face.cuts.len() {
        let inner = match face.cuts[cut].piece {
            outer if outer == seal.first => seal.second,
            outer if outer == seal.second => seal.first,
            _ => continue,
        };
        let through = face.pieces[inner].rect;
        let mut hole = face.cuts[cut].rect;
        for axis in [Axis::Up, Axis::Along] {
            let (edges, reach) = match axis {
                Axis::Up => (&mut hole.up, through.up),
                Axis::Along => (&mut hole.along, through.along),
            };
            let filled = |low: Coordinate, high: Coordinate| {
                let here = seal.at.is_none_or(|(across, at)| across == axis && low <= at && at <= high);
                let space = high.saturating_sub(low);
                here && 0 < space && space <= seal.width
            };
            if filled(edges.low, reach.low) {
                edges.low = reach.low;
            }
            if filled(reach.high, edges.high) {
                edges.high = reach.high;
            }
        }
        if hole != face.cuts[cut].rect {
            face.to_mut().cuts[cut].rect = hole;
        }
    }
}

/// Closes the space between two extents when it is no wider than this.
fn meet(a: &mut Extent, b: &mut Extent, width: i64) -> bool {
    let (low, high) = if a.high <= b.low { (a, b) } else { (b, a) };
    let space = high.low.saturating_sub(low.high);
    let closes = 0 < space && space <= width;
    if closes {
        let middle = low.high + space / 2;
        (low.high, high.low) = (middle, middle);
    }
    closes
}
