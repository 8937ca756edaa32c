//! What the cures of one finding are made from.

use std::sync::Arc;

use crate::facts::DetailFacts;
use crate::finding::Finding;
use crate::mend::tables::materials;
use crate::model::{Control, Material, MaterialKind, Piece};
use crate::quantity::{Dimension, Quantity, System, parse_quantity};
use crate::rules::Pack;
use crate::syntax::{Clause, Document, Item};
use crate::text::Source;

#[derive(Clone, Copy)]
pub struct Context<'a> {
    pub source: &'a Source,
    pub document: &'a Document,
    /// The detail that the finding is in, if it is in one.
    pub facts: Option<&'a DetailFacts>,
    /// All materials that the file can name.
    pub materials: &'a [Arc<Material>],
    pub pack: &'a Pack,
    pub finding: &'a Finding,
}

impl<'a> Context<'a> {
    pub fn pieces(&self) -> &'a [Piece] {
        self.facts.map_or(&[], |facts| &facts.detail.pieces)
    }

    /// The item of the text that the finding is in.
    pub fn item(&self) -> Option<&'a Item> {
        let name = self.finding.item.as_deref()?;
        self.document.items.iter().find(|item| item.head.names.first.is_some_and(|span| self.source.at(span) == name))
    }

    /// The subjects of the finding by index, or else the piece whose statement holds it. Those that its fix names come first, in the order of
    /// that sentence.
    pub fn subjects(&self) -> Vec<usize> {
        let pieces = self.pieces();
        let first = |name: &str| pieces.iter().position(|piece| &*piece.name == name);
        let mut found: Vec<usize> = self.finding.subject.iter().filter_map(|name| first(name)).collect();
        let own = self.finding.span.range();
        if found.is_empty() {
            let around = |piece: &Piece| piece.span.range().start <= own.start && own.end <= piece.span.range().end;
            found.extend(pieces.iter().position(around));
        }
        found.dedup();
        let cure = self.finding.fix.as_deref().unwrap_or("");
        let words: Vec<&str> = cure.split(|c: char| !c.is_alphanumeric() && c != '-' && c != '_').collect();
        let named = |index: &usize| words.iter().position(|word| **word == *pieces[*index].name);
        found.sort_by_key(|index| named(index).unwrap_or(words.len()));
        found
    }

    /// The pairs that the finding may be about, both ways round: its subjects, or its one subject with all that it touches.
    pub fn pairs(&self) -> Vec<(usize, usize)> {
        let subjects = self.subjects();
        let mut pairs = Vec::new();
        match subjects[..] {
            [] => {}
            [one] => {
                pairs.extend(self.touching(one).into_iter().flat_map(|other| [(one, other), (other, one)]));
            }
            _ => {
                for (n, &one) in subjects.iter().enumerate() {
                    pairs.extend(subjects[n + 1..].iter().flat_map(|&other| [(one, other), (other, one)]));
                }
            }
        }
        pairs.retain(|(one, other)| one != other);
        pairs
    }

    /// The values that the finding shows: of one in two units, `6 in (150 mm)`, either.
    pub fn shown(&self) -> impl Iterator<Item = &'a str> {
        let values = self.finding.values.iter();
        values.flat_map(|(_, text)| text.split(" (").map(|part| part.strip_suffix(')').unwrap_or(part)))
    }

    /// The lengths that the finding shows.
    pub fn lengths(&self) -> Vec<Quantity> {
        let shown = self.shown();
        let mut lengths: Vec<Quantity> =
            shown.filter_map(|text| parse_quantity(text).ok()).filter(|q| q.dimension() == Dimension::Length).collect();
        lengths.dedup();
        lengths
    }

    /// The lengths that its fix names. The first of them is usually the one that is due.
    pub fn named_lengths(&self) -> Vec<Quantity> {
        let words: Vec<&str> = self.finding.fix.as_deref().unwrap_or("").split_whitespace().collect();
        let bare = |word: &'_ str| word.trim_matches(|c: char| "(),.;".contains(c)).to_owned();
        let pair = |pair: &[&str]| parse_quantity(&[bare(pair[0]), bare(pair[1])].join(" ")).ok();
        words.windows(2).filter_map(pair).filter(|q| q.dimension() == Dimension::Length).collect()
    }

    /// The material of a name.
    pub fn material(&self, name: &str) -> Option<&'a Material> {
        self.materials.iter().map(|own| &**own).find(|own| *own.name == *name)
    }

    /// The sealants for a new bead: those that the tables name for the rule, or else those that the detail uses, then those for any bead.
    pub fn sealants(&self) -> Vec<&'a Material> {
        let own = self.of_rule(MaterialKind::Sealant);
        if own.is_empty() { self.stocked("bead", MaterialKind::Sealant) } else { own }
    }

    /// The materials of a kind that the tables name for this rule.
    pub fn of_rule(&self, kind: MaterialKind) -> Vec<&'a Material> {
        self.named(&self.finding.rule, kind)
    }

    /// The materials of a kind that the tables name for an addition, or for a rule.
    pub fn named(&self, of: &str, kind: MaterialKind) -> Vec<&'a Material> {
        materials(self.pack, of).filter_map(|name| self.material(name)).filter(|own| own.kind == Some(kind)).collect()
    }

    /// The materials for an addition: those that the detail uses, then those that the tables name. A bead or a tape needs an adhesive.
    pub fn stocked(&self, of: &str, kind: MaterialKind) -> Vec<&'a Material> {
        let used = |material: &Material| {
            let pieces = self.pieces().iter().map(|piece| &piece.material);
            let beads = self.facts.map_or(&[][..], |facts| &facts.detail.seals).iter().map(|seal| &seal.sealant);
            pieces.chain(beads).any(|own| own.name == material.name)
        };
        let sticks = matches!(kind, MaterialKind::Sealant | MaterialKind::Tape);
        let named: Vec<&str> = materials(self.pack, of).collect();
        let known = self.materials_of(&[kind]).into_iter().filter(|own| !sticks || own.adhesive.is_some());
        let mut ranked: Vec<(usize, &Material)> = known
            .filter_map(|material| match used(material) {
                true => Some((0, material)),
                false => Some((1 + named.iter().position(|name| *name == &*material.name)?, material)),
            })
            .collect();
        ranked.sort_by_key(|(rank, _)| *rank);
        ranked.into_iter().map(|(_, material)| material).collect()
    }

    /// Is one of them outside? Then a bead between them has to keep water out.
    pub fn outside(&self, one: usize, other: usize) -> bool {
        [one, other].iter().any(|index| !self.pieces()[*index].inside)
    }

    /// May an edge of the piece be drawn elsewhere? Walls, frames, units and sheathing stay where they are.
    pub fn movable(&self, piece: &Piece) -> bool {
        let fixed = [MaterialKind::Mass, MaterialKind::Frame, MaterialKind::Unit];
        let kind = piece.material.kind;
        let board = kind == Some(MaterialKind::Board) && !piece.material.holds.has(Control::Thermal);
        let sheathing = board && piece.layer.is_some();
        !sheathing && !kind.is_some_and(|kind| fixed.contains(&kind))
    }

    /// The pieces that touch this one.
    pub fn touching(&self, index: usize) -> Vec<usize> {
        let contacts = self.facts.map_or(&[][..], |facts| &facts.face.contacts);
        let other = |&(a, b): &(usize, usize)| match index {
            own if own == a => Some(b),
            own if own == b => Some(a),
            _ => None,
        };
        contacts.iter().filter_map(other).collect()
    }

    /// The materials of these kinds: those that the detail uses, then the others.
    pub fn materials_of(&self, kinds: &[MaterialKind]) -> Vec<&'a Material> {
        let detail = self.facts.map(|facts| &facts.detail);
        let beads = detail.iter().flat_map(|detail| &detail.seals).map(|seal| &seal.sealant);
        let used = beads.chain(self.pieces().iter().map(|piece| &piece.material));
        let mut found: Vec<&'a Material> = Vec::new();
        for material in used.chain(self.materials) {
            let wanted = material.kind.is_some_and(|kind| kinds.contains(&kind));
            if wanted && !found.iter().any(|known| known.name == material.name) {
                found.push(material);
            }
        }
        found
    }

    /// A name that no piece of the detail has.
    pub fn fresh(&self, wanted: &str) -> String {
        let taken = |name: &str| self.pieces().iter().any(|piece| &*piece.name == name);
        let numbered = (2..).map(|n| format!("{wanted}-{n}"));
        std::iter::once(wanted.to_owned()).chain(numbered).find(|name| !taken(name)).unwrap_or_default()
    }

    /// The system of units that the detail or the assembly is written in.
    pub fn system(&self) -> System {
        let parts = self.item().into_iter().flat_map(|item| &item.body).flat_map(|statement| &statement.clauses);
        let mut lengths = parts.filter_map(|part| match part.clause {
            Clause::Amount(amount) if amount.dimension() == Dimension::Length => Some(amount.unit.symbol),
            _ => None,
        });
        let unit = self.facts.map(|facts| facts.length_unit.symbol).or_else(|| lengths.next()).unwrap_or("mm");
        if ["in", "ft"].contains(&unit) { System::Us } else { System::Metric }
    }
}
