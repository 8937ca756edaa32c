//! One column or one row of the face.

use std::ops::Range;

use crate::facts::face::lap::Run;
use crate::facts::face::{Block, Cells, Extent, Order};
use crate::model::Axis;

/// An unbroken run of a piece in one column or row: indices of rows or columns, both ends included.
pub struct Interval {
    pub piece: usize,
    pub first: usize,
    pub last: usize,
}

/// One column or row.
pub struct CellLine<'a> {
    pub cells: &'a Cells,
    pub run: Run,
    /// The index of the column or row, the first of those that are alike.
    pub index: usize,
}

impl<'a> CellLine<'a> {
    /// All columns, then all rows; of those that are alike, one stands for all.
    pub fn all(cells: &'a Cells) -> impl Iterator<Item = CellLine<'a>> {
        let columns =
            cells.alike_columns().into_iter().map(move |alike| CellLine { cells, run: Run::Head, index: alike.start });
        let rows =
            cells.alike_rows().into_iter().map(move |alike| CellLine { cells, run: Run::Side, index: alike.start });
        columns.chain(rows)
    }

    pub fn len(&self) -> usize {
        match self.run {
            Run::Head => self.cells.rows(),
            Run::Side => self.cells.columns(),
        }
    }

    fn place(&self, at: usize) -> (usize, usize) {
        match self.run {
            Run::Head => (self.index, at),
            Run::Side => (at, self.index),
        }
    }

    /// The outer face's pieces of a cell.
    fn stack(&self, at: usize) -> &'a [u32] {
        let (column, row) = self.place(at);
        self.cells.stack(column, row)
    }

    /// The pieces of both faces.
    pub fn whole(&self, at: usize) -> &'a [u32] {
        let (column, row) = self.place(at);
        self.cells.whole(column, row)
    }

    pub fn has(&self, at: usize, piece: usize) -> bool {
        self.whole(at).contains(&(piece as u32))
    }

    /// Lists the intervals in the order in which they begin; returns the steps it took.
    pub fn intervals(&self, intervals: &mut Vec<Interval>, latest: &mut [usize]) -> usize {
        intervals.clear();
        let mut steps = 0;
        for at in 0..self.len() {
            let stack = self.stack(at);
            steps += 1 + stack.len();
            for &piece in stack {
                let piece = piece as usize;
                match intervals.get_mut(latest[piece]) {
                    // An index left over from another line may be that of another piece here.
                    Some(interval) if interval.piece == piece && interval.last + 1 == at => interval.last = at,
                    _ => {
                        latest[piece] = intervals.len();
                        intervals.push(Interval { piece, first: at, last: at });
                    }
                }
            }
        }
        steps
    }

    /// The steps that it takes to look through these stacks.
    pub fn depth(&self, rows: Range<usize>) -> usize {
        rows.map(|at| 1 + self.stack(at).len()).sum()
    }

    /// Whether the second lies outboard of the first. The cells of the lap that can be built as drawn decide; where there are
    /// none, or the pair changes sides among them, the order of installation does.
    pub fn outboard(&self, order: &Order, pair: [usize; 2], rows: Range<usize>) -> bool {
        let possible = |at: &usize| {
            let (column, row) = self.place(*at);
            !order.is_impossible(self.cells.cell(column, row))
        };
        let mut sides = rows.filter(possible).map(|at| self.in_front(at, pair[1], pair[0]));
        let first = sides.next();
        first.filter(|first| sides.all(|side| side == *first)).unwrap_or(pair[1] > pair[0])
    }

    /// The pieces between an inner and an outer one; none where either is absent.
    pub fn between(&self, at: usize, inner: usize, outer: usize) -> impl Iterator<Item = usize> + use<'a> {
        let places = self.position(at, inner).zip(self.position(at, outer));
        let within = places.and_then(|(inner, outer)| self.stack(at).get(inner + 1..outer));
        within.unwrap_or_default().iter().map(|&p| p as usize)
    }

    /// Whether the first lies outboard of the second, or the second is absent.
    pub fn in_front(&self, at: usize, piece: usize, of: usize) -> bool {
        self.position(at, piece) > self.position(at, of)
    }

    /// How many pieces lie inboard of it; `None` where it is absent.
    fn position(&self, at: usize, piece: usize) -> Option<usize> {
        self.stack(at).iter().position(|&p| p as usize == piece)
    }

    pub fn touch(&self, at: usize, a: usize, b: usize) -> bool {
        let (column, row) = self.place(at);
        self.cells.touch(column, row, a, b)
    }

    /// Whether a third piece is at the lap, or at an edge of it, and touches both pieces in this line.
    pub fn bridges(&self, third: usize, pair: [usize; 2], rows: Range<usize>) -> bool {
        let mut near = rows.start.saturating_sub(1)..(rows.end + 1).min(self.len());
        near.any(|at| self.stack(at).contains(&(third as u32)))
            && pair.iter().all(|&piece| self.common(third, piece).any(|at| self.touch(at, third, piece)))
    }

    /// Where both pieces may be in this line.
    fn common(&self, a: usize, b: usize) -> Range<usize> {
        let Block { columns, rows } = self.cells.common(a, b);
        match self.run {
            Run::Head if columns.contains(&self.index) => rows,
            Run::Side if rows.contains(&self.index) => columns,
            _ => 0..0,
        }
    }
}

impl Run {
    /// The axis that a line runs along.
    pub fn axis(self) -> Axis {
        match self {
            Run::Head => Axis::Up,
            Run::Side => Axis::Along,
        }
    }

    pub fn extent(self, cells: &Cells, range: Range<usize>) -> Extent {
        let (low, high) = (range.start, range.end - 1);
        match self {
            Run::Head => Extent { low: cells.row(low).low, high: cells.row(high).high },
            Run::Side => Extent { low: cells.column(low).low, high: cells.column(high).high },
        }
    }
}
