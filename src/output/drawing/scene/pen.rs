//! Pens and inks, and where words begin.

#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pen {
    pub width: f64,
    pub ink: Ink,
    pub dash: Dash,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Dash {
    Solid,
    /// Hidden edges (ISO 128-2, line type 02).
    Dashed,
    /// Axes and folds (line type 04).
    Chain,
    Dotted,
    /// Water behind what should keep it out: 3 mm of paper and 1.5.
    Wet,
}

/// Few inks, told apart by lightness alone.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Ink {
    Black,
    Dark,
    Gray,
    Light,
    Pale,
    White,
    /// Water where it may be.
    Water,
    /// Water where it may not be, and the mark that is lit.
    Warm,
}

impl Ink {
    pub const ALL: [Ink; 8] =
        [Ink::Black, Ink::Dark, Ink::Gray, Ink::Light, Ink::Pale, Ink::White, Ink::Water, Ink::Warm];
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Anchor {
    Start,
    Middle,
    End,
}

impl Pen {
    pub fn solid(width: f64, ink: Ink) -> Pen {
        Pen { width, ink, dash: Dash::Solid }
    }

    pub fn dashed(self, dash: Dash) -> Pen {
        Pen { dash, ..self }
    }
}
