//! Values in rule files: named constants, cells of tables, adjustments.

use std::sync::Arc;

use serde::{Deserialize, Serialize};
use toml::Spanned;
use toml::de::DeValue;

use crate::quantity::{Dimension, NumberError, Quantity, parse_quantity, unit_named};
use crate::rules::written::message::Refusal;
use crate::rules::written::{Message, TomlReader};
use crate::text::Span;

/// A named constant of a rule.
#[derive(Clone, Debug, Serialize, Deserialize)]
pub struct RawConstant {
    pub name: Arc<str>,
    pub name_span: Span,
    pub value: Literal,
    pub span: Span,
}

/// A value in a rule file.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub enum Literal {
    YesNo(bool),
    Quantity(Quantity),
    Word(Arc<str>),
    Words(Box<[Arc<str>]>),
    Quantities(Box<[Quantity]>),
}

impl Literal {
    /// As the rule file writes it.
    pub fn show(&self) -> String {
        match self {
            Literal::YesNo(yes) => if *yes { "yes" } else { "no" }.to_string(),
            Literal::Quantity(quantity) => quantity.to_string(),
            Literal::Word(word) => word.to_string(),
            Literal::Words(words) => words.join(", "),
            Literal::Quantities(list) => list.iter().map(|q| q.to_string()).collect::<Vec<_>>().join(", "),
        }
    }
}

/// Reads a quantity or a word in quotes, a plain number, true or false, or a list of quantities or words.
pub fn read_literal(value: &Spanned<DeValue<'_>>, reader: &TomlReader<'_>) -> Result<Literal, Refusal> {
    let span = reader.span(value.span());
    match value.get_ref() {
        DeValue::String(text) => read_text(text, span),
        DeValue::Integer(number) if number.radix() == 10 => read_number(number.as_str(), span),
        DeValue::Float(number) => read_number(number.as_str(), span),
        DeValue::Boolean(yes) => Ok(Literal::YesNo(*yes)),
        DeValue::Array(list) => {
            let elements = list.iter().map(|element| read_literal(element, reader)).collect::<Result<Vec<_>, _>>()?;
            list_of(&elements).map_or_else(|| Message::UnlikeElements.refuse(span), Ok)
        }
        other => Message::NotAConstant { found: other.type_str() }.refuse(span),
    }
}

fn read_text(text: &str, span: Span) -> Result<Literal, Refusal> {
    let is_word = !text.is_empty() && text.chars().all(|c| c.is_alphanumeric() || matches!(c, '-' | '_' | '.'));
    match parse_quantity(text) {
        Ok(quantity) => Ok(Literal::Quantity(quantity)),
        Err(NumberError::NotANumber) if is_word && glued(text).is_some() => {
            let (number, unit) = glued(text).unwrap_or_default();
            Message::Glued { number, unit }.refuse(span)
        }
        Err(NumberError::NotANumber) if is_word => Ok(Literal::Word(text.into())),
        Err(NumberError::NotANumber) => Message::NotAValue { text }.refuse(span),
        Err(error) => Message::NotAQuantity { text, error }.refuse(span),
    }
}

/// `150mm`. Climate zones such as `4C` are words, though.
fn glued(text: &str) -> Option<(&str, &str)> {
    let (number, unit) = text.split_at(text.find(|c: char| !c.is_ascii_digit() && c != '.')?);
    (!number.is_empty() && !matches!(unit, "C" | "F") && unit_named(unit).is_some()).then_some((number, unit))
}

fn read_number(text: &str, span: Span) -> Result<Literal, Refusal> {
    match text.replace('_', "").parse::<f64>() {
        Ok(number) if number.is_finite() && number.abs() <= 1e12 => {
            Ok(Literal::Quantity(Quantity::in_base_unit(number, Dimension::Number)))
        }
        _ => Message::NotAQuantity { text, error: NumberError::OutOfRange }.refuse(span),
    }
}

fn list_of(elements: &[Literal]) -> Option<Literal> {
    let words = elements.iter().map(|e| if let Literal::Word(word) = e { Some(word.clone()) } else { None });
    if let Some(words) = words.collect::<Option<Vec<_>>>()
        && !words.is_empty()
    {
        return Some(Literal::Words(words.into()));
    }
    let quantities = elements.iter().map(|e| if let Literal::Quantity(q) = e { Some(*q) } else { None });
    let quantities = quantities.collect::<Option<Vec<Quantity>>>()?;
    let one = quantities.first()?.dimension();
    quantities.iter().all(|q| q.dimension() == one).then(|| Literal::Quantities(quantities.into()))
}
