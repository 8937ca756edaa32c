//! Findings as SARIF 2.1.0, for services that show them beside the drawing set's files.

mod paths;
mod spot;

use std::collections::{BTreeMap, HashMap};
use std::io::{self, Write};

use serde::{Serialize, Serializer};
use serde_json::{Value, json};

use crate::finding::{Finding, Level};
use crate::output::escaped;
use crate::output::place::place;
use crate::output::words;
use crate::report::Report;
use paths::Paths;
use spot::{region, spot};

/// One run with the rules that found something, and every finding as a result.
///
/// # Errors
/// Those of `out`.
pub fn sarif(report: &Report, out: &mut dyn Write) -> io::Result<()> {
    let paths = Paths::of(report);
    let mut rules: BTreeMap<&str, &Finding> = BTreeMap::new();
    for finding in &report.findings {
        rules.entry(&finding.rule).or_insert(finding);
    }
    let index = rules.keys().enumerate().map(|(index, id)| (*id, index)).collect();
    let log = Log {
        schema: "https://json.schemastore.org/sarif-2.1.0.json",
        runs: [Run {
            column_kind: "unicodeCodePoints",
            invocations: [invocation(report)],
            results: Results { report, paths, index },
            tool: json!({ "driver": {
                "name": env!("CARGO_PKG_NAME"),
                "semanticVersion": env!("CARGO_PKG_VERSION"),
                "shortDescription": { "text": env!("CARGO_PKG_DESCRIPTION") },
                "rules": rules.values().map(|finding| rule(report, finding)).collect::<Vec<_>>(),
            } }),
        }],
        version: "2.1.0",
    };
    escaped::pretty(&log, out)?;
    writeln!(out)
}

#[derive(Serialize)]
struct Log<'a> {
    #[serde(rename = "$schema")]
    schema: &'static str,
    runs: [Run<'a>; 1],
    version: &'static str,
}

#[derive(Serialize)]
#[serde(rename_all = "camelCase")]
struct Run<'a> {
    column_kind: &'static str,
    invocations: [Value; 1],
    results: Results<'a>,
    tool: Value,
}

/// The findings, made into results one by one while they are written: there may be a hundred thousand.
struct Results<'a> {
    report: &'a Report,
    paths: Paths,
    index: HashMap<&'a str, usize>,
}

impl Serialize for Results<'_> {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let numbered = self.report.findings.iter().zip(self.report.fingerprints());
        serializer.collect_seq(numbered.map(|(finding, fingerprint)| {
            result(self.report, &self.paths, finding, self.index[&*finding.rule], &fingerprint)
        }))
    }
}

/// The run came to its end; what the settings switch off was not asked.
fn invocation(report: &Report) -> Value {
    let off = report.off.iter().map(|off| {
        let mut off_by = json!({ "because": off.because });
        if let Some(folder) = &off.folder {
            off_by["folder"] = json!(folder);
        }
        json!({
            "descriptor": { "id": &*off.rule },
            "configuration": { "enabled": false },
            "properties": off_by,
        })
    });
    let off: Vec<Value> = off.collect();
    let mut invocation = json!({ "executionSuccessful": true });
    if !off.is_empty() {
        invocation["ruleConfigurationOverrides"] = json!(off);
    }
    if report.left_out > 0 {
        let text = words::left_out(report.left_out);
        invocation["toolExecutionNotifications"] = json!([{ "level": "note", "message": { "text": text } }]);
        invocation["properties"] = json!({ "leftOut": report.left_out });
    }
    invocation
}

/// The log of a run that could not be made, in the place of an older one that would seem to hold still.
///
/// # Errors
/// Those of `out`.
pub fn sarif_of_failure(why: &str, out: &mut dyn Write) -> io::Result<()> {
    let log = json!({
        "$schema": "https://json.schemastore.org/sarif-2.1.0.json",
        "version": "2.1.0",
        "runs": [{
            "tool": { "driver": {
                "name": env!("CARGO_PKG_NAME"),
                "semanticVersion": env!("CARGO_PKG_VERSION"),
            } },
            "invocations": [{
                "executionSuccessful": false,
                "exitCode": 2,
                "toolExecutionNotifications": [{ "level": "error", "message": { "text": why } }],
            }],
            "results": [],
        }],
    });
    escaped::pretty(&log, out)?;
    writeln!(out)
}

