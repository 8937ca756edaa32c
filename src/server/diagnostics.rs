//! Findings as the protocol shows them, under the words at fault.

use std::collections::{BTreeMap, BTreeSet};
use std::path::PathBuf;
use std::sync::Arc;

use lsp_types::{
    CodeDescription, Diagnostic, DiagnosticRelatedInformation, DiagnosticSeverity, NumberOrString, Position,
    PublishDiagnosticsParams, Range,
};
use serde_json::json;

use crate::finding::{Finding, Level};
use crate::project;
use crate::report::Report;
use crate::server::address::address;
use crate::server::{Message, State, settings};
use crate::text::Source;

/// What has to be sent so that the client shows the findings of all open files, of what these include, and of the settings
/// and rules of their libraries; files that nothing is found in any more are cleared.
pub fn all(state: &mut State) -> Vec<PublishDiagnosticsParams> {
    let mut by_file: BTreeMap<PathBuf, Vec<Diagnostic>> = BTreeMap::new();
    let mut add = |path: PathBuf, diagnostic: Diagnostic| {
        let known = by_file.entry(path).or_default();
        if !known.contains(&diagnostic) {
            known.push(diagnostic);
        }
    };
    for (path, reviewed) in &state.reviewed {
        let report = &reviewed.run.report;
        for (finding, source) in reviewed.own().filter(|(finding, _)| finding.open()) {
            add(path.clone(), diagnostic(state, report, finding, source));
        }
        let included: BTreeSet<&str> =
            reviewed.checked().iter().flat_map(|c| &c.included).map(|text| &*text.name).collect();
        let open = |name: &str| state.reviewed.values().any(|other| other.name == name);
        let others = reviewed
            .all()
            .filter(|(finding, source)| finding.open() && included.contains(&*source.name) && !open(&source.name));
        for (finding, source) in others {
            let place = project::plain(source.name.as_ref(), &state.working);
            add(place, diagnostic(state, report, finding, source));
        }
        for (finding, source) in reviewed.trouble.iter().flat_map(placed) {
            let place = project::plain(source.name.as_ref(), &state.working);
            add(place, diagnostic(state, report, finding, &source));
        }
    }
    for (path, report) in settings::problems(state) {
        for (finding, source) in placed(&report) {
            let place = if source.name.is_empty() {
                path.clone()
            } else {
                project::plain(source.name.as_ref(), &state.working)
            };
            add(place, diagnostic(state, &report, finding, &source));
        }
    }
    for path in state.open.keys().filter(|path| project::is_named_detail(path) && !state.reviewed.contains_key(*path)) {
        add(path.clone(), unchecked());
    }
    publish(state, by_file)
}

fn placed(report: &Report) -> impl Iterator<Item = (&Finding, Arc<Source>)> {
    report.findings.iter().filter_map(|finding| Some((finding, report.sources.get(&finding.span.file)?.clone())))
}

fn publish(state: &mut State, by_file: BTreeMap<PathBuf, Vec<Diagnostic>>) -> Vec<PublishDiagnosticsParams> {
    let open = state.open.iter().map(|(path, open)| (path.clone(), open.uri.clone()));
    let published: BTreeMap<PathBuf, lsp_types::Uri> =
        by_file.keys().filter_map(|path| Some((path.clone(), address(path)?))).chain(open).collect();
    let gone = std::mem::take(&mut state.published).into_iter().filter(|(path, _)| !published.contains_key(path));
    let cleared: Vec<PublishDiagnosticsParams> =
        gone.map(|(_, uri)| PublishDiagnosticsParams { uri, diagnostics: Vec::new(), version: None }).collect();
    let sent = published.iter().map(|(path, uri)| PublishDiagnosticsParams {
        uri: uri.clone(),
        diagnostics: by_file.get(path).cloned().unwrap_or_default(),
        version: state.open.get(path).map(|open| open.version),
    });
    let sent = cleared.into_iter().chain(sent).collect();
    state.published = published;
    sent
}

pub fn diagnostic(state: &State, report: &Report, finding: &Finding, source: &Source) -> Diagnostic {
    let page = report.pages.get(&finding.rule).and_then(|page| page.parse().ok());
    let related = finding.related.iter().map(|related| (related.span, related.message.clone()));
    let trail = finding.trail.iter().filter_map(|step| Some((step.span?, step.message.clone())));
    let related: Vec<DiagnosticRelatedInformation> = related
        .chain(trail)
        .filter_map(|(span, message)| {
            Some(DiagnosticRelatedInformation {
                location: state.location(report.source(span)?, span)?,
                message: message.to_string(),
            })
        })
        .collect();
    Diagnostic {
        range: state.encoding.range(source, finding.span),
        severity: Some(severity(finding.level)),
        code: Some(NumberOrString::String(finding.rule.to_string())),
        code_description: page.map(|href| CodeDescription { href }),
        source: Some("headlap".to_owned()),
        message: message(finding),
        related_information: (!related.is_empty()).then_some(related),
        tags: None,
        data: finding.item.as_ref().map(|item| json!({ "item": &**item })),
    }
}

/// What is wrong, then what to do.
fn message(finding: &Finding) -> String {
    let what = crate::output::words::opened(finding);
    let stop = if what.ends_with(['.', '!', '?']) { "" } else { "." };
    let fix = finding.fix.as_ref().map_or(String::new(), |fix| format!("\n{fix}"));
    format!("{what}{stop}{fix}")
}

fn severity(level: Level) -> DiagnosticSeverity {
    match level {
        Level::Error => DiagnosticSeverity::ERROR,
        Level::Warning => DiagnosticSeverity::WARNING,
        Level::Note => DiagnosticSeverity::INFORMATION,
    }
}

/// Silence would pass for a clean file.
fn unchecked() -> Diagnostic {
    let start = Position::default();
    Diagnostic {
        range: Range { start, end: start },
        severity: Some(DiagnosticSeverity::ERROR),
        code: Some(NumberOrString::String("project-setting".to_owned())),
        source: Some("headlap".to_owned()),
        message: Message::Unchecked.words(),
        ..Diagnostic::default()
    }
}
