//! Editions of the stock rules: what is pinned judges as it did. `HEADLAP_EDITION=write cargo test --test suite edition`
//! writes the newest edition anew, as long as it has not been published.

use std::collections::BTreeMap;
use std::fs;
use std::hash::{Hash, Hasher};
use std::path::{Path, PathBuf};
use std::sync::Arc;

use headlap::rules::{Edition, Pack, edition, editions, prints, stock_sources};
use headlap::text::{FileId, Source};

use crate::command::{run, scratch, write};

const NEWEST: &str = "2026";

fn root() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

fn stock() -> BTreeMap<String, String> {
    stock_sources().iter().flat_map(|source| prints(source)).collect()
}

fn writes() -> bool {
    std::env::var_os("HEADLAP_EDITION").is_some_and(|value| value == "write")
}

/// A rule that is changed without a line in the list, or one whose former text was not kept, is reported here.
#[test]
fn every_edition_has_all_that_it_judges_by_and_every_change_since_is_written_down() {
    let now = stock();
    if writes() {
        let lines: String = now.iter().map(|(name, print)| format!("{name:?} = \"{print}\"\n")).collect();
        let about = "# What each rule and table of this edition judges by. Written by a test: tests/suite/edition.rs\n";
        fs::write(root().join(format!("rules/editions/{NEWEST}.list")), format!("{about}{lines}")).expect("written");
        return;
    }
    let changes = fs::read_to_string(root().join("docs/src/rule-changes.md")).expect("the changes are written down");
    let mut missing = Vec::new();
    for name in editions() {
        let edition = edition(name).expect("it is listed");
        assert!(!edition.prints.is_empty(), "{name} can be read");
        let older: BTreeMap<String, String> = edition.older.iter().flat_map(|source| prints(source)).collect();
        for (what, print) in &edition.prints {
            if older.get(what).or(now.get(what)) != Some(print) {
                missing.push(format!(
                    "{what} judges by something else than in {name}: keep its former text in rules/editions/{name}"
                ));
            }
        }
        let section = changes.split("\n## ").find(|section| section.starts_with(&format!("After edition {name}\n")));
        for what in now.iter().filter(|(what, print)| edition.prints.get(*what) != Some(print)).map(|(what, _)| what) {
            let id = what.split_once(' ').expect("a kind and a name").1;
            if !section.is_some_and(|section| section.contains(&format!("- `{id}`: "))) {
                missing.push(format!(
                    "docs/src/rule-changes.md does not say under \"After edition {name}\" how {what} has changed"
                ));
            }
        }
    }
    assert!(
        missing.is_empty(),
        "{}\nUntil the edition is published: HEADLAP_EDITION=write cargo test --test suite edition",
        missing.join("\n")
    );
}

fn fixtures() -> Vec<PathBuf> {
    let mut files: Vec<PathBuf> = ["tests/findings", "examples/millrace"]
        .iter()
        .flat_map(|folder| fs::read_dir(root().join(folder)).expect("it is there").flatten().map(|entry| entry.path()))
        .filter(|path| path.extension().is_some_and(|ending| ending == "detail"))
        .collect();
    files.sort();
    files
}

fn print(text: &str) -> String {
    let mut hasher = siphasher::sip::SipHasher13::new();
    text.hash(&mut hasher);
    format!("{:016x}", hasher.finish())
}

