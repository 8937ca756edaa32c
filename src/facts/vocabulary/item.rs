//! The things that a rule can be about.

use crate::facts::vocabulary::{Items, Kind, TrailStep, trail};
use crate::facts::{AssemblyFacts, DetailFacts, NeedFact, WaiverFact};
use crate::model::{Material, Name};
use crate::quantity::{Dimension, Unit, base_unit};

/// One thing, borrowed from the facts. A number picks it from its list in the facts.
#[derive(Clone, Copy)]
pub enum Item<'a> {
    Material(&'a Material),
    Layer(&'a AssemblyFacts, usize),
    Assembly(&'a AssemblyFacts),
    Detail(&'a DetailFacts),
    Piece(&'a DetailFacts, usize),
    Lap(&'a DetailFacts, usize),
    Drop(&'a DetailFacts, usize),
    Transition(&'a DetailFacts, usize),
    Bond(&'a DetailFacts, usize),
    Seal(&'a DetailFacts, usize),
    Fastening(&'a DetailFacts, usize),
    Edge(&'a DetailFacts, usize),
    Turn(&'a DetailFacts, usize),
    Tuck(&'a DetailFacts, usize),
    Abutment(&'a DetailFacts, usize),
    Meeting(&'a DetailFacts, usize),
    Touch(&'a DetailFacts, usize),
    Stack(&'a DetailFacts, usize),
    Need(&'a NeedFact),
    Waiver(&'a WaiverFact),
}

impl std::fmt::Debug for Item<'_> {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "{} {}", self.kind().word(), self.name())
    }
}

impl<'a> Item<'a> {
    pub fn kind(self) -> Kind {
        match self {
            Item::Material(_) => Kind::Material,
            Item::Layer(..) => Kind::Layer,
            Item::Assembly(_) => Kind::Assembly,
            Item::Detail(_) => Kind::Detail,
            Item::Piece(..) => Kind::Piece,
            Item::Lap(..) => Kind::Lap,
            Item::Drop(..) => Kind::Drop,
            Item::Transition(..) => Kind::Transition,
            Item::Bond(..) => Kind::Bond,
            Item::Seal(..) => Kind::Seal,
            Item::Fastening(..) => Kind::Fastening,
            Item::Edge(..) => Kind::Edge,
            Item::Turn(..) => Kind::Turn,
            Item::Tuck(..) => Kind::Tuck,
            Item::Abutment(..) => Kind::Abutment,
            Item::Meeting(..) => Kind::Meeting,
            Item::Touch(..) => Kind::Touch,
            Item::Stack(..) => Kind::Stack,
            Item::Need(_) => Kind::Need,
            Item::Waiver(_) => Kind::Waiver,
        }
    }

    /// The name that a sentence uses for it; a fact without a name of its own goes by the piece that it is about.
    pub fn name(self) -> Name {
        match self {
            Item::Material(material) => material.name.clone(),
            Item::Layer(facts, layer) => facts.assembly.layers[layer].name.clone(),
            Item::Assembly(facts) => facts.assembly.name.clone(),
            Item::Need(need) => need.kind.clone(),
            Item::Waiver(waiver) => waiver.waiver.rule.clone(),
            _ => match self.first_piece() {
                Some((facts, piece)) => facts.detail.pieces[piece].name.clone(),
                None => self.detail().map_or_else(|| "".into(), |facts| facts.detail.name.clone()),
            },
        }
    }

    /// The detail, assembly, material or set that it belongs to, for the finding's `item`.
    pub fn home(self) -> Option<Name> {
        match self {
            Item::Material(material) => Some(material.name.clone()),
            Item::Layer(facts, _) | Item::Assembly(facts) => Some(facts.assembly.name.clone()),
            Item::Need(need) => need.set.clone(),
            Item::Waiver(waiver) => Some(waiver.home.clone()),
            _ => self.detail().map(|facts| facts.detail.name.clone()),
        }
    }

    /// What is drawn cannot be relied upon (a line of it was unreadable, or its material unknown): rules stay silent.
    pub fn doubtful(self) -> bool {
        match self {
            Item::Material(material) => material.kind.is_none(),
            Item::Layer(facts, layer) => facts.layer_doubtful(layer),
            Item::Assembly(facts) => facts.doubtful(),
            Item::Detail(facts) | Item::Transition(facts, _) => facts.doubtful,
            Item::Piece(facts, piece) => facts.piece_doubtful(piece),
            // Hardly a detail holds anything doubtful, and then nothing in it is.
            _ => self.detail().is_some_and(|facts| facts.doubtful) && self.pieces().iter().any(Item::doubtful),
        }
    }

    /// The unit in which its author writes lengths.
    pub fn length_unit(self) -> &'static Unit {
        match (self.first_piece(), self.detail()) {
            (Some((facts, piece)), _) => facts.length_unit_of(piece),
            (None, Some(facts)) => facts.length_unit,
            (None, None) => match self {
                Item::Layer(facts, _) | Item::Assembly(facts) => facts.length_unit,
                _ => base_unit(Dimension::Length),
            },
        }
    }

    /// The material whose fields it inherits.
    pub fn material(self) -> Option<&'a Material> {
        match self {
            Item::Material(material) => Some(material),
            Item::Piece(facts, piece) => Some(&facts.detail.pieces[piece].material),
            Item::Layer(facts, layer) => Some(&facts.assembly.layers[layer].material),
            _ => None,
        }
    }

    /// The detail that it lies in.
    pub fn detail(self) -> Option<&'a DetailFacts> {
        match self {
            Item::Detail(facts)
            | Item::Piece(facts, _)
            | Item::Lap(facts, _)
            | Item::Drop(facts, _)
            | Item::Transition(facts, _)
            | Item::Bond(facts, _)
            | Item::Seal(facts, _)
            | Item::Fastening(facts, _)
            | Item::Edge(facts, _)
            | Item::Turn(facts, _)
            | Item::Tuck(facts, _)
            | Item::Abutment(facts, _)
            | Item::Meeting(facts, _)
            | Item::Touch(facts, _)
            | Item::Stack(facts, _) => Some(facts),
            Item::Material(_) | Item::Layer(..) | Item::Assembly(_) | Item::Need(_) | Item::Waiver(_) => None,
        }
    }

    /// The pieces that it is about, the one that it stands under first.
    pub fn pieces(self) -> Items<'a> {
        let Some(facts) = self.detail() else { return Items::NONE };
        let found = &facts.face;
        let one = |piece| Items::Pair(facts, [Some(piece), None]);
        let pair = |first, second| Items::Pair(facts, [Some(first), Some(second)]);
        match self {
            Item::Piece(_, piece) => one(piece),
            Item::Lap(_, lap) => pair(found.laps[lap].over, found.laps[lap].under),
            Item::Drop(_, drop) => Items::Pair(facts, found.drops.events[drop].pieces),
            Item::Bond(_, bond) => pair(found.bonds[bond].piece, found.bonds[bond].onto),
            Item::Seal(_, seal) => {
                let seal = &facts.detail.seals[found.seals[seal].seal];
                pair(seal.first.index, seal.second.index)
            }
            Item::Fastening(_, fastening) => {
                one(facts.detail.fastenings[found.fastenings[fastening].fasten].piece.index)
            }
            Item::Edge(_, edge) => one(found.edges[edge].piece),
            Item::Turn(_, turn) => Items::Pair(facts, [found.turns[turn].piece, None]),
            Item::Tuck(_, tuck) => pair(found.tucks[tuck].piece, found.tucks[tuck].behind),
            Item::Abutment(_, at) => pair(found.abutments[at].first, found.abutments[at].second),
            Item::Meeting(_, meeting) => pair(found.contacts[meeting].0, found.contacts[meeting].1),
            // A finding stands under what was put there later.
            Item::Touch(_, joint) => {
                let (a, b) = (found.touches[joint].first, found.touches[joint].second);
                pair(a.max(b), a.min(b))
            }
            Item::Stack(_, stack) => Items::Pieces(facts, &found.impossible[stack].pieces),
            _ => Items::NONE,
        }
    }

    /// The way of a drop in plain words; empty for everything else.
    pub fn trail(self) -> Vec<TrailStep> {
        match self {
            Item::Drop(facts, drop) => trail::trail(facts, &facts.face.drops.events[drop]),
            _ => Vec::new(),
        }
    }

    pub(super) fn first_piece(self) -> Option<(&'a DetailFacts, usize)> {
        match self.pieces().get(0) {
            Some(Item::Piece(facts, piece)) => Some((facts, piece)),
            _ => None,
        }
    }
}
