//! The face on paper, and the places on it at which something is.

use std::collections::BTreeSet;

use crate::facts::face::{Cells, Coordinate};
use crate::facts::nanometres;
use crate::model::{Axis, Detail};
use crate::output::drawing::ruler::Ruler;
use crate::output::drawing::scene::Area;
use crate::output::drawing::subject::Subject;
use crate::quantity::Quantity;

/// The face on paper.
pub struct Plane<'a> {
    pub subject: &'a Subject<'a>,
    pub cells: &'a Cells,
    pub up: &'a Ruler,
    pub along: &'a Ruler,
    pub left: f64,
    pub bottom: f64,
    /// mm of the building for each mm of paper.
    pub scale: f64,
}

impl Plane<'_> {
    pub fn cell(&self, column: usize, row: usize) -> Area {
        let (along, up) = (self.cells.column(column), self.cells.row(row));
        Area::new(self.x(along.low), self.y(up.high), self.x(along.high), self.y(up.low))
    }

    /// A cell as far as a piece really reaches in it.
    pub fn part(&self, column: usize, row: usize, piece: usize) -> Area {
        let (along, up) = (self.cells.column(column), self.cells.row(row));
        let [left, right] = self.subject.real(piece, Axis::Along, up, [along.low, along.high]);
        let [bottom, top] = self.subject.real(piece, Axis::Up, along, [up.low, up.high]);
        Area::new(self.x(left), self.y(top), self.x(right), self.y(bottom))
    }

    pub fn x(&self, along: Coordinate) -> f64 {
        self.left + self.along.at(along)
    }

    pub fn y(&self, up: Coordinate) -> f64 {
        self.bottom - self.up.at(up)
    }

    pub fn whole(&self) -> Area {
        let top = self.bottom - self.up.length();
        Area::new(self.left, top, self.left + self.along.length(), self.bottom)
    }

    /// The piece that is seen in a cell.
    pub fn seen(&self, column: usize, row: usize) -> Option<usize> {
        self.cells.stack(column, row).last().map(|piece| *piece as usize)
    }

    /// The outer face's pieces take part in what is seen or covered; the inner face's do not.
    pub fn has(&self, column: usize, row: usize, piece: usize) -> bool {
        self.cells.stack(column, row).contains(&(piece as u32))
    }
}

/// All places on an axis at which something is that belongs to the outer face.
pub(super) fn edges(subject: &Subject, axis: Axis) -> Vec<Coordinate> {
    let (detail, cells) = (subject.detail, &subject.facts.face.cells);
    let mut edges = BTreeSet::new();
    let count = if axis == Axis::Up { cells.rows() } else { cells.columns() };
    for n in 0..count {
        let extent = if axis == Axis::Up { cells.row(n) } else { cells.column(n) };
        edges.extend([extent.low, extent.high]);
    }
    let [inner, outer] = [true, false].map(|inside| of_pieces(detail, axis, inside));
    edges.retain(|edge| !inner.contains(edge) || outer.contains(edge));
    let mut add = |at: &Quantity| {
        edges.insert(nanometres(*at));
    };
    detail.folds.iter().filter(|f| f.axis == axis).for_each(|f| add(&f.at));
    subject.joints.iter().filter(|joint| joint.axis == axis).for_each(|joint| edges.extend(joint.edges));
    let mut add = |at: &Quantity| {
        edges.insert(nanometres(*at));
    };
    let inside = |piece: usize| detail.pieces[piece].inside;
    let seals = detail.seals.iter().filter(|seal| !inside(seal.first.index) && !inside(seal.second.index));
    seals.filter_map(|s| s.at.as_ref()).filter(|at| at.0 == axis).for_each(|at| add(&at.1));
    for fastening in detail.fastenings.iter().filter(|fastening| !inside(fastening.piece.index)) {
        let extent = if axis == Axis::Up { fastening.up } else { fastening.along };
        [extent.low, extent.high].iter().flatten().for_each(&mut add);
    }
    if axis == Axis::Up {
        let sheltered = detail.sheltered.unwrap_or_default();
        detail.grade.iter().for_each(|grade| add(&grade.value));
        [sheltered.low, sheltered.high].iter().flatten().for_each(&mut add);
        detail.weeps.iter().filter_map(|w| w.up.as_ref()).for_each(add);
    }
    edges.into_iter().collect()
}

/// Where pieces of the outer or of the inner face and their cuts begin and end.
pub(super) fn of_pieces(detail: &Detail, axis: Axis, inside: bool) -> BTreeSet<Coordinate> {
    let pieces = detail.pieces.iter().filter(|piece| piece.inside == inside).map(|piece| (piece.up, piece.along));
    let cuts = detail.cuts.iter().filter(|cut| detail.pieces[cut.piece.index].inside == inside);
    let extents = pieces.chain(cuts.map(|cut| (cut.up, cut.along)));
    let ends = extents.map(|(up, along)| if axis == Axis::Up { up } else { along });
    ends.flat_map(|extent| [extent.low, extent.high]).flatten().map(nanometres).collect()
}
