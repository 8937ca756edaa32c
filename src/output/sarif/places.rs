//! Places as SARIF writes them: addresses of files, regions of lines and columns.

use serde_json::{Value, json};

use crate::output::place::place;
use crate::report::Report;
use crate::text::Span;

pub(super) fn spot(report: &Report, paths: &Paths, span: Span, message: Option<&str>) -> Value {
    let mut spot = json!({});
    if let Some(physical) = physical(report, paths, span) {
        spot["physicalLocation"] = physical;
    }
    if let Some(message) = message {
        spot["message"] = json!({ "text": message });
    }
    spot
}

fn physical(report: &Report, paths: &Paths, span: Span) -> Option<Value> {
    let place = place(report, span)?;
    Some(json!({
        "artifactLocation": { "uri": paths.uri(place.file), "uriBaseId": "%SRCROOT%" },
        "region": region(&place),
    }))
}

pub(super) fn region(place: &crate::output::place::Place<'_>) -> Value {
    json!({
        "startLine": place.start.line,
        "startColumn": place.start.column,
        "endLine": place.end.line,
        "endColumn": place.end.column,
    })
}

/// Turns shown names into relative references: a log that names folders of one machine is of no use on another.
pub(super) struct Paths {
    /// What absolute names have in common, up to and with a `/`.
    pub(super) common: String,
}

impl Paths {
    pub(super) fn of(report: &Report) -> Paths {
        let mut absolute = report.sources.values().map(|s| s.name.as_str()).filter(|name| is_absolute(name));
        let folder = |name: &str| name[..name.rfind('/').map_or(0, |slash| slash + 1)].to_owned();
        let mut common = absolute.next().map(folder).unwrap_or_default();
        for name in absolute {
            while !name.starts_with(&common) {
                common = folder(common.trim_end_matches('/'));
            }
        }
        Paths { common }
    }

    pub(super) fn uri(&self, name: &str) -> String {
        let relative = if is_absolute(name) { name.strip_prefix(&self.common).unwrap_or(name) } else { name };
        let mut uri = String::with_capacity(relative.len());
        for byte in relative.trim_start_matches('/').bytes() {
            match byte {
                b'a'..=b'z' | b'A'..=b'Z' | b'0'..=b'9' | b'-' | b'.' | b'_' | b'~' | b'/' => uri.push(byte as char),
                byte => uri.push_str(&format!("%{byte:02X}")),
            }
        }
        uri
    }
}

fn is_absolute(name: &str) -> bool {
    name.starts_with('/') || name.as_bytes().get(1) == Some(&b':')
}
