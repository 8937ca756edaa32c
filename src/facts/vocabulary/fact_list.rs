//! Several things, made one by one on demand: most conditions stop at the first that decides.

use std::sync::Arc;

use crate::facts::vocabulary::Fact;
use crate::facts::{AssemblyFacts, DetailFacts};
use crate::model::Bond;

/// Where to find several things of one kind, in their order.
#[derive(Clone, Copy)]
pub enum FactList<'a> {
    /// All of a kind that the detail has: how to make one from its index, and how many there are.
    All(&'a DetailFacts, fn(&DetailFacts, usize) -> Fact<'_>, usize),
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

impl<'a> FactList<'a> {
    pub const NONE: FactList<'static> = FactList::Assemblies(&[]);

    pub fn get(self, at: usize) -> Option<Fact<'a>> {
        match self {
            FactList::All(facts, item, count) => (at < count).then(|| item(facts, at)),
            FactList::Pieces(facts, pieces) => pieces.get(at).map(|piece| Fact::Piece(facts, *piece)),
            FactList::Bonded(facts, onto) => onto.get(at).map(|onto| Fact::Piece(facts, onto.index)),
            FactList::Pair(facts, pieces) => {
                pieces.into_iter().flatten().nth(at).map(|piece| Fact::Piece(facts, piece))
            }
            FactList::Outboard(facts, layer) => (at < layer).then(|| Fact::Layer(facts, layer - 1 - at)),
            FactList::Inboard(facts, first) => {
                (first + at < facts.layers.len()).then(|| Fact::Layer(facts, first + at))
            }
            FactList::Assemblies(assemblies) => assemblies.get(at).map(|assembly| Fact::Assembly(assembly)),
        }
    }

    pub fn iter(self) -> impl Iterator<Item = Fact<'a>> {
        (0..).map_while(move |at| self.get(at))
    }

    pub fn count(self) -> usize {
        self.iter().count()
    }
}

impl std::fmt::Debug for FactList<'_> {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_list().entries(self.iter()).finish()
    }
}
