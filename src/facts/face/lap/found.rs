//! One lap in one column or row, before it is known which of many is the shortest.

use std::ops::Range;

use super::Run;
use crate::facts::face::lap::CellLine;
use crate::facts::face::stack::Order;
use crate::facts::face::{Coordinate, Extent, Face};

/// One lap in one line. Whatever is costly to work out is left until the shortest of many laps is known.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct FoundLap {
    pub(super) over: u32,
    pub(super) under: u32,
    pub(super) run: Run,
    pub(super) shingled: bool,
    pub(super) length: Coordinate,
    pub(super) foot: Option<Coordinate>,
    pub(super) line: u32,
    /// The rows (or columns) that the two share.
    pub(super) first: u32,
    pub(super) end: u32,
}

/// Whether water runs down the face there, or else up the face as drawn, to a valley or from a ridge; `None` across such a
/// line, where it does both.
fn runs_down(face: &Face, up: Extent) -> Option<bool> {
    match face.valleys() {
        None if face.crest.is_some_and(|crest| crest <= up.low) => Some(false),
        None if face.crest.is_some_and(|crest| crest < up.high) => None,
        Some([low, _]) if up.high <= low => Some(false),
        Some([low, _]) if up.low < low => None,
        _ => Some(true),
    }
}

impl FoundLap {
    /// The lap of two pieces, the lower (or left) one first, over these rows (or columns).
    pub(super) fn new(
        face: &Face,
        line: &CellLine,
        index: usize,
        order: &Order,
        pair: [usize; 2],
        rows: Range<usize>,
    ) -> FoundLap {
        let [lower, upper] = pair;
        let upper_outboard = if order.changed { line.outboard(order, pair, rows.clone()) } else { upper > lower };
        let (over, under) = if upper_outboard { (upper, lower) } else { (lower, upper) };
        let extent = line.run.extent(line.cells, rows.clone());
        let way = if line.run == Run::Head { runs_down(face, extent) } else { None };
        FoundLap {
            over: over as u32,
            under: under as u32,
            run: line.run,
            shingled: line.run == Run::Head && way.is_some_and(|down| upper_outboard == down),
            length: extent.high.saturating_sub(extent.low),
            foot: (line.run == Run::Head).then_some(if way == Some(false) { extent.high } else { extent.low }),
            line: index as u32,
            first: rows.start as u32,
            end: rows.end as u32,
        }
    }

    pub(super) fn sheds(&self, face: &Face, line: &CellLine) -> bool {
        let across = self.run.extent(line.cells, self.rows());
        let (up, along) = match self.run {
            Run::Head => (across, line.cells.column(line.index)),
            Run::Side => (line.cells.row(line.index), across),
        };
        face.sheds(along, up.inside(), true)
    }

    pub(super) fn rows(&self) -> Range<usize> {
        self.first as usize..self.end as usize
    }
}
