//! What judging says besides what the rules say: which of them could not be asked.

use crate::facts::vocabulary::Kind;
use crate::finding::{Finding, Id};
use crate::model::Name;
use crate::text::Span;

/// Why rules are silent about a thing.
#[derive(Clone, Debug)]
pub enum Message<'a> {
    MissingProperty { name: &'a Name, word: &'a str, property: &'a str },
    TooManySteps { rule: &'a str, kind: Kind, most: u64 },
}

impl Message<'_> {
    /// The finding at the words at fault.
    pub fn at(self, span: Span) -> Finding {
        match self {
            Message::MissingProperty { name, word, property } => Id::MissingProperty
                .at(
                    span,
                    format!("{name} does not state its {}, so rules that need it are silent", property.replace('-', " ")),
                )
                .item(Some(name.clone()))
                .about([name.clone()])
                .fix(format!("Add `{property}` to the {word} {name}.")),
            Message::TooManySteps { rule, kind, most } => Id::TooLarge
                .at(
                    span,
                    format!(
                        "the rules take more than {} million steps here, so {rule} and other rules were not applied to every {}",
                        most / 1_000_000,
                        kind.word()
                    ),
                )
                .fix("Split it into details of one interface each, or use fewer lists within lists in rules of your own."),
        }
    }
}
