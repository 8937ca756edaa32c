//! The kinds of thing that a rule can be about.

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
    /// `Fact::span` gives.
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
