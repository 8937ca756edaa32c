//! The facts of all that one file defines.

use std::sync::Arc;

use crate::facts::vocabulary::{Fact, FactList, Kind};
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
    /// Every item of a kind that rules can be about and that is not in a detail, in the order of the text. Needs and waivers
    /// are facts of the run.
    pub fn around(&self, kind: Kind) -> impl Iterator<Item = Fact<'_>> {
        let materials = self.materials.iter().filter(move |_| kind == Kind::Material).map(|m| Fact::Material(m));
        let assemblies = if kind == Kind::Assembly { FactList::Assemblies(&self.assemblies) } else { FactList::NONE };
        let layered = if kind == Kind::Layer { &*self.assemblies } else { &[] };
        let layers = layered.iter().flat_map(|a| FactList::Inboard(a, 0).iter());
        materials.chain(assemblies.iter()).chain(layers)
    }
}

impl DetailFacts {
    /// Every item of a kind in this detail.
    pub fn items(&self, kind: Kind) -> FactList<'_> {
        let face = &self.face;
        let (count, item): (usize, fn(&DetailFacts, usize) -> Fact<'_>) = match kind {
            Kind::Detail => (1, |f, _| Fact::Detail(f)),
            Kind::Piece => (self.detail.pieces.len(), |f, n| Fact::Piece(f, n)),
            Kind::Lap => (face.laps.len(), |f, n| Fact::Lap(f, n)),
            Kind::Drop => (face.drops.events.len(), |f, n| Fact::Drop(f, n)),
            Kind::Transition => (face.transitions.len(), |f, n| Fact::Transition(f, n)),
            Kind::Bond => (face.bonds.len(), |f, n| Fact::Bond(f, n)),
            Kind::Seal => (face.seals.len(), |f, n| Fact::Seal(f, n)),
            Kind::Fastening => (face.fastenings.len(), |f, n| Fact::Fastening(f, n)),
            Kind::Edge => (face.edges.len(), |f, n| Fact::Edge(f, n)),
            Kind::Turn => (face.turns.len(), |f, n| Fact::Turn(f, n)),
            Kind::Tuck => (face.tucks.len(), |f, n| Fact::Tuck(f, n)),
            Kind::Abutment => (face.abutments.len(), |f, n| Fact::Abutment(f, n)),
            Kind::Meeting => (face.contacts.len(), |f, n| Fact::Meeting(f, n)),
            Kind::Touch => (face.touches.len(), |f, n| Fact::Touch(f, n)),
            Kind::Stack => (face.impossible.len(), |f, n| Fact::Stack(f, n)),
            Kind::Material | Kind::Layer | Kind::Assembly | Kind::Need | Kind::Waiver => (0, |f, _| Fact::Detail(f)),
        };
        FactList::All(self, item, count)
    }
}
