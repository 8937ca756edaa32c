//! Files that are not what they seem, disks that are full, readers that leave: reported in words, nothing half-written.
#![cfg(unix)]

use std::ffi::OsStr;
use std::fs;
use std::os::unix::ffi::OsStrExt;
use std::os::unix::fs::{PermissionsExt, symlink};
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};

use headlap::project::{self, open, walk};
use jiff::civil::date;

use crate::command::{reported, scratch};

const CLEAN: &str = "climate six { zone 6A }\n";

fn put(folder: &Path, name: impl AsRef<OsStr>, text: &str) -> PathBuf {
    let path = folder.join(name.as_ref());
    fs::create_dir_all(path.parent().expect("a parent")).expect("the target folder can be written");
    fs::write(&path, text).expect("the target folder can be written");
    path
}

fn headlap(folder: &Path, args: &[&str]) -> Command {
    let mut command = Command::new(assert_cmd::cargo::cargo_bin!("headlap"));
    command.current_dir(folder).args(args).stdin(Stdio::null());
    command
}

fn run(folder: &Path, args: &[&str]) -> (i32, String, String) {
    reported(headlap(folder, args).output().expect("the program runs"))
}

fn names(folder: &Path) -> Vec<String> {
    let entries = fs::read_dir(folder).expect("the folder can be read");
    let mut names: Vec<String> =
        entries.map(|entry| entry.expect("an entry").file_name().to_string_lossy().into_owned()).collect();
    names.sort();
    names
}

fn pipe(path: &Path) {
    assert!(Command::new("mkfifo").arg(path).status().is_ok_and(|status| status.success()), "mkfifo makes a pipe");
}

#[cfg(target_os = "linux")]
#[test]
fn names_that_are_no_text_are_shown_and_read_like_others() {
    let folder = scratch("filesystem/bytes");
    put(&folder, OsStr::from_bytes(b"caf\xe9.detail"), "detail\n");
    put(&folder, OsStr::from_bytes(b"caf\xe8.detail"), "climate  six { zone 6A }\n");
    for format in ["text", "json", "jsonl", "sarif", "junit", "html", "lines"] {
        let (status, out, said) = run(&folder, &["review", ".", "--format", format]);
        assert_eq!((status, said.as_str()), (1, ""), "{format}");
        assert!(out.contains("caf\u{FFFD}.detail") || out.contains("caf%"), "{format}: {out}");
    }
    assert_eq!(run(&folder, &["tidy", "."]).0, 2, "one of the two cannot be read");
    assert_eq!(fs::read(folder.join(OsStr::from_bytes(b"caf\xe8.detail"))).expect("there"), CLEAN.as_bytes());
    assert_eq!(fs::read(folder.join(OsStr::from_bytes(b"caf\xe9.detail"))).expect("there"), b"detail\n");
    assert_eq!(names(&folder).len(), 2, "nothing half-written stays behind");
}

/// On a file system that distinguishes A from a; elsewhere the second name is the first file.
#[test]
fn names_that_differ_by_case_alone_are_two_files() {
    let folder = scratch("filesystem/case");
    put(&folder, "Part.detail", "material big sheet { holds water; mu 5 }\n");
    put(&folder, "part.detail", "material small sheet { holds water; mu 5 }\n");
    if names(&folder).len() == 1 {
        return;
    }
    put(
        &folder,
        "use.detail",
        "include \"stock.detail\"\ninclude \"Part.detail\"\ninclude \"part.detail\"\n\
        assembly C existing { outside; layer concrete 200 mm; inside }\ndetail d course joins C { piece a big; piece b small }\n\
        detail D course joins C { piece a big; piece b small; piece c neither }\n",
    );
    let (_, out, _) = run(&folder, &["review", ".", "--format", "lines"]);
    assert_eq!(out.matches("unknown-name").count(), 1, "{out}");
    // Drawings go to file systems of every kind. One name is unknown, so the status is 1.
    assert_eq!(run(&folder, &["draw", "use.detail", "--out", "drawn"]).0, 1);
    let mut drawn: Vec<String> = names(&folder.join("drawn")).iter().map(|name| name.to_lowercase()).collect();
    let count = drawn.len();
    drawn.dedup();
    assert_eq!(drawn.len(), count);
}

