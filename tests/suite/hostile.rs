//! Files that no one should write: each is a finding, never a panic, a hang or a flood.

use headlap::report::Report;
use headlap::syntax::MOST_OF_A_KIND;

use crate::review::{review_text, review_texts};

const STOCK: &str = "include \"stock.detail\"\nassembly C existing { outside; layer concrete 200 mm; inside }\n";

/// `line: rule` of every finding, in order.
fn reported(report: &Report) -> Vec<String> {
    let place = |f: &headlap::finding::Finding| report.place(f.span).map_or(0, |(_, at)| at.line);
    report.findings.iter().map(|f| format!("{}: {}", place(f), f.rule)).collect()
}

#[test]
fn an_empty_file_says_nothing() {
    for text in ["", "\n", "\u{feff}", "# only a comment", "\r\n\r\n"] {
        assert_eq!(reported(&review_text(text)), [""; 0], "{text:?}");
    }
}

/// Braces in a row are one mistake; of blocks without a statement, as of any kind of finding, some are shown and
/// the rest is counted.
#[test]
fn ten_thousand_braces_are_a_handful_of_findings() {
    let counts = |text: &str| -> Vec<(String, usize)> {
        let mut rules: Vec<String> =
            review_text(&text.repeat(10_000)).findings.iter().map(|finding| finding.rule.to_string()).collect();
        rules.sort();
        rules.chunk_by(|a, b| a == b).map(|same| (same[0].clone(), same.len())).collect()
    };
    let some = MOST_OF_A_KIND;
    let of = |rule: &str, count| vec![(rule.to_owned(), count)];
    for brace in ["{", "}", "{\n", "}\n", " { "] {
        assert_eq!(counts(brace), of("syntax", 1), "{brace:?}");
    }
    for block in ["{}", "{}\n", "}{"] {
        assert_eq!(counts(block), [of("errors-left-out", 1), of("syntax", some)].concat(), "{block:?}");
    }
    // One sentence counts what is left out of every kind.
    let expected =
        [of("duplicate-name", some), of("errors-left-out", 1), of("syntax", some), of("unknown-name", 1)].concat();
    assert_eq!(counts("detail D course joins C {"), expected);
}

/// Each file includes two others, thirty deep: a thousand million ways, and sixty files.
#[test]
fn includes_that_double_are_read_once_each() {
    let mut files: Vec<(String, String)> = Vec::new();
    for depth in 0..30 {
        for side in ["a", "b"] {
            let next = format!("include \"a{0}.detail\"\ninclude \"b{0}.detail\"\n", depth + 1);
            files.push((
                format!("{side}{depth}.detail"),
                format!("{next}material {side}{depth} sheet {{ holds water; mu 5 }}\n"),
            ));
        }
    }
    files.extend(["a", "b"].map(|side| (format!("{side}30.detail"), "include \"stock.detail\"\n".to_owned())));
    let use_all = "include \"a0.detail\"\ninclude \"b0.detail\"\nassembly C existing { outside; layer concrete 200 mm; inside }\n\
                   detail D course joins C {\n  piece deck b29\n  piece high a0 up from 0 mm\n  piece low b0 up to 150 mm\n  piece x c0\n}\n";
    files.push(("use.detail".to_owned(), use_all.to_owned()));
    let files: Vec<(&str, &str)> = files.iter().map(|(name, text)| (name.as_str(), text.as_str())).collect();
    let report = review_texts(&files);
    assert_eq!(report.files, 63);
    assert_eq!(reported(&report), ["8: unknown-name"]);
    // The same with fragments, which lean on a name that only the first file gives.
    let leaning: Vec<(String, String)> = files
        .iter()
        .map(|(name, text)| {
            let leaning = match text.split_once("material ") {
                Some((includes, _)) => {
                    let own = name.trim_end_matches(".detail");
                    format!("{includes}assembly W{own} existing {{ outside; layer own 200 mm; inside }}\n")
                }
                None => text.replace("b29", "own").replace(" a0 ", " own ").replace(" b0 ", " own "),
            };
            ((*name).to_owned(), leaning)
        })
        .collect();
    let mut leaning: Vec<(&str, &str)> = leaning.iter().map(|(name, text)| (name.as_str(), text.as_str())).collect();
    let whole = format!("{}material own mass {{ holds water, air; conductivity 2 W/m.K; mu 50 }}\n", leaning[62].1);
    leaning[62].1 = &whole;
    assert_eq!(reported(&review_texts(&leaning)), ["8: unknown-name"]);
}

