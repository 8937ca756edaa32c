//! A named constant of a rule, with the lists that its uses check it against.

use crate::model::Name;
use crate::rules::expression::{ExprType, WordsOf};
use crate::rules::written::{Literal, RawConstant};
use crate::text::Span;

#[derive(Clone, Debug)]
pub struct Constant {
    pub name: Name,
    pub name_span: Span,
    pub value: Literal,
    pub span: Span,
    /// The lists that its words were checked against. An adjusted value is checked against the same ones.
    pub lists: Vec<WordsOf>,
    pub used: bool,
}

impl From<RawConstant> for Constant {
    fn from(raw: RawConstant) -> Constant {
        let RawConstant { name, name_span, value, span } = raw;
        Constant { name, name_span, value, span, lists: Vec::new(), used: false }
    }
}

impl Constant {
    pub fn of(&self) -> ExprType {
        ExprType::of(&self.value)
    }
}
