//! The list of accepted findings: what it lets pass, and what is new in spite of it.

use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};

use serde_json::Value;

use crate::command::{git, run, scratch, write};

/// A head lap of so many millimetres.
fn lap(name: &str, length: u32) -> String {
    format!(
        "include \"stock.detail\"\nassembly W-{name} wall {{\n  outside\n  layer wrap-open controls water, air\n  layer plywood 12 mm\n  \
         inside\n}}\ndetail {name} course joins W-{name} {{\n  piece deck plywood of W-{name}\n  \
         piece lower wrap-open of W-{name} up to {length} mm\n  piece upper wrap-open of W-{name} up from 0 mm\n}}\n"
    )
}

/// How many findings of each rule are new.
fn new(folder: &Path, paths: &[&str]) -> BTreeMap<String, usize> {
    let args = [&["review", "--format", "json", "--known", "known.jsonl"], paths].concat();
    let (_, out, said) = run(folder, &args);
    let report: Value = serde_json::from_str(&out).unwrap_or_else(|error| panic!("{error}: {out}{said}"));
    let mut counts = BTreeMap::new();
    for finding in report["findings"].as_array().expect("findings").iter().filter(|f| f["known"] != true) {
        *counts.entry(finding["rule"].as_str().expect("a rule").to_owned()).or_default() += 1;
    }
    counts
}

fn adopted(name: &str, files: &[(&str, &str)]) -> PathBuf {
    let folder = scratch(name);
    for (file, text) in files {
        write(&folder, file, text);
    }
    let (status, said, _) = run(&folder, &["review", ".", "--write-known", "known.jsonl"]);
    assert_eq!(status, 0, "{said}");
    assert_eq!(new(&folder, &["."]), BTreeMap::new());
    folder
}

#[test]
fn numbers_and_wording_are_information() {
    let folder = adopted("known/numbers", &[("a.detail", &lap("A", 120))]);
    write(&folder, "a.detail", &lap("A", 110));
    assert_eq!(new(&folder, &["."]), BTreeMap::new(), "another length of the same short lap");
    let list = fs::read_to_string(folder.join("known.jsonl")).expect("the list");
    write(&folder, "known.jsonl", &list.replace("laps", "overlaps"));
    assert_eq!(new(&folder, &["."]), BTreeMap::new(), "another wording");
}

#[test]
fn renamed_files_and_details_are_followed_and_copies_are_new() {
    let folder = adopted("known/moved", &[("a.detail", &lap("A", 120)), ("b.detail", "")]);
    fs::rename(folder.join("a.detail"), folder.join("c.detail")).expect("renamed");
    assert_eq!(new(&folder, &["."]), BTreeMap::new(), "the file was renamed");
    assert_eq!(new(&folder, &["c.detail"]), BTreeMap::new(), "and is checked alone");
    write(&folder, "c.detail", "");
    write(&folder, "b.detail", &lap("A", 120));
    assert_eq!(new(&folder, &["."]), BTreeMap::new(), "the detail was moved to another file");

    let folder = adopted("known/renamed", &[("a.detail", &lap("A", 120))]);
    write(&folder, "a.detail", &lap("A2", 120));
    assert_eq!(new(&folder, &["."]), BTreeMap::new(), "the detail was renamed");

    let folder = adopted("known/copied", &[("a.detail", &lap("A", 120))]);
    write(&folder, "copy.detail", &lap("A", 120));
    assert!(new(&folder, &["."]).contains_key("short-head-lap"), "a copy of a bad file");
    assert!(new(&folder, &["copy.detail"]).contains_key("short-head-lap"), "also when it is checked alone");
    write(&folder, "copy.detail", "");
    write(&folder, "a.detail", &[lap("A", 120), lap("B", 120).replace("include \"stock.detail\"\n", "")].concat());
    assert!(new(&folder, &["."]).contains_key("short-head-lap"), "a copy of a bad detail");
    write(&folder, "a.detail", &[lap("A", 200), lap("B", 120).replace("include \"stock.detail\"\n", "")].concat());
    assert!(new(&folder, &["."]).contains_key("short-head-lap"), "also when the first one was mended");
}