#[test]
fn a_quotation_mark_too_few_costs_its_line_and_hides_nothing() {
    let text = |line: &str| {
        format!(
            "{STOCK}detail A course joins C \"Courses\" {{\n  piece deck plywood\n{line}\n  piece high wrap-open up from 0 mm\n  \
             piece low wrap-open up to 150 mm\n  piece x nothing-of-that-name along from 900 mm\n}}\ndetail B course joins C {{\n  peice y\n}}\n"
        )
    };
    let rest = ["7: reverse-lap", "8: unknown-name", "11: syntax"];
    assert_eq!(reported(&review_text(&text("  note \"closed\""))), rest);
    for line in [
        "  note \"open",
        "  note \"open # { }",
        "  sheet \"open\\\"",
        "  waive open-joint because \"open by \"LM\"",
        "  note open\"",
    ] {
        let found = reported(&review_text(&text(line)));
        assert_eq!(found, ["5: syntax", rest[0], rest[1], rest[2]], "{line}");
    }
}

#[test]
fn a_brace_too_many_or_too_few_costs_one_finding() {
    let clean = format!(
        "{STOCK}detail A course joins C {{\n  piece deck concrete\n}}\ndetail B course joins C {{\n  piece deck concrete\n}}\n"
    );
    assert_eq!(reported(&review_text(&clean)), [""; 0]);
    let many = clean.replacen("}\ndetail B", "}\n}\ndetail B", 1);
    assert_eq!(reported(&review_text(&many)), ["6: syntax"]);
    let few = clean.replacen("}\ndetail B", "detail B", 1);
    assert_eq!(reported(&review_text(&few)), ["3: syntax"]);
}

#[test]
fn a_bad_line_hides_no_other_finding_and_an_unknown_name_is_said_once() {
    let text = format!(
        "{STOCK}detail A course joins C {{\n  piece deck plywood\n  piece high wrap-open up from 0 mm\n  piece low wrap-open \
         up to 150 mm\n  peice x\n  piece y nothing-of-that-name along from 900 mm\n  piece z nothing-of-that-name along from 950 mm\n}}\n"
    );
    assert_eq!(reported(&review_text(&text)), ["6: reverse-lap", "7: syntax", "8: unknown-name"]);
}

/// What was written and could not be read is not asked for a second time, of whatever rules would need it.
#[test]
fn a_thickness_that_cannot_be_read_is_reported_once() {
    let wall = |gap: &str, batt: &str| {
        let text = format!(
            "include \"stock.detail\"\nclimate here {{ zone 6A; indoor 20 C 45 % }}\nmaterial vent gap {{ vented }}\n\
             material batt fill {{ holds thermal; mu 1; conductivity 0.036 W/m.K }}\nassembly W wall {{\n  climate here\n  \
             outside\n  layer cedar-boards 19 mm\n  layer vent {gap}\n  layer poly-6mil controls water, air\n  \
             layer plywood 12 mm\n  layer batt {batt} controls thermal between spruce 38 mm at 400 mm\n  layer kraft-facing controls vapor\n  \
             layer gypsum 12.5 mm\n  inside\n}}\n"
        );
        reported(&review_text(&text))
    };
    assert_eq!(wall("19 mm", "140 mm"), ["11: vapor-trap"]);
    assert_eq!(wall("", "140 mm"), ["3: missing-property", "11: vapor-trap"]);
    assert_eq!(wall("19 mm", ""), ["4: missing-property"]);
    assert_eq!(wall("19 perm", "140 mm"), ["9: wrong-unit", "11: vapor-trap"]);
    assert_eq!(wall("19 mm", "140 perm"), ["12: wrong-unit"]);
}

