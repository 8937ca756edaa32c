//! Cached results: a run that uses them reports what a run without them would.

use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::time::{Duration, SystemTime};

use headlap::output;
use headlap::project::{Cache, ReviewTask, open, review, walk};
use jiff::civil::{Date, date};

use crate::review::TODAY;

const WALL: &str =
    "include \"stock.detail\"\nassembly W existing { outside; layer wrap-open controls water; inside }\n";

/// A head lap of this many millimetres: 149 is too short, 150 is enough.
fn lap(name: &str, length: u32) -> String {
    format!(
        "include \"shared.detail\"\ndetail {name} course joins W {{\n  piece deck plywood\n  piece low wrap-open of W up to \
         {length} mm\n  piece high wrap-open of W up from 0 mm\n}}\n"
    )
}

/// A library of its own for a test: two details over a shared wall.
fn library(name: &str) -> PathBuf {
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join("cache").join(name);
    let _ = fs::remove_dir_all(&folder);
    fs::create_dir_all(folder.join("details")).expect("the target folder can be written");
    for (path, text) in [
        ("details/shared.detail", WALL.to_owned()),
        ("details/a.detail", lap("A", 149)),
        ("details/b.detail", lap("B", 150)),
    ] {
        write(&folder, path, &text);
    }
    folder
}

fn write(folder: &Path, path: &str, text: &str) {
    fs::write(folder.join(path), text).expect("the target folder can be written");
}

fn store(folder: &Path) -> PathBuf {
    let mut files =
        fs::read_dir(folder.join("kept")).expect("a folder was made").map(|entry| entry.expect("read").path());
    let file = files.next().expect("a file was written");
    assert!(files.next().is_none(), "one file for a project, and nothing half-written beside it");
    file
}

struct Reported {
    lines: Vec<String>,
    /// Files that were found unchanged, and files that were read to find out.
    recalled: (usize, usize),
}

fn reported(folder: &Path, paths: &[&str], cached: bool, today: Date, now: SystemTime) -> Reported {
    let project = open(folder, folder).unwrap_or_else(|report| panic!("{:?}", report.findings));
    let walked = walk(&paths.iter().map(PathBuf::from).collect::<Vec<_>>(), folder);
    let cache = Cache::open(&folder.join("kept"), &project, folder, today, now);
    let task = ReviewTask {
        project: &project,
        walked: &walked,
        working: folder,
        today: today.into(),
        keep: false,
        texts: true,
        cache: cached.then_some(&cache),
        memory: None,
        progress: &|_| {},
    };
    let report = review(&task).report;
    // The whole of a finding, so that nothing of it can get lost in between.
    let mut json = Vec::new();
    output::json(&report, &mut json).expect("written");
    let value: serde_json::Value = serde_json::from_slice(&json).expect("JSON");
    let findings = value["findings"].as_array().expect("a list").iter();
    let lines =
        std::iter::once(value["files"].to_string()).chain(findings.map(|finding| finding.to_string())).collect();
    let recalled = cache.recalled();
    if cached {
        cache.close(&walked).expect("the target folder can be written");
    }
    Reported { lines, recalled }
}

/// Two runs that keep, held against one that does not. Gives what the second found unchanged.
fn agree(folder: &Path, today: Date) -> (usize, usize) {
    let anew = reported(folder, &["details"], false, today, SystemTime::now()).lines;
    let first = reported(folder, &["details"], true, today, SystemTime::now()).lines;
    let second = reported(folder, &["details"], true, today, SystemTime::now());
    assert_eq!(first, anew);
    assert_eq!(second.lines, anew);
    second.recalled
}

fn rules(folder: &Path, today: Date) -> Vec<String> {
    let reported = reported(folder, &["details"], true, today, SystemTime::now()).lines;
    let rule = |line: &String| {
        let finding: serde_json::Value = serde_json::from_str(line).expect("JSON");
        format!("{} {}", finding["item"].as_str().unwrap_or(""), finding["rule"].as_str().unwrap_or(""))
            .trim()
            .to_owned()
    };
    reported.iter().skip(1).map(rule).collect()
}

#[test]
fn a_second_run_reports_the_same_and_checks_nothing_again() {
    let folder = library("same");
    assert_eq!(agree(&folder, TODAY), (3, 3));
    let count = &reported(&folder, &["details"], true, TODAY, SystemTime::now()).lines[0];
    assert_eq!(count, "3", "the shared file is one of those that were named, and counts once");
    assert_eq!(rules(&folder, TODAY), ["A short-head-lap"]);
}

/// All kinds of findings: trails, related places, waivers, text errors, fragments, needs of sets.
#[test]
fn every_finding_of_the_fixtures_and_the_demo_survives() {
    let folder = library("all");
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let mut count = 0;
    for from in ["tests/findings", "examples/millrace"] {
        for entry in fs::read_dir(root.join(from)).expect("it is there") {
            let path = entry.expect("read").path();
            if path.extension().is_some_and(|ending| ending == "detail") {
                fs::copy(&path, folder.join("details").join(path.file_name().expect("a name"))).expect("copied");
                count += 1;
            }
        }
    }
    let (unchanged, _) = agree(&folder, TODAY);
    assert!(unchanged * 10 > count * 8, "{unchanged} of {count} were found unchanged");
}

