//! Laps: where one piece goes on beyond another at one end, and the other beyond it at the other.

use std::ops::Range;

use crate::facts::face::budget::{Budget, TooLarge};
use crate::facts::face::stack::Order;
use crate::facts::face::{Cells, Coordinate, Extent, Face, Joints, Rect};
use crate::model::Control;

/// The direction in which the two pieces run past each other.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Run {
    Head,
    Side,
}

/// The shortest lap of one pair, run and shingling.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Lap {
    /// Lies outboard.
    pub over: usize,
    pub under: usize,
    pub run: Run,
    /// A head lap whose upper piece lies outboard; never said of a side lap.
    pub shingled: bool,
    /// Finite, since each of the two ends inside the other.
    pub length: Coordinate,
    /// The pair is sealed, here or elsewhere.
    pub sealed: bool,
    /// The two are neighbours somewhere in this lap.
    pub contact: bool,
    /// A third piece that holds air and is sealed to both along every lap of this kind: a tape across a seam. When
    /// different laps have different ones, the first.
    pub bridged: Option<usize>,
    pub at: Rect,
}

impl Run {
    pub fn word(self) -> &'static str {
        match self {
            Run::Head => "head",
            Run::Side => "side",
        }
    }

    fn other(self) -> Run {
        match self {
            Run::Head => Run::Side,
            Run::Side => Run::Head,
        }
    }

    fn extent(self, cells: &Cells, range: Range<usize>) -> Extent {
        let (low, high) = (range.start, range.end - 1);
        match self {
            Run::Head => Extent { low: cells.row(low).low, high: cells.row(high).high },
            Run::Side => Extent { low: cells.column(low).low, high: cells.column(high).high },
        }
    }
}

/// Where a piece runs without a break in one column or row: indices of rows or columns, both ends included.
struct Interval {
    piece: usize,
    first: usize,
    last: usize,
}

/// All laps by pair, run, shingling.
pub fn laps(
    face: &Face,
    cells: &Cells,
    order: &Order,
    joints: &Joints,
    budget: &mut Budget,
) -> Result<Vec<Lap>, TooLarge> {
    let mut found = Vec::new();
    let mut intervals = Vec::new();
    let mut latest = vec![0; face.pieces.len()];
    for run in [Run::Head, Run::Side] {
        let groups = match run {
            Run::Head => cells.alike_columns(),
            Run::Side => cells.alike_rows(),
        };
        for group in groups {
            let line = Line { cells, run, group };
            budget.spend(line.intervals(&mut intervals, &mut latest))?;
            for (at, lower) in intervals.iter().enumerate() {
                for upper in intervals[at + 1..].iter().take_while(|i| i.first <= lower.last) {
                    budget.spend(1)?;
                    if lower.first < upper.first && lower.last < upper.last {
                        let rows = upper.first..lower.last + 1;
                        found.push(line.lap(face, order, joints, [lower.piece, upper.piece], rows, budget)?);
                    }
                }
            }
        }
    }
    found.sort_unstable_by_key(|l| (l.over, l.under, l.run, l.shingled, l.length, l.at));
    let same = |a: &Lap, b: &Lap| (a.over, a.under, a.run, a.shingled) == (b.over, b.under, b.run, b.shingled);
    Ok(found.chunk_by(same).map(shortest).collect())
}

fn shortest(laps: &[Lap]) -> Lap {
    let mut lap = laps[0];
    for next in laps.iter().skip(1).filter(|l| l.length == laps[0].length) {
        lap.contact |= next.contact;
        if next.at.up == lap.at.up && next.at.along.low == lap.at.along.high {
            lap.at.along.high = next.at.along.high;
        } else if next.at.along == lap.at.along && next.at.up.low == lap.at.up.high {
            lap.at.up.high = next.at.up.high;
        }
    }
    let bridges = laps.iter().map(|l| l.bridged);
    lap.bridged = bridges.clone().all(|b| b.is_some()).then(|| bridges.flatten().min()).flatten();
    lap
}

/// Columns, or rows, in which nothing changes.
struct Line<'a> {
    cells: &'a Cells,
    run: Run,
    group: Range<usize>,
}