#[test]
fn numbers_that_no_building_has_are_refused_at_their_place() {
    for number in ["1e308", "NaN", "inf", "99999999999999999999", "1/0", "-", "0x10", "1_000"] {
        let report =
            review_text(&format!("{STOCK}detail A course joins C {{\n  piece deck concrete up to {number} mm\n}}\n"));
        let lines: Vec<String> = reported(&report);
        assert!(
            !lines.is_empty() && lines.iter().all(|l| l == "4: syntax" || l == "4: wrong-unit"),
            "{number}: {lines:?}"
        );
    }
}

#[test]
fn includes_that_fail_are_reported_at_the_include() {
    let reported = |files: &[(&str, &str)]| -> Vec<String> {
        let report = review_texts(files);
        let file =
            |f: &headlap::finding::Finding| report.place(f.span).map_or(String::new(), |(file, _)| file.to_owned());
        report.findings.iter().map(|f| format!("{}: {}", file(f), f.rule)).collect()
    };
    assert_eq!(reported(&[("a.detail", "include \"b.detail\"\n")]), ["a.detail: include-failed"]);
    assert_eq!(reported(&[("a.detail", "include \"/etc/passwd\"\n")]), ["a.detail: include-failed"]);
    assert_eq!(reported(&[("a.detail", "include \"a.detail\"\n")]), ["a.detail: include-failed"]);
    let circle = [("a.detail", "include \"b.detail\"\n"), ("b.detail", "include \"a.detail\"\n")];
    assert_eq!(reported(&circle), ["a.detail: include-failed", "b.detail: include-failed"]);
    // What the second needs comes with the first, when one file includes both; alone it lacks them.
    let lean = [
        ("a.detail", "include \"b.detail\"\ninclude \"c.detail\"\n"),
        ("b.detail", "include \"stock.detail\"\nassembly W existing { outside; layer concrete 200 mm; inside }\n"),
        ("c.detail", "include \"nowhere.detail\"\ndetail A course joins W { piece deck concrete of W }\n"),
    ];
    assert_eq!(reported(&lean), ["c.detail: include-failed"]);
    let diamond = [
        ("a.detail", "include \"b.detail\"\ninclude \"c.detail\"\n"),
        ("b.detail", "include \"d.detail\"\n"),
        ("c.detail", "include \"d.detail\"\n"),
        ("d.detail", "include \"stock.detail\"\nassembly W existing { outside; layer concrete 200 mm; inside }\n"),
    ];
    assert_eq!(reported(&diamond), [""; 0]);
}

/// Names are one flat namespace over an include tree: a file may lean on what its includer brings.
#[test]
fn a_fragment_is_read_with_the_names_of_its_includer() {
    let fragment = "assembly W existing { outside; layer own-stone 200 mm; inside }\n";
    let whole = "include \"part.detail\"\nmaterial own-stone mass { holds water, air; conductivity 2 W/m.K; mu 50 }\n\
                 detail D course joins W {\n  piece stone own-stone of W\n}\n";
    assert_eq!(reported(&review_texts(&[("a.detail", whole), ("part.detail", fragment)])), [""; 0]);
    assert_eq!(reported(&review_texts(&[("part.detail", fragment)])), ["1: unknown-name"]);
}

