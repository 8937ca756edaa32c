//! An elevation at a scale, before anything is drawn: its rulers, its chains of dimensions, and the paper that these take.

use crate::model::Axis;
use crate::output::drawing::elevation::chain::{self, Stop};
use crate::output::drawing::elevation::plane::edges;
use crate::output::drawing::elevation::zero;
use crate::output::drawing::note;
use crate::output::drawing::ruler::Ruler;
use crate::output::drawing::subject::Subject;

/// What stands beside an elevation.
#[derive(Clone, Copy, PartialEq, Eq)]
pub enum Noted {
    /// Names of its pieces and findings.
    Words,
    /// Their numbers alone: the sheet has their words.
    Numbers,
}

pub struct Draft<'a> {
    pub(super) subject: &'a Subject<'a>,
    pub(super) scale: f64,
    pub(super) up: Ruler,
    pub(super) along: Ruler,
    /// The chain of heights, and that of an opening where it needs one of its own.
    pub(super) heights: Vec<Stop>,
    pub(super) high: Vec<Stop>,
    /// The chains below the face, from the face down.
    pub(super) chains: Vec<Vec<Stop>>,
    pub(super) zero_room: f64,
    pub(super) left: f64,
    pub(super) bottom: f64,
}

/// Where the chains of dimensions run, mm beside the face.
pub(super) const CHAIN: f64 = 6.0;

/// From one chain to the next, beside each other and below each other, mm.
const BETWEEN: f64 = 6.0;
const ROW: f64 = 8.0;

/// Free paper above the face, mm.
pub(super) const TOP: f64 = 7.0;

impl<'a> Draft<'a> {
    pub fn new(subject: &'a Subject<'a>, scale: f64) -> Draft<'a> {
        let (ups, alongs) = (edges(subject, Axis::Up), edges(subject, Axis::Along));
        let (up, along) = (Ruler::new(&ups, scale, subject.whole), Ruler::new(&alongs, scale, subject.whole));
        let heights = chain::stops(subject, Axis::Up, &up);
        let high = chain::opening(subject, Axis::Up, &up, &heights);
        let outer = if high.is_empty() { 0.0 } else { chain::room(&high) + BETWEEN };
        let zero_room = zero::room(subject, Axis::Up);
        let left = chain::room(&heights) + CHAIN + 3.0 + outer + zero_room;
        let mut chains = match chain::valley(subject, &along) {
            Some(chains) => Vec::from(chains),
            None => vec![chain::stops(subject, Axis::Along, &along)],
        };
        let wide = chains.last().map(|inner| chain::opening(subject, Axis::Along, &along, inner));
        chains.extend(wide.filter(|wide| !wide.is_empty()));
        let bottom = TOP + up.length();
        Draft { subject, scale, up, along, heights, high, chains, zero_room, left, bottom }
    }

    /// How wide its view is.
    pub fn width(&self, noted: Noted) -> f64 {
        self.notes_at(noted) + noted.wide()
    }

    /// No view of it is less high.
    pub fn least_height(&self) -> f64 {
        self.row(self.chains.len() - 1) + 4.0 + zero::room(self.subject, Axis::Along)
    }

    /// Where a chain below the face runs.
    pub(super) fn row(&self, n: usize) -> f64 {
        self.bottom + CHAIN + 2.0 + n as f64 * ROW
    }

    pub(super) fn notes_at(&self, noted: Noted) -> f64 {
        let off = if noted == Noted::Words { 14.0 } else { 9.0 };
        self.left + self.along.length() + off
    }
}

impl Noted {
    /// How wide the column is.
    pub(super) fn wide(self) -> f64 {
        if self == Noted::Words { note::WIDTH } else { note::NUMBER }
    }
}