impl Line<'_> {
    fn len(&self) -> usize {
        match self.run {
            Run::Head => self.cells.rows(),
            Run::Side => self.cells.columns(),
        }
    }

    fn place(&self, at: usize) -> (usize, usize) {
        match self.run {
            Run::Head => (self.group.start, at),
            Run::Side => (at, self.group.start),
        }
    }

    fn stack(&self, at: usize) -> &[u32] {
        let (column, row) = self.place(at);
        self.cells.stack(column, row)
    }

    /// Lists the intervals in the order in which they begin; returns the steps it took.
    fn intervals(&self, intervals: &mut Vec<Interval>, latest: &mut [usize]) -> usize {
        intervals.clear();
        let mut steps = 0;
        for at in 0..self.len() {
            let stack = self.stack(at);
            steps += 1 + stack.len();
            for &piece in stack {
                let piece = piece as usize;
                match intervals.get_mut(latest[piece]) {
                    // An index left over from another line may stand for another piece here.
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

    /// The lap of two pieces, the lower (or left) one first, over these rows (or columns).
    fn lap(
        &self,
        face: &Face,
        order: &Order,
        joints: &Joints,
        pair: [usize; 2],
        rows: Range<usize>,
        budget: &mut Budget,
    ) -> Result<Lap, TooLarge> {
        let [lower, upper] = pair;
        budget.spend(self.depth(rows.clone()))?;
        let upper_outboard = if order.changed { self.outboard(order, pair, rows.clone()) } else { upper > lower };
        let (over, under) = if upper_outboard { (upper, lower) } else { (lower, upper) };
        let sealed = joints.sealed.has(lower, upper);
        let mut bridged = None;
        if !sealed {
            for third in joints.sealed.of_both(lower, upper).filter(|&t| face.pieces[t].holds.has(Control::Air)) {
                budget.spend(self.depth(0..self.len()))?;
                if self.bridges(third, pair, rows.clone()) {
                    bridged = Some(third);
                    break;
                }
            }
        }
        let (extent, across) = (self.run.extent(self.cells, rows.clone()), self.group.clone());
        let across = self.run.other().extent(self.cells, across);
        Ok(Lap {
            over,
            under,
            run: self.run,
            shingled: self.run == Run::Head && upper_outboard,
            length: extent.high.saturating_sub(extent.low),
            sealed,
            contact: joints.contact.has(lower, upper) && rows.clone().any(|at| self.touch(at, lower, upper)),
            bridged,
            at: match self.run {
                Run::Head => Rect { up: extent, along: across },
                Run::Side => Rect { up: across, along: extent },
            },
        })
    }

    /// What it costs to look through these stacks.
    fn depth(&self, rows: Range<usize>) -> usize {
        rows.map(|at| 1 + self.stack(at).len()).sum()
    }

    /// The second lies outboard of the first, by the first cell of the lap that can be built as drawn; when none can, by
    /// the order of installation that such cells keep to.
    fn outboard(&self, order: &Order, pair: [usize; 2], rows: Range<usize>) -> bool {
        let possible = |at: &usize| {
            let (column, row) = self.place(*at);
            !order.is_impossible(self.cells.cell(column, row))
        };
        let cell = rows.clone().find(possible).unwrap_or(rows.start);
        let position = |piece: usize| self.stack(cell).iter().position(|&p| p as usize == piece);
        position(pair[1]) > position(pair[0])
    }

    fn touch(&self, at: usize, a: usize, b: usize) -> bool {
        let (column, row) = self.place(at);
        self.cells.touch(column, row, a, b)
    }

    /// A third piece is at the lap, or at an edge of it, and touches both pieces in this line.
    fn bridges(&self, third: usize, pair: [usize; 2], rows: Range<usize>) -> bool {
        let mut near = rows.start.saturating_sub(1)..(rows.end + 1).min(self.len());
        near.any(|at| self.stack(at).contains(&(third as u32)))
            && pair.iter().all(|&piece| (0..self.len()).any(|at| self.touch(at, third, piece)))
    }
}
