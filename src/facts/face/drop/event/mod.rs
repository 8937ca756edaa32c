//! What is kept of drops: events, how they end, and the trail of one drop for each end.

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
    /// Is kept out only by the seal of the first piece to the second.
    Relies,
    /// Falls on a piece that water harms.
    Bare,
    Wets,
    /// Leaves the piece inward, with nothing behind it to run on.
    Enters,
    /// Falls off the piece at a gap, with no piece right below to catch it.
    Gap,
    /// Backs up between the first piece and the second and finds a way inward.
    Pools,
    /// Runs on the piece behind the water control layer.
    Behind,
    /// The drop met nothing on the whole face and ran off.
    Drains,
    /// The drop met nothing on the whole face, backed up and came out again.
    Held,
}

/// How a drop ends.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum End {
    Drains,
    /// Backs up and runs out over the top edge by which it came.
    Held,
    /// Ends behind the water control layer, where nothing leads it out.
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
    /// Each `Event` says what its two pieces are.
    pub pieces: [Option<usize>; 2],
    /// How the drops that met it end, each end once, in the order of `End`.
    pub ends: Vec<DropEnd>,
    /// Some drop met it in the open, with nothing outboard of the drop.
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

/// One step of a drop. Until the next step it runs down the piece that it is on.
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
    /// Gets onto a pan, behind the piece that stands on it: the pan is there to catch it.
    StartsIn,
    /// Passes behind the top edge of the piece.
    PassesBehind,
    /// The seal along the top edge of the piece, or in the joint above it, is assumed to fail, and the drop passes behind the
    /// piece.
    SealLost,
    /// Is led over the sealed top edge of the piece onto it.
    MovesOnto,
    /// The piece it was on has ended, and it continues on this one.
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
    /// The pair whose seal is assumed to fail. The trail begins there, on the second piece.
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
    /// The path of the drop that is the example of this end; for `Relies`, the path of the hypothetical drop from the failed
    /// seal on.
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
