//! What a gate must never do: pass by accident, or write over what it reads.

use std::fs;
use std::path::{Path, PathBuf};

use assert_cmd::Command;
use serde_json::Value;

fn scratch(name: &str) -> PathBuf {
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join("gate").join(name);
    let _ = fs::remove_dir_all(&folder);
    fs::create_dir_all(&folder).expect("a folder");
    folder
}

fn run(folder: &Path, args: &[&str]) -> (i32, String, String) {
    let output =
        Command::cargo_bin("headlap").expect("built").current_dir(folder).args(args).output().expect("it runs");
    let text = |bytes: Vec<u8>| String::from_utf8(bytes).expect("UTF-8");
    (output.status.code().expect("a status"), text(output.stdout), text(output.stderr))
}

fn write(folder: &Path, name: &str, text: &str) {
    let path = folder.join(name);
    fs::create_dir_all(path.parent().expect("a parent")).expect("a folder");
    fs::write(path, text).expect("written");
}

fn read(folder: &Path, name: &str) -> String {
    fs::read_to_string(folder.join(name)).expect("it is there")
}

/// A short lap that nothing seals.
const SHORT: &str = "include \"stock.detail\"
assembly W wall { outside; layer wrap-open controls water, air; layer plywood 12 mm; inside }
detail A course joins W {
  piece deck  plywood   of W
  piece lower wrap-open of W  up to 120 mm
  piece upper wrap-open of W  up from 0 mm
}
";

fn waived(until: &str) -> String {
    let waiver = format!("  waive short-head-lap on upper because \"siding\" by \"KL\" until {until}\n}}");
    SHORT.trim_end().trim_end_matches('}').to_owned() + &waiver
}

/// The day so many days from now, where this test runs.
fn in_days(days: i32) -> String {
    use jiff::ToSpan;
    jiff::ZonedDateTime::now().date().saturating_add(days.days()).to_string()
}

#[test]
fn exceptions_are_listed_with_reason_author_and_days_left() {
    let folder = scratch("exceptions");
    write(&folder, "a.detail", &waived(&in_days(20)));
    write(&folder, "walls/b.detail", &SHORT.replace("detail A", "detail B").replace(" W ", " V "));
    let settings = "known = \"known.jsonl\"\n[[folder]]\npath = \"walls\"\n[folder.adjust.short-head-lap]\noff = true\nbecause = \"tight\"\n";
    write(&folder, "headlap.toml", settings);
    assert_eq!(run(&folder, &["known", "add", "--because", "phase 2", "--by", "LM"]).0, 0);
    let (status, out, said) = run(&folder, &["exceptions"]);
    assert_eq!((status, said.as_str()), (0, ""));
    for words in [
        "short-head-lap on upper",
        "20 days left",
        "\"siding\" (KL)",
        "in walls",
        "\"tight\"",
        "unsealed-seam",
        "\"phase 2\" (LM)",
    ] {
        assert!(out.contains(words), "{words}: {out}");
    }
    let (status, _, said) = run(&folder, &["exceptions", "--warn-before", "30 days"]);
    assert_eq!((status, said.contains("ends in 20 days")), (1, true), "{said}");
    assert_eq!(run(&folder, &["exceptions", "--warn-before", "2 weeks"]).0, 0);
    assert_eq!(run(&folder, &["exceptions", "--warn-before", "soon"]).0, 2);
    let all: Value = serde_json::from_str(&run(&folder, &["exceptions", "--format", "json"]).1).expect("JSON");
    assert_eq!((&all["waivers"][0]["days_left"], &all["waivers"][0]["covers"]), (&20.into(), &1.into()));
    assert_eq!((&all["adjustments"][0]["off"], &all["adjustments"][0]["folder"]), (&true.into(), &"walls".into()));

    // A report says what was not asked.
    let (_, text, _) = run(&folder, &["review", "."]);
    assert!(text.contains("Off: short-head-lap in walls (\"tight\")."), "{text}");
    let log: Value = serde_json::from_str(&run(&folder, &["review", ".", "--format", "sarif"]).1).expect("JSON");
    let overrides = &log["runs"][0]["invocations"][0]["ruleConfigurationOverrides"][0];
    assert_eq!(overrides["descriptor"]["id"], "short-head-lap");
    let (_, page, _) = run(&folder, &["review", ".", "--format", "html"]);
    assert!(page.contains("short-head-lap in walls"), "the page says it too");
}

#[test]
fn the_last_day_of_a_waiver_counts_in_full() {
    let folder = scratch("last-day");
    write(&folder, "a.detail", &waived(&in_days(0)));
    let (_, out, _) = run(&folder, &["review", ".", "--format", "lines"]);
    assert!(out.contains("waived: ") && !out.contains("expired-waiver"), "{out}");
    write(&folder, "a.detail", &waived(&in_days(-1)));
    let (_, out, _) = run(&folder, &["review", ".", "--format", "lines"]);
    assert!(!out.contains("waived: ") && out.contains("expired-waiver"), "{out}");
}

#[test]
fn no_output_is_written_over_what_is_read_or_over_another() {
    let folder = scratch("outputs");
    write(&folder, "a.detail", SHORT);
    write(&folder, "other.txt", SHORT);
    write(&folder, "headlap.toml", "rules = [\"firm\"]\nknown = \"known.jsonl\"\n");
    write(&folder, "firm/words.toml", "[words]\n");
    write(&folder, "known.jsonl", "{\"about\":\"\",\"format\":2}\n");
    write(&folder, "list", "a.detail\n");
    std::os::unix::fs::symlink(folder.join("a.detail"), folder.join("link")).expect("a link");
    let files = ["a.detail", "other.txt", "headlap.toml", "firm/words.toml", "known.jsonl", "list", "link"];
    let before: Vec<String> = files.iter().map(|file| read(&folder, file)).collect();
    for file in files {
        let args = ["review", "a.detail", "other.txt", "--files-from", "list", "--format", "sarif", "--out", file];
        let (status, _, said) = run(&folder, &args);
        assert_eq!((status, said.contains("overwritten")), (2, true), "{file}: {said}");
    }
    assert_eq!(run(&folder, &["compare", ".", ".", "--out", "a.detail"]).0, 2);
    assert_eq!(run(&folder, &["review", ".", "--write-known", "a.detail"]).0, 2);
    let same = ["--format", "sarif", "--out", "x", "--format", "junit", "--out", "./x"];
    assert_eq!(run(&folder, &[&["review", "a.detail"][..], &same].concat()).0, 2);
    assert_eq!(run(&folder, &["review", "a.detail", "--format", "json", "--format", "sarif"]).0, 2);
    let after: Vec<String> = files.iter().map(|file| read(&folder, file)).collect();
    assert_eq!(before, after);
    assert!(!folder.join("x").exists());
}

#[test]
fn a_run_that_could_not_be_made_leaves_no_stale_log() {
    let folder = scratch("stale");
    write(&folder, "a.detail", "");
    let args = ["review", ".", "--format", "sarif", "--out", "x.sarif", "--format", "junit", "--out", "x.xml"];
    assert_eq!(run(&folder, &args).0, 0);
    let success = |folder: &Path| {
        let log: Value = serde_json::from_str(&read(folder, "x.sarif")).expect("JSON");
        log["runs"][0]["invocations"][0]["executionSuccessful"].clone()
    };
    assert_eq!(success(&folder), true);
    write(&folder, "headlap.toml", "no settings");
    assert_eq!(run(&folder, &args).0, 2);
    assert_eq!(success(&folder), false);
    assert!(read(&folder, "x.xml").contains("errors=\"1\""));
}
