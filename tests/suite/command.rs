//! The program as it is typed in a shell, in a folder of its own.

use std::fs;
use std::path::{Path, PathBuf};
use std::process::Output;

use assert_cmd::Command;

/// The program, without what the shell or the service around the tests says about colors and logs.
pub fn headlap() -> Command {
    let mut command = Command::new(assert_cmd::cargo::cargo_bin!("headlap"));
    for variable in ["CI", "NO_COLOR", "HEADLAP_NARRATE"] {
        command.env_remove(variable);
    }
    command
}

/// Runs it in this folder. Exit status, standard output, standard error.
pub fn run(folder: &Path, args: &[&str]) -> (i32, String, String) {
    reported(headlap().current_dir(folder).args(args).output().expect("the program runs"))
}

/// The same, with this on standard input.
pub fn run_with(folder: &Path, args: &[&str], input: &[u8]) -> (i32, String, String) {
    reported(headlap().current_dir(folder).args(args).write_stdin(input).output().expect("the program runs"))
}

/// Exit status, standard output, standard error.
pub fn reported(output: Output) -> (i32, String, String) {
    let text = |bytes: Vec<u8>| String::from_utf8(bytes).expect("the program writes UTF-8");
    (output.status.code().expect("it ends by itself"), text(output.stdout), text(output.stderr))
}

/// A folder for one test, empty at the start. Its name is `topic/test`.
pub fn scratch(name: &str) -> PathBuf {
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join(name);
    let _ = fs::remove_dir_all(&folder);
    fs::create_dir_all(&folder).expect("the target folder can be written");
    folder
}

/// Writes a file into the folder, with the folders above it.
pub fn write(folder: &Path, name: &str, text: &str) -> PathBuf {
    let path = folder.join(name);
    fs::create_dir_all(path.parent().expect("it lies in a folder")).expect("the target folder can be written");
    fs::write(&path, text).expect("the target folder can be written");
    path
}

/// Runs git in this folder, with a name to commit under.
pub fn git(folder: &Path, args: &[&str]) {
    let output = std::process::Command::new("git")
        .current_dir(folder)
        .args(["-c", "user.name=t", "-c", "user.email=t@example.org"])
        .args(args)
        .output()
        .expect("git is there");
    assert!(output.status.success(), "{args:?}: {}", String::from_utf8_lossy(&output.stderr));
}
