//! The edges of the pieces of a control layer: which of them end in the open.

mod line;
mod sealed;

use crate::facts::face::budget::{Budget, TooLarge};
use crate::facts::face::{Block, Cells, Coordinate, Extent, Face, Joints, OPEN_HIGH, OPEN_LOW, Piece, Rect};
use crate::model::{Axis, MaterialKind};
use line::EdgeLine;

/// A column and a row.
type Cell = (usize, usize);

#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Side {
    Top,
    Bottom,
    Left,
    Right,
}

/// One edge of a piece of the layer that controls `Face::edges`. Where a piece runs off the detail it has no edge.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Edge {
    pub piece: usize,
    pub side: Side,
    pub at: Coordinate,
    /// Some of it is not lapped by another piece of the same layer; where it is, it is a seam.
    pub free: bool,
    /// All of it that is not lapped is sealed.
    pub sealed: bool,
    /// From the start of its first open stretch to the end of its last.
    pub open: Option<Extent>,
    /// Just inside of it the piece lies over something that goes on beyond it, as the flange of a window lies on the wall.
    pub flanged: bool,
    /// The unit that covers it somewhere and goes on beyond it.
    pub unit: Option<usize>,
}

impl Side {
    pub const ALL: [Side; 4] = [Side::Top, Side::Bottom, Side::Left, Side::Right];

    pub fn word(self) -> &'static str {
        match self {
            Side::Top => "top",
            Side::Bottom => "bottom",
            Side::Left => "left",
            Side::Right => "right",
        }
    }

    pub fn axis(self) -> Axis {
        match self {
            Side::Top | Side::Bottom => Axis::Up,
            Side::Left | Side::Right => Axis::Along,
        }
    }

    /// The cells just inside and just outside this edge of a block, in one of the lines that run across it.
    pub fn across(self, block: &Block, line: usize) -> (Cell, Cell) {
        match self {
            Side::Top => ((line, block.rows.end - 1), (line, block.rows.end)),
            Side::Bottom => ((line, block.rows.start), (line, block.rows.start - 1)),
            Side::Left => ((block.columns.start, line), (block.columns.start - 1, line)),
            Side::Right => ((block.columns.end - 1, line), (block.columns.end, line)),
        }
    }

    /// The cells from this one on, away from the piece.
    pub fn outward(self, cells: &Cells, (column, row): Cell) -> impl Iterator<Item = Cell> + use<> {
        let (way, count) = match self {
            Side::Top => ((0, 1), cells.rows() - row),
            Side::Bottom => ((0, -1), row + 1),
            Side::Left => ((-1, 0), column + 1),
            Side::Right => ((1, 0), cells.columns() - column),
        };
        (0..count as isize).map(move |n| (column.wrapping_add_signed(way.0 * n), row.wrapping_add_signed(way.1 * n)))
    }

    /// Where a piece ends on this side.
    pub fn end(self, rect: Rect) -> Coordinate {
        match self {
            Side::Top => rect.up.high,
            Side::Bottom => rect.up.low,
            Side::Left => rect.along.low,
            Side::Right => rect.along.high,
        }
    }
}

fn runs_off(end: Coordinate) -> bool {
    end == OPEN_LOW || end == OPEN_HIGH
}

/// All edges, by piece and side.
pub fn edges(face: &Face, cells: &Cells, joints: &Joints, budget: &mut Budget) -> Result<Vec<Edge>, TooLarge> {
    let mut found = Vec::new();
    for (piece, said) in face.pieces.iter().enumerate().filter(|(_, p)| asked(face, p)) {
        for side in Side::ALL {
            let at = side.end(said.rect);
            if runs_off(at) {
                continue;
            }
            let line = EdgeLine { face, cells, joints, piece, side, at };
            let (mut there, mut free, mut flanged, mut unit) = (false, false, false, None);
            let mut open: Option<Extent> = None;
            for k in line.range() {
                let (inner, outer, extent) = line.portion(k);
                budget.spend(2 + 4 * (cells.whole(inner.0, inner.1).len() + cells.whole(outer.0, outer.1).len()))?;
                budget.spend(joints.sealed_to(piece).count() * line.depth())?;
                if !cells.has(inner.0, inner.1, piece) || !cells.column(inner.0).overlaps(face.shown) {
                    continue;
                }
                there = true;
                flanged |= line.lies_on(inner, outer);
                unit = unit.or(line.unit_over(inner, outer));
                if !line.lapped(inner, outer) && line.shows_wall(outer, budget)? {
                    free = true;
                    if !line.sealed(inner, outer, extent, budget)? {
                        open = Some(Extent { low: open.map_or(extent.low, |open| open.low), high: extent.high });
                    }
                }
            }
            if there {
                found.push(Edge { piece, side, at, free, sealed: open.is_none(), open, flanged, unit });
            }
        }
    }
    Ok(found)
}

/// Whether the edges of a piece are judged: those of the control layer, and those of units. A hood or a pipe belongs to no
/// assembly, but its flange is part of the layer.
fn asked(face: &Face, piece: &Piece) -> bool {
    piece.controls.has(face.edges) || piece.is(MaterialKind::Unit) && piece.holds.has(face.edges)
}
