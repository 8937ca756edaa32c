//! A rule file as it is written: every key in its place, nothing checked against anything else yet.

use std::sync::Arc;

use serde::{Deserialize, Serialize};
use toml::de::DeTable;

use crate::finding::{Basis, Finding, Known};
use crate::rules::written::{
    ASSUMED, Exception, Expr, Message, Quoted, RawAssumed, RawConstant, RawTable, SentencePart, TomlReader, Written,
    read_literal,
};
use crate::text::{Source, Span};

/// The keys of a rule that are not constants.
pub const RULE_KEYS: [&str; 14] = [
    "id", "title", "level", "about", "when", "except", "needs", "says", "fix", "at", "per", "basis", "example",
    "replaces",
];

const REQUIRED: [&str; 6] = ["id", "title", "level", "about", "needs", "says"];

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
pub struct RawRule<'s> {
    #[serde(borrow)]
    pub id: Quoted<'s>,
    pub title: Quoted<'s>,
    pub level: Quoted<'s>,
    pub about: Quoted<'s>,
    pub when: Option<Written<'s, Expr<'s>>>,
    /// What it lets pass of that. Part of `when` in the prepared form.
    #[serde(skip)]
    pub except: Vec<Exception<'s>>,
    pub needs: Written<'s, Expr<'s>>,
    pub says: Written<'s, Vec<SentencePart<'s>>>,
    pub fix: Option<Written<'s, Vec<SentencePart<'s>>>>,
    pub at: Option<Quoted<'s>>,
    pub per: Option<Written<'s, Expr<'s>>>,
    pub replaces: bool,
    pub constants: Vec<RawConstant>,
    /// Constants whose values cannot be read.
    pub unreadable: Vec<String>,
    pub basis: Vec<Basis>,
    /// Not in the prepared form: they are read when somebody asks for them.
    #[serde(skip)]
    pub examples: Vec<Example>,
}

#[derive(Clone, Serialize, Deserialize)]
pub struct RawKind<'s> {
    #[serde(borrow)]
    pub name: Quoted<'s>,
    pub title: Quoted<'s>,
    pub weather: bool,
}

/// A text of details that a rule has to find fault with, or to let pass.
#[derive(Clone, Debug)]
pub struct Example {
    pub fails: bool,
    pub text: Quoted<'static>,
    /// The same details after doing what the rule's `fix` says.
    pub cured: Option<Quoted<'static>>,
}

/// Reads one file. What cannot be read is a finding, and the rest is read all the same.
pub fn read(source: &Arc<Source>) -> (RawFile<'_>, Vec<Finding>) {
    read_text(source, &source.text)
}

/// The same without the examples, where these stand last: half of the text of a rule, and no review needs them.
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
        // What is left of a broken file would only give rise to further complaints.
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

fn read_rule<'s>(reader: &mut TomlReader<'s>, table: &DeTable<'s>, span: Span) -> Option<RawRule<'s>> {
    // Problems point to the rule's id when it has one: `[[rule]]` alone says little.
    let at = table.get("id").map_or(span, |id| reader.span(id.span()));
    let missing: Vec<&str> = REQUIRED.into_iter().filter(|key| !table.contains_key(*key)).collect();
    let Constants { read: constants, unreadable, misspelt } = read_constants(reader, table, &missing);
    for key in missing.iter().filter(|key| !misspelt.contains(key)) {
        reader.refuse(at, Message::MissingKey { what: "a rule", key });
    }
    let replaces = reader.yes_no(table, "replaces").unwrap_or(false);
    let basis = reader.tables(table, "basis").into_iter().filter_map(|(t, span)| read_basis(reader, t, span));
    let basis = basis.collect();
    let except = reader.tables(table, "except");
    let except = except.into_iter().filter_map(|(t, span)| Exception::read(reader, t, span)).collect();
    let examples = reader.tables(table, "example").into_iter().filter_map(|(t, span)| read_example(reader, t, span));
    let examples = examples.collect();
    let [id, title, level, about, needs, says] = REQUIRED.map(|key| reader.text(table, key));
    let [when, fix, place, per] = ["when", "fix", "at", "per"].map(|key| reader.text(table, key));
    Some(RawRule {
        id: id?,
        title: title?,
        level: level?,
        about: about?,
        when: when.map(Written::Written),
        except,
        needs: Written::Written(needs?),
        says: Written::Written(says?),
        fix: fix.map(Written::Written),
        at: place,
        per: per.map(Written::Written),
        replaces,
        constants,
        unreadable,
        basis,
        examples,
    })
}

struct Constants<'k> {
    read: Vec<RawConstant>,
    unreadable: Vec<String>,
    /// Keys that are not missing after all.
    misspelt: Vec<&'k str>,
}

/// Any further key is a constant, unless it looks like a slip of a key that is missing.
fn read_constants<'s, 'k>(reader: &mut TomlReader<'s>, table: &DeTable<'s>, missing: &[&'k str]) -> Constants<'k> {
    let (mut constants, mut unreadable, mut misspelt) = (Vec::new(), Vec::new(), Vec::new());
    for (key, value) in table.iter().filter(|(key, _)| !RULE_KEYS.contains(&&**key.get_ref())) {
        let name: &str = key.get_ref();
        let name_span = reader.span(key.span());
        if let Some(near) = crate::text::nearest(name, missing.iter().copied()) {
            reader.refuse(name_span, Message::no_key_of_rules(name));
            misspelt.extend(missing.iter().find(|key| **key == near));
            continue;
        }
        if !is_name(name) {
            reader.refuse(name_span, Message::NotAName { name });
            continue;
        }
        match read_literal(value, reader) {
            Ok(literal) => constants.push(RawConstant {
                name: name.into(),
                name_span,
                value: literal,
                span: reader.span(value.span()),
            }),
            Err(_) if crate::text::nearest(name, RULE_KEYS).is_some() => {
                reader.refuse(name_span, Message::no_key_of_rules(name));
            }
            Err(finding) => {
                unreadable.push(name.to_string());
                reader.problems.push(*finding);
            }
        }
    }
    Constants { read: constants, unreadable, misspelt }
}

fn is_name(name: &str) -> bool {
    name.starts_with(char::is_alphabetic) && name.chars().all(|c| c.is_alphanumeric() || matches!(c, '-' | '_'))
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

fn read_example(reader: &mut TomlReader<'_>, table: &DeTable<'_>, span: Span) -> Option<Example> {
    reader.only(table, &["fails", "passes", "cured"], "an example");
    let (fails, key) = match (table.contains_key("fails"), table.contains_key("passes")) {
        (true, false) => (true, "fails"),
        (false, true) => (false, "passes"),
        _ => {
            reader.refuse(span, Message::NoExampleText);
            return None;
        }
    };
    let text = example_text(reader, table, key)?;
    let cured = example_text(reader, table, "cured");
    if let Some(cured) = cured.as_ref().filter(|_| !fails) {
        reader.refuse(cured.whole, Message::CuredWithoutFault);
    }
    Some(Example { fails, text, cured })
}

fn example_text(reader: &mut TomlReader<'_>, table: &DeTable<'_>, key: &str) -> Option<Quoted<'static>> {
    let value = table.get(key)?;
    let Some(text) = value.get_ref().as_str() else {
        reader.refuse(reader.span(value.span()), Message::ExampleNotText);
        return None;
    };
    Some(Quoted::new(reader.source.id, &reader.source.text, text.to_string().into(), value.span()))
}
