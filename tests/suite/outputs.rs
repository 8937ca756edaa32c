//! Each form of output against a report that has one of everything.

use std::sync::Arc;

use headlap::finding::{Basis, Finding, Known, Level, Step, Waived};
use headlap::output::{self, Look};
use headlap::report::Report;
use headlap::text::{FileId, Source, Span};

const WALLS: &str = "\
# Courses of the reading room
include \"assemblies.detail\"

detail C4 course \"Courses of wrap\" joins W1 {
  piece deck    plywood       of W1
  piece upper   annex-wrap    of W1    up from 0 mm
  piece lower   annex-wrap    of W1    up to 120 mm
  waive short-head-lap because \"the string course fixes the height\" by \"LM\" until 2028-12-31
}
";

const ASSEMBLIES: &str = "\
assembly W1 wall \"Boards on battens\" {
  outside
  layer annex-wrap   controls water, air
  layer plywood 12 mm
  inside
}
";

/// Bytes of the nth place (from 0) where `words` stand in a source.
fn at(source: &Source, words: &str, nth: usize) -> Span {
    let (start, _) = source.text.match_indices(words).nth(nth).expect("the words stand in the fixture");
    Span::new(source.id, start, start + words.len())
}

pub fn report() -> Report {
    let assemblies = Arc::new(Source::new(FileId::detail(0), "library/assemblies.detail", ASSEMBLIES));
    let walls = Arc::new(Source::new(FileId::detail(1), "library/walls.detail", WALLS));
    let mut reverse = Finding::new(
        "reverse-lap",
        "Lap turned against the water",
        Level::Error,
        at(&walls, "lower", 0),
        "lower stands outside upper, so water that runs down upper passes behind lower",
    )
    .fix("Install lower before upper, so that upper covers its top edge.")
    .item(Some("C4".into()))
    .about(["lower".into(), "upper".into()])
    .related(at(&walls, "upper", 0), "water comes down on this piece")
    .related(at(&walls, "deck", 0), "and wets this one");
    reverse.basis = Arc::new(vec![Basis {
        source: "FEMA P-499".into(),
        clause: None,
        says: Some("laps never buck water".into()),
        known: Known::Read,
    }]);
    reverse.trail = vec![
        Step { span: Some(at(&walls, "piece upper", 0)), message: "runs down upper to 120 mm".into() },
        Step { span: Some(at(&walls, "piece lower", 0)), message: "passes behind lower".into() },
        Step { span: None, message: "wets deck".into() },
    ];
    let mut short = Finding::new(
        "short-head-lap",
        "Head lap shorter than good practice",
        Level::Warning,
        at(&walls, "lower   annex-wrap    of W1    up to 120 mm", 0),
        "upper laps lower by 120 mm; at least 150 mm is wanted",
    )
    .item(Some("C4".into()))
    .about(["upper".into(), "lower".into()]);
    short.values = vec![("length".into(), "120 mm".into()), ("limit".into(), "150 mm".into())];
    short.waived = Some(Box::new(Waived {
        because: "the string course fixes the height".into(),
        by: Some("LM".into()),
        until: Some("2028-12-31".parse().expect("a date")),
    }));
    let mut air = Finding::new(
        "unsealed-transition",
        "Control not continuous",
        Level::Warning,
        at(&walls, "course", 0),
        "air control is not continuous within W1",
    )
    .item(Some("C4".into()))
    .fix("Seal upper to lower.")
    .related(at(&assemblies, "controls water, air", 0), "the layer that is to hold air");
    air.values = vec![("control".into(), "air".into())];
    air.basis = Arc::new(vec![
        Basis { source: "IRC 2015".into(), clause: Some("R703.2".into()), says: None, known: Known::Memory },
        Basis { source: "-".into(), clause: None, says: Some("seams are taped".into()), known: Known::Practice },
    ]);
    let note =
        Finding::new("idle-waiver", "Waiver without a finding", Level::Note, at(&assemblies, "W1", 0), "no finding");
    let sources = [(assemblies.id, assemblies), (walls.id, walls)];
    let mut report = of(vec![reverse, air, short, note], sources, 2);
    report.sort();
    report
}

fn shown(look: Look) -> String {
    let mut out = Vec::new();
    output::text(&report(), look, &mut out).expect("a vector takes all");
    String::from_utf8(out).expect("text is UTF-8")
}

#[test]
fn text_shows_the_words_at_fault() {
    insta::assert_snapshot!(shown(Look::PLAIN));
}

#[test]
fn text_fits_a_narrow_page_in_ascii() {
    let text = shown(Look { unicode: false, width: 60, ..Look::PLAIN });
    assert!(text.is_ascii());
    insta::assert_snapshot!(text);
}

#[test]
fn narration_draws_no_lines() {
    let text = shown(Look { narrate: true, ..Look::PLAIN });
    assert!(text.is_ascii(), "whole sentences need no drawing characters");
    insta::assert_snapshot!(text);
}

