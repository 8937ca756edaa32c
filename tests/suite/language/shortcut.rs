//! The shortcut for plain lines reads what the grammar reads: equal documents, equal findings.

use std::fs;

use proptest::prelude::*;

use headlap::syntax::{parse, read_by_grammar};
use headlap::text::{FileId, Source};

use crate::language::files;

fn same(text: &str) {
    let source = Source::new(FileId::detail(0), "a.detail", text);
    let (quick, found) = parse(&source);
    let (slow, problems) = read_by_grammar(&source);
    assert_eq!(quick, slow, "{text}");
    assert_eq!(found, problems.finish(source.id), "{text}");
}

#[test]
fn on_every_file_of_the_package() {
    for folder in ["rules", "examples", "tests"] {
        for path in files(folder) {
            same(&fs::read_to_string(&path).expect("a text"));
        }
    }
}

#[test]
fn on_every_quantity_in_every_place() {
    for length in LENGTHS {
        let places = [
            format!("up {length} to 100 m"),
            format!("up -100 m to {length}"),
            format!("up from {length}"),
            format!("along to {length} rolled"),
            format!("slope {length}"),
            format!("every {length}"),
        ];
        for place in places {
            same(&format!("detail D course joins A {{\npiece a b {place}\nfasten a with b every {length} {place}\n}}"));
        }
        let words = ["thickness", "mu", "permeance", "sd", "conductivity", "density", "uv-limit", "applies-above"];
        let lines: Vec<String> = words.iter().map(|word| format!("{word} {length} dry\n{word} {length}")).collect();
        same(&format!("material m sheet {{\n{}\n}}", lines.join("\n")));
        let seal = format!("seal a to b with c up {length} width {length} depth {length} on d");
        let lines = format!(
            "slope {length} up to {length}\nvalley up {length}\nwall-line up {length}\ngrade up {length} paved"
        );
        same(&format!("detail D course joins A to B, C {{\n{seal}\n{lines}\nsheltered up {length} to 100 m\n}}"));
        same(&format!("assembly A roof {{\nslope {length}\nwall-line up {length}\n}}"));
        same(&format!("material m board {{\nresistance {length} per {length}\nresistance {length} per in\n}}"));
        same(&format!("climate c {{ outdoor jan {length} 50 %; outdoor feb 1 C {length} }}"));
        same(&format!("assembly A wall {{ layer a {length} controls air; layer b between c {length} at {length} }}"));
    }
}

/// What may stand at one place of a line: what belongs there, and what comes close.
const NAMES: &[&str] = &["a", "b-1", "W1.x_2", "up", "with", "étage", "1a", "a,", "", "joins", "a\u{A0}b", "inside"];
const LENGTHS: &[&str] = &[
    "1 mm",
    "-3-1/2 in",
    "0.5 m",
    "8 ft",
    "8 ft 6 in",
    "-8 ft 6-1/2 in",
    "8 ft 6 mm",
    "8 ft 6",
    "12",
    "12mm",
    "1/0 in",
    "1e5 mm",
    "200 km",
    "R 14",
    "1:12",
    "6 deg",
    "1/4 in per ft",
    "20 mm per m",
    "1 in per mm",
    "level",
    "plumb",
    "5 %",
    "20 C",
    "-5 F",
    "90 days",
    "1 day",
    "75 Pa",
    "",
    "NaN",
    "0,5 m",
    "1 000 mm",
    "1 slope",
    "50 perm",
    "0.1 W/m.K",
    "500 kg/m3",
    "20",
    "200000 m",
    "-1 mm",
    "0 mm",
    "12 mm,",
    "in 1 mm",
];
const TEXTS: &[&str] = &["\"x\"", "\"a \\\" b\"", "\"\"", "\"open", "x", "\"x\"y", "\"é\"", "\"a # ; { } b\""];

fn clause() -> impl Strategy<Value = String> {
    use proptest::sample::select;
    let words = [
        "of",
        "as",
        "up",
        "along",
        "bonds",
        "over",
        "behind",
        "with",
        "with drip",
        "slope",
        "rolled",
        "primed",
        "inside",
        "every",
        "from",
        "to",
        "on",
        "because",
        "by",
        "until 2027-03-31",
        "controls",
        "between",
        "and",
        "at",
        "joins",
        "dry",
        "wet",
        ",",
        "dry,",
        "up from",
        "up to",
        "along from",
        "for",
        "outdoor",
        "indoor",
        "welded",
        "clamped",
        "bonds a welded",
        "bonds a, b clamped",
        "paved",
        "width",
        "depth",
        "per in",
        "level",
        "plumb",
        "joins a to b, c",
    ];
    prop_oneof![
        4 => select(words.to_vec()).prop_map(str::to_owned),
        3 => select(NAMES.to_vec()).prop_map(str::to_owned),
        4 => select(LENGTHS.to_vec()).prop_map(str::to_owned),
        1 => select(TEXTS.to_vec()).prop_map(str::to_owned),
        2 => (select(LENGTHS.to_vec()), select(LENGTHS.to_vec())).prop_map(|(a, b)| format!("up {a} to {b}")),
        1 => (select(NAMES.to_vec()), select(NAMES.to_vec())).prop_map(|(a, b)| format!("bonds {a}, {b}")),
        1 => (select(NAMES.to_vec()), select(LENGTHS.to_vec()), select(LENGTHS.to_vec()))
            .prop_map(|(a, b, c)| format!("between {a} {b} at {c}")),
    ]
}

fn line() -> impl Strategy<Value = String> {
    let starts = [
        "piece a b",
        "piece a",
        "layer a",
        "layer",
        "cut a",
        "seal a to b",
        "seal a",
        "fasten a",
        "weeps",
        "fold up",
        "fold along",
        "grade up",
        "sheltered up from",
        "sheltered",
        "sheltered up",
        "slope",
        "slope level",
        "valley up",
        "valley along",
        "wall-line up",
        "double-sided",
        "exposed",
        "installed-at",
        "sheet",
        "note",
        "waive a",
        "outside",
        "inside",
        "climate",
        "surfaces",
        "zone",
        "indoor",
        "outdoor jan",
        "design",
        "drying",
        "holds",
        "thickness",
        "mu",
        "permeance",
        "permeability",
        "sd",
        "conductivity",
        "resistance",
        "density",
        "air-permeance",
        "sensitive",
        "surface",
        "adhesive",
        "applies-above",
        "uv-limit",
        "section",
        "source",
        "needs a",
        "set",
        "include",
        "capped",
        "sheet\"x\"",
        "note\t\"x\"",
    ];
    let blanks = proptest::sample::select(vec![" ", "  ", "\t", " \u{A0}", ""]);
    (proptest::sample::select(starts.to_vec()), proptest::collection::vec(clause(), 0..5), blanks).prop_map(
        |(start, clauses, blank)| format!("{start} {}", clauses.join(if blank.is_empty() { " " } else { blank })),
    )
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 300, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn on_random_statements(lines in proptest::collection::vec(line(), 1..30), kind in 0usize..5) {
        let heads = ["detail D course joins A {", "assembly A wall \"x\" {", "material m sheet {", "climate c {", "set \"x\" {"];
        same(&format!("{}\n{}\n}}\n", heads[kind], lines.join("\n")));
    }

    #[test]
    fn on_random_heads(words in proptest::collection::vec(clause(), 0..5), kind in 0usize..6) {
        let heads = ["detail", "assembly", "material", "climate", "set", "include"];
        same(&format!("{} {} {{\n}}\n", heads[kind], words.join(" ")));
    }
}
