//! The things that a rule can be about.

use crate::facts::vocabulary::{FactList, Kind, TrailStep, trail};
use crate::facts::{AssemblyFacts, DetailFacts, NeedFact, WaiverFact};
use crate::model::{Material, Name};
use crate::quantity::{Dimension, Unit, base_unit};

/// One thing, borrowed from the facts. The number is its index in the list of its kind.
#[derive(Clone, Copy)]
pub enum Fact<'a> {
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

impl std::fmt::Debug for Fact<'_> {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "{} {}", self.kind().word(), self.name())
    }
}

impl<'a> Fact<'a> {
    pub fn kind(self) -> Kind {
        match self {
            Fact::Material(_) => Kind::Material,
            Fact::Layer(..) => Kind::Layer,
            Fact::Assembly(_) => Kind::Assembly,
            Fact::Detail(_) => Kind::Detail,
            Fact::Piece(..) => Kind::Piece,
            Fact::Lap(..) => Kind::Lap,
            Fact::Drop(..) => Kind::Drop,
            Fact::Transition(..) => Kind::Transition,
            Fact::Bond(..) => Kind::Bond,
            Fact::Seal(..) => Kind::Seal,
            Fact::Fastening(..) => Kind::Fastening,
            Fact::Edge(..) => Kind::Edge,
            Fact::Turn(..) => Kind::Turn,
            Fact::Tuck(..) => Kind::Tuck,
            Fact::Abutment(..) => Kind::Abutment,
            Fact::Meeting(..) => Kind::Meeting,
            Fact::Touch(..) => Kind::Touch,
            Fact::Stack(..) => Kind::Stack,
            Fact::Need(_) => Kind::Need,
            Fact::Waiver(_) => Kind::Waiver,
        }
    }

    /// The name that a sentence uses for it; a fact without a name of its own has that of the piece that it is about.
    pub fn name(self) -> Name {
        match self {
            Fact::Material(material) => material.name.clone(),
            Fact::Layer(facts, layer) => facts.assembly.layers[layer].name.clone(),
            Fact::Assembly(facts) => facts.assembly.name.clone(),
            Fact::Need(need) => need.kind.clone(),
            Fact::Waiver(waiver) => waiver.waiver.rule.clone(),
            _ => match self.first_piece() {
                Some((facts, piece)) => facts.detail.pieces[piece].name.clone(),
                None => self.detail().map_or_else(|| "".into(), |facts| facts.detail.name.clone()),
            },
        }
    }

    /// The detail, assembly, material or set that it belongs to, for the finding's `item`.
    pub fn home(self) -> Option<Name> {
        match self {
            Fact::Material(material) => Some(material.name.clone()),
            Fact::Layer(facts, _) | Fact::Assembly(facts) => Some(facts.assembly.name.clone()),
            Fact::Need(need) => need.set.clone(),
            Fact::Waiver(waiver) => Some(waiver.home.clone()),
            _ => self.detail().map(|facts| facts.detail.name.clone()),
        }
    }

    /// Whether it is unreliable, because a line of it was unreadable or its material is unknown. Rules are then silent.
    pub fn doubtful(self) -> bool {
        match self {
            Fact::Material(material) => material.kind.is_none(),
            Fact::Layer(facts, layer) => facts.layer_doubtful(layer),
            Fact::Assembly(facts) => facts.doubtful(),
            Fact::Detail(facts) | Fact::Transition(facts, _) => facts.doubtful,
            Fact::Piece(facts, piece) => facts.piece_doubtful(piece),
            // Hardly any detail holds anything doubtful, and in the others no piece needs to be asked.
            _ => self.detail().is_some_and(|facts| facts.doubtful) && self.pieces().iter().any(Fact::doubtful),
        }
    }

