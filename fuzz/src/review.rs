//! Any texts are reviewed whole and shown in every form, the same twice; and mean the same when they are laid out.

use std::collections::BTreeMap;
use std::sync::{Arc, LazyLock};

use headlap::finding::{Finding, Said};
use headlap::model::SourceMap;
use headlap::output::drawing::{self, Mark, SectionLine, Subject};
use headlap::output::{self, Look, sequence};
use headlap::report::Report;
use headlap::review::{Files, Given, Reviewer, Run};
use headlap::rules::Pack;
use headlap::text::{FileId, Source};
use headlap::tidy::tidy;
use jiff::civil::{Date, date};

use super::spans::all_inside;

const TODAY: Date = date(2026, 11, 25);

/// A line of these begins the next file.
const NEXT_FILE: &str = "\n=====\n";

const NAMES: [&str; 3] = ["a.detail", "b.detail", "c.detail"];

/// The stock rules, read once.
pub fn stock() -> &'static Pack {
    static STOCK: LazyLock<Pack> = LazyLock::new(|| Pack::load(&[]).unwrap_or_else(|_| panic!("the stock rules load")));
    &STOCK
}

/// Tries these bytes.
pub fn run(bytes: &[u8]) {
    let text = String::from_utf8_lossy(bytes);
    let files: Vec<&str> = text.splitn(NAMES.len(), NEXT_FILE).collect();
    hold(&files);
}

/// Everything that has to hold of a library of these files.
pub fn hold(files: &[&str]) {
    let first = reviewed(files, true);
    // Without facts to be kept, a review goes other ways to the same end.
    assert_eq!(outputs(&first.report), outputs(&reviewed(files, false).report), "another review the second time");
    first.report.findings.iter().for_each(|finding| all_inside(finding, &|span| first.report.source(span)));
    drawn(&first);
    let laid_out: Vec<String> = files.iter().map(|text| layout(text).unwrap_or_else(|| (*text).to_owned())).collect();
    let laid_out: Vec<&str> = laid_out.iter().map(String::as_str).collect();
    let after = reviewed(&laid_out, true);
    assert_eq!(without_places(&first.report), without_places(&after.report), "the layout changed findings");
    assert_eq!(facts(&first), facts(&after), "the layout changed facts");
}

/// A review that keeps the facts or not.
pub fn reviewed(files: &[&str], keep: bool) -> Run {
    let named: BTreeMap<&str, (usize, &str)> =
        NAMES.into_iter().zip(files).enumerate().map(|(number, (name, text))| (name, (number, *text))).collect();
    let fetch = |path: &str| match named.get(path) {
        Some((number, text)) => Ok(Arc::new(Source::new(FileId::detail(1000 + *number), path, *text))),
        None => Err("there is no such file".to_owned()),
    };
    let pack = stock();
    let source_map = SourceMap::new(&fetch, &pack.words);
    let reviewer = Reviewer::new(&source_map, pack, TODAY);
    let read = |number: usize| Given::Text(Arc::new(Source::new(FileId::detail(number), NAMES[number], files[number])));
    let files = Files { count: named.len(), read: &read, has: &|name| named.contains_key(name) };
    headlap::review::run(&reviewer, &files, keep)
}

/// Every form of a report, each well formed as far as that can be told without its schema.
fn outputs(report: &Report) -> Vec<Vec<u8>> {
    let mut all = Vec::new();
    let mut form = |write: &dyn Fn(&mut Vec<u8>) -> std::io::Result<()>| {
        let mut out = Vec::new();
        write(&mut out).expect("memory takes it");
        all.push(out);
    };
    let narrated = Look { narrate: true, ..Look::PLAIN };
    form(&|out| output::text(report, Look::PLAIN, out));
    form(&|out| output::text(report, narrated, out));
    form(&|out| output::lines(report, &|_| true, out));
    form(&|out| output::json(report, out));
    form(&|out| output::sarif(report, out));
    form(&|out| output::junit(report, None, out));
    for text in &all[..3] {
        let text = std::str::from_utf8(text).expect("text is UTF-8");
        assert!(text.chars().all(|c| c == '\n' || c == '\t' || !c.is_control()), "a terminal is steered:\n{text:?}");
    }
    for json in &all[3..5] {
        serde_json::from_slice::<serde_json::Value>(json).expect("JSON");
    }
    all
}

/// The facts in words, the drawings and the order of work of all that was reviewed.
fn drawn(run: &Run) {
    output::facts::text(&run.checked, &[], Look::PLAIN, &mut std::io::sink()).expect("a sink takes it");
    for checked in &run.checked {
        for facts in checked.facts.details.iter().filter(|facts| drawing::drawable(facts)) {
            let found = run.report.findings.iter().filter(|finding| drawing::belongs(&facts.detail, finding));
            let marks: Vec<Mark> = found.enumerate().map(|(n, finding)| Mark::new(n + 1, finding)).collect();
            let subject = Subject::new(facts, &marks);
            if let Some(line) = SectionLine::principal(&subject) {
                whole(&drawing::svg(&drawing::section(&subject, &line)));
            }
            whole(&drawing::svg(&drawing::elevation(&subject)));
        }
        for facts in &checked.facts.assemblies {
            whole(&drawing::svg(&drawing::assembly(facts)));
        }
        let sequences: Vec<_> = checked.facts.details.iter().map(sequence::sequence).collect();
        sequence::markdown(&sequences);
        sequence::text(&sequences, 80);
    }
}

/// A number that is none would leave a hole in a drawing.
fn whole(svg: &str) {
    assert!(!svg.contains("NaN\"") && !svg.contains("\"NaN") && !svg.contains("inf\""), "{svg}");
}

fn layout(text: &str) -> Option<String> {
    tidy(&Source::new(FileId::detail(0), "a.detail", text)).ok()
}

/// What findings say, without lines and columns, which a layout moves.
fn without_places(report: &Report) -> Vec<String> {
    let told = |f: &Finding| {
        let trail: Vec<&str> = f.trail.iter().map(|step| &*step.message).collect();
        let Said { rule, level, message, item, subject, values, fix, waived, .. } = &**f;
        format!("{rule} {level:?} {message} {item:?} {subject:?} {values:?} {fix:?} {waived:?} {trail:?}")
    };
    let mut all: Vec<String> = report.findings.iter().map(told).collect();
    all.sort();
    all
}

fn facts(run: &Run) -> String {
    let mut out = Vec::new();
    output::facts::json(&run.checked, &[], &mut out).expect("memory takes it");
    let mut value: serde_json::Value = serde_json::from_slice(&out).expect("JSON");
    strip(&mut value);
    value.to_string()
}

fn strip(value: &mut serde_json::Value) {
    match value {
        serde_json::Value::Object(fields) => {
            ["line", "column", "end_line", "end_column"].iter().for_each(|place| drop(fields.remove(*place)));
            fields.values_mut().for_each(strip);
        }
        serde_json::Value::Array(values) => values.iter_mut().for_each(strip),
        _ => {}
    }
}
