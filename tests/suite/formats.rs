//! SARIF and JUnit against their published schemas, and as many findings in every form as in the report.

use std::process::Command;

use headlap::finding::{Edit, Level};
use headlap::output;
use headlap::report::{Off, Report};

use crate::outputs::report;

fn written(write: impl Fn(&Report, &mut dyn std::io::Write) -> std::io::Result<()>, report: &Report) -> String {
    let mut out = Vec::new();
    write(report, &mut out).expect("a vector takes all");
    String::from_utf8(out).expect("UTF-8")
}

fn lines(report: &Report, out: &mut dyn std::io::Write) -> std::io::Result<()> {
    output::lines(report, &|_| true, out)
}

fn sarif(report: &Report) -> serde_json::Value {
    serde_json::from_str(&written(output::sarif, report)).expect("JSON")
}

fn junit(report: &Report, fail_on: Option<Level>) -> String {
    written(|report, out| output::junit(report, fail_on, out), report)
}

/// A report with edits, hostile names and nothing else but what `report` has.
fn hostile() -> Report {
    let mut report = report();
    let edit = Edit { span: report.findings[0].span, text: "\u{1b}<&\"'".to_owned() };
    report.findings[0].edits = vec![edit];
    report.findings[0].message = "]]> & <script>\"'\u{1b}[31m\u{fffe}".to_owned();
    report.findings[0].item = Some("<b>".into());
    report
}

/// A report with a finding that was known before.
fn adopted() -> Report {
    let mut report = report();
    report.findings[1].listed = true;
    report
}

#[test]
fn sarif_validates_against_its_schema() {
    let schema = include_str!("../schemas/sarif-2.1.0-rtm.5.json");
    // One pattern of the published schema has a bracket that strict readers of patterns refuse; it means the sign itself.
    let schema = schema.replace("[a-zA-Z]{2}]?$", "[a-zA-Z]{2}\\\\]?$");
    let schema: serde_json::Value = serde_json::from_str(&schema).expect("the schema is JSON");
    let validator = jsonschema::validator_for(&schema).expect("the schema is a schema");
    assert!(!validator.is_valid(&serde_json::json!({ "version": "2.1.0", "runs": [{}] })), "it refuses what is none");
    let off = ["", "walls"].map(|folder| Off {
        rule: "uv-overrun".into(),
        folder: Some(folder.to_owned()).filter(|folder| !folder.is_empty()),
        because: "\u{1b}x".to_owned(),
    });
    let mut narrowed = report();
    narrowed.off = off.to_vec();
    let mut failed = Vec::new();
    output::sarif_of_failure("no \u{1b} settings", &mut failed).expect("a vector takes all");
    let failed = serde_json::from_slice(&failed).expect("JSON");
    let logs = [report(), hostile(), adopted(), narrowed, Report::default()].map(|report| sarif(&report));
    for log in logs.into_iter().chain([failed]) {
        let errors: Vec<String> =
            validator.iter_errors(&log).map(|e| format!("{e} at {}", e.instance_path())).collect();
        assert!(errors.is_empty(), "{}", errors.join("\n"));
    }
}

#[test]
fn sarif_carries_all_of_a_finding() {
    insta::assert_snapshot!(written(output::sarif, &report()));
}

#[test]
fn a_sarif_log_names_no_folder_of_one_machine() {
    let mut report = report();
    let sources = std::mem::take(&mut report.sources);
    for (id, source) in sources {
        let name = format!("/home/someone/{}", source.name);
        report.sources.insert(id, std::sync::Arc::new(headlap::text::Source::new(id, name, source.text.as_str())));
    }
    let log = written(output::sarif, &report);
    assert!(!log.contains("someone"));
    assert!(log.contains("\"uri\": \"walls.detail\""));
}

