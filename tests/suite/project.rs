//! Which files are found and how they are read.

use std::fs;
use std::path::{Path, PathBuf};

use headlap::project::{read, walk};

/// A folder of its own for a test, empty at the start.
fn scratch(name: &str) -> PathBuf {
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join(name);
    let _ = fs::remove_dir_all(&folder);
    fs::create_dir_all(&folder).expect("the target folder can be written");
    folder
}

fn file(folder: &Path, name: &str, text: &str) {
    let path = folder.join(name);
    fs::create_dir_all(path.parent().expect("a parent")).expect("the target folder can be written");
    fs::write(path, text).expect("the target folder can be written");
}

fn names(folder: &Path, paths: &[&str]) -> Vec<String> {
    let paths: Vec<PathBuf> = paths.iter().map(PathBuf::from).collect();
    walk(&paths, folder).files.into_iter().map(|found| found.name).collect()
}

#[test]
fn folders_are_walked_in_order_and_ignored_files_left_out() {
    let folder = scratch("walk");
    for name in ["b/two.detail", "b.detail", "a/one.detail", "a/notes.txt", "old/gone.detail", ".hidden/x.detail"] {
        file(&folder, name, "");
    }
    file(&folder, ".gitignore", "old/\n");
    assert_eq!(names(&folder, &["."]), ["a/one.detail", "b.detail", "b/two.detail"]);
    // A named file is checked though it is ignored or has another ending; a file named twice is checked once.
    assert_eq!(
        names(&folder, &["old/gone.detail", "a/notes.txt", "a", "./a/one.detail", "b/../a"]),
        ["a/notes.txt", "a/one.detail", "old/gone.detail"]
    );
    let walked = walk(&[PathBuf::from("nowhere"), PathBuf::from("a")], &folder);
    assert_eq!(walked.missing, [PathBuf::from("nowhere")]);
}

#[cfg(unix)]
#[test]
fn links_neither_circle_nor_leave_nor_double() {
    use std::os::unix::fs::symlink;
    let folder = scratch("links");
    file(&folder, "library/a.detail", "");
    file(&folder, "elsewhere/b.detail", "");
    symlink(folder.join("library"), folder.join("library/circle")).expect("links can be made");
    symlink(folder.join("elsewhere"), folder.join("library/out")).expect("links can be made");
    symlink(folder.join("library/a.detail"), folder.join("library/again.detail")).expect("links can be made");
    symlink(folder.join("elsewhere/b.detail"), folder.join("library/other.detail")).expect("links can be made");
    symlink(folder.join("nothing"), folder.join("library/broken.detail")).expect("links can be made");
    assert_eq!(names(&folder, &["library"]), ["library/a.detail", "library/broken.detail", "library/other.detail"]);
    assert!(read(&folder.join("library/broken.detail")).is_err());
}

#[cfg(unix)]
#[test]
fn a_pipe_is_refused_without_waiting() {
    let folder = scratch("pipe");
    let pipe = folder.join("pipe.detail");
    let made = std::process::Command::new("mkfifo").arg(&pipe).status();
    assert!(made.is_ok_and(|status| status.success()), "mkfifo makes a pipe");
    assert!(read(&pipe).expect_err("a pipe").why.contains("not a regular file"));
}

#[test]
fn what_is_no_text_is_refused() {
    let folder = scratch("read");
    file(&folder, "a.detail", "\u{FEFF}# empty\n");
    assert_eq!(read(&folder.join("a.detail")).as_deref(), Ok("# empty\n"));
    assert!(read(&folder).expect_err("a folder").why.contains("folder"));
    let huge = fs::File::create(folder.join("huge.detail")).expect("the target folder can be written");
    huge.set_len(headlap::project::LARGEST + 1).expect("a file can be made longer");
    assert!(read(&folder.join("huge.detail")).expect_err("huge").why.contains("larger than"));
}
