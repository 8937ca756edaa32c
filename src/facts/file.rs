//! The facts of all that one file defines.

use std::sync::Arc;

use crate::facts::vocabulary::{Item, Kind};
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
    /// Every item of a kind that rules can be about, in the order of the text. Needs and waivers are facts of the run.
    pub fn items(&self, kind: Kind) -> Vec<Item<'_>> {
        match kind {
            Kind::Material => self.materials.iter().map(|m| Item::Material(m)).collect(),
            Kind::Assembly => self.assemblies.iter().map(|a| Item::Assembly(a)).collect(),
            Kind::Layer => {
                self.assemblies.iter().flat_map(|a| (0..a.layers.len()).map(|n| Item::Layer(a, n))).collect()
            }
            _ => self.details.iter().flat_map(|facts| facts.items(kind)).collect(),
        }
    }
}

impl DetailFacts {
    /// Every item of a kind in this detail.
    pub fn items<'a>(&'a self, kind: Kind) -> impl Iterator<Item = Item<'a>> {
        let face = &self.face;
        let (count, item): (usize, fn(&'a DetailFacts, usize) -> Item<'a>) = match kind {
            Kind::Detail => (1, |f, _| Item::Detail(f)),
            Kind::Piece => (self.detail.pieces.len(), Item::Piece),
            Kind::Lap => (face.laps.len(), Item::Lap),
            Kind::Drop => (face.drops.events.len(), Item::Drop),
            Kind::Transition => (face.transitions.len(), Item::Transition),
            Kind::Bond => (face.bonds.len(), Item::Bond),
            Kind::Seal => (face.seals.len(), Item::Seal),
            Kind::Fastening => (face.fastenings.len(), Item::Fastening),
            Kind::Edge => (face.edges.len(), Item::Edge),
            Kind::Turn => (face.turns.len(), Item::Turn),
            Kind::Tuck => (face.tucks.len(), Item::Tuck),
            Kind::Meeting => (face.contacts.len(), Item::Meeting),
            Kind::Stack => (face.impossible.len(), Item::Stack),
            Kind::Material | Kind::Layer | Kind::Assembly | Kind::Need | Kind::Waiver => (0, |f, _| Item::Detail(f)),
        };
        (0..count).map(move |n| item(self, n))
    }
}
