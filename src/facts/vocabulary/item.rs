//! The things that a rule can be about.

use crate::facts::face::{Run, Side};
use crate::facts::vocabulary::detail::slope_span;
use crate::facts::vocabulary::{Items, TrailStep, trail};
use crate::facts::{AssemblyFacts, DetailFacts, NeedFact, WaiverFact};
use crate::model::{Axis, Extent, Material, Name};
use crate::quantity::{Dimension, Unit, base_unit};
use crate::text::Span;

/// Kinds of fact, by the names that rules use for them.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Kind {
    Material,
    Layer,
    Assembly,
    Detail,
    Piece,
    Lap,
    Drop,
    Transition,
    Bond,
    Seal,
    Fastening,
    Edge,
    Turn,
    Tuck,
    Abutment,
    Meeting,
    Touch,
    Stack,
    Need,
    Waiver,
}

impl Kind {
    pub const ALL: [Kind; 20] = [
        Kind::Material,
        Kind::Layer,
        Kind::Assembly,
        Kind::Detail,
        Kind::Piece,
        Kind::Lap,
        Kind::Drop,
        Kind::Transition,
        Kind::Bond,
        Kind::Seal,
        Kind::Fastening,
        Kind::Edge,
        Kind::Turn,
        Kind::Tuck,
        Kind::Abutment,
        Kind::Meeting,
        Kind::Touch,
        Kind::Stack,
        Kind::Need,
        Kind::Waiver,
    ];