/// It is a log that this program wrote.
pub fn is_sarif_of_ours(bytes: &[u8]) -> bool {
    let log: Option<Value> = serde_json::from_slice(bytes).ok();
    log.is_some_and(|log| log["runs"][0]["tool"]["driver"]["name"] == env!("CARGO_PKG_NAME"))
}

/// A rule, told from a finding of its own: all findings of a rule share title and basis.
fn rule(report: &Report, finding: &Finding) -> Value {
    let title = if finding.title.is_empty() { &finding.rule } else { &finding.title };
    let basis: Vec<String> = finding.basis.iter().map(words::basis).collect();
    let text = if basis.is_empty() { title.to_string() } else { format!("{title}. Basis: {}", basis.join("; ")) };
    let list: Vec<String> = basis.iter().map(|line| format!("- {line}")).collect();
    let markdown =
        if basis.is_empty() { format!("**{title}**") } else { format!("**{title}**\n\nBasis:\n\n{}", list.join("\n")) };
    let mut rule = json!({
        "id": &*finding.rule,
        "shortDescription": { "text": title },
        "help": { "text": text, "markdown": markdown },
        "properties": { "basis": finding.basis.iter().map(|basis| json!({
            "source": basis.source, "clause": basis.clause, "says": basis.says, "known": basis.known.word(),
        })).collect::<Vec<_>>() },
    });
    if let Some(page) = report.pages.get(&finding.rule) {
        rule["helpUri"] = json!(page);
    }
    rule
}

fn result(report: &Report, paths: &Paths, finding: &Finding, index: usize, fingerprint: &str) -> Value {
    let text = match &finding.fix {
        Some(fix) => format!("{}. {fix}", finding.message.trim_end_matches('.')),
        None => finding.message.clone(),
    };
    let mut location = spot(report, paths, finding.span, None);
    if let Some(item) = &finding.item {
        location["logicalLocations"] = json!([{ "name": &**item }]);
    }
    let values: serde_json::Map<String, Value> =
        finding.values.iter().map(|(name, value)| (name.to_string(), json!(value))).collect();
    let mut result = json!({
        "ruleId": &*finding.rule,
        "ruleIndex": index,
        "level": level(finding.level),
        "message": { "text": text },
        "locations": [location],
        "partialFingerprints": { "headlapFinding/v1": fingerprint },
        "properties": { "subject": finding.subject.iter().map(|name| &**name).collect::<Vec<_>>(), "values": values },
    });
    if !finding.related.is_empty() {
        let related = finding.related.iter().enumerate().map(|(id, related)| {
            let mut spot = spot(report, paths, related.span, Some(&related.message));
            spot["id"] = json!(id);
            spot
        });
        result["relatedLocations"] = related.collect();
    }
    if !finding.trail.is_empty() {
        // A step that no statement stands for is shown where the finding is.
        let steps = finding.trail.iter().map(
            |step| json!({ "location": spot(report, paths, step.span.unwrap_or(finding.span), Some(&step.message)) }),
        );
        result["codeFlows"] = json!([{ "threadFlows": [{ "locations": steps.collect::<Vec<_>>() }] }]);
    }
    if finding.listed && finding.waived.is_none() {
        let external = json!({ "kind": "external", "status": "accepted", "justification": words::KNOWN });
        result["suppressions"] = json!([external]);
    }
    if let Some(waived) = &finding.waived {
        let justification = words::waived(waived);
        result["suppressions"] = json!([{ "kind": "inSource", "status": "accepted", "justification": justification }]);
    }
    if !finding.edits.is_empty() {
        result["fixes"] = fixes(report, paths, finding);
    }
    result
}

fn level(level: Level) -> &'static str {
    // The words are SARIF's own.
    level.word()
}

fn fixes(report: &Report, paths: &Paths, finding: &Finding) -> Value {
    let mut files: BTreeMap<&str, Vec<Value>> = BTreeMap::new();
    for edit in &finding.edits {
        if let Some(place) = place(report, edit.span) {
            let replacement = json!({ "deletedRegion": region(&place), "insertedContent": { "text": edit.text } });
            files.entry(place.file).or_default().push(replacement);
        }
    }
    let changes: Vec<Value> = files
        .into_iter()
        .map(|(file, replacements)| json!({ "artifactLocation": { "uri": paths.uri(file) }, "replacements": replacements }))
        .collect();
    if changes.is_empty() {
        return json!([]);
    }
    let description = finding.fix.as_deref().unwrap_or("Change the text");
    json!([{ "description": { "text": description }, "artifactChanges": changes }])
}
