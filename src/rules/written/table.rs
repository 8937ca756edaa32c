//! A look-up table as written: `[[table]]` with the names of its keys and a row for each case.

use serde::{Deserialize, Serialize};
use toml::de::DeTable;

use crate::finding::{Basis, Known};
use crate::rules::written::file::read_basis;
use crate::rules::written::{Literal, Message, Quoted, TomlReader, read_literal};
use crate::text::Span;

#[derive(Clone, Serialize, Deserialize)]
pub struct RawTable<'s> {
    #[serde(borrow)]
    pub name: Quoted<'s>,
    pub replaces: bool,
    pub title: String,
    pub keys: Vec<Quoted<'s>>,
    pub rows: Vec<RawRow>,
    pub basis: Vec<Basis>,
}

#[derive(Clone, Serialize, Deserialize)]
pub struct RawRow {
    pub cells: Vec<(Literal, Span)>,
    pub known: Option<Known>,
    pub span: Span,
}

impl<'s> RawTable<'s> {
    pub fn read(reader: &mut TomlReader<'s>, table: &DeTable<'s>, span: Span) -> Option<RawTable<'s>> {
        reader.only(table, &["name", "title", "keys", "rows", "basis", "replaces"], "a table");
        let name = reader.required(table, "name", "a table", span);
        let keys = reader.texts(table, "keys");
        if keys.is_empty() {
            reader.refuse(span, Message::NoKeysOfTable);
        }
        let title = reader.text(table, "title").map_or(String::new(), |t| t.text.into_owned());
        let basis = reader.tables(table, "basis");
        let basis = basis.into_iter().filter_map(|(t, s)| read_basis(reader, t, s)).collect();
        let replaces = reader.yes_no(table, "replaces").unwrap_or(false);
        let rows = read_rows(reader, table, span);
        Some(RawTable { name: name?, replaces, title, keys, rows, basis })
    }
}

fn read_rows(reader: &mut TomlReader<'_>, table: &DeTable<'_>, span: Span) -> Vec<RawRow> {
    let Some(rows) = table.get("rows").and_then(|v| v.get_ref().as_array()) else {
        reader.refuse(span, Message::NoRows);
        return Vec::new();
    };
    let mut read = Vec::new();
    for row in rows.iter() {
        let span = reader.span(row.span());
        let Some(cells) = row.get_ref().as_array() else {
            reader.refuse(span, Message::RowNotAList);
            continue;
        };
        let mut literals = Vec::new();
        for cell in cells.iter() {
            match read_literal(cell, reader) {
                Ok(literal) => literals.push((literal, reader.span(cell.span()))),
                Err(finding) => reader.problems.push(*finding),
            }
        }
        if literals.len() == cells.len() {
            read.push(RawRow { cells: literals, known: None, span });
        }
    }
    read
}
