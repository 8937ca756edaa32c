//! The messages about rules as a whole: conflicts between rules, wrong references, adjustments in settings, examples, and what
//! judging reports besides the findings of rules. Each has its id and what to do about it.

use crate::facts::vocabulary::{Kind, Type, fields};
use crate::finding::{Finding, Id, Level};
use crate::model::Name;
use crate::quantity::Dimension;
use crate::rules::expression::{ExprType, with_article};
use crate::rules::written::suggest;
use crate::text::Span;

/// What is wrong with rules, or why they are silent about a thing. The code that finds it builds the variant; its wording is
/// here.
#[derive(Clone, Debug)]
pub enum Message<'a> {
    // A rule.
    NotAnId {
        id: &'a str,
    },
    NotALevel {
        word: &'a str,
    },
    NotAKind {
        word: &'a str,
    },
    HidesField {
        name: &'a str,
    },
    UnusedConstant {
        name: &'a str,
    },
    /// A step of `at`.
    UnknownPlace {
        kind: Kind,
        name: &'a str,
    },
    NoPlace {
        kind: Kind,
        name: &'a str,
    },
    // A table.
    WrongCells {
        expected: usize,
        found: usize,
    },
    OtherTypeInColumn {
        expected: ExprType,
        found: ExprType,
    },
    NotInList {
        word: &'a str,
        list: &'a str,
        known: &'a [String],
    },
    // Assumed values.
    UnknownAssumed {
        name: &'a str,
        known: &'a [&'a str],
    },
    MissingAssumed {
        name: &'a str,
    },
    WrongAssumed {
        name: &'a str,
        found: ExprType,
        expected: Expected,
    },
    NotMonths {
        name: &'a str,
    },
    Negative {
        name: &'a str,
    },
    NotARole {
        word: &'a str,
        known: &'a [Name],
    },
    // Names that several files give.
    Duplicate {
        what: &'a str,
        name: &'a str,
        first: Span,
        /// A firm's, beside a stock one.
        may_replace: bool,
    },
    AssumedTwice {
        first: Span,
    },
    NothingToReplace {
        what: &'a str,
        name: &'a str,
        known: &'a [&'a str],
    },
    // Adjustments of a project.
    AdjustmentNotATable {
        rule: &'a str,
    },
    BecauseNotAReason,
    OffNotYesNo,
    LevelNotALevel,
    NoReason {
        rule: &'a str,
    },
    UnknownRule {
        name: &'a str,
        known: &'a [&'a str],
    },
    AssumedHasNoLevel,
    UnknownConstant {
        rule: &'a str,
        name: &'a str,
        known: &'a [&'a str],
    },
    WrongValue {
        rule: &'a str,
        name: &'a str,
        found: ExprType,
        expected: ExprType,
        /// The value in the rule, and its place.
        value: (&'a str, Span),
    },
    WordNotInList {
        word: &'a str,
        known: &'a [String],
    },
    // Examples.
    NoExample {
        rule: &'a str,
        that: &'a str,
    },
    FindsNothing {
        rule: &'a str,
    },
    FindsFault {
        rule: &'a str,
        message: &'a str,
    },
    NotCured {
        rule: &'a str,
        message: &'a str,
    },
    CureBringsFinding {
        rule: &'a str,
        message: &'a str,
    },
    UnreadExample {
        message: &'a str,
    },
    IdleException {
        rule: &'a str,
    },
    UnknownEdit {
        word: &'a str,
        known: &'a [&'a str],
    },
    // Judging.
    MissingProperty {
        name: &'a Name,
        word: &'a str,
        property: &'a str,
    },
    TooManySteps {
        rule: &'a str,
        kind: Kind,
        most: u64,
    },
}

/// What an assumed value has to be.
#[derive(Clone, Copy, Debug)]
pub enum Expected {
    Quantity(Dimension),
    Roles,
}

