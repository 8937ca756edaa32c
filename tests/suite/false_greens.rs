//! Ways to a green run that is none.

use std::fs;

use crate::command::{git, run, scratch, write};

/// A wall in the climate of the library, and a detail of it with a reverse lap.
const WALL: &str = "include \"stock.detail\"
assembly W wall { outside; layer wrap-open controls water, air; layer osb 7/16 in
  layer mineral-wool 5-1/2 in controls thermal between spruce 1-1/2 in at 16 in
  layer gypsum 1/2 in; layer latex-paint controls vapor; inside }
";

const REVERSED: &str = "include \"stock.detail\"
assembly W wall { outside; layer wrap-open controls water, air; layer plywood 12 mm; inside }
detail A course joins W {
  piece deck  plywood   of W
  piece upper wrap-open of W  up from 0 mm
  piece lower wrap-open of W  up to 200 mm
}
";

#[test]
fn a_submittal_without_a_detail_is_no_pass() {
    let folder = scratch("false_greens/nothing");
    write(&folder, "issued/a.detail", REVERSED);
    write(&folder, "submitted/a.detail", REVERSED);
    write(&folder, "submitted/.gitignore", "*\n");
    let (status, out, said) = run(&folder, &["compare", "issued", "submitted"]);
    assert_eq!((status, out.as_str()), (2, ""), "{said}");
    assert!(said.contains("nothing was compared") && said.contains("left out 1 file"), "{said}");
    assert_eq!(run(&folder, &["tidy", "--check", "submitted"]).0, 2);
}

#[test]
fn what_cannot_be_compared_is_not_recommended() {
    let folder = scratch("false_greens/unread");
    write(&folder, "issued/a.detail", &REVERSED.replace("piece deck", "pece deck"));
    write(&folder, "submitted/a.detail", REVERSED);
    let (status, out, _) = run(&folder, &["compare", "issued", "submitted"]);
    assert_eq!(status, 1);
    assert!(out.contains("proposed: rejected"), "{out}");
}

#[cfg(unix)]
#[test]
fn a_drawing_is_not_written_through_a_link() {
    let folder = scratch("false_greens/drawn");
    write(&folder, "a.detail", REVERSED);
    write(&folder, "victim", "mine");
    write(&folder, "out/other.svg", "");
    std::os::unix::fs::symlink("../victim", folder.join("out/A-section.svg")).expect("a link");
    let (status, _, said) = run(&folder, &["draw", "a.detail", "--out", "out"]);
    assert!(status == 2 && said.contains("is a link"), "{status} {said}");
    assert_eq!(fs::read_to_string(folder.join("victim")).expect("it is there"), "mine");
    assert!(folder.join("out/A-face.svg").exists(), "the others are drawn");
}

/// The climate that assemblies have by default, and the list of known findings, concern every file.
#[test]
fn a_change_of_what_settings_name_concerns_all() {
    let folder = scratch("false_greens/leaning");
    write(&folder, "headlap.toml", "climate = \"c.detail\"\nknown = \"known.jsonl\"\n");
    write(&folder, "c.detail", "climate here { zone 2A }\n");
    write(&folder, "w.detail", WALL);
    write(&folder, "a.detail", REVERSED);
    assert_eq!(run(&folder, &["review", ".", "--write-known", "known.jsonl"]).0, 0);
    git(&folder, &["init", "-q"]);
    git(&folder, &["add", "-A"]);
    git(&folder, &["commit", "-qm", "a"]);
    let since = ["review", "--changed-since", "HEAD", "--format", "lines"];
    assert_eq!(run(&folder, &since).0, 0, "nothing has changed");
    write(&folder, "c.detail", "climate here { zone 7 }\n");
    let (status, out, _) = run(&folder, &since);
    assert!(status == 1 && out.contains("w.detail"), "{out}");
    git(&folder, &["commit", "-aqm", "b"]);
    let list = fs::read_to_string(folder.join("known.jsonl")).expect("a list");
    let shorter: String =
        list.lines().filter(|line| !line.contains("reverse-lap")).map(|line| format!("{line}\n")).collect();
    write(&folder, "known.jsonl", &shorter);
    let (status, out, said) = run(&folder, &since);
    assert!(status == 1 && out.contains("a.detail"), "{out}{said}");
}

