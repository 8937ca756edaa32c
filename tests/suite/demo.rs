//! The demo library and the README: what a newcomer sees is what they say.

use std::path::Path;

use crate::command::run;
use crate::review::{pack, review_texts};

fn headlap(args: &[&str]) -> (i32, String, String) {
    run(Path::new(env!("CARGO_MANIFEST_DIR")), args)
}

/// The five mistakes are the library's own story: a stair window whose head flashing came after the flap, a link that is
/// not sealed to the old wall, an aisle roof without a kick-out, caps under a seam tape, a stack room wall tight on both
/// sides.
#[test]
fn the_demo_library_has_its_five_mistakes_and_one_waiver() {
    let (status, lines, _) = headlap(&["review", "examples/millrace", "--format", "lines", "--show", "waived"]);
    let reported: Vec<(&str, &str)> = lines
        .lines()
        .map(|line| {
            let file = line.split(':').next().expect("a file");
            let rule = line.rsplit_once('(').expect("a rule").1.trim_end_matches(')');
            (file.trim_start_matches("examples/millrace/"), if line.contains(" waived: ") { "waived" } else { rule })
        })
        .collect();
    assert_eq!(
        reported,
        [
            ("assemblies.detail", "vapor-trap"),
            ("existing.detail", "unsealed-transition"),
            ("openings.detail", "reverse-lap"),
            ("roof.detail", "missing-kick-out"),
            ("walls.detail", "waived"),
            ("walls.detail", "tape-over-fastener"),
        ]
    );
    assert_eq!(status, 1);
}

#[test]
fn the_demo_library_reads_well() {
    insta::assert_snapshot!(headlap(&["review", "examples/millrace"]).1);
}

#[test]
fn the_facts_of_a_detail_and_an_assembly_can_be_followed() {
    insta::assert_snapshot!(headlap(&["facts", "examples/millrace", "--only", "B1", "--only", "W1"]).1);
}

#[test]
fn the_installation_sequence_can_be_followed() {
    insta::assert_snapshot!(headlap(&["sequence", "examples/millrace", "--only", "O2-W1"]).1);
}

#[test]
fn what_start_writes_has_one_thing_to_learn_from() {
    let folder = std::env::temp_dir().join(format!("headlap-start-{}", std::process::id()));
    let place = folder.to_str().expect("a path");
    assert_eq!(headlap(&["start", place]).0, 0);
    let (status, lines, _) = headlap(&["review", place, "--format", "lines"]);
    let again = headlap(&["start", place]).0;
    std::fs::remove_dir_all(&folder).expect("it was written");
    assert_eq!((status, lines.lines().count()), (1, 1), "{lines}");
    assert!(lines.contains("(reverse-lap)"), "{lines}");
    assert_eq!(again, 2, "a folder with something in it is left alone");
}

#[test]
fn a_path_to_nothing_is_no_clean_review() {
    let (status, out, err) = headlap(&["review", "examples/nowhere"]);
    assert_eq!((status, out.as_str()), (2, ""));
    assert!(err.contains("examples/nowhere"), "{err}");
}

#[test]
fn the_levels_that_fail_are_the_callers() {
    let status = |level| headlap(&["review", "examples/millrace/base.detail", "--fail-on", level]).0;
    // The included assemblies have the vapor trap, an error.
    assert_eq!(["error", "warning", "note", "never"].map(status), [1, 1, 1, 0]);
}

#[test]
fn several_forms_come_from_one_run_and_agree() {
    let folder = std::env::temp_dir().join(format!("headlap-forms-{}", std::process::id()));
    std::fs::create_dir_all(&folder).expect("a folder");
    let file = |name: &str| folder.join(name).to_str().expect("a path").to_owned();
    let (json, sarif, junit) = (file("a.json"), file("a.sarif"), file("a.xml"));
    let (status, out, _) = headlap(&[
        "review",
        "examples/millrace",
        "--format",
        "json",
        "--out",
        &json,
        "--format",
        "sarif",
        "--out",
        &sarif,
        "--format",
        "junit",
        "--out",
        &junit,
    ]);
    let read = |name: &str| std::fs::read_to_string(name).expect("it was written");
    let json: serde_json::Value = serde_json::from_str(&read(&json)).expect("JSON");
    let sarif: serde_json::Value = serde_json::from_str(&read(&sarif)).expect("JSON");
    let junit = read(&junit);
    std::fs::remove_dir_all(&folder).expect("it was made");
    assert_eq!((status, out.as_str()), (1, ""));
    assert_eq!(json["findings"].as_array().map(Vec::len), Some(6));
    assert_eq!(sarif["runs"][0]["results"].as_array().map(Vec::len), Some(6));
    assert_eq!(junit.matches("<failure").count(), 5);
}

