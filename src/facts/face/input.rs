//! What the geometry is told: pieces by index, and how they are cut, sealed and fastened.

use crate::facts::face::{Coordinate, Extent, Rect};
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
    /// How steep parts of the face are. Of two that reach a place the first counts.
    pub slopes: Vec<Slope>,
    /// How steep the rest is; `None` when nobody knows.
    pub steepness: Option<f64>,
    /// Heights that water runs to from both sides.
    pub valleys: Vec<Coordinate>,
    /// The height of a ridge, from which water runs to both sides.
    pub crest: Option<Coordinate>,
    /// Rain reaches it; a face out of the weather has no drops.
    pub weather: bool,
    /// No rain falls on these bands.
    pub sheltered: Vec<Extent>,
    /// From left to right, the part that the detail shows; beyond it nothing is judged.
    pub shown: Extent,
    /// The finished ground.
    pub grade: Option<Coordinate>,
    pub joins: Vec<Joined>,
    /// The control whose pieces must have no open edge: air, for a ground cover vapor.
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

/// What the geometry takes for granted.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Limits {
    /// A bead this near an edge seals the edge.
    pub bead_reach: Coordinate,
    /// A bead this far above an edge fills the corner above it.
    pub fillet: Coordinate,
    /// Rise over run: on what is flatter, a lap sheds no water.
    pub shedding: f64,
}

/// A rectangle of material.
#[derive(Clone, Debug, Default)]
pub struct Piece {
    pub rect: Rect,
    /// What its material can serve.
    pub holds: Controls,
    /// Pieces of one material have one number.
    pub material: usize,
    /// The layer that it is the end of.
    pub layer: Option<LayerEnd>,
    /// What that layer is there for.
    pub controls: Controls,
    /// `None` when its material is unknown.
    pub kind: Option<MaterialKind>,
    /// Its role is that of a flashing, whatever it is made of: a pan of membrane.
    pub flashing: bool,
    /// Its role is to catch what gets in behind what stands on it, and to lead it out: a pan, a through-wall flashing.
    pub catches: bool,
    /// It fills the space under a membrane, as a cant strip does.
    pub fills: bool,
    /// Its adhesive is on both faces.
    pub double_sided: bool,
    /// Moisture-sensitive.
    pub sensitive: bool,
    /// Its lower edge throws water clear.
    pub drip: bool,
    /// On the inner face, out of the water path.
    pub inside: bool,
    pub bonds: Vec<Bonding>,
    pub over: Vec<usize>,
    pub behind: Vec<usize>,
}

/// What a piece is held to.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Bonding {
    pub onto: usize,
    pub by: BondKind,
}

#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum BondKind {
    /// By the adhesive on its back, or by what it is made of.
    #[default]
    Adhered,
    /// Pressed on by a band, a ring or a bar.
    Clamped,
    /// Heat-welded, as single-ply sheets are.
    Welded,
}

/// A joined assembly.
#[derive(Clone, Debug, Default)]
pub struct Joined {
    /// The controls that some layer of it carries.
    pub carries: Controls,
    /// Of the layers that control water the outmost and the inmost, counted from outside. A cladding counts only where it is
    /// the only one.
    pub water: Option<[usize; 2]>,
    /// Its mass may stand bare above grade.
    pub foundation: bool,
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
    /// How wide the joint is that it fills: edges so far apart meet across it.
    pub width: Coordinate,
}

/// How steep a part of the face is.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Slope {
    pub up: Extent,
    pub along: Extent,
    /// Rise over run toward the outside: 0 is level, infinity plumb, and what is negative falls back to the building.
    pub rise: f64,
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

impl From<Controls> for Joined {
    fn from(carries: Controls) -> Joined {
        Joined { carries, ..Joined::default() }
    }
}

impl From<usize> for Bonding {
    fn from(onto: usize) -> Bonding {
        Bonding { onto, by: BondKind::Adhered }
    }
}

impl Face {
    /// How steep it is at a height of a column, just above it or just below; `None` when nobody knows.
    pub fn rise(&self, column: Extent, at: Coordinate, above: bool) -> Option<f64> {
        let along = column.inside();
        let here = |up: Extent| if above { up.low <= at && at < up.high } else { up.low < at && at <= up.high };
        self.slopes
            .iter()
            .find(|slope| here(slope.up) && slope.along.reaches(along))
            .map(|slope| slope.rise)
            .or(self.steepness)
    }

    /// A lap there sheds water, or nobody knows: on what is flatter, or falls back, water stands and gets in.
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

    /// No rain falls anywhere on this extent.
    pub fn is_sheltered(&self, up: Extent) -> bool {
        self.sheltered.iter().any(|band| band.low <= up.low && up.high <= band.high)
    }
}

impl Piece {
    /// Water does it harm. A cladding is there to be wetted, whatever it is made of.
    pub fn suffers(&self) -> bool {
        self.sensitive && !self.holds.has(Control::Water) && !self.is(MaterialKind::Cladding)
    }

    /// It is on the outer face, and of a layer that controls water.
    pub fn is_of_water_layer(&self) -> bool {
        self.layer.is_some() && self.controls.has(Control::Water) && !self.inside
    }

    /// Other pieces have got other numbers.
    pub fn renumber(&mut self, new: impl Fn(usize) -> usize) {
        self.bonds.iter_mut().for_each(|bond| bond.onto = new(bond.onto));
        self.over.iter_mut().chain(&mut self.behind).for_each(|piece| *piece = new(*piece));
    }

    pub fn is(&self, kind: MaterialKind) -> bool {
        self.kind == Some(kind)
    }

    pub fn serves_as_flashing(&self) -> bool {
        self.flashing || self.is(MaterialKind::Flashing)
    }
}
