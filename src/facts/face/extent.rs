//! Lengths and rectangles on the face.

/// A place on the face in nanometres, so that equal edges are equal exactly.
pub type Coordinate = i64;

/// Runs off the detail downward or to the left.
pub const OPEN_LOW: Coordinate = Coordinate::MIN;

/// Runs off the detail upward or to the right.
pub const OPEN_HIGH: Coordinate = Coordinate::MAX;

pub const MILLIMETRE: Coordinate = 1_000_000;

/// From `low` to `high`, never empty.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Extent {
    pub low: Coordinate,
    pub high: Coordinate,
}

impl Extent {
    pub const OPEN: Extent = Extent { low: OPEN_LOW, high: OPEN_HIGH };

    /// `None` when an end is open.
    pub fn length(self) -> Option<Coordinate> {
        (self.low != OPEN_LOW && self.high != OPEN_HIGH).then(|| self.high.saturating_sub(self.low))
    }

    /// Whether the two share more than an edge.
    pub fn overlaps(self, other: Extent) -> bool {
        self.low < other.high && other.low < self.high
    }

    /// Whether a place is in the extent, ends included.
    pub fn reaches(self, at: Coordinate) -> bool {
        self.low <= at && at <= self.high
    }

    /// Some place strictly inside of it.
    pub fn inside(self) -> Coordinate {
        match (self.low, self.high) {
            (OPEN_LOW, OPEN_HIGH) => 0,
            (OPEN_LOW, high) => high.saturating_sub(1),
            (low, OPEN_HIGH) => low.saturating_add(1),
            (low, high) => ((i128::from(low) + i128::from(high)) / 2) as Coordinate,
        }
    }

    /// The same seen upside down.
    pub fn turned(self) -> Extent {
        Extent { low: turned(self.high), high: turned(self.low) }
    }

    /// The free space between two extents; 0 when they touch or overlap.
    pub fn distance(self, other: Extent) -> Coordinate {
        self.low.saturating_sub(other.high).max(other.low.saturating_sub(self.high)).max(0)
    }
}

impl Default for Extent {
    fn default() -> Extent {
        Extent::OPEN
    }
}

/// A rectangle on the face.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Rect {
    pub up: Extent,
    pub along: Extent,
}

impl Rect {
    pub fn overlaps(self, other: Rect) -> bool {
        self.up.overlaps(other.up) && self.along.overlaps(other.along)
    }

    /// Whether the two share an edge, a corner or more.
    pub fn meets(self, other: Rect) -> bool {
        self.up.distance(other.up) == 0 && self.along.distance(other.along) == 0
    }
}

/// A height on a face seen upside down.
pub fn turned(at: Coordinate) -> Coordinate {
    match at {
        OPEN_LOW => OPEN_HIGH,
        OPEN_HIGH => OPEN_LOW,
        at => -at,
    }
}

/// How far apart two places are.
pub fn apart(a: Coordinate, b: Coordinate) -> Coordinate {
    a.saturating_sub(b).saturating_abs()
}
