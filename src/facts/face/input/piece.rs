//! A piece as the geometry takes it.

use crate::facts::face::Rect;
use crate::model::{Control, Controls, MaterialKind};

/// A rectangle of material.
#[derive(Clone, Debug, Default)]
pub struct Piece {
    pub rect: Rect,
    /// The controls that its material can provide.
    pub holds: Controls,
    /// The number of its material, which pieces of the same material share.
    pub material: usize,
    /// The layer that ends in it, if it belongs to one.
    pub layer: Option<LayerEnd>,
    /// The controls of that layer.
    pub controls: Controls,
    /// `None` when its material is unknown.
    pub kind: Option<MaterialKind>,
    /// Whether its role is that of a flashing, whatever it is made of, such as a pan of membrane.
    pub flashing: bool,
    /// Whether its role is to catch water that gets behind the pieces on it and to lead it out, as a pan or a through-wall
    /// flashing does.
    pub catches: bool,
    /// Whether it fills the space under a membrane, as a cant strip does.
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
    /// Stuck by the adhesive on its back, or because it is adhesive itself, as a coat is.
    #[default]
    Adhered,
    /// Pressed on by a band, a ring or a bar.
    Clamped,
    /// Heat-welded, as single-ply sheets are.
    Welded,
}

/// A layer of a joined assembly.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct LayerEnd {
    /// Index into `Face::joins`.
    pub assembly: usize,
    /// Index of the layer in that assembly.
    pub layer: usize,
}

impl From<usize> for Bonding {
    fn from(onto: usize) -> Bonding {
        Bonding { onto, by: BondKind::Adhered }
    }
}

impl Piece {
    /// Whether water harms it. Cladding is meant to get wet, whatever it is made of.
    pub fn suffers(&self) -> bool {
        self.sensitive && !self.holds.has(Control::Water) && !self.is(MaterialKind::Cladding)
    }

    /// Whether it is on the outer face and belongs to a layer that controls water.
    pub fn is_of_water_layer(&self) -> bool {
        self.layer.is_some() && self.controls.has(Control::Water) && !self.inside
    }

    /// Replaces the indices of other pieces, which have changed.
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
