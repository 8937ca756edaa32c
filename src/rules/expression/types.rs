//! The types of expressions, and how sentences name them.

use crate::facts::vocabulary::{Family, Kind, Type};
use crate::model::Words;
use crate::quantity::Dimension;
use crate::rules::table::Table;
use crate::rules::written::Literal;

#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Ty {
    YesNo,
    Quantity(Dimension),
    Quantities(Dimension),
    Word(WordsOf),
    Words(WordsOf),
    Text,
    Item(Kind),
    Items(Kind),
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

impl From<Type> for Ty {
    fn from(of: Type) -> Ty {
        match of {
            Type::YesNo => Ty::YesNo,
            Type::Quantity(dimension) => Ty::Quantity(dimension),
            Type::Word(family) => Ty::Word(WordsOf::Family(family)),
            Type::Words(family) => Ty::Words(WordsOf::Family(family)),
            Type::Text => Ty::Text,
            Type::Item(kind) => Ty::Item(kind),
            Type::Items(kind) => Ty::Items(kind),
        }
    }
}

impl Ty {
    pub fn of(literal: &Literal) -> Ty {
        match literal {
            Literal::YesNo(_) => Ty::YesNo,
            Literal::Quantity(quantity) => Ty::Quantity(quantity.dimension()),
            Literal::Word(_) => Ty::Word(WordsOf::Free),
            Literal::Words(_) => Ty::Words(WordsOf::Free),
            Literal::Quantities(list) => {
                Ty::Quantities(list.first().map_or(Dimension::Number, |quantity| quantity.dimension()))
            }
        }
    }

    /// `a length`, `one of several words`, `a piece`.
    pub fn phrase(self) -> String {
        match self {
            Ty::YesNo => "yes or no".into(),
            Ty::Quantity(dimension) => dimension.phrase().into(),
            Ty::Quantities(dimension) => format!("a list of values, each {}", dimension.phrase()),
            Ty::Word(_) => "a word".into(),
            Ty::Words(_) => "a list of words".into(),
            Ty::Text => "text".into(),
            Ty::Item(kind) => with_article(kind.word()),
            Ty::Items(kind) => format!("a list of {}", plural(kind.word())),
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
    /// Every word of the list, or `None` when any word may stand there.
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

    /// Whether the list has an end, so that a word outside of it is a slip.
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
        other => Ty::from(other).phrase(),
    }
}