/// What a set needs is asked for in the names of its includer too, and can be shown.
#[test]
fn a_set_in_a_fragment_is_asked_for_with_the_names_of_its_includer() {
    let whole = "include \"stock.detail\"\ninclude \"part.detail\"\n\
                 assembly W existing { outside; layer concrete 200 mm; inside }\n\
                 detail D course joins W {\n  piece stone concrete of W\n}\n";
    let others = "assembly V existing { outside; inside }\n";
    for (fragment, found) in [
        ("# of the annex\nset \"Parts\" { needs course of W; needs corner of W }\n", "2: missing-detail"),
        (&format!("{others}set \"Parts\" {{ needs course of W; needs corner of V }}\n"), "2: missing-detail"),
    ] {
        let report = review_texts(&[("a.detail", whole), ("part.detail", fragment)]);
        assert_eq!(reported(&report), [found], "{fragment}");
    }
}

/// Sets wait for what later files have: more of them than are ever held at once.
#[test]
fn needs_that_later_files_meet_are_met_and_the_others_are_not() {
    let mut texts: Vec<(String, String)> = Vec::new();
    for n in 0..200 {
        let include = format!("include \"wall{n}.detail\"\n");
        texts.push((format!("wall{n}.detail"), format!("assembly W{n} existing {{ outside; inside }}\n")));
        texts.push((format!("a{n}.detail"), format!("{include}set \"S{n}\" {{ needs course of W{n} }}\n")));
        let detail = if n % 3 == 0 { "" } else { &format!("detail D{n} course joins W{n} {{\n}}\n") };
        texts.push((format!("z{n}.detail"), format!("{include}{detail}")));
    }
    let texts: Vec<(&str, &str)> = texts.iter().map(|(name, text)| (&**name, &**text)).collect();
    let report = review_texts(&texts);
    let missing = report.findings.iter().filter(|finding| &*finding.rule == "missing-detail");
    let mut files: Vec<&str> = missing.map(|finding| &*report.sources[&finding.span.file].name).collect();
    files.sort_unstable();
    let mut unmet: Vec<String> = (0..200).step_by(3).map(|n| format!("a{n}.detail")).collect();
    unmet.sort_unstable();
    assert_eq!(files, unmet);
}

#[test]
fn a_detail_beyond_all_measure_is_refused_in_words() {
    let mut text = format!("{STOCK}detail A course joins C {{\n");
    for n in 0..20_000 {
        text.push_str(&format!("  piece p{n} wrap-open up {n} mm to {} mm\n", n + 200));
    }
    text.push_str("}\n");
    let report = review_text(&text);
    assert!(report.findings.iter().any(|f| f.message.contains("too large")), "{:?}", reported(&report).first());
    assert!(report.findings.len() < 10);
}

#[test]
fn what_rules_ask_of_the_cells_of_a_face_that_is_too_large_is_unknown() {
    let layers = "layer fiber-cement 8 mm; layer vented-gap 20 mm; layer xps 50 mm controls thermal; layer wrap-open controls water, air";
    let mut text =
        format!("include \"stock.detail\"\nassembly W wall {{ outside; {layers}; layer plywood 12 mm; inside }}\n");
    text.push_str("detail big seam joins W {\n  grade up 0 mm\n");
    for n in 0..700 {
        let (up, along) = (n * 37 % 5000, n * 53 % 5000);
        let place = format!("up {up} mm to {} mm along {along} mm to {} mm", up + 300, along + 300);
        let material = if n % 2 == 0 { "wrap-open" } else { "xps" };
        text.push_str(&format!("  piece p{n} {material} of W {place}\n"));
    }
    text.push_str("  piece boards fiber-cement of W up 9000 mm to 9100 mm\n}\n");
    let report = review_text(&text);
    assert!(report.findings.iter().any(|f| f.message.contains("too large")), "{:?}", reported(&report).first());
}

#[test]
fn names_of_any_script_and_line_ends_of_any_system_are_read() {
    let text =
        format!("{STOCK}detail Détail-屋根 course joins C {{\n\tpiece стена concrete\n}}\n").replace('\n', "\r\n");
    assert_eq!(reported(&review_text(&text)), [""; 0]);
}
