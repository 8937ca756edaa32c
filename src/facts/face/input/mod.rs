//! The input of the geometry: pieces by index, and how they are cut, sealed and fastened.

mod piece;

use crate::facts::face::{Coordinate, Extent, Rect};
use crate::model::{Axis, Control, Controls, FoldKind};
pub use piece::{BondKind, Bonding, LayerEnd, Piece};

/// A drainage face, unfolded flat. An index of no piece is ignored.
#[derive(Clone, Debug)]
pub struct Face {
    /// In order of installation.
    pub pieces: Vec<Piece>,
    pub cuts: Vec<Cut>,
    pub seals: Vec<Seal>,
    pub fasten: Vec<Fasten>,
    pub folds: Vec<Fold>,
    /// How steep parts of the face are. Where two overlap, the first counts.
    pub slopes: Vec<Slope>,
    /// How steep the rest is; `None` where it is not stated.
    pub steepness: Option<f64>,
    /// Heights that water runs to from both sides.
    pub valleys: Vec<Coordinate>,
    /// The height of a ridge, from which water runs to both sides.
    pub crest: Option<Coordinate>,
    /// Whether rain reaches it. A face out of the weather has no drops.
    pub weather: bool,
    /// Bands on which no rain falls.
    pub sheltered: Vec<Extent>,
    /// From left to right, the part that the detail shows; beyond it nothing is judged.
    pub shown: Extent,
    /// The finished ground.
    pub grade: Option<Coordinate>,
    pub joins: Vec<Joined>,
    /// The control whose pieces must have no open edge: air, or vapor for a ground cover.
    pub edges: Control,
    pub limits: Limits,
}

impl Default for Face {
    fn default() -> Face {
        Face {
            pieces: Vec::new(),
            cuts: Vec::new(),
            seals: Vec::new(),
            fasten: Vec::new(),
            folds: Vec::new(),
            slopes: Vec::new(),
            steepness: Some(f64::INFINITY),
            valleys: Vec::new(),
            crest: None,
            weather: true,
            sheltered: Vec::new(),
            shown: Extent::OPEN,
            grade: None,
            joins: Vec::new(),
            edges: Control::Air,
            limits: Limits::default(),
        }
    }
}

/// Assumptions of the geometry.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Limits {
    /// A bead this near an edge seals the edge.
    pub bead_reach: Coordinate,
    /// A bead up to this far above an edge fills the corner above it.
    pub fillet: Coordinate,
    /// Rise over run: on a flatter face, a lap does not shed water.
    pub shedding: f64,
}

/// A joined assembly.
#[derive(Clone, Debug, Default)]
pub struct Joined {
    /// The controls that some layer of it carries.
    pub carries: Controls,
    /// Of the layers that control water the outmost and the inmost, counted from outside. A cladding counts only where it is
    /// the only one.
    pub water: Option<[usize; 2]>,
    /// Whether its mass may be exposed above grade.
    pub foundation: bool,
}

/// A hole in a piece.
#[derive(Clone, Copy, Debug)]
pub struct Cut {
    pub piece: usize,
    pub rect: Rect,
}

/// A bead between two pieces, at a height or along a line; along their whole contact when it has no place.
#[derive(Clone, Copy, Debug)]
pub struct Seal {
    pub first: usize,
    pub second: usize,
    pub at: Option<(Axis, Coordinate)>,
    /// The width of the joint that it fills. Edges this far apart count as meeting.
    pub width: Coordinate,
}

/// How steep a part of the face is.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Slope {
    pub up: Extent,
    pub along: Extent,
    /// Rise over run toward the outside: 0 is level, infinity plumb, and a negative rise falls back to the building.
    pub rise: f64,
}

/// A field of fasteners.
#[derive(Clone, Copy, Debug)]
pub struct Fasten {
    pub piece: usize,
    /// The whole piece if the author gives no place.
    pub rect: Rect,
    /// How many pieces were installed before it.
    pub after: usize,
}

/// The face turns here.
#[derive(Clone, Copy, Debug)]
pub struct Fold {
    pub axis: Axis,
    pub at: Coordinate,
    pub kind: FoldKind,
}

impl From<Controls> for Joined {
    fn from(carries: Controls) -> Joined {
        Joined { carries, ..Joined::default() }
    }
}

impl Face {
    /// How steep it is at a height of a column, just above it or just below; `None` where it is not stated.
    pub fn rise(&self, column: Extent, at: Coordinate, above: bool) -> Option<f64> {
        let along = column.inside();
        let here = |up: Extent| if above { up.low <= at && at < up.high } else { up.low < at && at <= up.high };
        self.slopes
            .iter()
            .find(|slope| here(slope.up) && slope.along.reaches(along))
            .map(|slope| slope.rise)
            .or(self.steepness)
    }

    /// Whether a lap there sheds water, which is assumed where the slope is not stated. On a flatter face, or one that falls
    /// back, water stands and gets in.
    pub fn sheds(&self, column: Extent, at: Coordinate, above: bool) -> bool {
        // Below a valley the face falls toward it, which is back to the building; beyond a ridge it falls to the other side.
        let turned = self.valleys().is_some_and(|[low, _]| at < low || at == low && !above)
            || self.crest.is_some_and(|crest| crest < at || at == crest && above);
        let least = self.limits.shedding;
        self.rise(column, at, above).is_none_or(|rise| if turned { rise.abs() >= least } else { rise >= least })
    }

    /// The lowest line that water runs to and the highest.
    pub fn valleys(&self) -> Option<[Coordinate; 2]> {
        self.valleys.iter().min().copied().zip(self.valleys.iter().max().copied()).map(|(low, high)| [low, high])
    }

    /// The top of a parapet, a curb or a chimney that the face folds over: the band between its lowest and highest level corner. The
    /// outer one may be drawn as a sill.
    pub fn top(&self) -> Option<Extent> {
        let level =
            |kind: FoldKind| self.folds.iter().filter(move |f| f.axis == Axis::Up && f.kind == kind).map(|f| f.at);
        let high = level(FoldKind::OutsideCorner).max()?;
        let low = level(FoldKind::OutsideCorner).chain(level(FoldKind::Sill)).min()?;
        (low < high).then_some(Extent { low, high })
    }

    /// Whether no rain falls anywhere on this extent.
    pub fn is_sheltered(&self, up: Extent) -> bool {
        self.sheltered.iter().any(|band| band.low <= up.low && up.high <= band.high)
    }
}
