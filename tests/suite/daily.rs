//! Everyday use of a review: parts of it, counts of it, and a text that is not saved yet.

use std::fs;
use std::path::{Path, PathBuf};

use crate::command::{headlap, run, run_with, scratch as empty, write};

/// A short lap that nothing seals, on a sheet.
const SHORT: &str = "include \"stock.detail\"
assembly W wall { outside; layer wrap-open controls water, air; layer plywood 12 mm; inside }
detail A course joins W {
  sheet \"A-501\"
  piece deck  plywood   of W
  piece lower wrap-open of W  up to 120 mm
  piece upper wrap-open of W  up from 0 mm
}
";

fn scratch(name: &str) -> PathBuf {
    let folder = empty(&format!("daily/{name}"));
    fs::create_dir_all(folder.join("walls")).expect("a folder");
    fs::write(folder.join("headlap.toml"), "").expect("written");
    fs::write(folder.join("walls/a.detail"), SHORT).expect("written");
    let other = SHORT
        .replace("detail A", "detail B")
        .replace("A-501", "A-502")
        .replace("ly W", "ly V")
        .replace("of W", "of V")
        .replace("joins W", "joins V");
    fs::write(folder.join("b.detail"), other).expect("written");
    folder
}

fn lines(folder: &Path, args: &[&str]) -> (i32, Vec<String>) {
    let (status, out, _) = run(folder, &[&["review", "--format", "lines"][..], args].concat());
    (status, out.lines().map(str::to_owned).collect())
}

#[test]
fn a_part_of_the_findings_can_be_shown() {
    let folder = scratch("filters");
    let (status, all) = lines(&folder, &[]);
    assert_eq!((status, all.len()), (1, 4), "the current folder is checked by default: {all:?}");
    for (args, wanted) in [
        (&["--rule", "short-head-lap"] as &[&str], "(short-head-lap)"),
        (&["--not-rule", "unsealed-seam"], "(short-head-lap)"),
        (&["--level", "error"], ": error: "),
        (&["--item", "A"], "walls/a.detail:"),
        (&["--sheet", "A-502"], "b.detail:"),
    ] {
        let (_, shown) = lines(&folder, args);
        let expected: Vec<String> = all.iter().filter(|line| line.contains(wanted)).cloned().collect();
        assert_eq!(shown, expected, "{args:?}");
        assert_eq!(shown.len(), 2, "{args:?}");
    }
    assert_eq!(lines(&folder, &["--rule", "short-head-lap"]).0, 0, "warnings do not fail");
    let (status, _, said) = run(&folder, &["review", "--rule", "short-hed-lap"]);
    assert_eq!((status, said.contains("did you mean \"short-head-lap\"?")), (2, true), "{said}");
    // What could not be read is shown in every part.
    fs::write(folder.join("c.detail"), "weep\n").expect("written");
    let (status, shown) = lines(&folder, &["--item", "A", "--rule", "short-head-lap"]);
    assert_eq!((status, shown.len()), (1, 2), "{shown:?}");
}

#[test]
fn logs_show_new_findings_only() {
    let folder = scratch("new");
    let waived = SHORT.replace("  piece deck", "  waive short-head-lap because \"siding\"\n  piece deck");
    fs::write(folder.join("walls/a.detail"), waived).expect("written");
    assert_eq!(run(&folder, &["known", "add", "b.detail", "--known", "k.jsonl"]).0, 0);
    fs::write(folder.join("headlap.toml"), "known = \"k.jsonl\"\n").expect("written");
    for (show, count) in [(&[] as &[&str], 1), (&["--show", "waived"], 2), (&["--show", "known,waived"], 4)] {
        assert_eq!(lines(&folder, show).1.len(), count, "{show:?}");
        let (_, out, _) = run(&folder, &[&["review", "--format", "jsonl"][..], show].concat());
        assert_eq!(out.lines().count(), count, "{show:?}");
    }
}

#[test]
fn findings_are_counted() {
    let (_, out, _) = run(&scratch("statistics"), &["review", "--statistics"]);
    for words in [
        "By rule\n     2  short-head-lap",
        "By topic\n     2  continuity",
        "By folder\n     2  .",
        "     2  walls",
        "By level\n     2  error",
    ] {
        assert!(out.contains(words), "{words}: {out}");
    }
}

#[test]
fn a_text_from_standard_input_stands_where_its_name_says() {
    let folder = scratch("piped");
    fs::write(folder.join("base.detail"), SHORT.split_once("detail A").expect("a detail").0).expect("written");
    let text = format!("include \"../base.detail\"\ndetail C{}", SHORT.split_once("detail A").expect("a detail").1);
    let args = ["review", "-", "--stdin-name", "walls/new.detail", "--format", "lines"];
    let (status, out, _) = run_with(&folder, &args, text.as_bytes());
    assert_eq!((status, out.lines().count()), (1, 2), "{out}");
    assert!(out.lines().all(|line| line.starts_with("walls/new.detail:6:")), "{out}");
    // It stands in the place of what is saved.
    let args = ["review", "-", "--stdin-name", "walls/a.detail", "--format", "lines"];
    assert_eq!(run_with(&folder, &args, b"# empty\n"), (0, String::new(), String::new()));
    assert_eq!(run(&folder, &["review", "-", "b.detail"]).0, 2);
    assert_eq!(run(&folder, &["review", "b.detail", "--stdin-name", "x"]).0, 2);
}