#[test]
fn what_a_file_depends_on_is_seen_to_change() {
    let folder = library("change");
    assert_eq!(rules(&folder, TODAY), ["A short-head-lap"]);
    // The file itself, with as many bytes as before.
    write(&folder, "details/b.detail", &lap("B", 149));
    assert_eq!(rules(&folder, TODAY), ["A short-head-lap", "B short-head-lap"]);
    write(&folder, "details/b.detail", &lap("B", 150));
    assert_eq!(rules(&folder, TODAY), ["A short-head-lap"]);
    // What it includes, and what that includes.
    write(&folder, "details/shared.detail", "include \"deep.detail\"\n");
    let mut lost = rules(&folder, TODAY);
    lost.dedup();
    assert_eq!(lost, ["A unknown-name", "B unknown-name", "include-failed"]);
    write(&folder, "details/deep.detail", WALL);
    assert_eq!(rules(&folder, TODAY), ["A short-head-lap"]);
    write(&folder, "details/deep.detail", &WALL.replace("wrap-open", "plywood"));
    let changed = rules(&folder, TODAY);
    assert_ne!(changed, ["A short-head-lap"]);
    assert_eq!(reported(&folder, &["details"], false, TODAY, SystemTime::now()).lines.len(), changed.len() + 1);
    write(&folder, "details/deep.detail", WALL);
    // The settings, a folder's settings, a rule of the firm.
    let off = "[adjust.short-head-lap]\noff = true\nbecause = \"a test\"\n";
    write(&folder, "headlap.toml", off);
    assert_eq!(rules(&folder, TODAY), [""; 0]);
    write(&folder, "headlap.toml", "");
    assert_eq!(rules(&folder, TODAY), ["A short-head-lap"]);
    write(
        &folder,
        "headlap.toml",
        &format!("[[folder]]\npath = \"details\"\n{}", off.replace("adjust", "folder.adjust")),
    );
    assert_eq!(rules(&folder, TODAY), [""; 0]);
    write(&folder, "headlap.toml", "rules = [\"firm.toml\"]\n");
    let rule = "[[rule]]\nid = 'firm-lap'\ntitle = 'x'\nlevel = 'note'\nabout = 'lap'\nneeds = 'length >= limit'\nlimit = '1 mm'\nsays = 'x'\n";
    write(&folder, "firm.toml", rule);
    assert_eq!(rules(&folder, TODAY), ["A short-head-lap"]);
    write(&folder, "firm.toml", &rule.replace("1 mm", "200 mm"));
    let both = ["A firm-lap", "A short-head-lap", "B firm-lap"];
    let mut found = rules(&folder, TODAY);
    found.retain(|line| line.contains("lap"));
    found.sort();
    assert_eq!(found, both);
}

#[test]
fn a_waiver_ends_on_its_day() {
    let folder = library("waiver");
    let waived = lap("A", 149)
        .replace("}\n", "  waive short-head-lap because \"as agreed\" by \"R. Lund\" until 2026-11-30\n}\n");
    write(&folder, "details/a.detail", &waived);
    let open = |today| {
        let lines = reported(&folder, &["details"], true, today, SystemTime::now()).lines;
        lines.iter().any(|line| line.contains("\"short-head-lap\"") && line.contains("\"waived\":null"))
    };
    assert!(!open(date(2026, 11, 30)));
    assert!(!open(date(2026, 11, 30)));
    assert!(open(date(2026, 12, 1)));
    assert!(!open(date(2026, 11, 30)));
}

/// Files that lie untouched for a while are not even read, unless there is something to show of them.
#[cfg(unix)]
#[test]
fn untouched_files_are_not_read() {
    let folder = library("untouched");
    let later = SystemTime::now() + Duration::from_secs(60);
    let first = reported(&folder, &["details"], true, TODAY, later);
    let second = reported(&folder, &["details"], true, TODAY, later);
    assert_eq!(first.lines, second.lines);
    assert_eq!(second.recalled, (3, 1), "A is shown with its source; B and the shared wall are only looked at");
    // A file that was just written to may be written to again without a sign of it.
    let now = fs::metadata(folder.join("details/a.detail")).and_then(|about| about.modified()).expect("a time");
    write(&folder, "details/b.detail", &lap("B", 149));
    let third = reported(&folder, &["details"], true, TODAY, now);
    assert_eq!(third.recalled, (2, 3));
    let fourth = reported(&folder, &["details"], true, TODAY, now);
    assert_eq!(fourth.recalled, (3, 3), "nothing is settled yet");
    assert_eq!(third.lines, fourth.lines);
    // Restored with the old time of writing: the time of change gives it away.
    let path = folder.join("details/b.detail");
    let written = fs::metadata(&path).and_then(|about| about.modified()).expect("a time");
    assert_eq!(reported(&folder, &["details"], true, TODAY, later).recalled, (3, 2), "stamped now");
    write(&folder, "details/b.detail", &lap("B", 151));
    fs::File::options().append(true).open(&path).and_then(|file| file.set_modified(written)).expect("set back");
    assert!(reported(&folder, &["details"], true, TODAY, later).lines.iter().all(|line| !line.contains("\"B\"")));
}

