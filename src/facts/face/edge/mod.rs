//! The edges of the pieces of a control layer: which of them end in the open.

mod sealed;

use std::ops::Range;

use crate::facts::face::budget::{Budget, TooLarge};
use crate::facts::face::{Cells, Coordinate, Extent, Face, Joints, OPEN_HIGH, OPEN_LOW, Piece, Rect};
use crate::model::{Axis, MaterialKind};

#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Side {
    Top,
    Bottom,
    Left,
    Right,
}

/// One edge of a piece of the layer that serves `Face::edges`; an end that runs off the detail is none.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Edge {
    pub piece: usize,
    pub side: Side,
    pub at: Coordinate,
    /// Some of it is not lapped by another piece of the same layer; where it is, it is a seam.
    pub free: bool,
    /// All of it that is not lapped is sealed.
    pub sealed: bool,
    /// The span from the first to the last stretch of it that is open.
    pub open: Option<Extent>,
    /// Just inside of it the piece lies over something that goes on beyond it, as the flange of a window lies on the wall.
    pub flanged: bool,
    /// A unit covers it somewhere, and goes on beyond it.
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

    fn axis(self) -> Axis {
        match self {
            Side::Top | Side::Bottom => Axis::Up,
            Side::Left | Side::Right => Axis::Along,
        }
    }

    /// Where a piece ends on this side.
    fn end(self, rect: Rect) -> Coordinate {
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
            let line = Line { face, cells, joints, piece, side, at };
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

/// Ends of the control layer, and units: a hood or a pipe belongs to no assembly, and its flange is part of the layer.
fn asked(face: &Face, piece: &Piece) -> bool {
    piece.controls.has(face.edges) || piece.is(MaterialKind::Unit) && piece.holds.has(face.edges)
}

type Place = (usize, usize);

struct Line<'a> {
    face: &'a Face,
    cells: &'a Cells,
    joints: &'a Joints,
    piece: usize,
    side: Side,
    at: Coordinate,
}

impl Line<'_> {
    fn range(&self) -> Range<usize> {
        let block = self.cells.block(self.piece);
        match self.side.axis() {
            Axis::Up => block.columns.clone(),
            Axis::Along => block.rows.clone(),
        }
    }

    /// The cells from this edge to the one across.
    fn depth(&self) -> usize {
        let block = self.cells.block(self.piece);
        match self.side.axis() {
            Axis::Up => block.rows.len(),
            Axis::Along => block.columns.len(),
        }
    }

    /// The cells just inside and just outside the edge, and how far this portion of it runs. An edge is finite, so there is
    /// a cell beyond it.
    fn portion(&self, k: usize) -> (Place, Place, Extent) {
        let block = self.cells.block(self.piece);
        match self.side {
            Side::Top => ((k, block.rows.end - 1), (k, block.rows.end), self.cells.column(k)),
            Side::Bottom => ((k, block.rows.start), (k, block.rows.start - 1), self.cells.column(k)),
            Side::Left => ((block.columns.start, k), (block.columns.start - 1, k), self.cells.row(k)),
            Side::Right => ((block.columns.end - 1, k), (block.columns.end, k), self.cells.row(k)),
        }
    }

    fn is_at(&self, place: Place, piece: usize) -> bool {
        self.cells.has(place.0, place.1, piece)
    }

    /// What it lies on goes on beyond the edge.
    fn lies_on(&self, inner: Place, outer: Place) -> bool {
        let [base, _] = self.sides(inner);
        base.iter().any(|&p| self.is_at(outer, p as usize))
    }

    fn unit_over(&self, inner: Place, outer: Place) -> Option<usize> {
        let [_, over] = self.sides(inner);
        let unit = |&p: &usize| self.face.pieces[p].is(MaterialKind::Unit) && self.is_at(outer, p);
        over.iter().map(|&p| p as usize).find(unit)
    }

    /// Another piece of the same layer covers the edge, or a sheet of the next assembly's layer that is sealed or taped to it.
    fn lapped(&self, inner: Place, outer: Place) -> bool {
        let own = &self.face.pieces[self.piece];
        let layer = own.layer;
        let holds = |tape: usize| self.face.pieces[tape].holds.has(self.face.edges);
        let next = |p: usize| {
            let said = &self.face.pieces[p];
            p != self.piece
                && own.is(MaterialKind::Sheet)
                && said.is(MaterialKind::Sheet)
                && said.controls.has(self.face.edges)
                && (self.joints.sealed.has(p, self.piece) || self.joints.sealed.of_both(p, self.piece).any(holds))
        };
        let same = |p: usize| layer.is_some() && self.face.pieces[p].layer == layer || next(p);
        let mut pieces = self.cells.whole(outer.0, outer.1).iter().map(|&p| p as usize);
        pieces.any(|p| same(p) && self.is_at(inner, p))
    }

    /// A sheet ends in the wall. A unit has an edge where the detail shows what of the wall lies beyond: a sill shows nothing of
    /// it beside the jambs, and is not asked what closes them.
    fn shows_wall(&self, outer: Place, budget: &mut Budget) -> Result<bool, TooLarge> {
        Ok(!self.face.pieces[self.piece].is(MaterialKind::Unit) || self.shows_more(outer, budget)?)
    }

    /// Something of the layer is drawn beyond this portion of the edge.
    fn shows_more(&self, outer: Place, budget: &mut Budget) -> Result<bool, TooLarge> {
        for (column, row) in self.outward(outer) {
            let beyond = self.cells.whole(column, row);
            budget.spend(1 + beyond.len())?;
            if beyond.iter().any(|&p| self.face.pieces[p as usize].controls.has(self.face.edges)) {
                return Ok(true);
            }
        }
        Ok(false)
    }

    /// The cells from this one on, away from the piece.
    fn outward(&self, (column, row): Place) -> impl Iterator<Item = Place> {
        let (columns, rows) = (self.cells.columns(), self.cells.rows());
        let (way, count) = match self.side {
            Side::Top => ((0, 1), rows - row),
            Side::Bottom => ((0, -1), row + 1),
            Side::Left => ((-1, 0), column + 1),
            Side::Right => ((1, 0), columns - column),
        };
        (0..count as isize).map(move |n| (column.wrapping_add_signed(way.0 * n), row.wrapping_add_signed(way.1 * n)))
    }

    /// The cells of the piece's block in this line, from its low end to its high one, and how far each runs.
    fn across(&self, (column, row): Place) -> Vec<(Place, Extent)> {
        let block = self.cells.block(self.piece);
        match self.side.axis() {
            Axis::Up => block.rows.clone().map(|r| ((column, r), self.cells.row(r))).collect(),
            Axis::Along => block.columns.clone().map(|c| ((c, row), self.cells.column(c))).collect(),
        }
    }

    /// What the piece lies on in a cell, and what lies over it; on the inner face that is seen from inside.
    fn sides(&self, place: Place) -> [&[u32]; 2] {
        let whole = self.cells.whole(place.0, place.1);
        let at = whole.iter().position(|&p| p as usize == self.piece).unwrap_or(0);
        let sides = [&whole[..at], &whole[(at + 1).min(whole.len())..]];
        if self.face.pieces[self.piece].inside { [sides[1], sides[0]] } else { sides }
    }
}
