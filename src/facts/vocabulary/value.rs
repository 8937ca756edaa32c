//! What a field yields for one item.

use crate::facts::face::DropEnd;
use crate::facts::vocabulary::{Fact, FactList};
use crate::model::{Assembly, Controls, Material, Name};
use crate::quantity::Quantity;
use crate::text::Span;

/// A value at run time. Its type was settled when the rule was loaded.
#[derive(Clone, Copy, Debug)]
pub enum Value<'a> {
    /// Not stated: the rule stays silent. Where a material lacks a property, this names it, so that the author can add it.
    Unknown(Option<Missing<'a>>),
    YesNo(bool),
    /// With the unit that its author wrote.
    Quantity(Quantity),
    Word(&'a str),
    Words(WordSet<'a>),
    Text(&'a str),
    Fact(Fact<'a>),
    FactList(FactList<'a>),
}

/// The property that would be needed.
#[derive(Clone, Copy, Debug)]
pub struct Missing<'a> {
    pub of: Owner<'a>,
    pub property: &'static str,
}

/// What would have to state a missing property.
#[derive(Clone, Copy, Debug)]
pub enum Owner<'a> {
    Material(&'a Material),
    Assembly(&'a Assembly),
}

impl<'a> Owner<'a> {
    pub fn name(self) -> &'a Name {
        match self {
            Owner::Material(material) => &material.name,
            Owner::Assembly(assembly) => &assembly.name,
        }
    }

    pub fn name_span(self) -> Span {
        match self {
            Owner::Material(material) => material.name_span,
            Owner::Assembly(assembly) => assembly.name_span,
        }
    }

    /// `a material`, `an assembly`.
    pub fn word(self) -> &'static str {
        match self {
            Owner::Material(_) => "material",
            Owner::Assembly(_) => "assembly",
        }
    }

    /// Whether all of it could be read, so that a property it does not state is really missing.
    pub fn is_known(self) -> bool {
        match self {
            Owner::Material(material) => material.kind.is_some(),
            Owner::Assembly(assembly) => !assembly.doubtful,
        }
    }
}

/// Several words of one list, in the form in which the facts hold them.
#[derive(Clone, Copy, Debug)]
pub enum WordSet<'a> {
    Controls(Controls),
    Ends(&'a [DropEnd]),
    Names(&'a [Name]),
}

impl WordSet<'_> {
    pub fn has(&self, word: &str) -> bool {
        match self {
            WordSet::Controls(controls) => controls.iter().any(|c| c.word() == word),
            WordSet::Ends(ends) => ends.iter().any(|e| e.end.word() == word),
            WordSet::Names(names) => names.iter().any(|n| &**n == word),
        }
    }

    pub fn words(&self) -> Vec<&str> {
        match self {
            WordSet::Controls(controls) => controls.iter().map(|c| c.word()).collect(),
            WordSet::Ends(ends) => ends.iter().map(|e| e.end.word()).collect(),
            WordSet::Names(names) => names.iter().map(|n| &**n).collect(),
        }
    }
}

impl Value<'_> {
    pub const ABSENT: Value<'static> = Value::Unknown(None);
}

/// What a field yields, or what would be needed to know it.
pub type FieldResult<'a, T> = Result<T, Option<Missing<'a>>>;

/// Not stated, and no property of a material would help.
pub const ABSENT: Option<Missing<'static>> = None;

/// A material does not state a property.
pub fn unstated<'a, T>(material: &'a Material, property: &'static str) -> FieldResult<'a, T> {
    Err(Some(Missing { of: Owner::Material(material), property }))
}

/// A roof does not say how steep it is.
pub fn unstated_slope<T>(assembly: &Assembly) -> FieldResult<'_, T> {
    Err(Some(Missing { of: Owner::Assembly(assembly), property: "slope" }))
}