#[test]
fn pipes_and_circles_of_links_are_findings_and_hold_nobody_up() {
    let folder = scratch("filesystem/odd");
    pipe(&folder.join("pipe.detail"));
    symlink("round.detail", folder.join("about.detail")).expect("links can be made");
    symlink("about.detail", folder.join("round.detail")).expect("links can be made");
    symlink(".", folder.join("self")).expect("links can be made");
    fs::create_dir(folder.join("folder.detail")).expect("made");
    put(&folder, "good.detail", "detail\n");
    let (status, out, _) = run(&folder, &["review", ".", "--format", "lines"]);
    assert_eq!(status, 1);
    for name in ["about.detail:1:1", "good.detail:1:1", "pipe.detail:1:1"] {
        assert!(out.contains(name), "{name} in {out}");
    }
    assert!(!out.contains("self/") && out.contains("not a regular file"), "{out}");
    let (status, _, said) = run(&folder, &["tidy", "."]);
    assert_eq!((status, said.contains("pipe.detail: it is not a regular file")), (2, true), "{said}");
    for settings in ["known = \"pipe.detail\"\n", "rules = [\"pipe.detail\"]\n", "climate = \"pipe.detail\"\n"] {
        put(&folder, "headlap.toml", settings);
        let (status, _, said) = run(&folder, &["review", "good.detail"]);
        assert_eq!((status, said.contains("not a regular file")), (2, true), "{settings}: {said}");
    }
}

#[test]
fn what_may_not_be_read_is_reported_and_the_rest_is_checked() {
    let folder = scratch("filesystem/closed");
    let file = put(&folder, "closed.detail", CLEAN);
    put(&folder, "inner/a.detail", CLEAN);
    put(&folder, "good.detail", "detail\n");
    for path in [&file, &folder.join("inner")] {
        fs::set_permissions(path, fs::Permissions::from_mode(0o000)).expect("set");
    }
    let (status, out, _) = run(&folder, &["review", ".", "--format", "lines"]);
    let readable_anyway = fs::read(&file).is_ok();
    fs::set_permissions(folder.join("inner"), fs::Permissions::from_mode(0o700)).expect("set");
    assert_eq!((status, out.contains("good.detail:1")), (1, true), "{out}");
    // The superuser is refused nothing.
    if !readable_anyway {
        assert!(out.contains("closed.detail:1:1: error: this file could not be checked: its permissions"), "{out}");
        assert!(out.contains("inner:1:1: error") && out.contains("listing it"), "{out}");
    }
}

#[test]
fn a_file_that_goes_while_it_is_looked_for_is_reported() {
    let folder = scratch("filesystem/vanishing");
    put(&folder, "a.detail", CLEAN);
    put(&folder, "b.detail", "include \"a.detail\"\nnothing\n");
    let walked = walk(&[PathBuf::from(".")], &folder);
    let project = open(&folder, &folder).unwrap_or_else(|report| panic!("{:?}", report.findings));
    fs::remove_file(folder.join("a.detail")).expect("it was there");
    let review = project::ReviewTask {
        project: &project,
        walked: &walked,
        working: &folder,
        today: date(2026, 11, 25).into(),
        keep: false,
        texts: true,
        cache: None,
        memory: None,
        progress: &|_| {},
    };
    let run = project::review(&review);
    let reported: Vec<String> = run.report.findings.iter().map(|finding| finding.message.clone()).collect();
    assert_eq!(reported.len(), 3, "{reported:?}");
    assert!(reported[0].contains("could not be checked: there is no such file"), "{reported:?}");
    assert!(reported[1].contains("cannot be included: there is no such file"), "{reported:?}");
}

#[test]
fn an_include_that_was_nearly_right_is_offered_the_file_beside_it() {
    let folder = scratch("filesystem/near");
    put(&folder, "walls/porch.detail", "");
    put(&folder, "walls/b.detail", "include \"porch.detial\"\ninclude \"eaves.detail\"\n");
    let (code, reported, _) = run(&folder, &["review", "walls/b.detail", "--format", "lines"]);
    assert_eq!(code, 1);
    assert!(
        reported
            .contains("b.detail:1:9: error: this cannot be included: there is no such file; `porch.detail` is there")
    );
    assert!(reported.contains("b.detail:2:9: error: this cannot be included: there is no such file ("), "{reported}");
}

/// Everything that writes to standard output.
const COMMANDS: &[&[&str]] = &[
    &["review", ".", "--format", "text"],
    &["review", ".", "--narrate"],
    &["review", ".", "--format", "json"],
    &["review", ".", "--format", "jsonl"],
    &["review", ".", "--format", "sarif"],
    &["review", ".", "--format", "junit"],
    &["review", ".", "--format", "html"],
    &["review", ".", "--format", "lines"],
    &["facts", "."],
    &["facts", ".", "--format", "json"],
    &["sequence", "."],
    &["compare", ".", "."],
    &["tidy", "--check", "."],
    &["rules", "list"],
    &["rules", "show", "short-head-lap"],
    &["schema", "rules"],
    &["man"],
    &["completions", "bash"],
];