/// Verdicts move with the program as well as with the rules: the fixtures whose texts are as they were bring the findings
/// that they brought, by rule, level and place.
#[test]
fn verdicts_of_an_edition_do_not_move() {
    let folder = scratch("edition/verdicts");
    for path in fixtures() {
        let name = path.strip_prefix(root()).expect("of the project").to_string_lossy().replace('\\', "/");
        write(&folder, &name, &fs::read_to_string(&path).expect("text"));
    }
    if !writes() {
        write(&folder, "headlap.toml", &format!("rules-edition = \"{NEWEST}\"\n"));
    }
    let (_, out, said) = run(&folder, &["review", ".", "--format", "jsonl", "--show", "waived", "--no-cache"]);
    let mut found: BTreeMap<String, String> = BTreeMap::new();
    for line in out.lines() {
        let finding: serde_json::Value = serde_json::from_str(line).unwrap_or_else(|_| panic!("{said}"));
        let part = |key: &str| finding[key].to_string();
        let all = found.entry(finding["file"].as_str().expect("a file").to_owned()).or_default();
        all.push_str(&["rule", "level", "line", "column", "end_line", "end_column", "item"].map(part).join(" "));
        all.push('\n');
    }
    let list = root().join(format!("tests/editions/{NEWEST}.txt"));
    let line = |path: &PathBuf| {
        let name = path.strip_prefix(root()).expect("of the project").to_string_lossy().replace('\\', "/");
        let text = fs::read_to_string(path).expect("text");
        (name.clone(), print(&text), print(found.get(&name).map_or("", String::as_str)))
    };
    let now: Vec<(String, String, String)> = fixtures().iter().map(line).collect();
    if writes() {
        let lines: String = now.iter().map(|(name, text, found)| format!("{name} {text} {found}\n")).collect();
        fs::create_dir_all(list.parent().expect("a folder")).and_then(|()| fs::write(&list, lines)).expect("written");
        return;
    }
    let before = fs::read_to_string(&list).expect("the verdicts are filed");
    let before: BTreeMap<&str, (&str, &str)> = before
        .lines()
        .filter_map(|line| line.split_once(' ').and_then(|(name, rest)| Some((name, rest.split_once(' ')?))))
        .collect();
    let held = now.iter().filter_map(|(name, text, found)| {
        before.get(&**name).filter(|(then, _)| then == text).map(|(_, then)| (name, then == found))
    });
    let held: Vec<(&String, bool)> = held.collect();
    let moved: Vec<&String> = held.iter().filter(|(_, same)| !same).map(|(name, _)| *name).collect();
    assert!(moved.is_empty(), "these texts are as they were, and are judged otherwise: {moved:?}");
    assert!(2 * held.len() > now.len(), "the list of verdicts is of other texts: {} of {}", held.len(), now.len());
}

const HEAD: &str = "title = 'x'\nabout = 'piece'\nsays = '{piece}'\n[[rule.basis]]\nknown = 'practice'\n";

/// One rule is as it was, one has changed since the edition, one came later.
#[test]
fn a_pinned_edition_judges_as_it_did() {
    let rule = |id: &str, level: &str, limit: u32| {
        format!("[[rule]]\nid = '{id}'\nlevel = '{level}'\nneeds = 'index > limit'\nlimit = {limit}\n{HEAD}")
    };
    let source = |at: usize, text: String| Arc::new(Source::new(FileId::detail(at), format!("{at}.toml"), text));
    let same = source(1, rule("same", "error", 1));
    let (former, changed) = (source(2, rule("changed", "error", 2)), source(3, rule("changed", "note", 3)));
    let later = source(4, rule("later", "error", 4));
    let list: String = [&same, &former]
        .iter()
        .flat_map(|s| prints(s))
        .map(|(what, print)| format!("{what:?} = \"{print}\"\n"))
        .collect();
    let pinned = Edition::of("one", &list, vec![former.clone()]);
    assert_eq!(pinned.prints.len(), 2);
    let base = [same, changed, later];
    let firm = [source(5, rule("own", "error", 5))];
    let of = |edition: Option<&Edition>| {
        let pack = Pack::of_edition(edition, &base, &firm).unwrap_or_else(|problems| panic!("{problems:?}"));
        pack.rules.iter().map(|rule| (rule.id.to_string(), rule.span.file, rule.off)).collect::<Vec<_>>()
    };
    let reported = |id: &str, file, off| (id.to_owned(), FileId::detail(file), off);
    let now = [
        reported("changed", 3, false),
        reported("later", 4, false),
        reported("own", 5, false),
        reported("same", 1, false),
    ];
    assert_eq!(of(None), now);
    let then = [
        reported("changed", 2, false),
        reported("later", 4, true),
        reported("own", 5, false),
        reported("same", 1, false),
    ];
    assert_eq!(of(Some(&pinned)), then);
    // Words are no verdict, limits are.
    let print_of = |text: &str| prints(&source(9, text.to_owned())).into_values().next().expect("one rule");
    let text = rule("same", "error", 1);
    assert_eq!(print_of(&text), print_of(&text.replace("'x'", "'y'")));
    assert_ne!(print_of(&text), print_of(&text.replace("= 1", "= 7")));
    assert_ne!(print_of(&text), print_of(&text.replace("error", "note")));
}

#[test]
fn a_library_pins_an_edition_by_its_name() {
    let folder = scratch("edition/pinned");
    write(&folder, "a.detail", "climate six { zone 6A }\n");
    write(&folder, "headlap.toml", "rules-edition = \"1901\"\n");
    let (status, _, said) = run(&folder, &["review", "."]);
    assert!(status == 2 && said.contains("no such edition") && said.contains("\"2026\""), "{said}");
    write(&folder, "headlap.toml", "rules-edition = \"2026\"\n");
    assert_eq!(run(&folder, &["review", "."]).0, 0);
    let (_, out, _) = run(&folder, &["review", "--explain-config", "a.detail"]);
    assert!(out.contains("rules-edition") && out.contains("headlap.toml:1"), "{out}");
}