/// Whatever stands in names, and whichever of them come first: none of them hides another.
#[cfg(unix)]
#[test]
fn files_of_any_name_are_found_again() {
    let folder = library("names");
    let names = [
        "a",
        "a b",
        "a!",
        "a\"",
        "a\"b",
        "a\\",
        "a\\\"",
        "a\tb",
        "a\nb",
        "a\u{1}",
        "a,",
        "a.b",
        "ab",
        "aä",
        "a\u{10FFFF}",
    ];
    for name in names {
        write(&folder, &format!("details/{name}.detail"), &lap("N", 150));
    }
    // One of the names, `a.detail`, is that of a file of the library.
    assert_eq!(agree(&folder, TODAY).0, names.len() + 2);
}

#[test]
fn a_damaged_file_holds_nothing() {
    let folder = library("damaged");
    let anew = reported(&folder, &["details"], false, TODAY, SystemTime::now()).lines;
    let run = || reported(&folder, &["details"], true, TODAY, SystemTime::now());
    run();
    let whole = fs::read(store(&folder)).expect("written");
    let cut = (0..whole.len()).step_by(97).map(|at| whole[..at].to_vec());
    let zeroed = (0..whole.len()).step_by(97).map(|at| {
        let mut bytes = whole.clone();
        bytes[at] = if bytes[at] == b'0' { b'1' } else { b'0' };
        bytes
    });
    for bytes in cut.chain(zeroed) {
        fs::write(store(&folder), &bytes).expect("the target folder can be written");
        let reported = run();
        assert_eq!(reported.lines, anew);
        assert_eq!(reported.recalled.0, 0, "{}", String::from_utf8_lossy(&bytes));
    }
    fs::remove_dir_all(folder.join("kept")).expect("it can be deleted");
    assert_eq!(run().lines, anew);
}

#[test]
fn a_part_of_the_library_leaves_the_rest_and_what_is_gone_goes() {
    let folder = library("part");
    fs::create_dir_all(folder.join("details/more")).expect("made");
    write(&folder, "details/more/c.detail", &lap("C", 149).replace("shared", "../shared"));
    let run = |paths: &[&str]| reported(&folder, paths, true, TODAY, SystemTime::now()).recalled.0;
    assert_eq!(run(&["details"]), 0);
    assert_eq!(run(&["details/more"]), 1);
    assert_eq!(run(&["details/a.detail"]), 1);
    assert_eq!(run(&["details"]), 4);
    fs::remove_file(folder.join("details/more/c.detail")).expect("removed");
    assert_eq!(run(&["details"]), 3);
    assert!(!fs::read_to_string(store(&folder)).expect("written").contains("c.detail"));
}

fn program(folder: &Path, more: &[&str]) -> Command {
    let mut command = Command::new(env!("CARGO_BIN_EXE_headlap"));
    command.current_dir(folder).args(["review", "details", "--format", "json"]).args(more);
    command.env("XDG_CACHE_HOME", folder.join("home")).env("HOME", folder.join("home"));
    command
}

#[test]
fn two_runs_at_once_do_not_hurt_each_other() {
    let folder = library("twice");
    write(&folder, "headlap.toml", "");
    let alone = program(&folder, &["--no-cache"]).output().expect("run").stdout;
    for _ in 0..5 {
        let started: Vec<_> = (0..4)
            .map(|_| program(&folder, &["--cache", "kept"]).stdout(Stdio::piped()).spawn().expect("started"))
            .collect();
        for child in started {
            assert_eq!(child.wait_with_output().expect("run").stdout, alone);
        }
        assert_eq!(reported(&folder, &["details"], true, TODAY, SystemTime::now()).recalled.0, 3);
        fs::remove_dir_all(folder.join("kept")).expect("removed");
    }
}

#[test]
fn small_runs_and_no_cache_keep_nothing_and_a_folder_that_is_closed_is_no_failure() {
    let folder = library("nothing");
    program(&folder, &[]).output().expect("run");
    program(&folder, &["--no-cache"]).output().expect("run");
    assert!(!folder.join("home").exists());
    for number in 0..250 {
        write(&folder, &format!("details/n{number}.detail"), &lap("N", 150));
    }
    program(&folder, &["--no-cache"]).output().expect("run");
    assert!(!folder.join("home").exists());
    program(&folder, &[]).output().expect("run");
    assert!(folder.join("home").exists(), "a large run is kept");
    // A file stands where the folder would be.
    let out = program(&folder, &["--cache", "details/a.detail"]).output().expect("run");
    assert_eq!(out.status.code(), Some(0), "as without");
    let said = String::from_utf8_lossy(&out.stderr).into_owned();
    assert!(said.contains("the results could not be cached"), "{said}");
}
