//! The section and the elevation of the detail at a place: a request of our own, `headlap/drawing`.

use lsp_types::{Range, TextDocumentPositionParams};
use serde::Serialize;

use crate::about::detail_at;
use crate::model::Piece;
use crate::output::drawing::{self, Mark, SectionLine, Subject};
use crate::server::{Message, State};

pub const METHOD: &str = "headlap/drawing";

/// What a panel beside the text shows.
#[derive(Serialize)]
#[serde(rename_all = "camelCase")]
pub struct Drawing {
    detail: String,
    /// Whole SVG elements.
    section: Option<String>,
    elevation: String,
    /// The names that the drawings show, each with the place of its statement.
    pieces: Vec<PieceRange>,
    /// The places of the statements, by the numbers that the groups of the drawings carry as `data-n`.
    statements: Vec<Range>,
}

#[derive(Serialize)]
struct PieceRange {
    name: String,
    range: Range,
}

pub fn drawing(state: &State, asked: &TextDocumentPositionParams) -> Result<Option<Drawing>, String> {
    let Some(path) = state.path(&asked.text_document.uri) else { return Ok(None) };
    let (Some(checked), Some(source)) = (state.checked(&path), state.source(&path)) else { return Ok(None) };
    let offset = state.encoding.offset(&source, asked.position);
    let Some(facts) = detail_at(checked, offset) else { return Ok(None) };
    if !drawing::drawable(facts) {
        return Err(Message::TooManyEdges { detail: &facts.detail.name }.words());
    }
    let findings = state.reviewed.get(&path).map(|reviewed| &reviewed.run.report.findings[..]).unwrap_or_default();
    // A finding has one number wherever it is shown: its place in the report.
    let open = findings.iter().zip(1..).filter(|(f, _)| f.open() && drawing::belongs(&facts.detail, f));
    let marks: Vec<Mark> = open.map(|(finding, number)| Mark::new(number, finding)).collect();
    let subject = Subject::new(facts, &marks);
    let section = SectionLine::principal(&subject).map(|line| drawing::element(&drawing::section(&subject, &line)));
    let range = |piece: &Piece| state.encoding.range(&source, piece.span);
    let pieces = facts
        .detail
        .pieces
        .iter()
        .filter(|piece| piece.row.is_none_or(|row| !row.next))
        .map(|piece| PieceRange { name: piece.name.to_string(), range: range(piece) });
    Ok(Some(Drawing {
        detail: facts.detail.name.to_string(),
        section,
        elevation: drawing::element(&drawing::elevation(&subject)),
        pieces: pieces.collect(),
        statements: facts.detail.pieces.iter().map(range).collect(),
    }))
}
