//! The types of expressions, and how sentences name them.

use crate::facts::vocabulary::{Family, Kind, Type};
use crate::model::Words;
use crate::quantity::Dimension;
use crate::rules::table::Table;
use crate::rules::written::Literal;

#[derive(Clone, Copy, Debug, PartialEq)]
pub enum ExprType {
    YesNo,
    Quantity(Dimension),
    Quantities(Dimension),
    Word(WordsOf),
    Words(WordsOf),
    Text,
    Fact(Kind),
    FactList(Kind),
}

/// The list that a word comes from.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum WordsOf {
    Family(Family),
    /// The values of a table, by its number.
    Table(usize),
    /// Written in the rule file without a list; it fits what it is compared with, or is refused there.
    Free,
}

impl From<Type> for ExprType {
    fn from(of: Type) -> ExprType {
        match of {
            Type::YesNo => ExprType::YesNo,
            Type::Quantity(dimension) => ExprType::Quantity(dimension),
            Type::Word(family) => ExprType::Word(WordsOf::Family(family)),
            Type::Words(family) => ExprType::Words(WordsOf::Family(family)),
            Type::Text => ExprType::Text,
            Type::Fact(kind) => ExprType::Fact(kind),
            Type::FactList(kind) => ExprType::FactList(kind),
        }
    }
}

impl ExprType {
    pub fn of(literal: &Literal) -> ExprType {
        match literal {
            Literal::YesNo(_) => ExprType::YesNo,
            Literal::Quantity(quantity) => ExprType::Quantity(quantity.dimension()),
            Literal::Word(_) => ExprType::Word(WordsOf::Free),
            Literal::Words(_) => ExprType::Words(WordsOf::Free),
            Literal::Quantities(list) => {
                ExprType::Quantities(list.first().map_or(Dimension::Number, |quantity| quantity.dimension()))
            }
        }
    }

    /// `a length`, `one of several words`, `a piece`.
    pub fn phrase(self) -> String {
        match self {
            ExprType::YesNo => "yes or no".into(),
            ExprType::Quantity(dimension) => dimension.phrase().into(),
            ExprType::Quantities(dimension) => format!("a list of values, each {}", dimension.phrase()),
            ExprType::Word(_) => "a word".into(),
            ExprType::Words(_) => "a list of words".into(),
            ExprType::Text => "text".into(),
            ExprType::Fact(kind) => with_article(kind.word()),
            ExprType::FactList(kind) => format!("a list of {}", plural(kind.word())),
        }
    }
}

fn plural(word: &str) -> String {
    match word.strip_suffix('y') {
        Some(stem) => format!("{stem}ies"),
        None if word.ends_with("ch") => format!("{word}es"),
        None => format!("{word}s"),
    }
}

pub fn with_article(word: &str) -> String {
    format!("{} {word}", if word.starts_with(['a', 'e', 'i', 'o', 'u']) { "an" } else { "a" })
}

impl WordsOf {
    /// Every word of the list, or `None` where any word is allowed.
    pub fn list(self, words: &Words, tables: &[Table]) -> Option<Vec<String>> {
        match self {
            WordsOf::Family(family) => family.words(words).map(|list| list.into_iter().map(String::from).collect()),
            WordsOf::Table(table) => Some(tables[table].value_words()),
            WordsOf::Free => None,
        }
    }

    pub fn has(self, word: &str, words: &Words, tables: &[Table]) -> bool {
        match self {
            WordsOf::Family(Family::DetailKind) => words.kinds.contains_key(word),
            WordsOf::Family(family) => family.has(word, words),
            WordsOf::Table(table) => tables[table].has_value(word),
            WordsOf::Free => true,
        }
    }

    /// Whether the list is closed, so that a word outside of it is a mistake.
    pub fn closed(self) -> bool {
        !matches!(self, WordsOf::Free | WordsOf::Family(Family::Open))
    }
}

/// The type of a field for people who write rules: `a length`, `one of sheet, tape, …`, `several of water, air, …`.
pub fn describe_field(of: Type, words: &Words) -> String {
    match of {
        Type::Word(family) => match family.words(words) {
            Some(list) if !list.is_empty() => format!("one of {}", list.join(", ")),
            _ => "a word".into(),
        },
        Type::Words(family) => match family.words(words) {
            Some(list) if !list.is_empty() => format!("any of {}", list.join(", ")),
            _ => "words".into(),
        },
        other => ExprType::from(other).phrase(),
    }
}
