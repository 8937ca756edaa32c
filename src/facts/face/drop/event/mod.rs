//! What is remembered of drops: events with their ends, and the trails behind them.

mod log;

use std::ops::Range;

use crate::facts::face::Coordinate;
pub use log::{DropLog, Encounter};

/// What a drop meets, or how it ends when it met nothing that would explain its end.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Event {
    /// Passes behind the unsealed top edge of the first piece, on the second.
    Reverse,
    /// Enters an open butt joint between the first piece, which ends, and the second.
    Joint,
    /// Is kept out by the seal of the first piece to the second alone.
    Relies,
    /// Falls on a piece that it harms.
    Bare,
    Wets,
    /// Finds nothing behind the piece to run on.
    Enters,
    /// Falls off the piece past a place where there is none.
    Gap,
    /// Backs up between the first piece and the second and finds a way inward.
    Pools,
    /// Runs on the piece behind the water control layer.
    Behind,
    /// Nothing happened on the whole face, and it ran off.
    Drains,
    /// Nothing happened on the whole face, and it came out again.
    Held,
}

/// How a drop ends.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum End {
    Drains,
    /// Backs up and runs out over the top edge by which it came.
    Held,
    /// Is behind the water control layer, where nothing leads it out.
    Behind,
    Wets,
    Enters,
    Pools,
    Gap,
}

/// One event, wherever on the face it happens.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct DropEvent {
    pub event: Event,
    /// Their meaning stands with each `Event`.
    pub pieces: [Option<usize>; 2],
    /// How the drops that met it end, each end once, in the order of `End`.
    pub ends: Vec<DropEnd>,
    /// Some drop met it in the open, with nothing outboard of it.
    pub exposed: bool,
}

/// One end of an event, with one drop as an example.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct DropEnd {
    pub end: End,
    /// Height of the event.
    pub up: Coordinate,
    trail: Range<usize>,
}

/// Something that a drop did. It runs down the piece it is on to the height of its next step.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct DropStep {
    pub kind: StepKind,
    pub piece: usize,
    /// `OPEN_HIGH` where the piece runs off the detail above, `OPEN_LOW` where the drop runs off below.
    pub up: Coordinate,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum StepKind {
    /// Hits the piece.
    StartsOn,
    /// Gets through what lies outboard of the water line, and onto the piece.
    StartsBehind,
    /// Gets onto the piece, behind what stands on it: a pan is there to catch it.
    StartsIn,
    /// Passes behind the top edge of the piece.
    PassesBehind,
    /// The seal along the top edge of the piece, or of the joint above it, is taken to be lost, and it passes behind it.
    SealLost,
    /// Is led over the sealed top edge of the piece onto it.
    MovesOnto,
    /// The piece it was on has ended; it goes on on this one.
    LandsOn,
    /// Can go no farther behind the piece, which is joined to the one that it runs on, and backs up.
    BacksUp,
    /// Ends: comes out over the top edge of the piece, at that height.
    RunsOut,
    /// Ends: finds a way inward behind the piece, at the height up to which it must rise.
    Overtops,
    /// Ends: wets the piece.
    Wets,
    /// Ends: leaves the piece and finds nothing behind it.
    Enters,
    /// Ends: leaves the piece and finds nothing below it.
    FallsOff,
    /// Ends: leaves the piece, or the detail, in the open.
    Drains,
    /// Ends: comes on the piece to a line that water runs to from both sides, and runs off along it.
    ReachesValley,
    /// Ends: the piece drains it outboard of the water line below.
    LedOff,
    /// Ends: runs down the piece behind the water control layer, or is held there.
    Behind,
}

/// The whole path of one drop.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Fall {
    pub end: End,
    pub trail: Vec<DropStep>,
    /// The pair whose seal is taken to be lost; the trail begins there, on the second.
    pub lost: Option<[usize; 2]>,
}

/// All events of a face.
#[derive(Clone, Debug, Default)]
pub struct Drops {
    /// By event and pieces.
    pub events: Vec<DropEvent>,
    steps: Vec<DropStep>,
}

impl Drops {
    /// The path of the drop that is the example of this end; for `Relies` of the hypothetical one, from the lost seal on.
    pub fn trail(&self, end: &DropEnd) -> &[DropStep] {
        &self.steps[end.trail.clone()]
    }
}

impl DropEvent {
    /// The end whose path is the example of the event: the one that does most harm.
    pub fn worst(&self) -> Option<&DropEnd> {
        self.ends.iter().max_by_key(|end| (end.end.is_damage(), end.end))
    }

    pub fn damages(&self) -> bool {
        self.ends.iter().any(|e| e.end.is_damage())
    }
}

impl Event {
    pub fn word(self) -> &'static str {
        match self {
            Event::Reverse => "reverse",
            Event::Joint => "joint",
            Event::Relies => "relies",
            Event::Bare => "bare",
            Event::Wets => "wets",
            Event::Enters => "enters",
            Event::Gap => "gap",
            Event::Pools => "pools",
            Event::Behind => "behind",
            Event::Drains => "drains",
            Event::Held => "held",
        }
    }
}

impl End {
    pub fn word(self) -> &'static str {
        match self {
            End::Drains => "drains",
            End::Held => "held",
            End::Behind => "behind",
            End::Wets => "wets",
            End::Enters => "enters",
            End::Pools => "pools",
            End::Gap => "gap",
        }
    }

    pub fn is_damage(self) -> bool {
        !matches!(self, End::Drains | End::Held)
    }
}