    /// The unit in which its author writes lengths.
    pub fn length_unit(self) -> &'static Unit {
        match (self.first_piece(), self.detail()) {
            (Some((facts, piece)), _) => facts.length_unit_of(piece),
            (None, Some(facts)) => facts.length_unit,
            (None, None) => match self {
                Fact::Layer(facts, _) | Fact::Assembly(facts) => facts.length_unit,
                _ => base_unit(Dimension::Length),
            },
        }
    }

    /// The material whose fields it inherits.
    pub fn material(self) -> Option<&'a Material> {
        match self {
            Fact::Material(material) => Some(material),
            Fact::Piece(facts, piece) => Some(&facts.detail.pieces[piece].material),
            Fact::Layer(facts, layer) => Some(&facts.assembly.layers[layer].material),
            _ => None,
        }
    }

    /// The detail that it lies in.
    pub fn detail(self) -> Option<&'a DetailFacts> {
        match self {
            Fact::Detail(facts)
            | Fact::Piece(facts, _)
            | Fact::Lap(facts, _)
            | Fact::Drop(facts, _)
            | Fact::Transition(facts, _)
            | Fact::Bond(facts, _)
            | Fact::Seal(facts, _)
            | Fact::Fastening(facts, _)
            | Fact::Edge(facts, _)
            | Fact::Turn(facts, _)
            | Fact::Tuck(facts, _)
            | Fact::Abutment(facts, _)
            | Fact::Meeting(facts, _)
            | Fact::Touch(facts, _)
            | Fact::Stack(facts, _) => Some(facts),
            Fact::Material(_) | Fact::Layer(..) | Fact::Assembly(_) | Fact::Need(_) | Fact::Waiver(_) => None,
        }
    }

    /// The pieces that it is about. The first is the one whose words carry the finding.
    pub fn pieces(self) -> FactList<'a> {
        let Some(facts) = self.detail() else { return FactList::NONE };
        let found = &facts.face;
        let one = |piece| FactList::Pair(facts, [Some(piece), None]);
        let pair = |first, second| FactList::Pair(facts, [Some(first), Some(second)]);
        match self {
            Fact::Piece(_, piece) => one(piece),
            Fact::Lap(_, lap) => pair(found.laps[lap].over, found.laps[lap].under),
            Fact::Drop(_, drop) => FactList::Pair(facts, found.drops.events[drop].pieces),
            Fact::Bond(_, bond) => pair(found.bonds[bond].piece, found.bonds[bond].onto),
            Fact::Seal(_, seal) => {
                let seal = &facts.detail.seals[found.seals[seal].seal];
                pair(seal.first.index, seal.second.index)
            }
            Fact::Fastening(_, fastening) => {
                one(facts.detail.fastenings[found.fastenings[fastening].fasten].piece.index)
            }
            Fact::Edge(_, edge) => one(found.edges[edge].piece),
            Fact::Turn(_, turn) => FactList::Pair(facts, [found.turns[turn].piece, None]),
            Fact::Tuck(_, tuck) => pair(found.tucks[tuck].piece, found.tucks[tuck].behind),
            Fact::Abutment(_, at) => pair(found.abutments[at].first, found.abutments[at].second),
            Fact::Meeting(_, meeting) => pair(found.contacts[meeting].0, found.contacts[meeting].1),
            // A finding points to the piece that was installed later.
            Fact::Touch(_, joint) => {
                let (a, b) = (found.touches[joint].first, found.touches[joint].second);
                pair(a.max(b), a.min(b))
            }
            Fact::Stack(_, stack) => FactList::Pieces(facts, &found.impossible[stack].pieces),
            _ => FactList::NONE,
        }
    }

    /// The water path of a drop in plain words; empty for everything else.
    pub fn trail(self) -> Vec<TrailStep> {
        match self {
            Fact::Drop(facts, drop) => trail::trail(facts, &facts.face.drops.events[drop]),
            _ => Vec::new(),
        }
    }

    pub(super) fn first_piece(self) -> Option<(&'a DetailFacts, usize)> {
        match self.pieces().get(0) {
            Some(Fact::Piece(facts, piece)) => Some((facts, piece)),
            _ => None,
        }
    }
}
