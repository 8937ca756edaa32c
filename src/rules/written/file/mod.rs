//! A rule file as written: its keys are read, but nothing is checked against anything else yet.

mod rule;

use std::sync::Arc;

use serde::{Deserialize, Serialize};
use toml::de::DeTable;

use crate::finding::{Basis, Finding, Known};
use crate::rules::written::{ASSUMED, Message, Quoted, RawAssumed, RawTable, TomlReader};
use crate::text::{Source, Span};
use rule::read_rule;
pub use rule::{Example, RULE_KEYS, RawRule};

#[derive(Clone, Default, Serialize, Deserialize)]
pub struct RawFile<'s> {
    #[serde(borrow)]
    pub rules: Vec<RawRule<'s>>,
    pub tables: Vec<RawTable<'s>>,
    pub kinds: Vec<RawKind<'s>>,
    pub surfaces: Vec<Quoted<'s>>,
    pub substances: Vec<Quoted<'s>>,
    pub adhesives: Vec<Quoted<'s>>,
    pub roles: Vec<Quoted<'s>>,
    pub assumed: Option<RawAssumed>,
}

#[derive(Clone, Serialize, Deserialize)]
pub struct RawKind<'s> {
    #[serde(borrow)]
    pub name: Quoted<'s>,
    pub title: Quoted<'s>,
    pub weather: bool,
}

/// Reads one file. Whatever cannot be read becomes a finding, and the rest is read.
pub fn read(source: &Arc<Source>) -> (RawFile<'_>, Vec<Finding>) {
    read_text(source, &source.text)
}

/// The same without the examples, if they come last: they are half of the text of a rule, and no review needs them.
pub fn read_without_examples(source: &Arc<Source>) -> (RawFile<'_>, Vec<Finding>) {
    let first = source.text.find(EXAMPLE).unwrap_or(source.text.len());
    let examples_last =
        source.text[first..].match_indices("\n[").all(|(at, _)| source.text[first + at..].starts_with(EXAMPLE));
    read_text(source, if examples_last { &source.text[..first] } else { &source.text })
}

const EXAMPLE: &str = "\n[[rule.example]]";

/// Reads the beginning of a file.
fn read_text<'s>(source: &'s Arc<Source>, text: &'s str) -> (RawFile<'s>, Vec<Finding>) {
    let (mut reader, top) = TomlReader::open(source, text);
    let top = top.get_ref();
    let mut file = RawFile::default();
    if !reader.problems.is_empty() {
        // The rest of a broken file would only cause more findings.
        return (file, reader.problems);
    }
    reader.only(top, &["rule", "table", "kind", "words", "assumed"], "a rule file");
    for (table, span) in reader.tables(top, "rule") {
        file.rules.extend(read_rule(&mut reader, table, span));
    }
    for (table, span) in reader.tables(top, "table") {
        file.tables.extend(RawTable::read(&mut reader, table, span));
    }
    for (table, span) in reader.tables(top, "kind") {
        reader.only(table, &["name", "title", "weather"], "a kind");
        let weather = reader.yes_no(table, "weather").unwrap_or(true);
        let name = reader.required(table, "name", "a kind", span);
        let title = reader.required(table, "title", "a kind", span);
        if let (Some(name), Some(title)) = (name, title) {
            file.kinds.push(RawKind { name, title, weather });
        }
    }
    let words = match top.get("words").map(|value| value.get_ref()) {
        Some(value) if value.is_table() => value.as_table().into_iter().collect(),
        Some(_) => reader.tables(top, "words").into_iter().map(|(table, _)| table).collect(),
        None => Vec::new(),
    };
    for table in words {
        reader.only(table, &["surface", "substance", "adhesive", "role"], "a list of words");
        file.surfaces.extend(reader.texts(table, "surface"));
        file.substances.extend(reader.texts(table, "substance"));
        file.adhesives.extend(reader.texts(table, "adhesive"));
        file.roles.extend(reader.texts(table, "role"));
    }
    if let Some(value) = top.get(ASSUMED) {
        let span = reader.span(value.span());
        match value.get_ref().as_table() {
            Some(table) => file.assumed = Some(RawAssumed::read(&mut reader, table, span)),
            None => reader.refuse(span, Message::AssumedNotATable),
        }
    }
    (file, reader.problems)
}

/// `{ source, clause, says, known }`; practice of the trade has no source.
pub fn read_basis(reader: &mut TomlReader<'_>, table: &DeTable<'_>, span: Span) -> Option<Basis> {
    reader.only(table, &["source", "clause", "says", "known"], "a basis");
    let text = |key: &str| table.get(key).and_then(|v| v.get_ref().as_str()).map(String::from);
    let Some(word) = text("known") else {
        reader.refuse(span, Message::NoKnown);
        return None;
    };
    let Some(known) = Known::from_word(&word) else {
        let span = table.get("known").map_or(span, |v| reader.span(v.span()));
        reader.refuse(span, Message::UnknownStatus { word: &word });
        return None;
    };
    let source = text("source");
    if source.is_none() && known != Known::Practice {
        reader.refuse(span, Message::NoSource);
    }
    Some(Basis { source: source.unwrap_or_default(), clause: text("clause"), says: text("says"), known })
}