    pub fn word(self) -> &'static str {
        match self {
            Kind::Material => "material",
            Kind::Layer => "layer",
            Kind::Assembly => "assembly",
            Kind::Detail => "detail",
            Kind::Piece => "piece",
            Kind::Lap => "lap",
            Kind::Drop => "drop",
            Kind::Transition => "transition",
            Kind::Bond => "bond",
            Kind::Seal => "seal",
            Kind::Fastening => "fastening",
            Kind::Edge => "edge",
            Kind::Turn => "turn",
            Kind::Tuck => "tuck",
            Kind::Abutment => "abutment",
            Kind::Meeting => "meeting",
            Kind::Touch => "touch",
            Kind::Stack => "stack",
            Kind::Need => "need",
            Kind::Waiver => "waiver",
        }
    }

    pub fn from_word(word: &str) -> Option<Kind> {
        Kind::ALL.into_iter().find(|k| k.word() == word)
    }

    /// Parts of its text that a rule's `at` may point to, as in `at = "over.up"`; without one, the whole of what
    /// `Item::span` gives.
    pub fn places(self) -> &'static [&'static str] {
        match self {
            Kind::Piece => &["name", "material", "up", "along", "bonds", "role", "line", "every", "slope", "cut"],
            Kind::Layer => &["material", "controls", "line"],
            Kind::Detail => {
                &["name", "kind", "joins", "grade", "exposed", "weeps", "installed-at", "slope", "valley", "wall-line"]
            }
            Kind::Assembly => &["name", "kind"],
            Kind::Material => &["name", "holds"],
            Kind::Fastening => &["every", "fastener", "line"],
            Kind::Lap => &["weeps"],
            _ => &[],
        }
    }
}

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

    /// The words that a finding about it stands under.
    pub fn span(self) -> Span {
        match self {
            Item::Material(material) => material.name_span,
            Item::Layer(facts, layer) => facts.assembly.layers[layer].material_span,
            Item::Assembly(facts) => facts.assembly.name_span,
            Item::Detail(facts) => facts.detail.name_span,
            Item::Piece(facts, piece) => facts.detail.pieces[piece].name_span,
            Item::Lap(facts, lap) => {
                let lap = &facts.face.laps[lap];
                let axis = if lap.run == Run::Head { Axis::Up } else { Axis::Along };
                extent_span(facts, lap.over, axis)
            }
            Item::Abutment(facts, at) => {
                let joint = &facts.face.abutments[at];
                extent_span(facts, joint.second, if joint.run == Run::Side { Axis::Along } else { Axis::Up })
            }
            Item::Transition(facts, _) => facts.joins_span(),
            Item::Bond(facts, bond) => facts.bond_span(bond),
            Item::Seal(facts, seal) => facts.detail.seals[facts.face.seals[seal].seal].span,
            Item::Fastening(facts, fastening) => facts.detail.fastenings[facts.face.fastenings[fastening].fasten].span,
            Item::Edge(facts, edge) => {
                let edge = &facts.face.edges[edge];
                extent_span(
                    facts,
                    edge.piece,
                    if matches!(edge.side, Side::Top | Side::Bottom) { Axis::Up } else { Axis::Along },
                )
            }
            Item::Turn(facts, turn) => facts.detail.folds[facts.face.turns[turn].fold].span,
            Item::Tuck(facts, tuck) => facts.tuck_span(tuck),
            Item::Stack(facts, stack) => facts.detail.pieces[facts.face.impossible[stack].pair[1]].name_span,
            Item::Need(need) => need.span,
            Item::Waiver(waiver) => waiver.waiver.rule_span,
            Item::Drop(..) | Item::Meeting(..) | Item::Touch(..) => match self.first_piece() {
                Some((facts, piece)) => facts.detail.pieces[piece].name_span,
                None => self.detail().map_or(Span::default(), |facts| facts.detail.name_span),
            },
        }
    }

    /// The words of one part of it (a word of `Kind::places`); the whole when the author wrote no such part.
    pub fn place(self, part: &str) -> Span {
        let found = match self {
            Item::Material(material) if part == "holds" => material.holds_span,
            Item::Layer(facts, layer) => {
                let layer = &facts.assembly.layers[layer];
                match part {
                    "line" => Some(layer.span),
                    "controls" => layer.controls.iter().map(|(_, span)| *span).reduce(Span::to),
                    _ => None,
                }
            }
            Item::Assembly(facts) if part == "kind" => Some(facts.assembly.kind_span),
            Item::Detail(facts) => match part {
                "kind" => Some(facts.detail.kind_span),
                "joins" => Some(facts.joins_span()),
                "grade" => facts.detail.grade.map(|s| s.span),
                "exposed" => facts.detail.exposed.map(|s| s.span),
                "installed-at" => facts.detail.installed_at.map(|s| s.span),
                "weeps" => facts.detail.weeps.first().map(|w| w.span),
                "slope" => slope_span(facts),
                "valley" => facts.detail.valleys.first().map(|valley| valley.span),
                "wall-line" => facts.detail.wall_line.map(|s| s.span),
                _ => None,
            },
            Item::Piece(facts, index) => {
                let piece = &facts.detail.pieces[index];
                match part {
                    "material" => Some(piece.material_span),
                    "line" => Some(piece.span),
                    "up" => piece.up.span,
                    "along" => piece.along.span,
                    "bonds" => piece.bonds.iter().map(|b| b.span).reduce(Span::to),
                    "role" => piece.role_span,
                    "every" => piece.row.map(|row| row.span),
                    "slope" => piece.slope.map(|slope| slope.span),
                    "cut" => facts.detail.cuts.iter().find(|cut| cut.piece.index == index).map(|cut| cut.span),
                    _ => None,
                }
            }
            Item::Lap(facts, lap) if part == "weeps" => {
                facts.weeps_above(&facts.face.laps[lap]).map(|(weeps, _)| weeps.span)
            }
            Item::Fastening(facts, fastening) => {
                let fastening = &facts.detail.fastenings[facts.face.fastenings[fastening].fasten];
                match part {
                    "every" => Some(fastening.every_span),
                    "fastener" => Some(fastening.fastener_span),
                    _ => None,
                }
            }
            _ => None,
        };
        found.unwrap_or_else(|| self.span())
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

    fn first_piece(self) -> Option<(&'a DetailFacts, usize)> {
        match self.pieces().get(0) {
            Some(Item::Piece(facts, piece)) => Some((facts, piece)),
            _ => None,
        }
    }
}

fn extent_span(facts: &DetailFacts, piece: usize, axis: Axis) -> Span {
    let piece = &facts.detail.pieces[piece];
    let extent: &Extent = match axis {
        Axis::Up => &piece.up,
        Axis::Along => &piece.along,
    };
    extent.span.unwrap_or(piece.name_span)
}