#[cfg(unix)]
#[test]
fn settings_that_lie_elsewhere_are_refused() {
    let folder = scratch("false_greens/link");
    write(&folder, "outside/headlap.toml", "fail-on = \"never\"\n");
    write(&folder, "library/a.detail", REVERSED);
    std::os::unix::fs::symlink("../outside/headlap.toml", folder.join("library/headlap.toml")).expect("a link");
    let (status, _, said) = run(&folder, &["review", "library"]);
    assert!(status == 2 && said.contains("a link to a place outside"), "{status} {said}");
}

#[test]
fn settings_that_let_errors_pass_are_reported() {
    let folder = scratch("false_greens/never");
    write(&folder, "headlap.toml", "");
    write(&folder, "inner/headlap.toml", "fail-on = \"never\"\n");
    write(&folder, "inner/a.detail", REVERSED);
    let (status, _, said) = run(&folder, &["review", "."]);
    assert_eq!(status, 0);
    assert!(said.contains("the errors do not fail this run, because inner/headlap.toml says"), "{said}");
    assert_eq!(run(&folder, &["review", ".", "--fail-on", "never"]).2, "", "who types it knows");
}

#[test]
fn what_was_known_of_a_text_that_cannot_be_read_stays_on_the_list() {
    let folder = scratch("false_greens/prune");
    write(&folder, "headlap.toml", "known = \"known.jsonl\"\n");
    write(&folder, "a.detail", REVERSED);
    assert_eq!(run(&folder, &["known", "add", "--because", "phase 2"]).0, 0);
    let list = fs::read_to_string(folder.join("known.jsonl")).expect("a list");
    assert!(list.contains("reverse-lap"), "{list}");
    write(&folder, "a.detail", &REVERSED.replace("piece upper", "pece upper"));
    let (status, out, said) = run(&folder, &["known", "prune"]);
    assert_eq!((status, fs::read_to_string(folder.join("known.jsonl")).expect("a list")), (1, list), "{out}{said}");
}

#[test]
fn a_rule_that_takes_the_place_of_a_stock_one_is_an_exception() {
    let folder = scratch("false_greens/replaced");
    write(&folder, "headlap.toml", "rules = [\"firm.toml\"]\n");
    let rule = "[[rule]]\nid = 'reverse-lap'\nreplaces = true\ntitle = 'Reverse lap'\nlevel = 'error'\nabout = 'lap'\nwhen = 'no'\nneeds = 'no'\nsays = 'x'\n";
    write(&folder, "firm.toml", rule);
    write(&folder, "a.detail", REVERSED);
    let (_, out, said) = run(&folder, &["exceptions"]);
    assert!(out.contains("firm.toml:2") && out.contains("replaces the stock rule"), "{out}{said}");
}

#[test]
fn a_name_that_is_misspelled_is_no_pass() {
    let folder = scratch("false_greens/filters");
    write(
        &folder,
        "a.detail",
        &REVERSED.replace("detail A course joins W {", "detail A1 course joins W {\n  sheet \"1/A-501\""),
    );
    for (typed, wanted) in [(["--item", "A2"], "the item \"A2\""), (["--sheet", "1/A-502"], "the sheet \"1/A-502\"")] {
        let (status, _, said) = run(&folder, &["review", ".", typed[0], typed[1]]);
        assert!(status == 2 && said.contains(wanted), "{status} {said}");
    }
    assert_eq!(run(&folder, &["review", ".", "--item", "A1"]).0, 1);
    assert_eq!(run(&folder, &["review", ".", "--sheet", "1/A-501"]).0, 1);
    assert_eq!(run(&folder, &["review", ".", "--sheet", "A-501"]).0, 1, "all of the sheet");
    // Kept results serve as well, and a name without findings is looked for in the texts.
    write(&folder, "b.detail", "climate six { zone 6A }\nmaterial clean sheet { holds water; mu 5 }\n");
    for _ in 0..2 {
        assert_eq!(run(&folder, &["review", ".", "--item", "A1", "--cache", "kept"]).0, 1);
        assert_eq!(run(&folder, &["review", ".", "--sheet", "A-501", "--cache", "kept"]).0, 1);
        assert_eq!(run(&folder, &["review", ".", "--item", "clean", "--cache", "kept"]).0, 0);
    }
    assert_eq!(fs::read_dir(folder.join("kept")).expect("results were kept").count(), 1);
    // So is one that only an included file has.
    write(&folder, "c/c.detail", "include \"../b.detail\"\n");
    assert_eq!(run(&folder, &["review", "a.detail", "c", "--item", "A1"]).0, 1);
}