#[test]
fn junit_validates_against_its_schema() {
    let folder = std::path::Path::new(env!("CARGO_TARGET_TMPDIR"));
    if Command::new("xmllint").arg("--version").output().is_err() {
        // The continuous check installs xmllint and demands it.
        assert!(std::env::var_os("HEADLAP_ALL_CHECKS").is_none(), "xmllint is not installed");
        eprintln!("skipped: xmllint is not installed");
        return;
    }
    let mut failed = Vec::new();
    output::junit_of_failure("no <settings>", &mut failed).expect("a vector takes all");
    let reports =
        [report(), hostile(), adopted(), Report::default()].map(|report| junit(&report, Some(Level::Warning)));
    let failed = String::from_utf8(failed).expect("UTF-8");
    for (number, result) in reports.iter().chain([&failed]).enumerate() {
        let file = folder.join(format!("junit-{number}.xml"));
        std::fs::write(&file, result).expect("the target folder can be written");
        let schema = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/schemas/junit-10.xsd");
        let result = Command::new("xmllint").args(["--noout", "--nonet", "--schema", schema]).arg(&file).output();
        let result = result.expect("xmllint runs");
        assert!(result.status.success(), "{}", String::from_utf8_lossy(&result.stderr));
    }
}

#[test]
fn junit_is_red_where_the_run_fails() {
    insta::assert_snapshot!(junit(&report(), Some(Level::Error)));
    let failures = |fail_on| junit(&report(), fail_on).matches("<failure").count();
    assert_eq!(
        [failures(None), failures(Some(Level::Error)), failures(Some(Level::Warning)), failures(Some(Level::Note))],
        [0, 1, 2, 3]
    );
}

#[test]
fn lines_are_plain() {
    insta::assert_snapshot!(written(lines, &report()));
}

#[test]
fn every_form_has_as_many_findings_as_the_report() {
    for report in [report(), hostile(), adopted(), Report::default()] {
        let count = report.findings.len();
        let waived = report.summary().waived;
        assert_eq!(sarif(&report)["runs"][0]["results"].as_array().map(Vec::len), Some(count));
        // One case stands for the run as a whole.
        assert_eq!(junit(&report, None).matches("<testcase").count(), count + 1);
        assert_eq!(written(lines, &report).lines().count(), count);
        assert_eq!(written(|report, out| output::jsonl(report, &|_| true, out), &report).lines().count(), count);
        let json: serde_json::Value = serde_json::from_str(&written(output::json, &report)).expect("JSON");
        assert_eq!(json["findings"].as_array().map(Vec::len), Some(count));
        let text = written(|report, out| output::text(report, output::Look::PLAIN, out), &report);
        // What is passed over has a row and no excerpt.
        let headed =
            |line: &&str| [" ── error: ", " ── warning: ", " ── note: "].iter().any(|level| line.contains(level));
        let open = text.lines().filter(|line| line.starts_with("── ")).filter(headed).count();
        assert_eq!(open, count - waived - report.summary().known);
        assert_eq!(text.contains("Known findings, not shown: 1 "), report.summary().known == 1);
        assert_eq!(text.lines().filter(|l| l.trim_start().starts_with("because ")).count(), waived);
    }
}

#[test]
fn fingerprints_outlive_moved_lines_and_renamed_files() {
    let before = report();
    let mut after = report();
    let sources = std::mem::take(&mut after.sources);
    for (id, source) in sources {
        let text = format!("# a new line on top\n{}", source.text);
        after
            .sources
            .insert(id, std::sync::Arc::new(headlap::text::Source::new(id, format!("moved/{}", source.name), text)));
    }
    after.findings.iter_mut().for_each(|f| {
        f.span.start += 20;
        f.span.end += 20;
    });
    let prints = |report: &Report| report.fingerprints().collect::<Vec<_>>();
    assert_eq!(prints(&before), prints(&after));
    let short = after.findings.iter().position(|f| &*f.rule == "short-head-lap").expect("it is in the report");
    after.findings[short].values[0].1 = "60 mm".into();
    assert_ne!(prints(&before)[short], prints(&after)[short], "a lap that got shorter is another finding");
    let twin = after.findings[short].clone();
    after.findings.push(twin);
    let prints = prints(&after);
    assert_eq!(prints.last(), Some(&format!("{}.2", prints[short])), "equal findings are told apart");
}
