//! Joints as wide as they are stated: the facts close what a bead fills, a drawing shows it open and the bead in it.

use crate::facts::face::{Coordinate, Extent, Face, Rect, Seal};
use crate::model::Axis;

/// The space between two edges that a bead of stated width fills.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Joint {
    /// The seal that fills it, by index.
    pub seal: usize,
    /// The axis on which its edges lie apart.
    pub axis: Axis,
    pub edges: [Coordinate; 2],
    /// How far it runs on the other axis.
    pub across: Extent,
    /// The piece that ends at the first edge, and the one that begins at the second.
    pub pieces: [usize; 2],
}

pub fn joints(face: &Face) -> Vec<Joint> {
    let count = face.pieces.len();
    let there = |seal: &Seal| seal.width > 0 && seal.first < count && seal.second < count && seal.first != seal.second;
    let seals = face.seals.iter().enumerate().filter(|(_, seal)| there(seal));
    seals.flat_map(|(n, seal)| between(face, n, seal).into_iter().chain(around(face, n, seal))).collect()
}

/// Edges that stand apart by no more than the width. Edges drawn as one lie half the width to either side of it.
fn between(face: &Face, index: usize, seal: &Seal) -> Option<Joint> {
    let rect = |piece: usize| face.pieces[piece].rect;
    let (a, b) = (rect(seal.first), rect(seal.second));
    let axis = match (a.up.overlaps(b.up), a.along.overlaps(b.along)) {
        (true, false) => Axis::Along,
        (false, true) => Axis::Up,
        _ => return None,
    };
    let first_is_low = on(a, axis).high <= on(b, axis).low;
    let pieces = if first_is_low { [seal.first, seal.second] } else { [seal.second, seal.first] };
    let [low, high] = pieces.map(rect);
    let edges = [on(low, axis).high, on(high, axis).low];
    let space = edges[1].saturating_sub(edges[0]);
    let edges = match space {
        0 if seal.at.is_none_or(|(of, _)| of == axis) => {
            let half = seal.width / 2;
            [edges[0] - half, edges[1] + (seal.width - half)]
        }
        1.. if space <= seal.width => edges,
        _ => return None,
    };
    let (p, q) = (on(low, other(axis)), on(high, other(axis)));
    let across = Extent { low: p.low.max(q.low), high: p.high.min(q.high) };
    Some(Joint { seal: index, axis, edges, across, pieces })
}

/// The space around what goes through a hole of the other piece.
fn around(face: &Face, index: usize, seal: &Seal) -> Vec<Joint> {
    let mut found = Vec::new();
    for cut in &face.cuts {
        let inner = match cut.piece {
            outer if outer == seal.first => seal.second,
            outer if outer == seal.second => seal.first,
            _ => continue,
        };
        let through = face.pieces[inner].rect;
        if !cut.rect.overlaps(through) {
            continue;
        }
        for axis in [Axis::Up, Axis::Along] {
            let (hole, reach, across) = (on(cut.rect, axis), on(through, axis), on(through, other(axis)));
            let below = ([hole.low, reach.low], [cut.piece, inner]);
            let above = ([reach.high, hole.high], [inner, cut.piece]);
            for (edges, pieces) in [below, above] {
                let space = edges[1].saturating_sub(edges[0]);
                let here = seal.at.is_none_or(|(of, at)| of == axis && edges[0] <= at && at <= edges[1]);
                if here && 0 < space && space <= seal.width {
                    found.push(Joint { seal: index, axis, edges, across, pieces });
                }
            }
        }
    }
    found
}

impl Joint {
    /// A stretch of a piece as far as it really reaches. What the facts brought together ends within the joint.
    pub fn open(&self, piece: usize, [low, high]: [Coordinate; 2]) -> [Coordinate; 2] {
        let [below, above] = self.edges;
        if piece == self.pieces[0] && below < high && high <= above && low < below {
            return [low, below];
        }
        if piece == self.pieces[1] && below <= low && low < above && above < high {
            return [above, high];
        }
        [low, high]
    }
}

fn on(rect: Rect, axis: Axis) -> Extent {
    if axis == Axis::Up { rect.up } else { rect.along }
}

pub fn other(axis: Axis) -> Axis {
    if axis == Axis::Up { Axis::Along } else { Axis::Up }
}
