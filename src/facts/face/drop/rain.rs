//! Where drops fall: in one column, on the rows that drain the same way.

use std::ops::Range;

use crate::facts::face::drop::event::StepKind;
use crate::facts::face::{Cells, Coordinate, Extent, Face, Joints, WaterLine, turned};
use crate::model::{Axis, Control};

/// Rows of a face from which water runs the same way: all of them, or those on one side of a valley or a ridge.
#[derive(Clone, Debug)]
pub struct Watershed {
    rows: Range<usize>,
    /// Water runs up the face, so heights and rows are turned upside down.
    turned: bool,
    /// It ends in a valley.
    valley: bool,
}

impl Watershed {
    /// The watersheds of a face. The rows between two valleys drain to either, and are not judged.
    pub fn all(face: &Face, cells: &Cells) -> impl Iterator<Item = Watershed> + use<> {
        let rows = cells.rows();
        let from = |height| (0..rows).find(|&row| cells.row(row).low >= height).unwrap_or(rows);
        let sides = match face.valleys() {
            None if face.crest.is_some() => {
                let crest = face.crest.map_or(rows, from);
                [
                    Some(Watershed { rows: 0..crest, turned: false, valley: false }),
                    Some(Watershed { rows: crest..rows, turned: true, valley: false }),
                ]
            }
            None => [Some(Watershed { rows: 0..rows, turned: false, valley: false }), None],
            Some([low, high]) => [
                Some(Watershed { rows: from(high)..rows, turned: false, valley: true }),
                Some(Watershed { rows: 0..from(low), turned: true, valley: true }),
            ],
        };
        sides.into_iter().flatten()
    }

    pub fn turned(&self) -> bool {
        self.turned
    }
}

/// One column of a watershed. Rows count from the lowest one that water reaches.
pub struct Rain<'a> {
    pub face: &'a Face,
    pub cells: &'a Cells,
    pub joints: &'a Joints,
    pub water: &'a WaterLine,
    pub column: usize,
    pub side: &'a Watershed,
}

impl<'a> Rain<'a> {
    pub fn rows(&self) -> usize {
        self.side.rows.len()
    }

    /// The row of the face that a row of the watershed is.
    fn at(&self, row: usize) -> usize {
        if self.side.turned { self.side.rows.end - 1 - row } else { self.side.rows.start + row }
    }

    /// The rows, out of these rows of the face, that are in this watershed.
    pub fn within(&self, rows: &Range<usize>) -> Range<usize> {
        let own = &self.side.rows;
        let (start, end) = (rows.start.clamp(own.start, own.end), rows.end.clamp(own.start, own.end));
        if self.side.turned { own.end - end..own.end - start } else { start - own.start..end - own.start }
    }

    pub fn row(&self, row: usize) -> Extent {
        let extent = self.cells.row(self.at(row));
        if self.side.turned { extent.turned() } else { extent }
    }

    /// Whether the piece at this place in the stack of a row has nothing outboard of it.
    pub fn in_the_open(&self, row: usize, at: usize) -> bool {
        at + 1 == self.whole(row).len()
    }

    /// The stack of a row without the pieces outboard of the water line.
    pub fn stack(&self, row: usize) -> &'a [u32] {
        self.water.stack(self.cells, self.column, self.at(row))
    }

    pub fn whole(&self, row: usize) -> &'a [u32] {
        self.cells.stack(self.column, self.at(row))
    }

    pub fn sheltered(&self, row: usize) -> bool {
        self.face.is_sheltered(self.cells.row(self.at(row)))
    }

    /// Whether rain has to be kept off this piece in this row.
    pub fn protects(&self, piece: usize, row: usize) -> bool {
        self.water.protects(piece, self.cells.row(self.at(row)))
    }

    /// Whether rain goes through this piece in this row and does it no harm.
    pub fn lets_through(&self, piece: usize, row: usize) -> bool {
        self.water.lets_through(piece, self.cells.row(self.at(row)))
    }

    pub fn is_behind(&self, row: usize, piece: usize) -> bool {
        let stack = self.whole(row);
        stack.iter().position(|&p| p as usize == piece).is_some_and(|at| self.water.is_behind(stack, at))
    }

    /// The heights of the beads between two pieces.
    pub fn beads(&self, a: usize, b: usize) -> impl Iterator<Item = Coordinate> + 'a {
        let flip = self.side.turned;
        self.joints.beads_at(a, b, Axis::Up).map(move |at| if flip { turned(at) } else { at })
    }

    /// Whether the piece that ends at the foot of this row sheds water onto the piece that goes on behind it. Where the face is
    /// too flat, only a seal keeps water out of a lap.
    pub fn sheds(&self, row: usize, [upper, lower]: [usize; 2]) -> bool {
        let foot = self.row(row).low;
        let holds = |piece: usize| self.face.pieces[piece].holds.has(Control::Water);
        let (at, above) = if self.side.turned { (turned(foot), false) } else { (foot, true) };
        let steep = self.face.sheds(self.cells.column(self.column), at, above);
        steep || !holds(upper) || !holds(lower)
    }

    /// How a drop leaves the lowest row.
    pub fn last_step(&self) -> StepKind {
        if self.side.valley { StepKind::ReachesValley } else { StepKind::Drains }
    }
}
