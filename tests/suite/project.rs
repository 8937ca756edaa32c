//! Which files are found and how they are read.

use std::fs;
use std::path::{Path, PathBuf};
use std::sync::Arc;

use headlap::project::{open, read, walk};
use headlap::text::{FileId, Source};

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
    walk(&paths, folder).files.into_iter().map(|found| found.name.into_string()).collect()
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
    assert!(read(&pipe).expect_err("a pipe").why.words().contains("not a regular file"));
}

#[test]
fn what_is_no_text_is_refused() {
    let folder = scratch("read");
    file(&folder, "a.detail", "\u{FEFF}# empty\n");
    assert_eq!(read(&folder.join("a.detail")).as_deref(), Ok("# empty\n"));
    assert!(read(&folder).expect_err("a folder").why.words().contains("folder"));
    let huge = fs::File::create(folder.join("huge.detail")).expect("the target folder can be written");
    huge.set_len(headlap::project::LARGEST + 1).expect("a file can be made longer");
    assert!(read(&folder.join("huge.detail")).expect_err("huge").why.words().contains("larger than"));
}

/// What is wrong with a `headlap.toml`, as the words at fault with what is said of them.
fn refused(text: &str) -> Vec<(String, String, Option<String>)> {
    let source = Arc::new(Source::new(FileId::detail(0), "headlap.toml", text));
    let findings = headlap::project::settings(source.clone(), PathBuf::from("/library")).err().unwrap_or_default();
    findings
        .into_iter()
        .map(|f| (source.at(f.span).to_owned(), f.message.clone(), f.fix.as_deref().map(str::to_owned)))
        .collect()
}

#[test]
fn settings_are_read() {
    let text = "rules = [\"firm-rules\", \"../shared/rules.toml\"]\nclimate = \"millrace\"\nunits = \"us\"\nfail-on = \"never\"\n\
        [adjust.short-head-lap]\nlimit = \"100 mm\"\nbecause = \"the firm's standard\"\n";
    let source = Arc::new(Source::new(FileId::detail(0), "headlap.toml", text));
    let config = headlap::project::settings(source, PathBuf::from("/firm/library")).expect("good settings");
    let rules: Vec<&Path> = config.rules.iter().map(|(path, _)| path.as_path()).collect();
    assert_eq!(rules, [Path::new("/firm/library/firm-rules"), Path::new("/firm/shared/rules.toml")]);
    assert_eq!(config.climate.map(|(name, _)| name).as_deref(), Some("millrace"));
    assert_eq!(config.fail_on, Some(None));
    assert_eq!(&*config.adjustments[0].rule, "short-head-lap");
}

#[test]
fn settings_that_cannot_be_used_are_reported_at_their_place() {
    let wrong =
        refused("clmate = \"x\"\nunits = \"furlongs\"\n[adjust.short-head-lap]\nlevel = \"eror\"\nbecause = \"x\"\n");
    let said: Vec<(&str, Option<&str>)> = wrong.iter().map(|(at, _, fix)| (at.as_str(), fix.as_deref())).collect();
    assert_eq!(said[0], ("clmate", Some("Did you mean `climate`?")));
    assert_eq!(said[1].0, "\"furlongs\"");
    assert_eq!(said[2].0, "\"eror\"");
    assert_eq!(wrong.len(), 3);
    assert!(refused("[adjust.short-head-lap]\nlimit = \"100 mm\"\n")[0].1.contains("because"));
    assert_eq!(refused("rules = [3]")[0].0, "3");
    assert!(!refused("rules = [").is_empty());
}

#[test]
fn the_nearest_settings_above_a_folder_count() {
    let folder = scratch("upward");
    file(&folder, "library/headlap.toml", "units = \"metric\"\n");
    file(&folder, "library/walls/deep/a.detail", "");
    let project = open(&folder.join("library/walls/deep"), &folder).expect("good settings");
    assert_eq!(project.root, folder.join("library"));
    file(&folder, "library/walls/headlap.toml", "[adjust.no-such-rule]\noff = true\nbecause = \"x\"\n");
    let report = open(&folder.join("library/walls/deep"), &folder).err().expect("no such rule");
    let (name, place) = report.place(report.findings[0].span).expect("a place in the settings");
    assert_eq!((name, place.line, place.column), ("library/walls/headlap.toml", 1, 9));
    file(&folder, "library/walls/headlap.toml", "rules = [\"firm\"]\n");
    let report = open(&folder.join("library/walls"), &folder).err().expect("no such folder");
    assert_eq!(report.source(report.findings[0].span).expect("source").at(report.findings[0].span), "\"firm\"");
}