#[test]
fn the_rule_of_the_book_works_in_a_folder_of_its_own() {
    let page = include_str!("../../docs/src/rules-of-your-own.md");
    let rule = page.split("```toml,rule\n").nth(1).and_then(|rest| rest.split("```").next()).expect("a rule");
    let settings =
        "rules = [\"firm-rules\"]\n[adjust.not-rolled]\noff = true\nbecause = \"the specification says it\"\n";
    let folder = std::env::temp_dir().join(format!("headlap-firm-{}", std::process::id()));
    std::fs::create_dir_all(folder.join("firm-rules")).expect("a folder");
    std::fs::write(folder.join("firm-rules/wide-tape.toml"), rule).expect("written");
    std::fs::write(folder.join("headlap.toml"), settings).expect("written");
    let seam = "include \"stock.detail\"\nassembly C existing { outside; layer concrete 200 mm; inside }\n\
                detail s seam joins C {\n  piece left wrap-open along to 160 mm\n  piece right wrap-open along from 0 mm\n  \
                piece band acrylic-tape along -30 mm to 30 mm bonds left, right\n}\n";
    std::fs::write(folder.join("seam.detail"), seam).expect("written");
    let place = folder.to_str().expect("a path");
    let (status, lines, err) = headlap(&["review", place, "--format", "lines"]);
    let tested = headlap(&["rules", "test", folder.join("firm-rules").to_str().expect("a path")]);
    std::fs::remove_dir_all(&folder).expect("it was made");
    // The tape holds 30 mm on each side, and `not-rolled` is switched off by the settings.
    assert!(lines.contains("(wide-tape)") && !lines.contains("(not-rolled)"), "{lines}{err}");
    assert_eq!(status, 0, "a warning does not fail");
    assert_eq!(tested.1, "1 rules, 3 examples, 1 cures: 1 rules pass, 0 fail\n", "{}", tested.2);
}

/// Every climate that ships is read, and drives the numbers of a wall.
#[test]
fn the_climates_that_ship_are_read() {
    let climates: Vec<&str> = headlap::model::builtin_names().filter(|name| name.starts_with("climates/")).collect();
    assert!(climates.len() >= 4, "{climates:?}");
    for climate in climates {
        let name = climate.trim_start_matches("climates/").trim_end_matches(".detail");
        let text = format!(
            "include \"stock.detail\"\ninclude \"{climate}\"\nassembly W wall {{\n  climate {name}\n  outside\n  layer \
             wrap-open controls water, air\n  layer plywood 12 mm\n  layer mineral-wool 140 mm controls thermal between \
             spruce 38 mm at 400 mm\n  layer gypsum 12.5 mm\n  inside\n}}\n"
        );
        let report = review_texts(&[("a.detail", &text)]);
        assert!(report.findings.iter().all(|f| &*f.rule != "unknown-name" && &*f.rule != "syntax"), "{climate}");
    }
}

/// What the README shows of the first command is what a fresh clone prints, but for the lines that `…` stands for.
#[test]
fn the_readme_shows_lines_of_the_real_output() {
    let readme = include_str!("../../README.md");
    let start = readme.find("```\n── 3 ──").expect("the README shows findings") + "```\n".len();
    let shown = &readme[start..][..readme[start..].find("```").expect("the block ends")];
    let (_, text, _) = headlap(&["review", "examples/millrace"]);
    let mut printed = text.lines();
    for line in shown.lines().filter(|line| *line != "…") {
        assert!(printed.any(|known| known == line), "not printed, or not in this order: {line}");
    }
}

/// The table of the README says what the built-in rules are: each topic with its number of rules, and the sum.
#[test]
fn the_readme_counts_the_rules_as_the_tool_does() {
    let readme = std::fs::read_to_string(concat!(env!("CARGO_MANIFEST_DIR"), "/README.md")).expect("a README");
    let section = readme.split("\n## ").find(|part| part.starts_with("What is judged")).expect("a section");
    let rows: Vec<(String, usize)> = section
        .lines()
        .filter_map(|line| {
            let cells: Vec<&str> = line.strip_prefix("| ")?.split(" | ").collect();
            Some((cells.first()?.to_string(), cells.get(1)?.parse().ok()?))
        })
        .collect();
    let counted = headlap::output::by_topic(pack());
    let counted: Vec<(String, usize)> =
        counted.into_iter().map(|(topic, rules)| (topic.to_owned(), rules.len())).collect();
    assert_eq!(rows, counted, "README.md, What is judged");
    assert!(section.contains(&format!("{} rules", pack().rules.len())), "README.md, the number of all rules");
}
