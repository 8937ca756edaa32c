//! What a review says of a file that it could not check as a whole.

use crate::facts::face::{Excess, TooLarge};
use crate::finding::{Finding, Id};
use crate::text::Span;

/// Why a part of a file was not checked.
#[derive(Clone, Debug)]
pub enum Message {
    DetailTooLarge {
        excess: TooLarge,
    },
    /// The program failed.
    Failed,
}

/// What to do about a property that a built-in material lacks, which no author can add to.
pub(super) fn define_own(material: &str) -> String {
    format!("{material} is built into headlap. Define a material of your own that states it.")
}

impl Message {
    /// The finding at the words at fault.
    pub fn at(self, span: Span) -> Finding {
        match self {
            Message::DetailTooLarge { excess: TooLarge { what, limit } } => {
                let what = match what {
                    Excess::Pieces => "pieces",
                    Excess::Cells => "places where some edge cuts the face",
                    Excess::Stacked => "pieces lying over each other, counted at every place",
                    Excess::Steps | Excess::Trail => "steps of work",
                };
                Id::TooLarge
                    .at(
                        span,
                        format!(
                            "this detail is too large to check: it has more than {limit} {what}, so none of its laps were checked"
                        ),
                    )
                    .fix("Split it into details of one interface each.")
            }
            Message::Failed => Id::Internal
                .at(span, "headlap failed while it checked this file; nothing in it was checked")
                .fix(
                    "Report this file, or the smallest part of it that still fails, with the output of `headlap --version`.",
                ),
        }
    }
}