/// The list holds all that it finds: a part of the review must not bring the rest onto it.
#[test]
fn a_list_of_a_part_is_not_written() {
    let folder = scratch("false_greens/part");
    write(&folder, "a.detail", REVERSED);
    let (status, _, said) = run(&folder, &["review", ".", "--rule", "short-head-lap", "--write-known", "k.jsonl"]);
    assert!(status == 2 && said.contains("known add"), "{said}");
    assert!(!folder.join("k.jsonl").exists());
}

#[test]
fn a_reason_has_words() {
    let folder = scratch("false_greens/reason");
    let waive = |why: &str| {
        REVERSED.replace("course joins W {", &format!("course joins W {{\n  waive reverse-lap because \"{why}\""))
    };
    write(&folder, "a.detail", &waive("\u{200B}"));
    assert_eq!(run(&folder, &["review", "a.detail"]).0, 1);
    write(&folder, "a.detail", &waive("\u{200B}a"));
    let (_, out, _) = run(&folder, &["review", "a.detail", "--rule", "reverse-lap"]);
    assert!(out.contains("Waived") || out.contains("waived"), "{out}");
}

#[test]
fn what_a_run_reads_and_writes_keeps_apart() {
    let folder = scratch("false_greens/outputs");
    write(&folder, "a.detail", REVERSED);
    write(&folder, ".gitignore", "old\n");
    for out in [".gitignore", "-"] {
        let (status, ..) = run(&folder, &["review", ".", "--format", "json", "--out", out]);
        assert_eq!(status, 2, "{out}");
    }
    assert_eq!(fs::read_to_string(folder.join(".gitignore")).expect("it is there"), "old\n");
    assert!(!folder.join("-").exists());
    #[cfg(unix)]
    {
        fs::create_dir(folder.join("one")).expect("a folder");
        std::os::unix::fs::symlink("one", folder.join("two")).expect("a link");
        let both = ["review", ".", "--format", "json", "--out", "one/o", "--format", "sarif", "--out", "two/o"];
        assert_eq!(run(&folder, &both).0, 2);
    }
}

#[cfg(unix)]
#[test]
fn a_link_to_a_folder_elsewhere_is_reported() {
    let folder = scratch("false_greens/folder");
    write(&folder, "outside/b.detail", REVERSED);
    write(&folder, "library/headlap.toml", "");
    write(&folder, "library/a.detail", "climate six { zone 6A }\n");
    std::os::unix::fs::symlink("../outside", folder.join("library/d")).expect("a link");
    let (status, out, said) = run(&folder, &["review", "library"]);
    assert!(status != 0 && (out + &said).contains("a link to a place outside"), "{said}");
    // One within the library leads to what is checked anyway.
    std::fs::remove_file(folder.join("library/d")).expect("it is there");
    write(&folder, "library/e/c.detail", "climate seven { zone 7 }\n");
    std::os::unix::fs::symlink("e", folder.join("library/d")).expect("a link");
    let (status, out, _) = run(&folder, &["review", "library"]);
    assert!(status == 0 && out.contains("2 files"), "{out}");
}

/// What an earlier run wrote, in every format.
const OUTPUTS: [(&str, &str); 7] = [
    ("sarif", "o.sarif"),
    ("junit", "o.xml"),
    ("json", "o.json"),
    ("jsonl", "o.jsonl"),
    ("html", "o.html"),
    ("lines", "o.txt"),
    ("text", "o.text"),
];