impl Message<'_> {
    /// The finding at the words at fault.
    pub fn at(self, span: Span) -> Finding {
        let key = |message: &str| Id::RuleKey.at(span, message);
        let value = |message: &str| Id::RuleValue.at(span, message);
        let name_error = |message: &str| Id::RuleName.at(span, message);
        let adjustment = |message: &str| Id::RuleAdjustment.at(span, message);
        let example = |message: &str| Id::RuleExample.at(span, message);
        match self {
            Message::NotAnId { id } => value(&format!(
                "`{id}` is not an id; expected a lowercase letter, then lowercase letters, digits and `-`"
            )),
            Message::NotALevel { word } => {
                let finding = value(&format!("`{word}` is not a level; expected error, warning or note"));
                suggest(finding, word, Level::ALL.map(Level::word))
            }
            Message::NotAKind { word } => {
                let known = Kind::ALL.map(Kind::word);
                let finding = format!("a rule cannot be about `{word}`; expected one of: {}", known.join(", "));
                suggest(name_error(&finding), word, known)
            }
            Message::HidesField { name } => key(&format!("the constant `{name}` would hide the field of that name")),
            Message::UnusedConstant { name } => {
                Id::RuleUnused.at(span, format!("no expression of this rule uses the constant `{name}`"))
            }
            Message::UnknownPlace { kind, name } => {
                let kind_words = with_article(kind.word());
                let finding = name_error(&format!("{kind_words} has neither a part nor a thing called `{name}`"));
                suggest(finding, name, places(kind))
            }
            Message::NoPlace { kind, name } => {
                let finding = format!("`{name}` has no place of its own; `at` has to name a thing or a part of one");
                suggest(name_error(&finding), name, places(kind))
            }

            Message::WrongCells { expected, found } => value(&format!(
                "expected {expected} cells in each row, the value last; this row has {found}"
            )),
            Message::OtherTypeInColumn { expected, found } => Id::RuleType.at(
                span,
                format!("this cell is {}; expected {} in this column", found.phrase(), expected.phrase()),
            ),
            Message::NotInList { word, list, known } => {
                suggest(name_error(&format!("`{word}` is not in the list {list}")), word, strs(known))
            }

            Message::UnknownAssumed { name, known } => {
                suggest(key(&format!("there is no assumed value `{name}`")), name, known.iter().copied())
            }
            Message::MissingAssumed { name } => key(&format!("`[assumed]` needs a value for `{name}`")),
            Message::WrongAssumed { name, found, expected } => {
                value(&format!("this value for `{name}` is {}; expected {}", found.phrase(), expected.phrase()))
            }
            Message::NotMonths { name } => value(&format!("`{name}` has to be a whole number of months, 0 to 11")),
            Message::Negative { name } => value(&format!("`{name}` cannot be negative")),
            Message::NotARole { word, known } => {
                value(&format!("`{word}` is not a role of a piece; expected one of: {}", known.join(", ")))
            }

            Message::Duplicate { what, name, first, may_replace } => {
                let finding = Id::RuleDuplicate
                    .at(span, format!("duplicate {what} `{name}`"))
                    .related(first, format!("the first {what} `{name}`"));
                match may_replace {
                    true => finding.fix("Write `replaces = true` to replace the stock one."),
                    false => finding,
                }
            }
            Message::AssumedTwice { first } => Id::RuleDuplicate
                .at(span, "the assumed values are already written")
                .related(first, "here")
                .fix("Change a value with `[adjust.assumed]` in headlap.toml."),
            Message::NothingToReplace { what, name, known } => {
                suggest(name_error(&format!("there is no {what} `{name}` to replace")), name, known.iter().copied())
            }

            Message::AdjustmentNotATable { rule } => {
                adjustment(&format!("an adjustment has to be a table: `[adjust.{rule}]`"))
            }
            Message::BecauseNotAReason => adjustment("`because` has to be the reason, in quotes"),
            Message::OffNotYesNo => adjustment("`off` has to be true or false"),
            Message::LevelNotALevel => adjustment("`level` has to be error, warning or note"),
            Message::NoReason { rule } => {
                adjustment(&format!("the adjustment of {rule} needs its reason: `because = \"…\"`"))
            }
            Message::UnknownRule { name, known } => {
                suggest(adjustment(&format!("there is no rule `{name}`")), name, known.iter().copied())
            }
            Message::AssumedHasNoLevel => adjustment("assumed values have no level and cannot be switched off"),
            Message::UnknownConstant { rule, name, known } => {
                suggest(adjustment(&format!("the rule {rule} has no constant `{name}`")), name, known.iter().copied())
            }
            Message::WrongValue { rule, name, found, expected, value: (value, place) } => adjustment(&format!(
                "this value for `{name}` of {rule} is {}; expected {}",
                found.phrase(),
                expected.phrase()
            ))
            .related(place, format!("{value} in the rule")),
            Message::WordNotInList { word, known } => {
                let finding = format!("`{word}` is unknown here; expected one of: {}", known.join(", "));
                suggest(adjustment(&finding), word, strs(known))
            }

            Message::NoExample { rule, that } => example(&format!("the rule {rule} has no example that {that}")),
            Message::FindsNothing { rule } => {
                example(&format!("{rule} finds nothing wrong with this example, which should fail"))
            }
            Message::FindsFault { rule, message } => {
                example(&format!("{rule} finds fault with this example, which should pass: {message}"))
            }
            Message::NotCured { rule, message } => {
                example(&format!("{rule} still finds this after the cure: {message}"))
            }
            Message::CureBringsFinding { rule, message } => {
                example(&format!("the cure brings a new finding of {rule}: {message}"))
            }
            Message::UnreadExample { message } => {
                example(&format!("this example cannot be read as meant: {message}"))
            }
            Message::IdleException { rule } => {
                example(&format!("no example of {rule} needs this exception; each passes without it"))
            }
            Message::UnknownEdit { word, known } => {
                let finding = Id::RuleName.at(span, format!("`{word}` is not an edit; expected {}", known.join(", ")));
                suggest(finding, word, known.iter().copied())
            }

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

impl Expected {
    fn phrase(self) -> String {
        match self {
            Expected::Quantity(dimension) => ExprType::Quantity(dimension).phrase(),
            Expected::Roles => "a list of roles".to_owned(),
        }
    }
}

/// What `at` can name of a kind.
fn places(kind: Kind) -> impl Iterator<Item = &'static str> {
    let things = fields(kind).filter(|field| matches!(field.of, Type::Fact(_) | Type::FactList(_)));
    things.map(|field| field.name).chain(kind.places().iter().copied())
}

fn strs(words: &[String]) -> impl Iterator<Item = &str> {
    words.iter().map(String::as_str)
}
