//! One rule of a file: its keys, its constants, its examples.

use serde::{Deserialize, Serialize};
use toml::de::DeTable;

use super::read_basis;
use crate::finding::Basis;
use crate::rules::written::{
    Exception, Expr, Message, Quoted, RawConstant, SentencePart, TomlReader, Written, read_literal,
};
use crate::text::Span;

/// The keys of a rule that are not constants.
pub const RULE_KEYS: [&str; 14] = [
    "id", "title", "level", "about", "when", "except", "needs", "says", "fix", "at", "per", "basis", "example",
    "replaces",
];

const REQUIRED: [&str; 6] = ["id", "title", "level", "about", "needs", "says"];

#[derive(Clone, Serialize, Deserialize)]
pub struct RawRule<'s> {
    #[serde(borrow)]
    pub id: Quoted<'s>,
    pub title: Quoted<'s>,
    pub level: Quoted<'s>,
    pub about: Quoted<'s>,
    pub when: Option<Written<'s, Expr<'s>>>,
    /// Its exceptions, which are part of `when` in the prepared form.
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
    /// Left out of the prepared form, and read on demand.
    #[serde(skip)]
    pub examples: Vec<Example>,
}

/// A text with details that has to fail the rule, or to pass it.
#[derive(Clone, Debug)]
pub struct Example {
    pub fails: bool,
    pub text: Quoted<'static>,
    /// The same details after doing what the rule's `fix` says.
    pub cured: Option<Quoted<'static>>,
}

pub(super) fn read_rule<'s>(reader: &mut TomlReader<'s>, table: &DeTable<'s>, span: Span) -> Option<RawRule<'s>> {
    // Problems point to the id of the rule if it has one, which says more than `[[rule]]`.
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
    /// Missing keys for which a misspelled one was found, so that they are not reported as missing.
    misspelt: Vec<&'k str>,
}

/// Any other key is a constant, unless it looks like a misspelling of a key that is missing.
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
