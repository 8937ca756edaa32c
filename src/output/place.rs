//! Where a finding stands, as people count it.

use crate::output::visible;
use crate::report::Report;
use crate::text::{Position, Source, Span};

/// File, first and last position of a span; the last is one column past its last character.
pub struct Place<'a> {
    pub file: &'a str,
    pub start: Position,
    pub end: Position,
}

/// A span of a file that the report does not carry has no place.
pub fn place(report: &Report, span: Span) -> Option<Place<'_>> {
    let source = report.source(span)?;
    Some(Place {
        file: &source.name,
        start: source.position(span.start as usize),
        end: source.position(span.end.max(span.start) as usize),
    })
}

/// `walls.detail:12`, for a line of text that says where something stands.
pub fn line_of(source: &Source, span: Span) -> String {
    format!("{}:{}", visible(&source.name), source.position(span.start as usize).line)
}
