//! The assumptions of the facts as written in a rule file: `[assumed]` with a value for each name.

use serde::{Deserialize, Serialize};
use toml::de::DeTable;

use crate::rules::written::{RawConstant, TomlReader, read_literal};
use crate::text::Span;

/// The name under which a project adjusts it.
pub const ASSUMED: &str = "assumed";

#[derive(Clone, Serialize, Deserialize)]
pub struct RawAssumed {
    pub constants: Vec<RawConstant>,
    pub span: Span,
}

impl RawAssumed {
    pub fn read(reader: &mut TomlReader<'_>, table: &DeTable<'_>, span: Span) -> RawAssumed {
        let mut constants = Vec::new();
        for (key, value) in table.iter() {
            let (name, name_span) = ((&**key.get_ref()).into(), reader.span(key.span()));
            match read_literal(value, reader) {
                Ok(literal) => {
                    constants.push(RawConstant { name, name_span, value: literal, span: reader.span(value.span()) });
                }
                Err(finding) => reader.problems.push(*finding),
            }
        }
        RawAssumed { constants, span }
    }
}
