//! Where in the text a thing is that a rule is about.

use crate::facts::DetailFacts;
use crate::facts::face::{Run, Side};
use crate::facts::vocabulary::Fact;
use crate::facts::vocabulary::detail::slope_span;
use crate::model::{Axis, Extent};
use crate::text::Span;

impl Fact<'_> {
    /// The words that a finding about it points to.
    pub fn span(self) -> Span {
        match self {
            Fact::Material(material) => material.name_span,
            Fact::Layer(facts, layer) => facts.assembly.layers[layer].material_span,
            Fact::Assembly(facts) => facts.assembly.name_span,
            Fact::Detail(facts) => facts.detail.name_span,
            Fact::Piece(facts, piece) => facts.detail.pieces[piece].name_span,
            Fact::Lap(facts, lap) => {
                let lap = &facts.face.laps[lap];
                let axis = if lap.run == Run::Head { Axis::Up } else { Axis::Along };
                extent_span(facts, lap.over, axis)
            }
            Fact::Abutment(facts, at) => {
                let joint = &facts.face.abutments[at];
                extent_span(facts, joint.second, if joint.run == Run::Side { Axis::Along } else { Axis::Up })
            }
            Fact::Transition(facts, _) => facts.joins_span(),
            Fact::Bond(facts, bond) => facts.bond_span(bond),
            Fact::Seal(facts, seal) => facts.detail.seals[facts.face.seals[seal].seal].span,
            Fact::Fastening(facts, fastening) => facts.detail.fastenings[facts.face.fastenings[fastening].fasten].span,
            Fact::Edge(facts, edge) => {
                let edge = &facts.face.edges[edge];
                extent_span(
                    facts,
                    edge.piece,
                    if matches!(edge.side, Side::Top | Side::Bottom) { Axis::Up } else { Axis::Along },
                )
            }
            Fact::Turn(facts, turn) => facts.detail.folds[facts.face.turns[turn].fold].span,
            Fact::Tuck(facts, tuck) => facts.tuck_span(tuck),
            Fact::Stack(facts, stack) => facts.detail.pieces[facts.face.impossible[stack].pair[1]].name_span,
            Fact::Need(need) => need.span,
            Fact::Waiver(waiver) => waiver.waiver.rule_span,
            Fact::Drop(..) | Fact::Meeting(..) | Fact::Touch(..) => match self.first_piece() {
                Some((facts, piece)) => facts.detail.pieces[piece].name_span,
                None => self.detail().map_or(Span::default(), |facts| facts.detail.name_span),
            },
        }
    }

    /// The words of one part of it (a word of `Kind::places`); the whole when the author wrote no such part.
    pub fn place(self, part: &str) -> Span {
        let found = match self {
            Fact::Material(material) if part == "holds" => material.holds_span,
            Fact::Layer(facts, layer) => {
                let layer = &facts.assembly.layers[layer];
                match part {
                    "line" => Some(layer.span),
                    "controls" => layer.controls.iter().map(|(_, span)| *span).reduce(Span::to),
                    _ => None,
                }
            }
            Fact::Assembly(facts) if part == "kind" => Some(facts.assembly.kind_span),
            Fact::Detail(facts) => match part {
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
            Fact::Piece(facts, index) => {
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
            Fact::Lap(facts, lap) if part == "weeps" => {
                facts.weeps_above(&facts.face.laps[lap]).map(|(weeps, _)| weeps.span)
            }
            Fact::Fastening(facts, fastening) => {
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
}

fn extent_span(facts: &DetailFacts, piece: usize, axis: Axis) -> Span {
    let piece = &facts.detail.pieces[piece];
    let extent: &Extent = match axis {
        Axis::Up => &piece.up,
        Axis::Along => &piece.along,
    };
    extent.span.unwrap_or(piece.name_span)
}
