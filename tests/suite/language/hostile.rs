//! Files by accident: no panic, no hang, no flood.

use proptest::prelude::*;

use headlap::syntax::MOST_OF_A_KIND;

use crate::language::read;

/// No file is worth more findings than these: some of each kind, and one that says how many are left out.
const MOST: usize = 5 * MOST_OF_A_KIND + 1;

fn harmless(text: &str) {
    let reading = read(text);
    assert!(reading.findings.len() <= MOST, "{} findings", reading.findings.len());
    for finding in &reading.findings {
        let range = finding.span.range();
        assert!(range.start <= range.end && text.get(range).is_some(), "{finding:?}");
        assert!(finding.message.len() < 2000, "a message that somebody can read");
    }
}

/// Words that lines of the language are made of, and some that they are not.
const WORDS: &[&str] = &[
    "include",
    "climate",
    "material",
    "assembly",
    "detail",
    "set",
    "piece",
    "layer",
    "cut",
    "seal",
    "fasten",
    "weeps",
    "fold",
    "grade",
    "sheltered",
    "exposed",
    "waive",
    "needs",
    "outside",
    "inside",
    "up",
    "along",
    "from",
    "to",
    "of",
    "as",
    "bonds",
    "over",
    "behind",
    "with",
    "drip",
    "slope",
    "rolled",
    "every",
    "at",
    "between",
    "and",
    "controls",
    "joins",
    "because",
    "by",
    "until",
    "for",
    "holds",
    "thickness",
    "mu",
    "dry",
    "wet",
    "outdoor",
    "indoor",
    "design",
    "zone",
    "class",
    "a",
    "b",
    "plywood",
    "wall",
    "course",
    "sill",
    "jan",
    "water",
    "12",
    "-3-1/2",
    "mm",
    "in",
    "ft",
    "1/0",
    "1e308",
    "NaN",
    "4:12",
    "%",
    "C",
    "perm",
    "R",
    "{",
    "}",
    ";",
    "\n",
    "\n",
    "\"",
    "\"x\"",
    "#",
    ",",
    "\\",
    "\u{FEFF}",
    "\0",
    "é",
    "防",
    "\r",
    "\t",
    "stock.detail",
    "\"stock.detail\"",
    "\"a.detail\"",
    "short-head-lap",
];

proptest! {
    #![proptest_config(ProptestConfig { cases: 200, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn any_text(text in any::<String>()) {
        harmless(&text);
    }

    #[test]
    fn any_bytes_as_text(bytes in proptest::collection::vec(any::<u8>(), 0..2000)) {
        harmless(&String::from_utf8_lossy(&bytes));
    }

    #[test]
    fn any_order_of_words(words in proptest::collection::vec(proptest::sample::select(WORDS), 0..200)) {
        harmless(&words.join(" "));
    }

    #[test]
    fn a_file_with_a_piece_torn_out(start in 0usize..4000, length in 0usize..400) {
        let text = include_str!("../../../examples/millrace/openings.detail");
        let (start, end) = (start.min(text.len()), (start + length).min(text.len()));
        let torn: String = text.char_indices().filter(|(at, _)| !(start..end).contains(at)).map(|(_, c)| c).collect();
        harmless(&torn);
    }
}

#[test]
fn deep_and_long_and_many() {
    let pieces = |n: usize| (0..n).map(|i| format!("piece p{i} m{i} bonds q{i}\n")).collect::<String>();
    let cases = [
        String::new(),
        "{".repeat(10_000),
        "}".repeat(10_000),
        "{}".repeat(5_000),
        "detail D course joins C {".repeat(2_000),
        format!("{}{}", "detail D course joins A { piece a b { ".repeat(1_000), "}".repeat(2_000)),
        "blah\n".repeat(5_000),
        format!("piece {}", "x ".repeat(100_000)),
        format!("detail D course joins A {{ piece a b {} }}", "up ".repeat(50_000)),
        format!("detail D course joins A {{ piece a b {} }}", "up 0 mm to 1 mm ".repeat(3_000)),
        format!("detail D course joins A {{ piece a b bonds {} }}", "x, ".repeat(50_000)),
        format!("detail D course joins A {{\n{}}}", pieces(3_000)),
        format!("material m sheet {{ {} }}", "thickness 1 mm; ".repeat(3_000)),
        format!("assembly A wall {{ {} }}", "layer m as n; ".repeat(3_000)),
        format!("note \"{}", "\\".repeat(100_000)),
        "\"".repeat(100_000),
        "#".repeat(100_000),
        "\0".repeat(10_000),
        format!("material {} sheet {{}}", "n".repeat(100_000)),
        format!("material m sheet {{ thickness {} mm }}", "9".repeat(60_000)),
    ];
    for text in cases {
        harmless(&text);
    }
}

#[test]
fn one_brace_is_one_finding() {
    for text in ["{".repeat(10_000), "}".repeat(10_000)] {
        assert_eq!(read(&text).findings.len(), 1);
    }
}

#[test]
fn what_is_left_out_is_counted() {
    let reading = read(&"blah\n".repeat(1_000));
    assert_eq!(reading.findings.len(), MOST_OF_A_KIND + 1);
    let last = &reading.findings[MOST_OF_A_KIND].message;
    assert!(last.starts_with("950 more errors"), "{last}");
}
