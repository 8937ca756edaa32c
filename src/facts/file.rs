//! The facts of all that one file defines.

use std::sync::Arc;

use crate::facts::vocabulary::{Item, Items, Kind};
use crate::facts::{AssemblyFacts, DetailFacts};
use crate::model::Material;

/// What one file defines, with its facts. What it includes is judged with the file that defines it.
#[derive(Default)]
pub struct FileFacts {
    pub materials: Vec<Arc<Material>>,
    pub assemblies: Vec<Arc<AssemblyFacts>>,
    pub details: Vec<DetailFacts>,
}

impl FileFacts {
    /// Every item of a kind that rules can be about and that lies in no detail, in the order of the text. Needs and waivers are facts of
    /// the run.
    pub fn around(&self, kind: Kind) -> impl Iterator<Item = Item<'_>> {
        let materials = self.materials.iter().filter(move |_| kind == Kind::Material).map(|m| Item::Material(m));
        let assemblies = if kind == Kind::Assembly { Items::Assemblies(&self.assemblies) } else { Items::NONE };
        let layered = if kind == Kind::Layer { &*self.assemblies } else { &[] };
        let layers = layered.iter().flat_map(|a| Items::Inboard(a, 0).iter());
        materials.chain(assemblies.iter()).chain(layers)
    }
}

impl DetailFacts {
    /// Every item of a kind in this detail.
    pub fn items(&self, kind: Kind) -> Items<'_> {
        let face = &self.face;
        let (count, item): (usize, fn(&DetailFacts, usize) -> Item<'_>) = match kind {
            Kind::Detail => (1, |f, _| Item::Detail(f)),
            Kind::Piece => (self.detail.pieces.len(), |f, n| Item::Piece(f, n)),
            Kind::Lap => (face.laps.len(), |f, n| Item::Lap(f, n)),
            Kind::Drop => (face.drops.events.len(), |f, n| Item::Drop(f, n)),
            Kind::Transition => (face.transitions.len(), |f, n| Item::Transition(f, n)),
            Kind::Bond => (face.bonds.len(), |f, n| Item::Bond(f, n)),
            Kind::Seal => (face.seals.len(), |f, n| Item::Seal(f, n)),
            Kind::Fastening => (face.fastenings.len(), |f, n| Item::Fastening(f, n)),
            Kind::Edge => (face.edges.len(), |f, n| Item::Edge(f, n)),
            Kind::Turn => (face.turns.len(), |f, n| Item::Turn(f, n)),
            Kind::Tuck => (face.tucks.len(), |f, n| Item::Tuck(f, n)),
            Kind::Abutment => (face.abutments.len(), |f, n| Item::Abutment(f, n)),
            Kind::Meeting => (face.contacts.len(), |f, n| Item::Meeting(f, n)),
            Kind::Touch => (face.touches.len(), |f, n| Item::Touch(f, n)),
            Kind::Stack => (face.impossible.len(), |f, n| Item::Stack(f, n)),
            Kind::Material | Kind::Layer | Kind::Assembly | Kind::Need | Kind::Waiver => (0, |f, _| Item::Detail(f)),
        };
        Items::All(self, item, count)
    }
}
