//! A new name for a thing, in every file that mentions it.

use std::collections::HashMap;

use lsp_types::{PrepareRenameResponse, RenameParams, TextDocumentPositionParams, TextEdit, Uri, WorkspaceEdit};

use crate::about::NameKind;
use crate::server::dispatch::Refusal;
use crate::server::references::Named;
use crate::server::{Message, State};
use crate::syntax;
use crate::text::{FileId, Source};

pub fn prepare(state: &State, at: TextDocumentPositionParams) -> Result<Option<PrepareRenameResponse>, Refusal> {
    let Some((named, source)) = found(state, &at) else { return Ok(None) };
    can_be_renamed(&named)?;
    let range = state.encoding.range(&source, named.span);
    Ok(Some(PrepareRenameResponse::RangeWithPlaceholder { range, placeholder: named.name }))
}

pub fn rename(state: &State, asked: RenameParams) -> Result<Option<WorkspaceEdit>, Refusal> {
    let new = asked.new_name.trim();
    let Some((named, _)) = found(state, &asked.text_document_position) else { return Ok(None) };
    can_be_renamed(&named)?;
    if !is_name(new) {
        return Err(Message::NotAName { new }.words());
    }
    if new != named.name && taken(state, &asked.text_document_position, &named, new) {
        return Err(Message::NameTaken { new }.words());
    }
    #[expect(clippy::mutable_key_type, reason = "the protocol's type; the addresses are not changed")]
    let mut changes: HashMap<Uri, Vec<TextEdit>> = HashMap::new();
    for (path, source, mention) in &named.places {
        let Some(uri) = state.uri(path) else { continue };
        let range = state.encoding.range(source, mention.span);
        changes.entry(uri).or_default().push(TextEdit { range, new_text: new.to_owned() });
    }
    Ok(Some(WorkspaceEdit { changes: Some(changes), ..WorkspaceEdit::default() }))
}

fn found(state: &State, at: &TextDocumentPositionParams) -> Option<(Named, std::sync::Arc<Source>)> {
    let source = state.source(&state.path(&at.text_document.uri)?)?;
    Some((state.named(at)?, source))
}

fn can_be_renamed(named: &Named) -> Result<(), Refusal> {
    let name = &*named.name;
    match named.kind {
        NameKind::Include => Err(Message::NameOfFile { name }.words()),
        kind if !kind.is_global() && !matches!(kind, NameKind::Piece | NameKind::Layer) => {
            Err(Message::WordOfLanguage { name }.words())
        }
        _ if named.places.iter().any(|(.., mention)| mention.defines) => Ok(()),
        _ => Err(Message::DefinedElsewhere { name }.words()),
    }
}

/// What the language itself takes for the name of a piece.
fn is_name(text: &str) -> bool {
    let line = format!("material {text} sheet {{ }}\n");
    let source = Source::new(FileId::detail(0), "name", line);
    let (document, findings) = syntax::parse(&source);
    let first = document.items.first().and_then(|item| item.head.names.first);
    findings.is_empty() && first.is_some_and(|span| source.at(span) == text)
}

/// Another thing of this sort has the name where the renamed one is seen.
fn taken(state: &State, at: &TextDocumentPositionParams, named: &Named, new: &str) -> bool {
    let Some(path) = state.path(&at.text_document.uri) else { return false };
    if named.kind.is_global() {
        let reading = state.reading(&path);
        let library = reading.as_ref().map(|reading| &reading.library);
        return library.is_some_and(|library| match named.kind {
            NameKind::Material => library.material(new).is_some(),
            NameKind::Assembly => library.assembly(new).is_some(),
            NameKind::Climate => library.climate(new).is_some(),
            _ => library.details.iter().any(|detail| &*detail.name == new),
        });
    }
    let Some(text) = state.text(&path) else { return false };
    let item = named.places.first().map(|(.., mention)| mention.item);
    text.mentions.iter().any(|m| Some(m.item) == item && m.kind == named.kind && text.source.at(m.span) == new)
}
