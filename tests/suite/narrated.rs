//! What commands say to a screen reader: sentences, with nothing to be found by its column.

use crate::command::{run, scratch, write};

/// A window whose head flashing comes after the wrap.
fn project(name: &str) -> std::path::PathBuf {
    let folder = scratch(&format!("narrated/{name}"));
    write(
        &folder,
        "a.detail",
        "include \"stock.detail\"
assembly W wall \"Wall\" { outside; layer wrap-open controls water, air; layer plywood 12 mm; inside }
detail L ledger \"Ledger\" joins W {
  piece deck plywood   of W
  piece low  wrap-open of W up to 100 mm
  piece cap  aluminum-flashing up -40 mm to 150 mm with drip
  piece high wrap-open of W up from 200 mm
}
",
    );
    folder
}

#[test]
fn a_narrated_sequence_counts_its_steps() {
    let folder = project("sequence");
    let (_, text, _) = run(&folder, &["sequence", "a.detail", "--narrate"]);
    assert!(text.starts_with("Detail L, \"Ledger\", is installed in 4 steps.\n"), "{text}");
    for n in 1..=4 {
        assert!(text.contains(&format!("Step {n} of 4: ")), "{text}");
    }
    assert!(!text.contains("  ") && !text.contains("HOLD") && !text.contains(" - "), "{text}");
}

#[test]
fn narrated_statistics_are_sentences() {
    let folder = project("statistics");
    let (_, text, _) = run(&folder, &["review", "a.detail", "--statistics", "--narrate"]);
    for title in ["By rule. ", "By topic. ", "By folder. ", "By level. "] {
        assert!(text.contains(title), "{text}");
    }
    assert!(!text.contains("  "), "no columns: {text}");
    let (_, plain, _) = run(&folder, &["review", "a.detail", "--statistics"]);
    assert!(plain.contains("By rule\n"), "{plain}");
}

/// Every command that prints text for people, each with something to print.
#[test]
fn no_command_that_prints_text_has_columns_for_a_screen_reader() {
    let folder = project("commands");
    write(
        &folder,
        "headlap.toml",
        "known = \"known.jsonl\"\n[adjust.short-head-lap]\noff = true\nbecause = \"tight\"\n",
    );
    let waived = std::fs::read_to_string(folder.join("a.detail"))
        .expect("written")
        .replace("  piece high", "  waive reverse-lap on cap because \"so\" by \"KL\" until 2099-12-31\n  piece high");
    write(&folder, "a.detail", &waived);
    assert_eq!(run(&folder, &["known", "add", "--because", "phase 2", "--by", "LM"]).0, 0);
    for command in [
        &["review", "a.detail"][..],
        &["review", "a.detail", "--statistics"],
        &["review", "--explain-config", "a.detail"],
        &["facts", "a.detail"],
        &["sequence", "a.detail"],
        &["compare", "a.detail", "a.detail"],
        &["rules", "list"],
        &["rules", "show", "short-head-lap"],
        &["rules", "show", "metal-contact"],
        &["rules", "fields"],
        &["explain", "syntax"],
        &["explain", "incompatible-seal"],
        &["materials"],
        &["known", "list"],
        &["exceptions"],
    ] {
        let (_, text, said) = run(&folder, &[command, &["--narrate"]].concat());
        assert!(!text.trim().is_empty(), "{command:?}: {said}");
        let drawn =
            text.lines().find(|line| line.contains("  ") || line.starts_with(' ') || line.contains(['─', '│', '|']));
        assert_eq!(drawn, None, "{command:?}: {text}");
    }
}

#[test]
fn narrated_lists_of_rules_and_materials_have_no_columns() {
    let folder = project("lists");
    let (_, rules, _) = run(&folder, &["rules", "list", "--narrate"]);
    assert!(rules.contains("reverse-lap, error: ") && !rules.contains("  "), "{}", &rules[..400]);
    let (_, materials, _) = run(&folder, &["materials", "tape", "--narrate"]);
    assert!(materials.contains("acrylic-tape: ") && !materials.contains("  "), "{materials}");
}
