//! Places in files, as locations.

use serde_json::{Value, json};

use crate::output::place::place;
use crate::output::sarif::paths::Paths;
use crate::report::Report;
use crate::text::Span;

pub fn spot(report: &Report, paths: &Paths, span: Span, message: Option<&str>) -> Value {
    let mut spot = json!({});
    if let Some(physical) = physical(report, paths, span) {
        spot["physicalLocation"] = physical;
    }
    if let Some(message) = message {
        spot["message"] = json!({ "text": message });
    }
    spot
}

pub fn physical(report: &Report, paths: &Paths, span: Span) -> Option<Value> {
    let place = place(report, span)?;
    Some(json!({
        "artifactLocation": { "uri": paths.uri(place.file), "uriBaseId": "%SRCROOT%" },
        "region": region(&place),
    }))
}

pub fn region(place: &crate::output::place::Place<'_>) -> Value {
    json!({
        "startLine": place.start.line,
        "startColumn": place.start.column,
        "endLine": place.end.line,
        "endColumn": place.end.column,
    })
}
