//! The fields that rules may use, for those who write rules.

use crate::facts::vocabulary::{Kind, fields};
use crate::model::Words;
use crate::rules::expression::describe_field;

/// One field of a kind of fact.
pub struct FieldLine {
    pub name: &'static str,
    /// `a length`, `one of sheet, tape, …`, `a piece`.
    pub of: String,
    pub about: &'static str,
}

/// Every kind with its fields, in the order in which the program keeps them.
pub fn fields_of(kind: Kind, words: &Words) -> Vec<FieldLine> {
    fields(kind)
        .map(|field| FieldLine { name: field.name, of: describe_field(field.of, words), about: field.about })
        .collect()
}
