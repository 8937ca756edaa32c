//! The messages about a rule file by itself, each with its id and what to do about it.

use crate::finding::{Finding, Id, Known};
use crate::quantity::{NumberError, UNITS};
use crate::rules::written::RULE_KEYS;
use crate::text::{Span, nearest};

/// A mistake in a rule file. The code that finds it builds the variant; its wording is here.
#[derive(Clone, Debug)]
pub enum Message<'a> {
    // The file, and expressions and sentences in it.
    NotToml {
        why: &'a str,
    },
    NoExpression,
    TooDeep,
    TooLong,
    TooManyParts,
    TwoComparisons,
    EndsEarly {
        wants_value: bool,
    },
    NoSpaceBeforeUnit,
    SingleEquals,
    Unexpected {
        word: &'a str,
        wants_value: bool,
    },
    NoClosingBrace,
    NoOpeningBrace,
    NoClosingBracket,
    // Keys.
    UnknownKey {
        what: &'a str,
        name: &'a str,
        known: &'a [&'a str],
    },
    MissingKey {
        what: &'a str,
        key: &'a str,
    },
    NotAName {
        name: &'a str,
    },
    AssumedNotATable,
    NoKeysOfTable,
    NoRows,
    NoKnown,
    NoSource,
    NoExampleText,
    CuredWithoutFault,
    // Values.
    NotText {
        key: &'a str,
        found: &'a str,
    },
    ExampleNotText,
    NotYesNo {
        key: &'a str,
    },
    NotAList {
        key: &'a str,
    },
    NotTables {
        key: &'a str,
    },
    NotATable {
        key: &'a str,
    },
    RowNotAList,
    UnlikeElements,
    NotAConstant {
        found: &'a str,
    },
    /// `150mm`
    Glued {
        number: &'a str,
        unit: &'a str,
    },
    NotAQuantity {
        text: &'a str,
        error: NumberError,
    },
    NotAValue {
        text: &'a str,
    },
    UnknownStatus {
        word: &'a str,
    },
}

/// A finding instead of a value; boxed, since it is large and rare.
pub type Refusal = Box<Finding>;

impl<'a> Message<'a> {
    /// For a key that is neither a key of rules nor a constant.
    pub fn no_key_of_rules(name: &'a str) -> Message<'a> {
        Message::UnknownKey { what: "a rule", name, known: &RULE_KEYS }
    }

    /// The same as `at`, as an error instead of a value.
    pub fn refuse<T>(self, span: Span) -> Result<T, Refusal> {
        Err(Box::new(self.at(span)))
    }

    /// The finding at the words at fault.
    pub fn at(self, span: Span) -> Finding {
        let syntax = |message: &str| Id::RuleSyntax.at(span, message);
        let key = |message: &str| Id::RuleKey.at(span, message);
        let value = |message: &str| Id::RuleValue.at(span, message);
        match self {
            Message::NotToml { why } => syntax(why),
            Message::NoExpression => syntax("expected an expression"),
            Message::TooDeep => syntax("this expression nests too deeply"),
            Message::TooLong => syntax("this expression is too long"),
            Message::TooManyParts => syntax("this calculation has too many parts"),
            Message::TwoComparisons => syntax("join two comparisons with `and`: `a < b and b < c`"),
            Message::EndsEarly { wants_value: true } => syntax("the expression ends too early; expected a value"),
            Message::EndsEarly { wants_value: false } => {
                syntax("the expression ends too early; expected `)`, `]` or `,`")
            }
            Message::NoSpaceBeforeUnit => syntax("expected a space between the number and its unit"),
            Message::SingleEquals => syntax("expected `==` for equality"),
            Message::Unexpected { word, wants_value: true } => {
                syntax(&format!("unexpected `{word}`; expected a field, a quantity or `(`"))
            }
            Message::Unexpected { word, wants_value: false } => {
                syntax(&format!("unexpected `{word}`; expected `and`, `or`, a comparison or one of `+ - * /`"))
            }
            Message::NoClosingBrace => syntax("this `{` has no matching `}`"),
            Message::NoOpeningBrace => syntax("this `}` has no matching `{`").fix("Write `}}` for a brace."),
            Message::NoClosingBracket => syntax("a `[` before this has no matching `]`"),

            Message::UnknownKey { what, name, known } => {
                suggest(key(&format!("{what} has no key `{name}`")), name, known.iter().copied())
            }
            Message::MissingKey { what, key: missing } => key(&format!("{what} needs the key `{missing}`")),
            Message::NotAName { name } => {
                key(&format!("`{name}` is not a name; expected a letter, then letters, digits, `-` and `_`"))
            }
            Message::AssumedNotATable => key("the assumed values have to be a table: `[assumed]`"),
            Message::NoKeysOfTable => key("a table needs its `keys`, such as `keys = [\"adhesive\", \"surface\"]`"),
            Message::NoRows => key("a table needs its `rows`, a list of lists"),
            Message::NoKnown => key("a basis needs `known`: read, memory or practice"),
            Message::NoSource => key("a basis that is read or remembered needs its `source`"),
            Message::NoExampleText => key("an example needs either `fails` or `passes`, with the text of details"),
            Message::CuredWithoutFault => key("only an example that `fails` can be `cured`"),

            Message::NotText { key, found } => value(&format!("`{key}` is of type {found}; expected text in quotes")),
            Message::ExampleNotText => value("an example has to be text in quotes"),
            Message::NotYesNo { key } => value(&format!("`{key}` has to be true or false")),
            Message::NotAList { key } => value(&format!("`{key}` has to be a list in brackets")),
            Message::NotTables { key } => value(&format!("`{key}` has to be written as `[[{key}]]`, once for each")),
            Message::NotATable { key } => value(&format!("each `{key}` has to be a table")),
            Message::RowNotAList => value("a row has to be a list in brackets"),
            Message::UnlikeElements => value("a list has to hold only words, or only quantities of one dimension"),
            Message::NotAConstant { found } => value(&format!(
                "this constant is of type {found}; expected a quantity, a word, a number, true, false or a list"
            )),
            Message::Glued { number, unit } => {
                value(&format!("expected a space between the number and its unit: `{number} {unit}`"))
            }
            Message::NotAQuantity { error: NumberError::UnknownUnit(unit), .. } => {
                suggest(value(&format!("`{unit}` is not a unit")), &unit, UNITS.iter().map(|unit| unit.symbol))
            }
            Message::NotAQuantity { text, error: NumberError::NotANumber } => {
                value(&format!("`{text}` is not a quantity"))
            }
            Message::NotAQuantity { text, error: NumberError::OutOfRange } => {
                value(&format!("`{text}` is out of range"))
            }
            Message::NotAValue { text } => value(&format!("`{text}` is neither a quantity nor a word")),
            Message::UnknownStatus { word } => {
                let finding = value(&format!("`{word}` is unknown here; expected read, memory or practice"));
                suggest(finding, word, Known::ALL.map(Known::word))
            }
        }
    }
}

/// Adds the nearest known name, when there is one.
pub fn suggest<'a>(finding: Finding, wanted: &str, known: impl IntoIterator<Item = &'a str>) -> Finding {
    match nearest(wanted, known) {
        Some(near) => finding.fix(format!("Did you mean `{near}`?")),
        None => finding,
    }
}
