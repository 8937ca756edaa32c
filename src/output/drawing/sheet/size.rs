//! Sizes of paper.

use crate::output::drawing::scale::Scales;
use crate::output::drawing::subject::Subject;

/// A size of paper, lying.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Paper {
    A3,
    AnsiB,
}

impl Paper {
    pub fn from_word(word: &str) -> Option<Paper> {
        match word.to_lowercase().as_str() {
            "a3" => Some(Paper::A3),
            "ansi-b" => Some(Paper::AnsiB),
            _ => None,
        }
    }

    /// Width and height, mm (ISO 216; ASME Y14.1).
    pub fn size(self) -> [f64; 2] {
        match self {
            Paper::A3 => [420.0, 297.0],
            Paper::AnsiB => [431.8, 279.4],
        }
    }

    /// The scales of who prints on it: a scale of inches is on the edge of every ruler beside a sheet of inches.
    pub(super) fn scales(self, subject: &Subject) -> Scales {
        match self {
            Paper::A3 => subject.scales(),
            Paper::AnsiB => Scales::Inch,
        }
    }
}
