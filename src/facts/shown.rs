//! How much of the face, to the left and right, a section through an opening shows.
//!
//! An architect who draws a sill, a head or a threshold in section states the width of the pan or the unit, but gives the wall
//! no ends. Such a detail shows nothing beyond the ends of the opening, where the wall goes up beside the jamb.

use crate::facts::bend;
use crate::facts::detail::rect;
use crate::facts::face::{Extent, MILLIMETRE};
use crate::model::{AssemblyKind, Axis, Detail, FoldKind, MaterialKind, Piece};

/// A narrower piece is an end dam, a corner or a patch, and does not give the width of the opening.
const WIDE: i64 = 300 * MILLIMETRE;

/// The part of the face, from left to right, that the detail shows.
pub fn shown(detail: &Detail) -> Extent {
    part(detail).unwrap_or(Extent::OPEN)
}

fn part(detail: &Detail) -> Option<Extent> {
    if detail.folds.iter().any(|fold| fold.axis == Axis::Along) {
        return None;
    }
    let mut rims = bend::openings(detail, Axis::Up);
    let rim = rims.next().filter(|_| rims.next().is_none())?;
    let units = || detail.pieces.iter().filter(|piece| !piece.inside && fills(detail, piece)).map(across);
    let ends = units().reduce(|a, b| Extent { low: a.low.min(b.low), high: a.high.max(b.high) })?;
    if ends.length().is_some() {
        // Where the wall is drawn on past the rim, the detail is an elevation of a corner.
        let wall = |piece: &Piece| piece.layer.is_some() && !fills(detail, piece) && !piece.inside;
        let runs_on =
            |piece: &Piece| if rim.kind == FoldKind::Head { piece.up.low.is_none() } else { piece.up.high.is_none() };
        return (!detail.pieces.iter().any(|piece| wall(piece) && runs_on(piece))).then_some(ends);
    }
    if ends != Extent::OPEN {
        return None;
    }
    let laid = |piece: &&Piece| {
        !piece.inside && matches!(piece.material.kind, Some(MaterialKind::Flashing | MaterialKind::Tape))
    };
    let wide = detail.pieces.iter().filter(laid).map(across).filter(|on| on.length().is_some_and(|long| long >= WIDE));
    let common = wide.reduce(|a, b| Extent { low: a.low.max(b.low), high: a.high.min(b.high) })?;
    (common.low < common.high).then_some(common)
}

/// Whether the piece is the window or the door of the opening.
fn fills(detail: &Detail, piece: &Piece) -> bool {
    let of = piece.layer.map(|layer| detail.joins[layer.join].assembly.kind);
    piece.material.kind == Some(MaterialKind::Unit) && of == Some(AssemblyKind::Opening)
}

fn across(piece: &Piece) -> Extent {
    rect(&piece.up, &piece.along).along
}
