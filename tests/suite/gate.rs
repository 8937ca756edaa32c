//! What a gate must never do: pass by accident, or write over what it reads.

use std::fs;
use std::path::{Path, PathBuf};

use serde_json::Value;

use crate::command::{git, run, scratch, write};

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

/// As for any other rule: the folder that the set stands in decides, whatever the run starts from.
#[test]
fn a_folder_may_leave_open_what_its_drawing_set_needs() {
    let folder = scratch("gate/needs");
    let set = "assembly W existing { outside; inside }\nset \"Parts\" { needs corner of W }\n";
    write(&folder, "old/set.detail", set);
    write(&folder, "new/set.detail", &set.replace("Parts", "Sheets"));
    let off = "[[folder]]\npath = \"old\"\n[folder.adjust.missing-detail]\noff = true\nbecause = \"never drawn\"\n";
    write(&folder, "headlap.toml", off);
    let (status, out, _) = run(&folder, &["review", "--format", "lines"]);
    let lines: Vec<&str> = out.lines().filter(|line| line.contains("missing-detail")).collect();
    assert!(matches!(lines[..], [one] if one.starts_with("new/set.detail:2:")), "{out}");
    assert_eq!(status, 1);
}

#[test]
fn exceptions_are_listed_with_reason_author_and_days_left() {
    let folder = scratch("gate/exceptions");
    write(&folder, "a.detail", &waived(&in_days(20)));
    write(
        &folder,
        "walls/b.detail",
        &SHORT
            .replace("detail A", "detail B")
            .replace("ly W", "ly V")
            .replace("of W", "of V")
            .replace("joins W", "joins V"),
    );
    let settings = "known = \"known.jsonl\"\n[[folder]]\npath = \"walls\"\n[folder.adjust.short-head-lap]\noff = true\nbecause = \"tight\"\n";
    write(&folder, "headlap.toml", settings);
    assert_eq!(run(&folder, &["known", "add", "--because", "phase 2", "--by", "LM"]).0, 0);
    let (status, out, said) = run(&folder, &["exceptions"]);
    assert_eq!((status, said.as_str()), (0, ""));
    for words in [
        "short-head-lap on `upper`",
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
    assert_eq!(run(&folder, &["exceptions", "--warn-before", "14 days"]).0, 0);
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
    let folder = scratch("gate/last-day");
    write(&folder, "a.detail", &waived(&in_days(0)));
    let (_, out, _) = run(&folder, &["review", ".", "--format", "lines", "--show", "waived"]);
    assert!(out.contains("waived: ") && !out.contains("expired-waiver"), "{out}");
    write(&folder, "a.detail", &waived(&in_days(-1)));
    let (_, out, _) = run(&folder, &["review", ".", "--format", "lines", "--show", "waived"]);
    assert!(!out.contains("waived: ") && out.contains("expired-waiver"), "{out}");
}

#[cfg(unix)]
#[test]
fn no_output_is_written_over_what_is_read_or_over_another() {
    let folder = scratch("gate/outputs");
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
        assert_eq!((status, said.contains("would overwrite it")), (2, true), "{file}: {said}");
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
    let folder = scratch("gate/stale");
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

#[test]
fn a_library_asks_for_a_version() {
    let folder = scratch("gate/version");
    write(&folder, "a.detail", "");
    for (wanted, status) in [(">=0.1", 0), (">=99", 2), ("soon", 2)] {
        write(&folder, "headlap.toml", &format!("required-version = \"{wanted}\"\n"));
        let (found, _, said) = run(&folder, &["review", "."]);
        assert_eq!(found, status, "{wanted}: {said}");
        assert_eq!(said.contains("headlap.toml:1:20"), status == 2, "{said}");
    }
}

#[cfg(unix)]
#[test]
fn what_leads_out_of_the_library_is_refused() {
    let folder = scratch("gate/ways-out");
    write(&folder, "elsewhere/b.detail", SHORT);
    write(&folder, "elsewhere/firm/words.toml", "[words]\n");
    write(&folder, "elsewhere/known.jsonl", "{\"about\":\"\",\"format\":2}\n");
    write(&folder, "library/headlap.toml", "");
    write(&folder, "library/a.detail", "");
    std::os::unix::fs::symlink(folder.join("elsewhere/b.detail"), folder.join("library/b.detail")).expect("a link");
    std::os::unix::fs::symlink(folder.join("library/a.detail"), folder.join("library/again.detail")).expect("a link");
    let (status, out, _) = run(&folder, &["review", "library", "--format", "lines"]);
    assert_eq!((status, out.lines().count()), (1, 1), "{out}");
    assert!(out.starts_with("library/b.detail:1:1: error: ") && out.contains("outside the library"), "{out}");
    fs::remove_file(folder.join("library/b.detail")).expect("it is there");
    for settings in ["rules = [\"../elsewhere/firm\"]\n", "known = \"../elsewhere/known.jsonl\"\n"] {
        write(&folder, "library/headlap.toml", settings);
        let (status, _, said) = run(&folder, &["review", "library"]);
        assert_eq!((status, said.contains("outside the library's folder")), (2, true), "{said}");
    }
}

#[cfg(unix)]
#[test]
fn links_in_a_circle_and_pipes_as_ignore_files_end() {
    let folder = scratch("gate/circles");
    write(&folder, "headlap.toml", "");
    write(&folder, "a/x.detail", "include \"a/x.detail\"\ninclude \"b/x.detail\"\n");
    for (to, link) in [("a", "a/a"), ("a", "a/b")] {
        std::os::unix::fs::symlink(folder.join(to), folder.join(link)).expect("a link");
    }
    let (status, ..) = run(&folder, &["review", "."]);
    assert!(status < 2, "it ends");
    fs::create_dir(folder.join("pipes")).expect("a folder");
    write(&folder, "pipes/y.detail", "");
    let made = std::process::Command::new("mkfifo").arg(folder.join("pipes/.gitignore")).status().expect("mkfifo runs");
    assert!(made.success());
    for path in [".", "pipes"] {
        let (status, out, _) = run(&folder, &["review", path, "--format", "lines"]);
        assert!(status == 1 && out.contains("its .gitignore is too large or not a regular file"), "{out}");
    }
}

#[cfg(unix)]
#[test]
fn what_is_written_beside_a_file_is_nobody_elses() {
    use std::os::unix::fs::{MetadataExt, PermissionsExt};
    let folder = scratch("gate/beside");
    // A name as long as the file system takes, and two names of one file.
    let long = format!("{}.detail", "w".repeat(248));
    let loose = "set  \"x\"  {\n}\n";
    write(&folder, &long, loose);
    fs::hard_link(folder.join(&long), folder.join("twin")).expect("a second name");
    assert_eq!(run(&folder, &["tidy", "."]).0, 0);
    assert_eq!(read(&folder, "twin"), "set \"x\" { }\n", "both names hold the new text");
    assert_eq!(fs::metadata(folder.join("twin")).expect("it is there").nlink(), 2);
    // What a run that was killed left behind is gone; what others write is left alone.
    for (name, hours) in [(".headlap-old.part", 3), (".headlap-new.part", 0), ("mine.part", 3)] {
        write(&folder, name, "x");
        let then = std::time::SystemTime::now() - std::time::Duration::from_secs(3600 * hours);
        fs::File::options()
            .write(true)
            .open(folder.join(name))
            .and_then(|file| file.set_modified(then))
            .expect("a time");
    }
    assert_eq!(run(&folder, &["review", &long, "--format", "json", "--out", "out.json"]).0, 0);
    let left: Vec<bool> =
        [".headlap-old.part", ".headlap-new.part", "mine.part"].iter().map(|name| folder.join(name).exists()).collect();
    assert_eq!(left, [false, false, true]);
    let mode = fs::metadata(folder.join("out.json")).expect("it is there").permissions().mode() & 0o777;
    let usual = fs::metadata(folder.join("mine.part")).expect("it is there").permissions().mode() & 0o777;
    assert_eq!(mode, usual, "as any new file");
}

/// Two walls that include what they are made of, in a checkout.
fn checkout(name: &str) -> PathBuf {
    let folder = scratch(name);
    let (base, detail) = SHORT.split_once("detail A").expect("a detail");
    write(&folder, "base.detail", base);
    write(&folder, "walls/a.detail", &format!("include \"../base.detail\"\ndetail A{detail}"));
    write(&folder, "walls/b \u{e4}.detail", &format!("include \"../base.detail\"\ndetail B{detail}"));
    write(&folder, "alone.detail", "include \"stock.detail\"\n");
    write(&folder, "headlap.toml", "");
    git(&folder, &["init", "-q"]);
    git(&folder, &["add", "."]);
    git(&folder, &["commit", "-qm", "issued"]);
    folder
}

/// The files with findings, each once.
fn files(folder: &Path, args: &[&str]) -> Vec<String> {
    let (_, out, said) = run(folder, &[&["review", "--format", "jsonl"][..], args].concat());
    assert!(!said.contains("git answered"), "{said}");
    let file =
        |line: &str| serde_json::from_str::<Value>(line).expect("JSON")["file"].as_str().expect("a file").to_owned();
    let mut files: Vec<String> = out.lines().map(file).collect();
    files.dedup();
    files
}

#[test]
fn a_gate_of_changed_files_sees_what_depends_on_them() {
    let folder = checkout("gate/changed");
    let since = ["--changed-since", "HEAD"];
    assert_eq!(files(&folder, &since), [""; 0]);
    assert_eq!(run(&folder, &["review", "--changed-since", "HEAD", "--require-files"]).0, 2);
    write(&folder, "alone.detail", "include \"stock.detail\"\n# touched\n");
    assert_eq!(files(&folder, &since), [""; 0], "the walls do not depend on it");
    write(&folder, "base.detail", &format!("{}# touched\n", read(&folder, "base.detail")));
    let both = ["walls/a.detail", "walls/b \u{e4}.detail"];
    assert_eq!(files(&folder, &since), both);
    assert_eq!(files(&folder.join("walls"), &since), ["a.detail", "b \u{e4}.detail"], "from another folder");
    assert_eq!(files(&folder, &["base.detail", "--with-dependents"]), both);
    // An include counts wherever it stands on its line, and not where it only looks like one.
    let own = read(&folder, "walls/a.detail");
    let looks = "set \"S\" { } include \"../base.detail\"\n# include \"../alone.detail\"\n";
    write(&folder, "walls/a.detail", &own.replace("include \"../base.detail\"\n", looks));
    git(&folder, &["commit", "-qam", "moved"]);
    write(&folder, "base.detail", &format!("{}# again\n", read(&folder, "base.detail")));
    assert_eq!(files(&folder, &since), both);
    write(&folder, "walls/a.detail", &own);
    git(&folder, &["commit", "-qam", "moved back"]);
    // What is gone is missing where it was included.
    fs::remove_file(folder.join("base.detail")).expect("it is there");
    assert_eq!(files(&folder, &since), both);
    git(&folder, &["checkout", "-q", "base.detail"]);
    // New files, and settings, which hold for all.
    write(&folder, "walls/new.detail", &read(&folder, "walls/a.detail"));
    assert_eq!(files(&folder, &since), ["walls/new.detail"]);
    fs::remove_file(folder.join("walls/new.detail")).expect("it is there");
    write(&folder, "headlap.toml", "units = \"us\"\n");
    assert_eq!(files(&folder, &since), both);
    let (status, _, said) = run(&folder, &["review", "--changed-since", "no-such"]);
    assert_eq!((status, said.contains("git answered: ")), (2, true), "{said}");
    assert_eq!(run(&folder, &["review", "--changed-since", "--output=x"]).0, 2);
}

#[test]
fn a_list_of_changed_files_is_read_as_git_writes_it() {
    let folder = checkout("gate/lists");
    let list = |text: &str, args: &[&str]| {
        write(&folder, "list", text);
        files(&folder, &[&["--files-from", "list"][..], args].concat())
    };
    assert_eq!(list("\"walls/b \\303\\244.detail\"\nREADME.md\ngone.detail\n", &[]), ["walls/b \u{e4}.detail"]);
    assert_eq!(list("walls/a.detail\0walls/b \u{e4}.detail\0", &[]), ["walls/a.detail", "walls/b \u{e4}.detail"]);
    assert_eq!(list("base.detail\n", &["--with-dependents"]), ["walls/a.detail", "walls/b \u{e4}.detail"]);
    fs::remove_file(folder.join("base.detail")).expect("it is there");
    assert_eq!(list("base.detail\n", &["--with-dependents"]), ["walls/a.detail", "walls/b \u{e4}.detail"]);
    let (status, _, said) = run(&folder, &["review", "--files-from", "list"]);
    assert_eq!((status, said.contains("skipped 1 deleted file, such as ")), (0, true), "{said}");
    assert_eq!(run(&folder, &["review", "--files-from", "list", "--require-files"]).0, 2);
}

#[test]
fn ignore_files_above_the_library_do_not_empty_the_gate() {
    let folder = scratch("gate/ignored");
    write(&folder, ".gitignore", "*.detail\n");
    write(&folder, "library/headlap.toml", "");
    write(&folder, "library/a.detail", SHORT);
    let other = SHORT.replace("detail A", "detail C").replace("ly W", "ly V").replace("of W", "of V");
    write(&folder, "library/b/c.DETAIL", &other.replace("joins W", "joins V"));
    assert_eq!(files(&folder, &["library"]), ["library/a.detail", "library/b/c.DETAIL"]);
    // Within the library they count, and the run says so.
    write(&folder, "library/.gitignore", "b/\nx.detail\n");
    write(&folder, "library/x.detail", "");
    let (_, _, said) = run(&folder, &["review", "library"]);
    assert_eq!(said, "headlap: .gitignore left out 2 files\n");
    assert_eq!(files(&folder, &["library"]), ["library/a.detail"]);
    write(&folder, "library/d/a.detail", SHORT);
    write(&folder, "library/.gitignore", "a.detail\n");
    let (status, _, said) = run(&folder, &["review", "library/d"]);
    assert_eq!((status, said.contains("nothing was checked; .gitignore left out 1 file")), (2, true), "{said}");
}

#[test]
fn what_other_programs_take_for_a_line_end_hides_nothing() {
    let folder = scratch("gate/line-ends");
    write(&folder, "a.detail", &SHORT.replace('\n', "\r"));
    assert_eq!(files(&folder, &["a.detail"]), ["a.detail"], "a carriage return ends a line");
    for (stray, name) in [
        ("\0", "NUL"),
        ("\u{b}", "vertical tab"),
        ("\u{c}", "form feed"),
        ("\u{85}", "next-line"),
        ("\u{2028}", "line separator"),
        ("\u{2029}", "paragraph separator"),
    ] {
        write(&folder, "a.detail", &format!("# all one comment?{stray}{}", SHORT.replace('\n', stray)));
        let (status, out, _) = run(&folder, &["review", "a.detail", "--format", "lines"]);
        assert_eq!((status, out.contains("a.detail:1:19: ") && out.contains(name)), (1, true), "{name}: {out}");
    }
}

#[test]
fn tidy_keeps_the_line_ends_of_a_file() {
    let folder = scratch("gate/crlf");
    write(&folder, "a.detail", "set  \"x\"  {\r\n}\r\n");
    assert_eq!(run(&folder, &["tidy", "a.detail"]).0, 0);
    assert_eq!(read(&folder, "a.detail"), "set \"x\" { }\r\n");
    assert_eq!(run(&folder, &["tidy", "--check", "a.detail"]).0, 0);
    assert_eq!(run(&folder, &["start", "new"]).0, 0);
    assert_eq!(run(&folder, &["tidy", "--check", "new"]).1, "", "the library to begin from is in its layout");
    let demo = Path::new(env!("CARGO_MANIFEST_DIR")).join("examples");
    assert_eq!(run(&demo, &["tidy", "--check", "millrace"]).1, "", "and so is the demo library");
}

/// A failure of the program is a finding of the file that it met, and the run goes on.
#[test]
fn a_failure_in_one_file_takes_no_other_along() {
    use headlap::model::SourceMap;
    use headlap::review::{Files, Given, Reviewer, run};
    use headlap::text::{FileId, Source};
    let pack = headlap::rules::Pack::load(&[]).expect("the stock rules load");
    let fetch = |path: &str| Err(format!("there is no {path}"));
    let source_map = SourceMap::new(&fetch, &pack.words);
    let reported = |source: &Source, _: &_| assert_ne!(source.name, "b.detail", "a failure on purpose");
    let day = jiff::civil::date(2026, 5, 31);
    let reviewer = Reviewer::new(&source_map, &pack, day).on_outcome(&reported);
    let names = ["a.detail", "b.detail", "c.detail"];
    let read = |at: usize| Given::Text(std::sync::Arc::new(Source::new(FileId::detail(at), names[at], "weep\n")));
    let report = run(&reviewer, &Files { count: 3, read: &read, has: &|name| names.contains(&name) }, false).report;
    let found: Vec<(&str, &str)> =
        report.findings.iter().map(|f| (report.place(f.span).expect("a place").0, &*f.rule)).collect();
    assert_eq!(found, [("a.detail", "syntax"), ("b.detail", "internal-error"), ("c.detail", "syntax")]);
}

#[test]
fn an_assembly_of_too_many_layers_is_refused() {
    let folder = scratch("gate/layers");
    let wall = |count: usize| {
        let layers: String = (0..count).map(|n| format!("  layer plywood 1 mm as l{n}\n")).collect();
        format!("include \"stock.detail\"\nassembly W existing {{\n  outside\n{layers}  inside\n}}\n")
    };
    for (count, refused) in [(100, false), (101, true)] {
        write(&folder, "a.detail", &wall(count));
        let (_, out, _) = run(&folder, &["review", "a.detail", "--format", "lines"]);
        assert_eq!(out.contains("has more than 100 layers"), refused, "{count}: {out}");
    }
}

/// Lists within lists, six deep over thirty pieces, are 700 million steps for each piece.
#[test]
fn rules_that_would_not_end_are_refused() {
    let folder = scratch("gate/steps");
    let nested = (0..6).fold("index >= 0".to_owned(), |inner, _| format!("all(detail.pieces, {inner})"));
    write(
        &folder,
        "firm/slow.toml",
        &format!(
            "[[rule]]\nid = 'slow'\ntitle = 'Slow'\nlevel = 'note'\nabout = 'piece'\nneeds = '{nested}'\nsays = '{{piece}} is slow'\n\
             [[rule.basis]]\nknown = 'practice'\n"
        ),
    );
    write(&folder, "headlap.toml", "rules = [\"firm\"]\n");
    let pieces: String = (0..30).map(|n| format!("  piece p{n} wrap-open of W up {n} m to {} m\n", n + 1)).collect();
    let head = SHORT.split_once("  piece").expect("pieces").0;
    write(&folder, "a.detail", &format!("{head}{pieces}}}\n"));
    let (status, out, said) = run(&folder, &["review", ".", "--format", "lines"]);
    assert_eq!(status, 1, "{said}");
    assert!(out.contains("slow and other rules were not applied to every piece (too-large)"), "{out}");
    assert_eq!(out.matches("(too-large)").count(), 1, "{out}");
}

#[test]
fn no_zero_has_a_sign() {
    let fixtures = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/findings");
    for file in ["design-condensate.detail", "design-residue.detail"] {
        for format in ["text", "json"] {
            let (_, out, _) = run(&fixtures, &["facts", file, "--format", format]);
            assert!(out.contains("design") && !out.contains("-0.0"), "{file} {format}");
        }
    }
}
