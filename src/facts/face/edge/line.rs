//! One edge of a piece, and what lies along it.

use std::ops::Range;

use super::{Cell, Side};
use crate::facts::face::budget::{Budget, TooLarge};
use crate::facts::face::{Cells, Coordinate, Extent, Face, Joints};
use crate::model::{Axis, MaterialKind};

pub(super) struct EdgeLine<'a> {
    pub(super) face: &'a Face,
    pub(super) cells: &'a Cells,
    pub(super) joints: &'a Joints,
    pub(super) piece: usize,
    pub(super) side: Side,
    pub(super) at: Coordinate,
}

impl EdgeLine<'_> {
    pub(super) fn range(&self) -> Range<usize> {
        let block = self.cells.block(self.piece);
        match self.side.axis() {
            Axis::Up => block.columns.clone(),
            Axis::Along => block.rows.clone(),
        }
    }

    /// The cells from this edge to the one across.
    pub(super) fn depth(&self) -> usize {
        let block = self.cells.block(self.piece);
        match self.side.axis() {
            Axis::Up => block.rows.len(),
            Axis::Along => block.columns.len(),
        }
    }

    /// The cells just inside and just outside the edge, and how far this portion of it runs. An edge is finite, so there is
    /// a cell beyond it.
    pub(super) fn portion(&self, k: usize) -> (Cell, Cell, Extent) {
        let (inner, outer) = self.side.across(self.cells.block(self.piece), k);
        let extent = if self.side.axis() == Axis::Up { self.cells.column(k) } else { self.cells.row(k) };
        (inner, outer, extent)
    }

    pub(super) fn is_at(&self, place: Cell, piece: usize) -> bool {
        self.cells.has(place.0, place.1, piece)
    }

    /// Whether what the piece lies on goes on beyond the edge.
    pub(super) fn lies_on(&self, inner: Cell, outer: Cell) -> bool {
        let [base, _] = self.sides(inner);
        base.iter().any(|&p| self.is_at(outer, p as usize))
    }

    pub(super) fn unit_over(&self, inner: Cell, outer: Cell) -> Option<usize> {
        let [_, over] = self.sides(inner);
        let unit = |&p: &usize| self.face.pieces[p].is(MaterialKind::Unit) && self.is_at(outer, p);
        over.iter().map(|&p| p as usize).find(unit)
    }

    /// Whether another piece of the same layer covers the edge, or a sheet of the next assembly's layer that is sealed or taped
    /// to it.
    pub(super) fn lapped(&self, inner: Cell, outer: Cell) -> bool {
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

    /// Whether the detail shows the wall beyond the edge. It always does for a sheet, which ends in the wall. For a unit it may
    /// not: a detail of a sill shows no wall beside the jambs, and cannot show what closes them.
    pub(super) fn shows_wall(&self, outer: Cell, budget: &mut Budget) -> Result<bool, TooLarge> {
        Ok(!self.face.pieces[self.piece].is(MaterialKind::Unit) || self.shows_more(outer, budget)?)
    }

    /// Whether something of the layer is drawn beyond this portion of the edge.
    pub(super) fn shows_more(&self, outer: Cell, budget: &mut Budget) -> Result<bool, TooLarge> {
        for (column, row) in self.side.outward(self.cells, outer) {
            let beyond = self.cells.whole(column, row);
            budget.spend(1 + beyond.len())?;
            if beyond.iter().any(|&p| self.face.pieces[p as usize].controls.has(self.face.edges)) {
                return Ok(true);
            }
        }
        Ok(false)
    }

    /// The cells of the piece's block in this line, from its low end to its high one, and how far each runs.
    pub(super) fn across(&self, (column, row): Cell) -> Vec<(Cell, Extent)> {
        let block = self.cells.block(self.piece);
        match self.side.axis() {
            Axis::Up => block.rows.clone().map(|r| ((column, r), self.cells.row(r))).collect(),
            Axis::Along => block.columns.clone().map(|c| ((c, row), self.cells.column(c))).collect(),
        }
    }

    /// What the piece lies on in a cell, and what lies over it; on the inner face, as seen from inside.
    pub(super) fn sides(&self, place: Cell) -> [&[u32]; 2] {
        let whole = self.cells.whole(place.0, place.1);
        let at = whole.iter().position(|&p| p as usize == self.piece).unwrap_or(0);
        let sides = [&whole[..at], &whole[(at + 1).min(whole.len())..]];
        if self.face.pieces[self.piece].inside { [sides[1], sides[0]] } else { sides }
    }
}
