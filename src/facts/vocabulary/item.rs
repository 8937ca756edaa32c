//! The things that a rule can be about.

use crate::model::{Material, Name};
use crate::quantity::Unit;
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
    Meeting,
    Stack,
    Need,
    Waiver,
}

impl Kind {
    pub const ALL: [Kind; 18] = [
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
        Kind::Meeting,
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
            Kind::Meeting => "meeting",
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
            Kind::Piece => &["name", "material", "up", "along", "line"],
            Kind::Layer => &["material", "controls", "line"],
            Kind::Detail => &["name", "kind", "grade", "exposed", "weeps", "installed-at"],
            Kind::Assembly => &["name", "kind"],
            Kind::Material => &["name", "holds"],
            Kind::Fastening => &["every", "fastener", "line"],
            _ => &[],
        }
    }
}

/// One thing, borrowed from the facts.
#[derive(Clone, Copy, Debug)]
pub enum Item<'a> {
    Material(&'a Material),
}

impl<'a> Item<'a> {
    pub fn kind(self) -> Kind {
        match self {
            Item::Material(_) => Kind::Material,
        }
    }

    /// The name that a sentence uses for it.
    pub fn name(self) -> Name {
        match self {
            Item::Material(material) => material.name.clone(),
        }
    }

    /// The words that a finding about it stands under.
    pub fn span(self) -> Span {
        match self {
            Item::Material(material) => material.name_span,
        }
    }

    /// The words of one part of it (a word of `Kind::places`); the whole when the author wrote no such part.
    pub fn place(self, part: &str) -> Span {
        match (self, part) {
            (Item::Material(material), "holds") => material.holds_span.unwrap_or(material.name_span),
            _ => self.span(),
        }
    }

    /// The detail or assembly that it belongs to, for the finding's `item`.
    pub fn home(self) -> Option<Name> {
        match self {
            Item::Material(material) => Some(material.name.clone()),
        }
    }

    /// What is drawn cannot be relied upon (a line of it was unreadable, or its material unknown): rules stay silent.
    pub fn doubtful(self) -> bool {
        match self {
            Item::Material(material) => material.kind.is_none(),
        }
    }

    /// The unit in which its author writes lengths.
    pub fn length_unit(self) -> &'static Unit {
        crate::quantity::base_unit(crate::quantity::Dimension::Length)
    }

    /// The material whose fields it inherits.
    pub fn material(self) -> Option<&'a Material> {
        match self {
            Item::Material(material) => Some(material),
        }
    }
}
