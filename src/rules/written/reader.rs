//! Reads TOML tables key by key, with a finding for whatever is not allowed in a table.

use std::sync::Arc;

use toml::Spanned;
use toml::de::{DeTable, DeValue};

use crate::finding::Finding;
use crate::rules::written::{Message, Quoted};
use crate::text::{Source, Span};

/// The top table of a TOML text, and the syntax errors in it, each at its place.
pub fn read_table<'s>(source: &Source, text: &'s str) -> (Spanned<DeTable<'s>>, Vec<(Span, String)>) {
    let (table, errors) = DeTable::parse_recoverable(text);
    let at = |error: &toml::de::Error| source.span(error.span().unwrap_or(0..0));
    let errors = errors.iter().take(20).map(|error| (at(error), error.message().trim().to_owned()));
    (table, errors.collect())
}

/// One file being read. Problems are collected in `problems`, and reading goes on.
pub struct TomlReader<'s> {
    pub source: &'s Arc<Source>,
    pub problems: Vec<Finding>,
}

impl<'s> TomlReader<'s> {
    /// The top table of a text, which is the file or its beginning; syntax errors are noted.
    pub fn open(source: &'s Arc<Source>, text: &'s str) -> (TomlReader<'s>, Spanned<DeTable<'s>>) {
        let mut reader = TomlReader { source, problems: Vec::new() };
        let (table, errors) = read_table(source, text);
        errors.iter().for_each(|(span, why)| reader.refuse(*span, Message::NotToml { why }));
        (reader, table)
    }

    pub fn span(&self, range: std::ops::Range<usize>) -> Span {
        self.source.span(range)
    }

    pub fn refuse(&mut self, span: Span, message: Message<'_>) {
        self.problems.push(message.at(span));
    }

    /// Adds a problem of another sort than wrong keys and types.
    pub fn problem(&mut self, finding: Finding) {
        self.problems.push(finding);
    }

    /// Refuses every key that is not in the list.
    pub fn only(&mut self, table: &DeTable<'_>, allowed: &[&str], what: &str) {
        for key in table.keys().filter(|key| !allowed.contains(&&**key.get_ref())) {
            self.refuse(self.span(key.span()), Message::UnknownKey { what, name: key.get_ref(), known: allowed });
        }
    }

    pub fn text(&mut self, table: &DeTable<'s>, key: &str) -> Option<Quoted<'s>> {
        let value = table.get(key)?;
        self.quoted(value, key)
    }

    pub fn quoted(&mut self, value: &Spanned<DeValue<'s>>, key: &str) -> Option<Quoted<'s>> {
        match value.get_ref() {
            DeValue::String(text) => Some(Quoted::new(self.source.id, &self.source.text, text.clone(), value.span())),
            other => {
                self.refuse(self.span(value.span()), Message::NotText { key, found: other.type_str() });
                None
            }
        }
    }

    pub fn yes_no(&mut self, table: &DeTable<'s>, key: &str) -> Option<bool> {
        let value = table.get(key)?;
        let yes = value.get_ref().as_bool();
        if yes.is_none() {
            self.refuse(self.span(value.span()), Message::NotYesNo { key });
        }
        yes
    }

    /// Words in quotes, in brackets.
    pub fn texts(&mut self, table: &DeTable<'s>, key: &str) -> Vec<Quoted<'s>> {
        let Some(value) = table.get(key) else { return Vec::new() };
        match value.get_ref().as_array() {
            Some(list) => list.iter().filter_map(|element| self.quoted(element, key)).collect(),
            None => {
                self.refuse(self.span(value.span()), Message::NotAList { key });
                Vec::new()
            }
        }
    }

    /// The tables of `[[key]]`, or of an array of inline tables.
    pub fn tables<'t>(&mut self, table: &'t DeTable<'s>, key: &str) -> Vec<(&'t DeTable<'s>, Span)> {
        let Some(value) = table.get(key) else { return Vec::new() };
        let span = self.span(value.span());
        let Some(list) = value.get_ref().as_array() else {
            self.refuse(span, Message::NotTables { key });
            return Vec::new();
        };
        let mut tables = Vec::new();
        for element in list.iter() {
            let span = self.span(element.span());
            match element.get_ref().as_table() {
                Some(table) => tables.push((table, span)),
                None => self.refuse(span, Message::NotATable { key }),
            }
        }
        tables
    }

    /// Text that is required.
    pub fn required(&mut self, table: &DeTable<'s>, key: &str, what: &str, span: Span) -> Option<Quoted<'s>> {
        if !table.contains_key(key) {
            self.refuse(span, Message::MissingKey { what, key });
        }
        self.text(table, key)
    }
}