#[test]
fn the_caution_is_no_part_of_every_log() {
    let folder = scratch("quiet");
    let (_, whole, _) = run(&folder, &["review"]);
    assert!(whole.contains("drafting aid") && whole.contains("2 errors, 2 warnings"), "{whole}");
    let (_, quiet, _) = run(&folder, &["review", "--quiet"]);
    assert!(quiet.contains("── 4 ──") && !quiet.contains("drafting aid") && !quiet.contains("2 errors"), "{quiet}");
    let output = headlap().current_dir(&folder).env("CI", "true").arg("review").output().expect("it runs");
    let log = String::from_utf8(output.stdout).expect("UTF-8");
    assert!(log.contains("2 errors, 2 warnings") && !log.contains("drafting aid"), "{log}");
}

#[test]
fn a_rule_is_explained_and_completed_by_its_id() {
    let folder = scratch("explained");
    let (_, page, _) = run(&folder, &["explain", "short-head-lap"]);
    assert_eq!(page, run(&folder, &["rules", "show", "short-head-lap"]).1);
    assert!(run(&folder, &["explain", "syntax"]).1.starts_with("syntax: "));
    for shell in ["bash", "zsh", "fish"] {
        assert!(run(&folder, &["completions", shell]).1.contains("short-head-lap"), "{shell}");
    }
}

#[test]
fn a_word_that_is_no_rule_leads_to_rules_about_it() {
    let folder = scratch("word");
    let (status, _, said) = run(&folder, &["explain", "Kick-out"]);
    assert!(status == 2 && said.contains("missing-kick-out") && said.contains("headlap rules list"), "{said}");
    let (_, _, said) = run(&folder, &["explain", "zebra"]);
    assert!(!said.contains("there are") && said.contains("headlap rules list"), "{said}");
}

/// Reads of the pipe wait for the program, so that nothing here depends on time.
#[test]
fn a_watched_library_is_checked_after_every_change() {
    use std::io::{BufRead, BufReader};
    use std::process::Stdio;
    let folder = scratch("watched");
    let program = assert_cmd::cargo::cargo_bin!("headlap");
    let mut child = std::process::Command::new(program)
        .current_dir(&folder)
        .args(["review", "--watch", "--format", "lines", "--rule", "short-head-lap"])
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .expect("it runs");
    let mut lines = BufReader::new(child.stdout.take().expect("a pipe")).lines();
    let mut asides = BufReader::new(child.stderr.take().expect("a pipe")).lines();
    let mut line = || lines.next().expect("a line").expect("text");
    assert!(line().starts_with("b.detail:7:") && line().starts_with("walls/a.detail:7:"));
    assert_eq!(asides.next().expect("a line").expect("text"), "headlap: waiting for changes; stop with Ctrl-C");
    fs::write(folder.join("b.detail"), "").expect("written");
    assert!(line().starts_with("walls/a.detail:7:"), "one is mended");
    child.kill().expect("it still waits");
    child.wait().expect("it ends");
}

#[test]
fn items_are_completed_by_the_names_of_the_library() {
    let folder = empty("daily/items");
    write(&folder, "headlap.toml", "");
    write(&folder, "a.detail", "assembly W-north wall { }\ndetail eave-7 eave joins W-north { }\nnot a line\n");
    for shell in ["bash", "zsh", "fish"] {
        let (_, script, _) = run(&folder, &["completions", shell]);
        assert!(script.contains("eave-7") && script.contains("W-north"), "{shell}");
    }
}

/// None is dropped or moved: the eleventh of a rule and those after it are shown in short.
#[test]
fn many_findings_of_one_rule_say_once_what_they_have_in_common() {
    let folder = empty("daily/many");
    let head = "include \"stock.detail\"\nassembly C existing { outside; layer concrete 200 mm; inside }\n";
    let detail = |n: u32| {
        format!(
            "detail D{n:02} course joins C {{\n  piece high wrap-open up from 0 mm\n  piece low wrap-open up to 150 mm\n}}\n"
        )
    };
    let text: String = (1..=12).map(detail).collect();
    write(&folder, "a.detail", &format!("{head}{text}"));
    let (_, out, _) = run(&folder, &["review", ".", "--rule", "reverse-lap", "--quiet"]);
    assert_eq!(out.lines().filter(|line| line.starts_with("\u{2500}\u{2500} ")).count(), 12, "{out}");
    assert_eq!(out.matches("\u{256d}").count(), 10, "ten excerpts: {out}");
    let short: Vec<&str> = out.split("\n\n").skip(10).filter(|part| !part.trim().is_empty()).collect();
    for (part, (name, line)) in short.iter().zip([("D11", 45), ("D12", 49)]) {
        assert!(part.contains(name) && part.contains(&format!("At        a.detail:{line}:9")), "{part}");
        assert!(part.contains("To do") && part.contains("Basis     as in finding 1"), "{part}");
    }
    assert_eq!(short.len(), 2, "{out}");
}
