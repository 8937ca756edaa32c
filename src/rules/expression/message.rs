//! All that can be wrong with an expression before any detail is read, each message with its id and what to do about it.

use crate::facts::vocabulary::{Kind, fields};
use crate::finding::{Finding, Id};
use crate::quantity::{Dimension, base_unit};
use crate::rules::expression::ExprType;
use crate::rules::expression::types::with_article;
use crate::rules::written::{Comparison, Operation, suggest};
use crate::text::Span;

/// What is wrong with an expression. The code that finds it builds the variant; its wording is here.
#[derive(Clone, Debug)]
pub enum Message<'a> {
    // Names.
    UnknownWord {
        word: &'a str,
        list: &'a [String],
        /// The constants of the rule, whose names may have been meant.
        constants: &'a [&'a str],
    },
    UnknownName {
        name: &'a str,
        kind: Kind,
        known: &'a [&'a str],
    },
    /// `limit-length` where both `limit` and `length` are names.
    HiddenMinus {
        name: &'a str,
        kind: Kind,
        sides: (&'a str, &'a str),
    },
    UnknownField {
        name: &'a str,
        kind: Kind,
    },
    UnknownFunction {
        name: &'a str,
        known: &'a [&'a str],
    },
    UnknownTable {
        name: &'a str,
        known: &'a [&'a str],
    },
    // Types.
    NotYesNo {
        found: ExprType,
    },
    NotItems {
        found: ExprType,
    },
    ListAlone,
    EmptyList,
    UnlikeElement {
        left: ExprType,
        element: ExprType,
    },
    FieldOfConstant {
        name: &'a str,
    },
    FieldOfValue {
        name: &'a str,
        of: ExprType,
    },
    WrongArguments {
        function: &'a str,
    },
    TableExpected,
    WrongKeys {
        table: &'a str,
        keys: &'a [&'a str],
    },
    WrongKey {
        table: &'a str,
        column: &'a str,
        expected: ExprType,
        found: ExprType,
    },
    OrderOfOthers {
        comparison: Comparison,
    },
    Mismatch {
        verb: Verb,
        sides: [(ExprType, Span); 2],
    },
}

/// The operation whose two sides do not match.
#[derive(Clone, Copy, Debug)]
pub enum Verb {
    Compare,
    Among,
    Calculate(Operation),
    /// Arithmetic with something that is no quantity.
    Use,
}

impl Message<'_> {
    /// The finding at the words at fault.
    pub fn at(self, span: Span) -> Finding {
        let name_error = |message: &str| Id::RuleName.at(span, message);
        let type_error = |message: &str| Id::RuleType.at(span, message);
        match self {
            Message::UnknownWord { word, list, constants } => {
                let finding = name_error(&format!("`{word}` is unknown here; expected one of: {}", list.join(", ")));
                suggest(finding, word, list.iter().map(String::as_str).chain(constants.iter().copied()))
            }
            Message::UnknownName { name, kind, known } => {
                suggest(name_error(&no_name(name, kind)), name, known.iter().copied())
            }
            Message::HiddenMinus { name, kind, sides: (left, right) } => name_error(&no_name(name, kind))
                .fix(format!("Put spaces around the minus, since names can have `-` in them: `{left} - {right}`.")),
            Message::UnknownField { name, kind } => {
                let finding = name_error(&format!("{} has no field `{name}`", with_article(kind.word())));
                suggest(finding, name, fields(kind).map(|field| field.name))
            }
            Message::UnknownFunction { name, known } => {
                suggest(name_error(&format!("there is no function `{name}`")), name, known.iter().copied())
            }
            Message::UnknownTable { name, known } => {
                suggest(name_error(&format!("there is no table `{name}`")), name, known.iter().copied())
            }

            Message::NotYesNo { found } => type_error(&format!("expected yes or no; this is {}", found.phrase())),
            Message::NotItems { found } => {
                type_error(&format!("expected a list of pieces, laps, layers or the like; this is {}", found.phrase()))
            }
            Message::ListAlone => type_error("a list in brackets can only be to the right of `in`"),
            Message::EmptyList => type_error("this list is empty, so nothing can be in it"),
            Message::UnlikeElement { left, element } => {
                type_error(&format!("{} cannot be in a list with {}", left.phrase(), element.phrase()))
            }
            Message::FieldOfConstant { name } => type_error(&format!("`{name}` is a constant, which has no fields")),
            Message::FieldOfValue { name, of } => {
                type_error(&format!("`{name}` is {}, which has no fields", of.phrase()))
            }
            Message::WrongArguments { function } => {
                type_error(&format!("`{function}` takes {}", arguments_of(function).replace("NAME", function)))
            }
            Message::TableExpected => type_error("expected the name of a table"),
            Message::WrongKeys { table, keys } => {
                type_error(&format!("the table `{table}` takes these keys: {}", keys.join(", ")))
            }
            Message::WrongKey { table, column, expected: ExprType::Word(_), found: ExprType::Word(_) } => type_error(
                &format!("this word is from another list; the table `{table}` takes a word of {column} here"),
            ),
            Message::WrongKey { table, expected, found, .. } => type_error(&format!(
                "the table `{table}` takes {} here, but this is {}",
                expected.phrase(),
                found.phrase()
            )),
            Message::OrderOfOthers { comparison } => {
                type_error(&format!("`{}` compares quantities only", comparison.symbol()))
            }
            Message::Mismatch { verb, sides } => mismatch(verb, sides, type_error),
        }
    }
}