/// Findings enough that no buffer holds them all.
fn library(name: &str) -> PathBuf {
    let folder = scratch(name);
    let pieces: String = (0..40).map(|n| format!("  piece p{n} plywood up {n} mm to {} mm\n", n + 200)).collect();
    for n in 0..4 {
        let head = "include \"stock.detail\"\nassembly C existing { outside; layer concrete 200 mm; inside }\n";
        put(
            &folder,
            format!("{n}.detail"),
            &format!(
                "{head}detail   D{n} course joins C {{\n{pieces}}}\ndetail E{n} course joins C {{\n  nothing\n}}\n"
            ),
        );
        put(&folder, format!("{n}b.detail"), "climate   six { zone 6A }\n");
    }
    folder
}

#[test]
fn a_reader_who_leaves_is_no_error() {
    let folder = library("leaving");
    for command in COMMANDS {
        let (status, _, aside) = run(&folder, command);
        let mut child =
            headlap(&folder, command).stdout(Stdio::piped()).stderr(Stdio::piped()).spawn().expect("it runs");
        drop(child.stdout.take());
        let (after, _, said) = reported(child.wait_with_output().expect("it ends"));
        assert_eq!((after, said), (status, aside), "{command:?}");
    }
}

#[cfg(target_os = "linux")]
#[test]
fn a_full_disk_is_reported_by_every_command() {
    let folder = library("full");
    for command in COMMANDS {
        let full = fs::OpenOptions::new().write(true).open("/dev/full").expect("Linux has /dev/full");
        let output = headlap(&folder, command).stdout(full).output().expect("it runs");
        let (status, _, said) = reported(output);
        assert_eq!((status, said.contains("cannot be written")), (2, true), "{command:?}: {said}");
    }
}

/// A limit on the size of files stands for a disk that fills while a file is written.
#[test]
fn a_disk_that_fills_leaves_the_old_file_and_no_part_of_the_new() {
    let folder = library("filling");
    let limited = |args: &[&str]| {
        let program = assert_cmd::cargo::cargo_bin!("headlap");
        let script = "trap '' XFSZ; ulimit -f 1; exec \"$0\" \"$@\"";
        reported(
            Command::new("sh").current_dir(&folder).args(["-c", script]).arg(program).args(args).output().expect("sh"),
        )
    };
    let before = names(&folder);
    for format in ["text", "json", "jsonl", "sarif", "junit", "html", "lines"] {
        for old in [None, Some("old")] {
            let _ = fs::remove_file(folder.join("out"));
            old.iter().for_each(|text| drop(put(&folder, "out", text)));
            let (status, out, said) = limited(&["review", ".", "--format", format, "--out", "out"]);
            assert_eq!((status, out.as_str()), (2, ""), "{format}: {said}");
            assert!(said.contains("out cannot be written"), "{format}: {said}");
            assert_eq!(fs::read_to_string(folder.join("out")).ok().as_deref(), old, "{format}");
            let _ = fs::remove_file(folder.join("out"));
            assert_eq!(names(&folder), before, "{format}");
        }
    }
    assert_eq!(limited(&["review", ".", "--write-known", "known.json"]).0, 2);
    assert_eq!(limited(&["compare", ".", ".", "--format", "html", "--out", "out.html"]).0, 2);
    assert_eq!(names(&folder), before);
    // Formatting a large file.
    let long = format!("climate   six {{ zone 6A }}\n{}", "# a comment\n".repeat(1000));
    put(&folder, "long.detail", &long);
    assert_eq!(limited(&["tidy", "long.detail"]).0, 2);
    assert_eq!(fs::read_to_string(folder.join("long.detail")).expect("there"), long);
    assert_eq!(names(&folder).len(), before.len() + 1);
}

