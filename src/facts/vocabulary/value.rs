//! What a field yields for one item.

use crate::facts::vocabulary::Item;
use crate::model::{Controls, Name};
use crate::quantity::Quantity;

/// A value at run time. Its type was settled when the rule was loaded.
#[derive(Clone, Debug)]
pub enum Value<'a> {
    /// Nobody said: the rule stays silent. When a material lacks a property, it is named so that the author can add it.
    Unknown(Option<Missing<'a>>),
    YesNo(bool),
    /// With the unit that its author wrote.
    Quantity(Quantity),
    Word(&'a str),
    Words(WordSet<'a>),
    Text(&'a str),
    Item(Item<'a>),
    Items(Items<'a>),
}

/// The property that would be needed.
#[derive(Clone, Copy, Debug)]
pub struct Missing<'a> {
    pub material: &'a crate::model::Material,
    pub property: &'static str,
}

pub type Items<'a> = Vec<Item<'a>>;

/// Several words of one list, in the form in which they are kept.
#[derive(Clone, Debug)]
pub enum WordSet<'a> {
    Controls(Controls),
    Fixed(Vec<&'static str>),
    Names(&'a [Name]),
}

impl WordSet<'_> {
    pub fn has(&self, word: &str) -> bool {
        match self {
            WordSet::Controls(controls) => controls.iter().any(|c| c.word() == word),
            WordSet::Fixed(words) => words.contains(&word),
            WordSet::Names(names) => names.iter().any(|n| &**n == word),
        }
    }

    pub fn words(&self) -> Vec<&str> {
        match self {
            WordSet::Controls(controls) => controls.iter().map(|c| c.word()).collect(),
            WordSet::Fixed(words) => words.clone(),
            WordSet::Names(names) => names.iter().map(|n| &**n).collect(),
        }
    }
}

impl<'a> Value<'a> {
    pub const ABSENT: Value<'static> = Value::Unknown(None);

    pub fn missing(material: &'a crate::model::Material, property: &'static str) -> Value<'a> {
        Value::Unknown(Some(Missing { material, property }))
    }
}
