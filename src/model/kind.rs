//! The closed word lists of the language.

/// What a layer can be there to do.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Control {
    Water,
    Air,
    Vapor,
    Thermal,
}

impl Control {
    pub const ALL: [Control; 4] = [Control::Water, Control::Air, Control::Vapor, Control::Thermal];

    pub fn word(self) -> &'static str {
        match self {
            Control::Water => "water",
            Control::Air => "air",
            Control::Vapor => "vapor",
            Control::Thermal => "thermal",
        }
    }

    pub fn from_word(word: &str) -> Option<Control> {
        Control::ALL.into_iter().find(|c| c.word() == word)
    }
}

/// A set of controls.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub struct Controls(u8);

impl Controls {
    pub const NONE: Controls = Controls(0);

    pub fn has(self, control: Control) -> bool {
        self.0 & (1 << control as u8) != 0
    }

    pub fn with(self, control: Control) -> Controls {
        Controls(self.0 | 1 << control as u8)
    }

    pub fn is_empty(self) -> bool {
        self.0 == 0
    }

    pub fn iter(self) -> impl Iterator<Item = Control> {
        Control::ALL.into_iter().filter(move |c| self.has(*c))
    }
}

impl FromIterator<Control> for Controls {
    fn from_iter<I: IntoIterator<Item = Control>>(controls: I) -> Controls {
        controls.into_iter().fold(Controls::NONE, Controls::with)
    }
}

/// What a material is, as far as installing it goes.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum MaterialKind {
    Sheet,
    Tape,
    Flashing,
    Board,
    Mass,
    Frame,
    Fill,
    Gap,
    Coat,
    Sealant,
    Fastener,
    Unit,
    Cladding,
}

impl MaterialKind {
    pub const ALL: [MaterialKind; 13] = [
        MaterialKind::Sheet,
        MaterialKind::Tape,
        MaterialKind::Flashing,
        MaterialKind::Board,
        MaterialKind::Mass,
        MaterialKind::Frame,
        MaterialKind::Fill,
        MaterialKind::Gap,
        MaterialKind::Coat,
        MaterialKind::Sealant,
        MaterialKind::Fastener,
        MaterialKind::Unit,
        MaterialKind::Cladding,
    ];

    pub fn word(self) -> &'static str {
        match self {
            MaterialKind::Sheet => "sheet",
            MaterialKind::Tape => "tape",
            MaterialKind::Flashing => "flashing",
            MaterialKind::Board => "board",
            MaterialKind::Mass => "mass",
            MaterialKind::Frame => "frame",
            MaterialKind::Fill => "fill",
            MaterialKind::Gap => "gap",
            MaterialKind::Coat => "coat",
            MaterialKind::Sealant => "sealant",
            MaterialKind::Fastener => "fastener",
            MaterialKind::Unit => "unit",
            MaterialKind::Cladding => "cladding",
        }
    }
}