fn no_name(name: &str, kind: Kind) -> String {
    format!("`{name}` is neither a field of {} nor a constant of this rule", with_article(kind.word()))
}

/// `NAME` stands for the function.
fn arguments_of(function: &str) -> &'static str {
    match function {
        "any" | "all" => "a list and a condition: `NAME(pieces, role == pan)`",
        "count" => "a list and an optional condition: `count(pieces, role == pan)`",
        "known" => "one value: `known(length)`",
        "lookup" => "a table and its keys: `lookup(table, key)`",
        _ => "two quantities: `NAME(a, b)`",
    }
}

/// Two sides whose types do not match, each shown with its type.
fn mismatch(verb: Verb, sides: [(ExprType, Span); 2], type_error: impl Fn(&str) -> Finding) -> Finding {
    let [(left, left_span), (right, right_span)] = sides;
    let finding = match (left, right) {
        (ExprType::Word(_), ExprType::Word(_)) => {
            type_error("the two words come from different lists, so they are never equal")
        }
        (ExprType::Fact(a), ExprType::Fact(b)) if a != b => {
            type_error(&format!("{} is never {}", with_article(a.word()), with_article(b.word())))
        }
        _ => type_error(&verb.words(&left.phrase(), &right.phrase())),
    };
    let finding = finding.related(left_span, left.phrase()).related(right_span, right.phrase());
    let scales = matches!(verb, Verb::Calculate(Operation::Times | Operation::Over));
    match (left, right) {
        (ExprType::Quantity(Dimension::Number), ExprType::Quantity(other))
        | (ExprType::Quantity(other), ExprType::Quantity(Dimension::Number))
            if !scales =>
        {
            finding.fix(format!("Write the number with its unit, such as `{}`.", base_unit(other).symbol))
        }
        _ => finding,
    }
}

impl Verb {
    fn words(self, left: &str, right: &str) -> String {
        match self {
            Verb::Compare => format!("{left} cannot be compared with {right}"),
            Verb::Among => format!("`in` cannot find {left} in {right}"),
            Verb::Calculate(Operation::Plus) => format!("{right} cannot be added to {left}"),
            Verb::Calculate(Operation::Minus) => format!("{right} cannot be subtracted from {left}"),
            Verb::Calculate(Operation::Times) => format!("{left} cannot be multiplied by {right}"),
            Verb::Calculate(Operation::Over) => format!("{left} cannot be divided by {right}"),
            Verb::Use => format!("{left} and {right} cannot be used in arithmetic"),
        }
    }
}
