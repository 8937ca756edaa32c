//! The commands as they are typed.

use std::fs;
use std::path::{Path, PathBuf};

use assert_cmd::Command;

/// A folder of its own for a test, empty at the start.
fn scratch(name: &str) -> PathBuf {
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join("cli").join(name);
    let _ = fs::remove_dir_all(&folder);
    fs::create_dir_all(&folder).expect("the target folder can be written");
    folder
}

fn headlap(folder: &Path) -> Command {
    let mut command = Command::cargo_bin("headlap").expect("the program is built");
    command.current_dir(folder).env_remove("NO_COLOR").env_remove("HEADLAP_NARRATE");
    command
}

/// Exit status, standard output, standard error.
fn run(folder: &Path, args: &[&str]) -> (i32, String, String) {
    let output = headlap(folder).args(args).output().expect("the program runs");
    let text = |bytes: Vec<u8>| String::from_utf8(bytes).expect("the program writes UTF-8");
    (output.status.code().expect("it ends by itself"), text(output.stdout), text(output.stderr))
}

#[test]
fn a_mistyped_command_is_status_2_and_help_is_status_0() {
    let folder = scratch("typed");
    for wrong in [&["revew"] as &[&str], &["rules"], &["rules", "show"], &["--width", "0", "rules", "list"]] {
        assert_eq!(run(&folder, wrong).0, 2, "{wrong:?}");
    }
    for right in [&["--help"] as &[&str], &["--version"], &["rules", "--help"]] {
        assert_eq!(run(&folder, right).0, 0, "{right:?}");
    }
}

#[test]
fn start_leaves_a_used_folder_alone() {
    let folder = scratch("start");
    let (status, out, _) = run(&folder, &["start", "new/library"]);
    assert_eq!(status, 0);
    assert!(out.contains("wrote new/library/details.detail"));
    fs::write(folder.join("new/library/details.detail"), "mine").expect("the target folder can be written");
    let (status, _, said) = run(&folder, &["start", "new/library"]);
    assert_eq!(status, 2);
    assert!(said.contains("already holds something"));
    assert_eq!(fs::read_to_string(folder.join("new/library/details.detail")).expect("it is there"), "mine");
}

#[test]
fn fields_and_rules_are_found_by_near_names() {
    let folder = scratch("near");
    assert!(run(&folder, &["rules", "fields", "lap"]).1.starts_with("lap\n"));
    let (status, _, said) = run(&folder, &["rules", "fields", "lpa"]);
    assert_eq!((status, said.contains("did you mean \"lap\"?")), (2, true));
}

#[test]
fn settings_that_cannot_be_used_stop_with_a_place() {
    let folder = scratch("settings");
    fs::write(folder.join("headlap.toml"), "rules = [\"firm\"]\n").expect("the target folder can be written");
    let (status, out, said) = run(&folder, &["rules", "list"]);
    assert_eq!((status, out.as_str()), (2, ""));
    assert!(said.contains("[headlap.toml:1:10]"), "{said}");
}

#[test]
fn a_closed_pipe_is_no_error() {
    use std::process::{Command as Plain, Stdio};
    let mut child = Plain::new(assert_cmd::cargo::cargo_bin!("headlap"))
        .args(["rules", "fields"])
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .expect("the program runs");
    drop(child.stdout.take());
    let output = child.wait_with_output().expect("the program ends");
    assert_eq!(output.status.code(), Some(0));
    assert!(output.stderr.is_empty());
}

#[cfg(target_os = "linux")]
#[test]
fn a_full_disk_is_told() {
    let full = fs::OpenOptions::new().write(true).open("/dev/full").expect("Linux has /dev/full");
    let output = std::process::Command::new(assert_cmd::cargo::cargo_bin!("headlap"))
        .args(["rules", "fields"])
        .stdout(full)
        .output()
        .expect("the program runs");
    assert_eq!(output.status.code(), Some(2));
    assert!(String::from_utf8_lossy(&output.stderr).contains("cannot be written"));
}

#[test]
fn completions_and_manual_pages_name_every_command() {
    let folder = scratch("generated");
    for shell in ["bash", "elvish", "fish", "powershell", "zsh"] {
        let (status, script, _) = run(&folder, &["completions", shell]);
        assert_eq!(status, 0);
        assert!(script.contains("fail-on"), "{shell}");
    }
    let (status, page, _) = run(&folder, &["man"]);
    assert_eq!((status, page.contains(".SH SYNOPSIS")), (0, true));
    assert_eq!(run(&folder, &["man", "--out", "pages"]).0, 0);
    let names: Vec<_> =
        fs::read_dir(folder.join("pages")).expect("pages").map(|e| e.expect("a page").file_name()).collect();
    for command in ["review", "facts", "rules-show", "start"] {
        assert!(names.contains(&format!("headlap-{command}.1").into()), "{command}");
    }
}
