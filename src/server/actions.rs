//! What cures a finding: edits that were applied to a copy and reviewed before they are offered.

use std::collections::HashMap;

use lsp_types::{CodeAction, CodeActionKind, CodeActionOrCommand, CodeActionParams, TextEdit, WorkspaceEdit};

use crate::finding::{Edit, Finding};
use crate::server::State;
use crate::server::cures::cures;
use crate::server::diagnostics::diagnostic;
use crate::text::Source;

pub fn actions(state: &State, asked: &CodeActionParams) -> Vec<CodeActionOrCommand> {
    let wanted = |kind: &CodeActionKind| CodeActionKind::QUICKFIX.as_str().starts_with(kind.as_str());
    if asked.context.only.as_ref().is_some_and(|only| !only.iter().any(wanted)) {
        return Vec::new();
    }
    let Some(path) = state.path(&asked.text_document.uri) else { return Vec::new() };
    let (Some(reviewed), Some(source)) = (state.reviewed.get(&path), state.source(&path)) else { return Vec::new() };
    let bytes = state.encoding.bytes(&source, asked.range);
    let touches = |finding: &Finding| {
        let own = finding.span.range();
        own.start <= bytes.end && bytes.start <= own.end
    };
    let mut actions = Vec::new();
    for (finding, text) in reviewed.own().filter(|(finding, _)| finding.open() && touches(finding)) {
        let shown = diagnostic(state, &reviewed.run.report, finding, text);
        for (number, offer) in cures(state, &path, finding).into_iter().enumerate() {
            actions.push(CodeActionOrCommand::CodeAction(CodeAction {
                title: offer.title,
                kind: Some(CodeActionKind::QUICKFIX),
                diagnostics: Some(vec![shown.clone()]),
                edit: edit(state, &asked.text_document.uri, &source, &offer.edits),
                is_preferred: Some(number == 0 && offer.proved),
                ..CodeAction::default()
            }));
        }
    }
    actions
}

#[expect(clippy::mutable_key_type, reason = "the protocol's type; the addresses are not changed")]
fn edit(state: &State, uri: &lsp_types::Uri, source: &Source, edits: &[Edit]) -> Option<WorkspaceEdit> {
    let edits = edits
        .iter()
        .map(|edit| TextEdit { range: state.encoding.range(source, edit.span), new_text: edit.text.clone() });
    let changes = HashMap::from([(uri.clone(), edits.collect())]);
    Some(WorkspaceEdit { changes: Some(changes), ..WorkspaceEdit::default() })
}