/// A device is written into and never replaced: `/dev/null` does not turn into a report.
#[cfg(target_os = "linux")]
#[test]
fn devices_and_pipes_are_written_into() {
    let folder = library("devices");
    let (_, out, _) = run(&folder, &["review", ".", "--format", "lines", "--out", "/dev/stdout"]);
    assert!(out.contains("(syntax)"), "{out}");
    let in_bash = |line: &str| {
        let program = assert_cmd::cargo::cargo_bin!("headlap");
        reported(Command::new("bash").current_dir(&folder).args(["-c", line]).arg(program).output().expect("bash"))
    };
    let (status, _, said) = in_bash("\"$0\" review . --format json --out /dev/stdout > /dev/full");
    assert_eq!((status, said.contains("/dev/stdout cannot be written")), (2, true), "{said}");
    let (_, shown, _) = in_bash("\"$0\" review . --format lines --out >(cat); wait $!");
    assert_eq!(shown, out, "what a shell puts in the place of a file");
    let (_, shown, _) = in_bash("echo first > log; \"$0\" review . --format lines --out /dev/stdout >> log; cat log");
    assert_eq!(shown, format!("first\n{out}"));
    for twice in [&["--format", "sarif", "--out", "/dev/fd/1"][..], &["--format", "lines"]] {
        let args = [&["review", ".", "--format", "json", "--out", "/dev/stdout"], twice].concat();
        let (status, out, said) = run(&folder, &args);
        assert_eq!((status, out.as_str()), (2, ""), "{said}");
    }
    assert_ne!(run(&folder, &["review", ".", "--format", "json", "--out", "/dev/null", "--format", "lines"]).0, 2);
}

/// Nothing is written through a link or a pipe, whoever made it, and no run waits for its reader.
#[test]
fn links_and_pipes_that_were_named_are_refused() {
    use std::os::unix::fs::FileTypeExt;
    let folder = library("named");
    put(&folder, "real", "old");
    symlink("real", folder.join("link")).expect("links can be made");
    symlink("nowhere", folder.join("dangling")).expect("links can be made");
    pipe(&folder.join("pipe"));
    fs::create_dir(folder.join("folder")).expect("made");
    for name in ["link", "dangling", "pipe", "folder"] {
        let named = format!("{name} cannot be written: it is ");
        for args in [
            &["review", ".", "--format", "sarif", "--out", name][..],
            &["compare", ".", ".", "--format", "json", "--out", name],
            &["review", "0b.detail", "--write-known", name],
        ] {
            let (status, _, said) = run(&folder, args);
            assert!(status == 2 && said.contains(&named), "{args:?}: {said}");
        }
    }
    assert_eq!(fs::read_to_string(folder.join("real")).expect("there"), "old");
    assert!(fs::symlink_metadata(folder.join("link")).expect("there").is_symlink());
    assert!(!folder.join("nowhere").exists());
    assert!(fs::metadata(folder.join("pipe")).expect("there").file_type().is_fifo());
    // A file keeps who may read it.
    fs::set_permissions(folder.join("real"), fs::Permissions::from_mode(0o600)).expect("set");
    run(&folder, &["review", ".", "--format", "lines", "--out", "real"]);
    assert_ne!(fs::read_to_string(folder.join("real")).expect("there"), "old");
    assert_eq!(fs::metadata(folder.join("real")).expect("there").permissions().mode() & 0o777, 0o600);
}

#[test]
fn formatting_that_is_killed_leaves_each_file_old_or_new() {
    let folder = scratch("filesystem/killed");
    let filler = "# a comment of some length, so that writing takes a while\n".repeat(400);
    let text = |n: usize| format!("climate   six{n} {{ zone 6A }}\n{filler}");
    let new = |n: usize| format!("climate six{n} {{ zone 6A }}\n{filler}");
    let mut order: Vec<usize> = (0..60).collect();
    order.sort_by_key(|n| format!("{n}.detail"));
    let mut halfway = 0;
    for round in 0..10 {
        (0..60).for_each(|n| drop(put(&folder, format!("{n}.detail"), &text(n))));
        let mut child = headlap(&folder, &["tidy", "."]).stdout(Stdio::null()).spawn().expect("the program runs");
        // Once it has come to a file that lies further on in each round, and some way into that.
        let awaited = folder.join(format!("{}.detail", order[round * 6]));
        let reached = || fs::metadata(&awaited).is_ok_and(|about| about.len() == new(order[round * 6]).len() as u64);
        while !reached() && child.try_wait().expect("it runs").is_none() {}
        (0..round * 997 % 4000).for_each(|_| std::hint::spin_loop());
        child.kill().expect("it can be killed");
        child.wait().expect("it ends");
        let mut changed = 0;
        for n in 0..60 {
            let now = fs::read_to_string(folder.join(format!("{n}.detail"))).expect("the file is there");
            assert!(now == text(n) || now == new(n), "{n} is neither old nor new in round {round}");
            changed += usize::from(now == new(n));
        }
        halfway += usize::from(0 < changed && changed < 60);
        // What was being written may stay beside the file, under a name that no detail has.
        for name in names(&folder) {
            assert!(name.ends_with(".detail") || name.ends_with(".part"), "{name}");
            if name.ends_with(".part") {
                fs::remove_file(folder.join(name)).expect("it is there");
            }
        }
    }
    assert!(halfway > 0, "no kill came in time");
}