#[test]
fn what_an_earlier_run_wrote_does_not_pass_for_a_run_that_failed() {
    let folder = scratch("false_greens/stale");
    write(&folder, "a.detail", "climate six { zone 6A }\n");
    let outputs: Vec<&str> = OUTPUTS.iter().flat_map(|(format, file)| ["--format", format, "--out", file]).collect();
    let with = |before: &[&'static str], after: &[&'static str]| {
        [&["review"], before, &outputs[..], after].concat().into_iter().map(str::to_owned).collect::<Vec<_>>()
    };
    let spelled: Vec<String> =
        OUTPUTS.iter().flat_map(|(format, file)| [format!("--format={format}"), format!("--out={file}")]).collect();
    let spelled = [vec!["review".to_owned(), ".".to_owned()], spelled, vec!["--levle".to_owned()]].concat();
    for failing in [
        with(&["."], &["--rule", "nosuch"]),
        with(&["nowhere"], &[]),
        with(&["."], &["--level", "bogus"]),
        with(&["."], &["--misspelled"]),
        with(&["."], &["--fix", "-"]),
        with(&["."], &["--known", "nowhere.jsonl"]),
        spelled,
    ] {
        assert_eq!(run(&folder, &with(&["."], &[]).iter().map(String::as_str).collect::<Vec<_>>()).0, 0);
        assert!(OUTPUTS.iter().all(|(_, file)| folder.join(file).exists()), "{failing:?}");
        assert_eq!(run(&folder, &failing.iter().map(String::as_str).collect::<Vec<_>>()).0, 2, "{failing:?}");
        let sarif = fs::read_to_string(folder.join("o.sarif")).expect("it is there");
        assert!(sarif.contains("\"executionSuccessful\": false"), "{failing:?}: {sarif}");
        let junit = fs::read_to_string(folder.join("o.xml")).expect("it is there");
        assert!(junit.contains("errors=\"1\""), "{failing:?}: {junit}");
        for (format, file) in &OUTPUTS[2..] {
            assert!(!folder.join(file).exists(), "{failing:?}: {format} is of the run before");
        }
    }
    // Of `compare` too.
    assert_eq!(run(&folder, &["compare", ".", ".", "--format", "json", "--out", "c.json"]).0, 0);
    assert_eq!(run(&folder, &["compare", ".", "nowhere", "--format", "json", "--out", "c.json"]).0, 2);
    assert!(!folder.join("c.json").exists());
}

/// A mistake in what is typed must not cost what a run reads.
#[test]
fn a_run_that_failed_takes_away_nothing_that_it_might_read() {
    let folder = scratch("false_greens/kept");
    write(&folder, "a.detail", REVERSED);
    write(&folder, "headlap.toml", "rules = [\"firm.toml\"]\n");
    write(&folder, "firm.toml", "[[rule]]\n");
    assert_eq!(run(&folder, &["review", ".", "--write-known", "known.jsonl"]).0, 2, "the rule is not whole");
    fs::remove_file(folder.join("headlap.toml")).expect("it is there");
    assert_eq!(run(&folder, &["review", ".", "--write-known", "known.jsonl"]).0, 0);
    write(&folder, "headlap.toml", "rules = [\"firm.toml\"]\nknown = \"known.jsonl\"\n");
    for file in ["a.detail", "headlap.toml", "firm.toml", "known.jsonl"] {
        let before = fs::read(folder.join(file)).expect("it is there");
        for format in ["json", "sarif"] {
            for more in [&[][..], &["--misspelled"], &["--level", "bogus"]] {
                let args = [&["review", ".", "--format", format, "--out", file], more].concat();
                assert_eq!(run(&folder, &args).0, 2, "{args:?}");
                assert_eq!(fs::read(folder.join(file)).expect("it is there"), before, "{args:?}");
            }
        }
    }
}

