//! Several things. They are made one by one as they are asked for: most conditions stop at the first that decides.

use std::sync::Arc;

use crate::facts::vocabulary::Item;
use crate::facts::{AssemblyFacts, DetailFacts};
use crate::model::Bond;

/// Where to find several things of one kind, in their order.
#[derive(Clone, Copy)]
pub enum Items<'a> {
    /// All of a kind that the detail has: how to make one from its number, and how many there are.
    All(&'a DetailFacts, fn(&DetailFacts, usize) -> Item<'_>, usize),
    Pieces(&'a DetailFacts, &'a [usize]),
    Bonded(&'a DetailFacts, &'a [Bond]),
    /// The pieces that one fact is about.
    Pair(&'a DetailFacts, [Option<usize>; 2]),
    /// The layers outboard of one, nearest first.
    Outboard(&'a AssemblyFacts, usize),
    /// The layers from one on, inward.
    Inboard(&'a AssemblyFacts, usize),
    Assemblies(&'a [Arc<AssemblyFacts>]),
}

impl<'a> Items<'a> {
    pub const NONE: Items<'static> = Items::Assemblies(&[]);

    pub fn get(self, at: usize) -> Option<Item<'a>> {
        match self {
            Items::All(facts, item, count) => (at < count).then(|| item(facts, at)),
            Items::Pieces(facts, pieces) => pieces.get(at).map(|piece| Item::Piece(facts, *piece)),
            Items::Bonded(facts, onto) => onto.get(at).map(|onto| Item::Piece(facts, onto.index)),
            Items::Pair(facts, pieces) => pieces.into_iter().flatten().nth(at).map(|piece| Item::Piece(facts, piece)),
            Items::Outboard(facts, layer) => (at < layer).then(|| Item::Layer(facts, layer - 1 - at)),
            Items::Inboard(facts, first) => (first + at < facts.layers.len()).then(|| Item::Layer(facts, first + at)),
            Items::Assemblies(assemblies) => assemblies.get(at).map(|assembly| Item::Assembly(assembly)),
        }
    }

    pub fn iter(self) -> impl Iterator<Item = Item<'a>> {
        (0..).map_while(move |at| self.get(at))
    }

    pub fn count(self) -> usize {
        self.iter().count()
    }
}

impl std::fmt::Debug for Items<'_> {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_list().entries(self.iter()).finish()
    }
}
