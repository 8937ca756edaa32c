//! What the geometry is told: pieces by index, and how they are cut, sealed and fastened.

use crate::facts::face::{Coordinate, Rect};
use crate::model::{Axis, Control, Controls, FoldKind, MaterialKind};

/// An unfolded drainage face. An index that stands for no piece is passed over.
#[derive(Clone, Debug)]
pub struct Face {
    /// In order of installation.
    pub pieces: Vec<Piece>,
    pub cuts: Vec<Cut>,
    pub seals: Vec<Seal>,
    pub fasten: Vec<Fasten>,
    pub folds: Vec<Fold>,
    /// Rain reaches it; a face out of the weather has no drops.
    pub weather: bool,
    /// No rain above this height.
    pub sheltered: Option<Coordinate>,
    /// For each joined assembly, the controls that some layer of it carries.
    pub joins: Vec<Controls>,
    /// The control whose pieces must have no open edge: air, for a ground cover vapor.
    pub edges: Control,
}

impl Default for Face {
    fn default() -> Face {
        Face {
            pieces: Vec::new(),
            cuts: Vec::new(),
            seals: Vec::new(),
            fasten: Vec::new(),
            folds: Vec::new(),
            weather: true,
            sheltered: None,
            joins: Vec::new(),
            edges: Control::Air,
        }
    }
}

/// A rectangle of material.
#[derive(Clone, Debug, Default)]
pub struct Piece {
    pub rect: Rect,
    /// What its material can serve.
    pub holds: Controls,
    /// The layer that it is the end of.
    pub layer: Option<LayerEnd>,
    /// What that layer is there for.
    pub controls: Controls,
    /// `None` when its material is unknown.
    pub kind: Option<MaterialKind>,
    /// Its role is that of a flashing, whatever it is made of: a pan of membrane.
    pub flashing: bool,
    /// Moisture-sensitive.
    pub sensitive: bool,
    /// Its lower edge throws water clear.
    pub drip: bool,
    /// On the inner face, out of the water path.
    pub inside: bool,
    pub bonds: Vec<usize>,
    pub over: Vec<usize>,
    pub behind: Vec<usize>,
}

/// A layer of a joined assembly.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct LayerEnd {
    /// Index into `Face::joins`.
    pub assembly: usize,
    /// Index of the layer in that assembly.
    pub layer: usize,
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
}

/// A field of fasteners.
#[derive(Clone, Copy, Debug)]
pub struct Fasten {
    pub piece: usize,
    /// Everything when the author gives no place.
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

impl Piece {
    /// Water does it harm.
    pub fn suffers(&self) -> bool {
        self.sensitive && !self.holds.has(Control::Water)
    }

    pub fn is(&self, kind: MaterialKind) -> bool {
        self.kind == Some(kind)
    }

    pub fn serves_as_flashing(&self) -> bool {
        self.flashing || self.is(MaterialKind::Flashing)
    }
}
