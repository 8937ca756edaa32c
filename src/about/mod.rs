//! What is known of the word at a place, in short lines of Markdown: for editors, and for the page in the browser.

mod amount;
mod before;
mod detail;
mod meaning;
mod mention;
mod numbers;
mod role;

pub use before::{Before, before};
pub use meaning::of as meaning;
pub use mention::{Mention, NameKind, meant, mention_at, mentions};
pub use numbers::{counts, whole};
pub use role::meaning as role_meaning;

use crate::facts::DetailFacts;
use crate::finding::page;
use crate::model::Library;
use crate::output::{self, Look};
use crate::report::Checked;
use crate::rules::Pack;
use crate::syntax::{self, ITEMS, statements_of};
use crate::text::{Source, Span};

/// A text with all that is known around it.
pub struct Surroundings<'a> {
    pub source: &'a Source,
    /// What its last review worked out of it.
    pub checked: Option<&'a Checked>,
    /// The same of all files of that review.
    pub all: &'a [Checked],
    /// All names that it may use.
    pub library: &'a Library,
    pub pack: &'a Pack,
}

/// What is known of a place, and the words that it is about, if they are a name.
pub fn about(around: &Surroundings<'_>, offset: usize) -> Option<(String, Option<Span>)> {
    let (document, _) = syntax::read(around.source);
    let mentions = mentions(&document);
    match mention_at(&mentions, offset) {
        Some(found) => {
            let kind = meant(around.source, &mentions, found);
            Some((describe(around, offset, around.source.at(found.span), kind)?, Some(found.span)))
        }
        None => {
            let text = &around.source.text;
            Some((amount::converted(text, offset).or_else(|| word(text, offset))?, None))
        }
    }
}

/// The detail around a place, else the last one before it, else the first.
pub fn detail_at(checked: &Checked, offset: usize) -> Option<&DetailFacts> {
    let details = &checked.facts.details;
    let before = details.iter().filter(|facts| facts.detail.span.range().start <= offset);
    before.max_by_key(|facts| facts.detail.span.start).or(details.first())
}

fn describe(around: &Surroundings<'_>, offset: usize, name: &str, kind: NameKind) -> Option<String> {
    let Surroundings { checked, library, pack, .. } = *around;
    match kind {
        NameKind::Piece => {
            let facts = detail_at(checked?, offset)?;
            let piece = facts.detail.pieces.iter().position(|piece| &*piece.name == name)?;
            Some(numbers::piece(pack, facts, piece))
        }
        NameKind::Material => Some(numbers::material(library.material(name)?)),
        NameKind::Assembly => assembly(around, name),
        NameKind::Layer => {
            let checked = checked?;
            let mut all = checked.facts.assemblies.iter();
            let facts = all.find(|facts| facts.assembly.layers.iter().any(|layer| &*layer.name == name))?;
            Some(facts_text(checked, &facts.assembly.name))
        }
        NameKind::Climate => Some(numbers::climate(library.climate(name)?)),
        NameKind::Detail => {
            let checked = checked?;
            let facts = checked.facts.details.iter().find(|facts| &*facts.detail.name == name)?;
            Some(detail::overview(checked, facts))
        }
        NameKind::Rule => rule(pack, name),
        NameKind::DetailKind => Some(format!("Kind of detail: {}", pack.words.kinds.get(name)?.title)),
        NameKind::Role => Some(role::describe(pack, name)),
        NameKind::Subject | NameKind::Word | NameKind::Include => None,
    }
}

/// The numbers of an assembly, wherever in the tree it is defined.
fn assembly(around: &Surroundings<'_>, name: &str) -> Option<String> {
    let defines = |checked: &&Checked| checked.facts.assemblies.iter().any(|facts| &*facts.assembly.name == name);
    let home = around.checked.filter(defines).or_else(|| around.all.iter().find(defines))?;
    Some(facts_text(home, name))
}

fn facts_text(checked: &Checked, name: &str) -> String {
    let mut out = Vec::new();
    let _ = output::facts::text(std::slice::from_ref(checked), &[name.to_owned()], Look::PLAIN, &mut out);
    let text = String::from_utf8(out).unwrap_or_default();
    numbers::code(text.trim_end().strip_suffix(&*caution()).unwrap_or(&text).trim_end())
}

/// Once in a report is enough.
fn caution() -> String {
    let mut out = Vec::new();
    let _ = output::facts::text(&[], &[], Look::PLAIN, &mut out);
    String::from_utf8(out).unwrap_or_default().trim_end().to_owned()
}

fn rule(pack: &Pack, name: &str) -> Option<String> {
    let mut out = Vec::new();
    match pack.rule(name) {
        Some(rule) => output::rule_page(pack, rule, Look::PLAIN, &mut out).ok()?,
        None => output::text_page(page(name)?, Look::PLAIN, &mut out).ok()?,
    }
    Some(numbers::code(&String::from_utf8(out).ok()?))
}

/// How a statement or a clause is written, and what it means.
fn word(text: &str, offset: usize) -> Option<String> {
    let part = |c: char| c.is_alphanumeric() || c == '-';
    let start =
        text[..offset].rfind(|c| !part(c)).map_or(0, |i| i + text[i..].chars().next().map_or(1, char::len_utf8));
    let end = offset + text[offset..].find(|c| !part(c)).unwrap_or(text.len() - offset);
    let word = text.get(start..end).filter(|word| !word.is_empty())?;
    let before = before(text, start)?;
    let forms = before.item.map_or(ITEMS, statements_of);
    let shape = match before.words.first() {
        None => forms.iter().find(|form| form.word == word)?.shape,
        Some(first) => {
            let form = forms.iter().find(|form| form.word == first)?;
            form.clauses.iter().find(|kind| kind.word() == Some(word))?.shape()
        }
    };
    let said = meaning::of(word).map_or(String::new(), |meaning| format!("  \n{meaning}"));
    Some(format!("`{}`{said}", shape.replace('`', "")))
}