#[test]
fn color_changes_nothing_but_color() {
    let colored = shown(Look { color: true, ..Look::PLAIN });
    let mut plain = String::new();
    let mut parts = colored.split('\u{1b}');
    plain.push_str(parts.next().expect("a first part"));
    for part in parts {
        plain.push_str(part.split_once('m').expect("only colors are sent").1);
    }
    assert_ne!(plain, colored);
    assert_eq!(plain, shown(Look::PLAIN));
}

#[test]
fn json_is_as_promised() {
    let mut out = Vec::new();
    output::json(&report(), &mut out).expect("a vector takes all");
    insta::assert_snapshot!(String::from_utf8(out).expect("JSON is UTF-8"));
}

#[test]
fn each_line_of_jsonl_is_an_entry_of_json() {
    let (mut whole, mut lines) = (Vec::new(), Vec::new());
    output::json(&report(), &mut whole).expect("a vector takes all");
    output::jsonl(&report(), &|_| true, &mut lines).expect("a vector takes all");
    let whole: serde_json::Value = serde_json::from_slice(&whole).expect("JSON");
    let lines: Vec<serde_json::Value> = String::from_utf8(lines)
        .expect("UTF-8")
        .lines()
        .map(|line| serde_json::from_str(line).expect("a JSON object"))
        .collect();
    assert_eq!(whole["findings"].as_array().expect("a list"), &lines);
    assert_eq!(lines.len(), report().findings.len());
}

/// A report with one finding anywhere in any text.
fn anywhere(text: &str, start: usize, end: usize, other: usize) -> Report {
    let source = Arc::new(Source::new(FileId::detail(7), "a\u{1b}[2J.detail", text));
    let finding = Finding::new(
        "syntax",
        "Line that cannot be read",
        Level::Error,
        Span::new(FileId::detail(7), start, end),
        text,
    )
    .related(Span::new(FileId::detail(7), other, other), text)
    .related(Span::new(FileId::detail(8), 0, 3), "in a file that the report does not carry");
    of(vec![finding], [(FileId::detail(7), source)], 1)
}

/// A report of these findings alone.
pub fn of(findings: Vec<Finding>, sources: impl IntoIterator<Item = (FileId, Arc<Source>)>, files: usize) -> Report {
    let mut report = Report::default();
    (report.findings, report.files) = (findings, files);
    report.sources.extend(sources);
    report
}

#[test]
fn a_long_line_is_cut_around_its_fault() {
    let text = format!("{}wrong{}", "a ".repeat(50_000), " b".repeat(50_000));
    let start = text.find("wrong").expect("it is there");
    let mut report = anywhere(&text, start, start + 5, start);
    report.findings[0].message = "not known".to_owned();
    report.findings[0].related.clear();
    let mut out = Vec::new();
    output::text(&report, Look::PLAIN, &mut out).expect("a vector takes all");
    let shown = String::from_utf8(out).expect("UTF-8");
    assert!(shown.contains(":1:100001]"), "the column is the file's: {shown}");
    let lines: Vec<&str> = shown.lines().collect();
    let at = lines.iter().position(|line| line.contains("wrong")).expect("the words are shown");
    let column = lines[at][..lines[at].find("wrong").expect("shown")].chars().count();
    assert!(lines[at].chars().count() < 230);
    assert_eq!(lines[at + 1].chars().position(|c| c == '─'), Some(column), "the mark stands under the words");
}

proptest::proptest! {
    #[test]
    fn any_place_in_any_text_can_be_shown(
        text in "(\\PC|[ \\t\\r\\n\u{0}-\u{1f}\u{7f}-\u{9f}\u{202a}-\u{202e}\u{2066}-\u{2069}]|\u{e9}|\u{1f3e0}){0,60}",
        start in 0_usize..200,
        length in 0_usize..50,
        other in 0_usize..200,
    ) {
        let start = (start..).find(|at| text.is_char_boundary(*at) || *at > text.len()).unwrap_or(0);
        let end = (start + length..).find(|at| text.is_char_boundary(*at) || *at > text.len()).unwrap_or(start);
        let report = anywhere(&text, start, end, other);
        for look in [Look::PLAIN, Look { narrate: true, ..Look::PLAIN }, Look { unicode: false, width: 1, ..Look::PLAIN }] {
            let mut out = Vec::new();
            output::text(&report, look, &mut out).expect("a vector takes all");
            let shown = String::from_utf8(out).expect("UTF-8");
            proptest::prop_assert!(!shown.chars().any(|c| c.is_control() && c != '\n'), "{shown:?}");
            proptest::prop_assert!(!shown.contains(['\u{202e}', '\u{2066}']), "{shown:?}");
        }
        let mut out = Vec::new();
        output::json(&report, &mut out).expect("a vector takes all");
        proptest::prop_assert!(serde_json::from_slice::<serde_json::Value>(&out).is_ok());
    }
}
