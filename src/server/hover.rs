//! What is known of the word under the pointer.

use lsp_types::{Hover, HoverContents, HoverParams, MarkupContent, MarkupKind, TextDocumentPositionParams};

use crate::finding::page;
use crate::output::{self, Look};
use crate::project::Project;
use crate::report::Checked;
use crate::server::State;
use crate::server::before::before;
use crate::server::drawing::detail_at;
use crate::server::mention::Sort;
use crate::server::numbers;
use crate::syntax::{ITEMS, statements_of};

pub fn hover(state: &State, asked: &HoverParams) -> Option<Hover> {
    let at = &asked.text_document_position_params;
    let (value, range) = match state.named(at) {
        Some(named) => {
            let source = state.source(&state.path(&at.text_document.uri)?)?;
            (told(state, at, &named.name, named.sort)?, Some(state.encoding.range(&source, named.span)))
        }
        None => (word(state, at)?, None),
    };
    Some(Hover { contents: HoverContents::Markup(MarkupContent { kind: MarkupKind::Markdown, value }), range })
}

fn told(state: &State, at: &TextDocumentPositionParams, name: &str, sort: Sort) -> Option<String> {
    let path = state.path(&at.text_document.uri)?;
    let library = state.libraries.of(&path, &state.working)?;
    let checked = state.checked(&path);
    match sort {
        Sort::Piece => {
            let source = state.source(&path)?;
            let facts = detail_at(checked?, state.encoding.offset(&source, at.position))?;
            let piece = facts.detail.pieces.iter().position(|piece| &*piece.name == name)?;
            Some(numbers::piece(library, facts, piece))
        }
        Sort::Material => Some(numbers::material(state.reading(&path)?.library.material(name)?)),
        Sort::Assembly => assembly(state, &path, name),
        Sort::Layer => {
            let checked = checked?;
            let facts =
                checked.facts.assemblies.iter().find(|facts| facts.assembly.layers.iter().any(|l| &*l.name == name))?;
            Some(numbers::code(&facts_text(std::slice::from_ref(checked), &facts.assembly.name)))
        }
        Sort::Climate => Some(numbers::climate(state.reading(&path)?.library.climate(name)?)),
        Sort::Detail => Some(numbers::code(&facts_text(std::slice::from_ref(checked?), name))),
        Sort::Rule => rule(library, name),
        Sort::DetailKind => Some(format!("Kind of detail: {}", library.pack.words.kinds.get(name)?.title)),
        Sort::Role => Some(format!("Role of a piece: `{name}`")),
        Sort::Subject | Sort::Word | Sort::Include => None,
    }
}

/// The numbers of an assembly, wherever in the tree it is defined.
fn assembly(state: &State, path: &std::path::Path, name: &str) -> Option<String> {
    let checked = state.checked(path)?;
    let own = checked.facts.assemblies.iter().any(|facts| &*facts.assembly.name == name);
    if own {
        return Some(numbers::code(&facts_text(std::slice::from_ref(checked), name)));
    }
    let all = &state.reviewed.get(path)?.run.checked;
    let home = all.iter().find(|other| other.facts.assemblies.iter().any(|facts| &*facts.assembly.name == name))?;
    Some(numbers::code(&facts_text(std::slice::from_ref(home), name)))
}

fn facts_text(checked: &[Checked], name: &str) -> String {
    let mut out = Vec::new();
    let _ = output::facts::text(checked, &[name.to_owned()], Look::PLAIN, &mut out);
    let text = String::from_utf8(out).unwrap_or_default();
    text.trim_end().strip_suffix(&*caution()).unwrap_or(&text).trim_end().to_owned()
}

/// Once in a report is enough.
fn caution() -> String {
    let mut out = Vec::new();
    let _ = output::facts::text(&[], &[], Look::PLAIN, &mut out);
    String::from_utf8(out).unwrap_or_default().trim_end().to_owned()
}

fn rule(library: &Project, name: &str) -> Option<String> {
    let mut out = Vec::new();
    match library.pack.rule(name) {
        Some(rule) => output::rule_page(&library.pack, rule, Look::PLAIN, &mut out).ok()?,
        None => output::text_page(page(name)?, Look::PLAIN, &mut out).ok()?,
    }
    Some(numbers::code(&String::from_utf8(out).ok()?))
}

/// How a statement or a clause is written.
fn word(state: &State, at: &TextDocumentPositionParams) -> Option<String> {
    let source = state.source(&state.path(&at.text_document.uri)?)?;
    let offset = state.encoding.offset(&source, at.position);
    let part = |c: char| c.is_alphanumeric() || c == '-';
    let start = source.text[..offset]
        .rfind(|c| !part(c))
        .map_or(0, |i| i + source.text[i..].chars().next().map_or(1, char::len_utf8));
    let end = offset + source.text[offset..].find(|c| !part(c)).unwrap_or(source.text.len() - offset);
    let word = source.text.get(start..end).filter(|word| !word.is_empty())?;
    let before = before(&source.text, start)?;
    let forms = before.item.map_or(ITEMS, statements_of);
    let shape = match before.words.first() {
        None => forms.iter().find(|form| form.word == word)?.shape,
        Some(first) => {
            let form = forms.iter().find(|form| form.word == first)?;
            form.clauses.iter().find(|slot| slot.word() == Some(word))?.shape()
        }
    };
    Some(format!("`{}`", shape.replace('`', "")))
}