#[test]
fn outputs_say_how_many_files_were_left_out() {
    let folder = scratch("false_greens/ignored");
    write(&folder, ".gitignore", "old\n");
    write(&folder, "a.detail", "climate six { zone 6A }\n");
    write(&folder, "old/b.detail", REVERSED);
    write(&folder, "old/c.detail", REVERSED);
    let said = |format: &str| -> serde_json::Value {
        let (status, out, _) = run(&folder, &["review", ".", "--format", format]);
        assert_eq!(status, 0);
        serde_json::from_str(&out).expect("JSON")
    };
    assert_eq!((&said("json")["files"], &said("json")["left_out"]), (&1.into(), &2.into()));
    let invocation = &said("sarif")["runs"][0]["invocations"][0];
    assert_eq!(invocation["properties"]["leftOut"], 2);
    let reported = &invocation["toolExecutionNotifications"][0]["message"]["text"];
    assert_eq!(reported, ".gitignore left out 2 files");
    fs::remove_file(folder.join(".gitignore")).expect("it is there");
    let (_, out, _) = run(&folder, &["review", ".", "--format", "json"]);
    assert_eq!(serde_json::from_str::<serde_json::Value>(&out).expect("JSON")["left_out"], 0);
}

/// Who submits does not decide what is looked at.
#[test]
fn what_a_submittal_hides_is_no_pass() {
    let folder = scratch("false_greens/hidden");
    write(&folder, "issued/w.detail", WALL);
    write(&folder, "submitted/w.detail", WALL);
    write(&folder, "submitted/a.detail", REVERSED);
    write(&folder, "submitted/.gitignore", "a.detail\n");
    let (status, out, _) = run(&folder, &["compare", "issued", "submitted"]);
    assert!(status == 1 && out.contains(".gitignore files leave out 1 file"), "{out}");
    // What the issued side leaves out too was never part of it.
    write(&folder, "issued/a.detail", REVERSED);
    write(&folder, "issued/.gitignore", "a.detail\n");
    assert_eq!(run(&folder, &["compare", "issued", "submitted"]).0, 0);
}

#[test]
fn settings_within_a_submittal_are_reported() {
    let folder = scratch("false_greens/within");
    write(&folder, "issued/n/w.detail", WALL);
    write(&folder, "submitted/n/w.detail", WALL);
    write(&folder, "submitted/n/headlap.toml", "fail-on = \"never\"\n");
    let (_, out, _) = run(&folder, &["compare", "issued", "submitted"]);
    assert!(out.contains("submitted/n/headlap.toml: fail-on = \"never\""), "{out}");
}

#[test]
fn a_detail_that_is_not_submitted_is_reported_with_the_proposal() {
    let folder = scratch("false_greens/missing");
    write(&folder, "issued/w.detail", WALL);
    write(&folder, "issued/k.detail", "detail K course joins W { }\ninclude \"w.detail\"\n");
    write(&folder, "submitted/w.detail", WALL);
    let (_, out, _) = run(&folder, &["compare", "issued", "submitted"]);
    assert!(out.contains("not submitted: K"), "{out}");
}

/// Git names a repository within another as a whole.
#[test]
fn changes_of_a_repository_within_another_are_checked() {
    let folder = scratch("false_greens/within-git");
    write(&folder, "inner/a.detail", WALL);
    git(&folder.join("inner"), &["init", "-q"]);
    git(&folder.join("inner"), &["add", "-A"]);
    git(&folder.join("inner"), &["commit", "-qm", "a"]);
    git(&folder, &["init", "-q"]);
    git(&folder, &["add", "inner"]);
    git(&folder, &["commit", "-qm", "a"]);
    write(&folder, "inner/a.detail", REVERSED);
    let (status, out, said) = run(&folder, &["review", ".", "--changed-since", "HEAD", "--format", "lines"]);
    assert!(status == 1 && out.contains("inner/a.detail"), "{out}{said}");
}

#[test]
fn a_log_of_an_earlier_run_says_that_this_one_failed_when_another_output_is_refused() {
    let folder = scratch("false_greens/refused");
    write(&folder, "a.detail", WALL);
    let first = ["review", "a.detail", "--format", "sarif", "--out", "s.sarif"];
    assert_eq!(run(&folder, &first).0, 0);
    let both = [&first[..], &["--format", "json", "--out", "a.detail"]].concat();
    assert_eq!(run(&folder, &both).0, 2);
    let log = fs::read_to_string(folder.join("s.sarif")).expect("a log");
    assert!(log.contains("\"executionSuccessful\": false"), "{log}");
    assert_eq!(fs::read_to_string(folder.join("a.detail")).expect("it is there"), WALL);
}