#[test]
fn the_list_is_edited_and_merges() {
    let folder = adopted("known/edited", &[("a.detail", &lap("A", 120)), ("b.detail", &lap("B", 120))]);
    write(&folder, "c.detail", &lap("C", 120));
    // Of a part of the library, the whole list is not to be replaced.
    let (status, _, said) = run(&folder, &["review", "c.detail", "--write-known", "known.jsonl"]);
    assert_eq!((status, said.contains("headlap known add")), (2, true), "{said}");
    let add = ["known", "add", "c.detail", "--known", "known.jsonl", "--because", "phase 2", "--by", "KL"];
    let (status, said, _) = run(&folder, &[&add[..], &["--rule", "no-such-rule"]].concat());
    assert_eq!((status, said.starts_with("added 0 findings")), (0, true), "{said}");
    let (status, said, _) = run(&folder, &add);
    assert_eq!((status, said.starts_with("added ")), (0, true), "{said}");
    assert_eq!(new(&folder, &["."]), BTreeMap::new());
    let (_, listed, _) = run(&folder, &["known", "list", "--known", "known.jsonl"]);
    assert!(listed.contains("c.detail") && listed.contains("phase 2 (KL)"), "{listed}");

    write(&folder, "b.detail", &lap("B", 200));
    assert!(new(&folder, &["."]).contains_key("known-finding-gone"));
    assert_eq!(run(&folder, &["known", "prune", ".", "--known", "known.jsonl"]).0, 0);
    assert_eq!(new(&folder, &["."]), BTreeMap::new());
    let list = fs::read_to_string(folder.join("known.jsonl")).expect("the list");
    let of_b: Vec<&str> = list.lines().filter(|line| line.contains("b.detail")).collect();
    assert!(!of_b.is_empty() && of_b.iter().all(|line| !line.contains("short-head-lap")), "{list}");
    assert!(list.contains("phase 2"), "{list}");

    // A finding a line, sorted, whole without its neighbors: the lines of two branches together are a list.
    let lines: Vec<&str> = list.lines().collect();
    assert!(lines.is_sorted() && lines.iter().all(|line| serde_json::from_str::<Value>(line).is_ok()), "{list}");
    let mut both: Vec<&str> = lines.iter().rev().copied().collect();
    both.push(lines[0]);
    write(&folder, "known.jsonl", &both.join("\n"));
    assert_eq!(new(&folder, &["."]), BTreeMap::new());
    write(&folder, "known.jsonl", &format!("<<<<<<< ours\n{list}"));
    let (status, _, said) = run(&folder, &["review", ".", "--known", "known.jsonl"]);
    assert_eq!((status, said.contains("[known.jsonl:1:")), (2, true), "{said}");
}

/// Two branches that list findings beside each other, in a library as `start` writes it.
#[test]
fn lists_of_two_branches_merge_without_a_conflict() {
    let folder = scratch("known/branches");
    assert_eq!(run(&folder, &["start", "."]).0, 0);
    write(&folder, "m.detail", &lap("M", 120));
    assert_eq!(run(&folder, &["review", ".", "--write-known", "known.jsonl"]).0, 0);
    git(&folder, &["init", "-q", "-b", "main"]);
    git(&folder, &["add", "-A"]);
    git(&folder, &["commit", "-qm", "issued"]);
    for (branch, file, name) in [("one", "n.detail", "N"), ("two", "o.detail", "O")] {
        git(&folder, &["checkout", "-q", "-b", branch, "main"]);
        write(&folder, file, &lap(name, 120));
        assert_eq!(run(&folder, &["known", "add", file, "--known", "known.jsonl"]).0, 0);
        git(&folder, &["add", "-A"]);
        git(&folder, &["commit", "-qm", branch]);
    }
    git(&folder, &["merge", "-q", "-m", "both", "one"]);
    assert_eq!(new(&folder, &["."]), BTreeMap::new());
}

/// As versions before this one wrote it; the print is of rule, item, names and numbers.
#[test]
fn lists_of_the_former_format_are_read() {
    let folder = scratch("known/former");
    write(&folder, "a.detail", &lap("A", 120));
    let report: Value = serde_json::from_str(&run(&folder, &["review", ".", "--format", "sarif"]).1).expect("SARIF");
    let results = report["runs"][0]["results"].as_array().expect("results");
    let entries: Vec<String> = results
        .iter()
        .map(|result| {
            let print = &result["partialFingerprints"]["headlapFinding/v1"];
            format!(
                "{{\"file\":\"a.detail\",\"rule\":{},\"item\":\"A\",\"fingerprint\":{print},\"message\":\"\"}}",
                result["ruleId"]
            )
        })
        .collect();
    write(
        &folder,
        "known.jsonl",
        &format!("{{\n  \"about\": \"\",\n  \"known\": [\n{}\n  ]\n}}\n", entries.join(",\n")),
    );
    assert_eq!(new(&folder, &["."]), BTreeMap::new());
    assert_eq!(run(&folder, &["known", "prune", ".", "--known", "known.jsonl"]).0, 0);
    assert!(!fs::read_to_string(folder.join("known.jsonl")).expect("the list").contains("fingerprint"));
    assert_eq!(new(&folder, &["."]), BTreeMap::new());
}

#[test]
fn text_that_cannot_be_read_is_refused_on_the_list() {
    let folder = scratch("known/unread");
    write(&folder, "a.detail", "weep\n");
    let entry = "{\"file\":\"a.detail\",\"rule\":\"syntax\",\"item\":null,\"about\":[],\"message\":\"x\"}\n";
    write(&folder, "known.jsonl", entry);
    let found = new(&folder, &["."]);
    assert!(found.contains_key("syntax") && found.contains_key("known-finding-refused"), "{found:?}");
}
