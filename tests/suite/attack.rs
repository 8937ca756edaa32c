//! What an attack on the gate tried: kills, links, endless files, names that steer, limits of the system.
#![cfg(unix)]

use std::fs;
use std::os::unix::fs::symlink;
use std::path::Path;
use std::process::{Command, Stdio};

use crate::command::{reported, run, scratch, write};

const CLEAN: &str = "climate six { zone 6A }\n";

/// The program in a shell, after what the shell is to do first.
fn in_shell(folder: &Path, first: &str, args: &[&str]) -> (Option<i32>, String) {
    let program = assert_cmd::cargo::cargo_bin!("headlap");
    let mut command = Command::new("bash");
    command.current_dir(folder).arg("-c").arg(format!("{first}; exec \"$0\" \"$@\"")).arg(program).args(args);
    let output = command.stdin(Stdio::null()).output().expect("bash runs");
    (output.status.code(), String::from_utf8_lossy(&output.stderr).into_owned())
}

fn names(folder: &Path) -> Vec<String> {
    let entries = fs::read_dir(folder).expect("the folder can be read");
    let mut names: Vec<String> = entries.flatten().map(|entry| entry.file_name().to_string_lossy().into()).collect();
    names.sort();
    names
}

fn pipe(path: &Path) {
    assert!(Command::new("mkfifo").arg(path).status().is_ok_and(|status| status.success()), "mkfifo makes a pipe");
}

/// The system kills a program that writes a file beyond the limit.
#[test]
fn a_library_to_begin_from_is_whole_or_absent_after_a_kill() {
    let folder = scratch("attack/start");
    let (status, _) = in_shell(&folder, "ulimit -c 0 -f 1", &["start", "lib"]);
    assert_eq!(status, None, "it was killed");
    assert!(!folder.join("lib").exists(), "{:?}", names(&folder));
    assert_eq!(run(&folder, &["start", "lib"]).0, 0);
    assert_eq!(names(&folder), ["lib"], "what was left behind is gone");
    assert_eq!(run(&folder, &["start", "lib"]).0, 2, "it holds a library");
    // A folder that is there already is finished by the next call.
    fs::create_dir(folder.join("empty")).expect("made");
    assert_eq!(in_shell(&folder, "ulimit -c 0 -f 1", &["start", "empty"]).0, None);
    assert_eq!(run(&folder, &["start", "empty"]).0, 0);
    assert_eq!(names(&folder.join("empty")), names(&folder.join("lib")));
    write(&folder, "used/details.detail", "mine\n");
    assert_eq!(run(&folder, &["start", "used"]).0, 2);
}

/// What one fills, the other must not take for left behind.
#[test]
fn two_that_begin_at_once_are_both_whole() {
    let folder = scratch("attack/starts");
    let program = assert_cmd::cargo::cargo_bin!("headlap");
    let begin = |into: &str| {
        let mut command = Command::new(program);
        command.current_dir(&folder).args(["start", into]).stdout(Stdio::null()).stderr(Stdio::piped());
        command.spawn().expect("the program runs")
    };
    for round in 0..10 {
        let (one, other) = (format!("one-{round}"), format!("other-{round}"));
        let both = [begin(&one), begin(&other)].map(|run| run.wait_with_output().expect("it ends"));
        assert!(both.iter().all(|run| run.status.success()), "{both:?}");
        // Of two in one place the first wins, and the other says so.
        let same = format!("same-{round}");
        let both = [begin(&same), begin(&same)].map(|run| reported(run.wait_with_output().expect("it ends")));
        let refused = both.iter().filter(|(status, _, said)| {
            let clear = said.contains("has made it meanwhile") || said.contains("is not empty");
            *status == 2 && clear
        });
        assert_eq!((both.iter().filter(|run| run.0 == 0).count(), refused.count()), (1, 1), "{both:?}");
        assert_eq!(names(&folder.join(&one)), names(&folder.join(&same)));
        assert_eq!(names(&folder.join(&one)), names(&folder.join(&other)));
    }
    assert_eq!(names(&folder).len(), 30, "nothing else is left");
}

#[test]
fn what_a_killed_run_left_behind_goes_with_the_next() {
    let folder = scratch("attack/left");
    write(&folder, "a.detail", CLEAN);
    write(&folder, ".headlap-abandoned.part", "x");
    let held = fs::File::create(folder.join(".headlap-held.part")).expect("made");
    held.lock().expect("locked");
    symlink("/dev/zero", folder.join(".headlap-link.part")).expect("a link");
    pipe(&folder.join(".headlap-pipe.part"));
    assert_eq!(run(&folder, &["review", ".", "--format", "json", "--out", "out.json"]).0, 0);
    let left = [".headlap-held.part", ".headlap-link.part", ".headlap-pipe.part", "a.detail", "out.json"];
    assert_eq!(names(&folder), left, "what another run writes stays, and nothing is followed");
}

#[test]
fn names_of_climates_carry_no_control_characters() {
    let folder = scratch("attack/climate");
    write(&folder, "t.csv", "");
    for name in ["a\u{1b}[31m", "a b", "a\nb", "", "1a", "a\"b"] {
        let (status, out, said) = run(&folder, &["climate", "t.csv", "--name", name]);
        assert_eq!((status, out.as_str()), (2, ""), "{name:?}");
        assert!(!said.contains('\u{1b}'), "{said:?}");
    }
    assert!(run(&folder, &["climate", "t.csv", "--name", "a b"]).2.contains("--name takes letters"));
}

#[test]
fn nothing_waits_for_a_pipe_or_reads_without_end() {
    let folder = scratch("attack/endless");
    write(&folder, "lib/a.detail", CLEAN);
    for kind in ["pipe", "zero", "folder", "nothing"] {
        let settings = folder.join("lib/headlap.toml");
        let _ = fs::remove_file(&settings).or_else(|_| fs::remove_dir(&settings));
        match kind {
            "pipe" => pipe(&settings),
            "zero" => symlink("/dev/zero", &settings).expect("a link"),
            "folder" => fs::create_dir(&settings).expect("made"),
            _ => symlink("nowhere", &settings).expect("a link"),
        }
        let (status, _, said) = run(&folder, &["review", "lib"]);
        assert_eq!(status, 2, "settings that are a {kind} are not passed over: {said}");
        assert!(said.contains("headlap.toml"), "{said}");
    }
    // Results of earlier runs.
    let _ = fs::remove_file(folder.join("lib/headlap.toml"));
    assert_eq!(run(&folder, &["review", "lib", "--cache", "kept"]).0, 0);
    let store = folder.join("kept").join(&names(&folder.join("kept"))[0]);
    for endless in [false, true] {
        fs::remove_file(&store).expect("it was there");
        if endless {
            symlink("/dev/zero", &store).expect("a link")
        } else {
            pipe(&store)
        }
        let (status, _, said) = run(&folder, &["review", "lib", "--cache", "kept"]);
        assert_eq!(status, 0, "{said}");
    }
    // Lists on standard input.
    let first = "ulimit -v 4000000";
    let program = assert_cmd::cargo::cargo_bin!("headlap");
    for args in ["review --files-from -", "review -", "tidy -", "climate -"] {
        let line = format!("{first}; \"$0\" {args} < /dev/zero");
        let output = Command::new("bash").current_dir(&folder).args(["-c", &line]).arg(program).output().expect("bash");
        let (status, _, said) = reported(output);
        assert_eq!(status, 2, "{args}: {said}");
        assert!(said.contains("larger than 16 MB"), "{args}: {said}");
    }
}

#[test]
fn threads_that_cannot_be_had_are_status_2() {
    let folder = scratch("attack/threads");
    write(&folder, "a.detail", CLEAN);
    let (status, said) = in_shell(&folder, "ulimit -v 1000000; export RAYON_NUM_THREADS=5000", &["review", "."]);
    assert_eq!(status, Some(2), "{said}");
    assert!(said.contains("threads cannot be started"), "{said}");
}

#[test]
fn a_list_of_known_findings_is_written_where_it_can_be_read() {
    let folder = scratch("attack/known");
    write(&folder, "a.detail", "weep\n");
    for place in ["/dev/null", "."] {
        assert_eq!(run(&folder, &["review", "a.detail", "--write-known", place]).0, 2, "{place}");
    }
}

#[test]
fn links_that_lead_out_of_the_library_are_refused_wherever_they_are_named() {
    let folder = scratch("attack/links");
    write(&folder, "outside/rule.toml", "");
    write(&folder, "outside/secret.detail", "a secret\n");
    write(&folder, "outside/climate.detail", "climate c { outdoor jan 0 C 50 % }\n");
    write(&folder, "lib/headlap.toml", "");
    write(&folder, "lib/firm/real.toml", "");
    symlink("../../outside/rule.toml", folder.join("lib/firm/link.toml")).expect("a link");
    symlink("../outside/secret.detail", folder.join("lib/link.detail")).expect("a link");
    symlink("../outside/climate.detail", folder.join("lib/climate.detail")).expect("a link");
    write(&folder, "list", "lib/link.detail\n");
    for args in [&["review", "lib"][..], &["review", "lib/link.detail"], &["review", "--files-from", "list"]] {
        let (status, out, said) = run(&folder, args);
        assert!(status != 0 && out.contains("outside the library") && !out.contains("a secret"), "{out}{said}");
    }
    for settings in
        ["rules = [\"firm\"]\n", "climate = \"climate.detail\"\n", "climate = \"../outside/climate.detail\"\n"]
    {
        write(&folder, "lib/headlap.toml", settings);
        let (status, _, said) = run(&folder, &["review", "lib/link.detail"]);
        assert!(status == 2 && said.contains("outside the library"), "{settings}: {said}");
    }
}

#[test]
fn a_drawing_that_cannot_be_written_stops_no_other() {
    let folder = scratch("attack/draw");
    let wall = "include \"stock.detail\"\nassembly A existing { outside; layer concrete 200 mm; inside }\n\
                assembly B existing { outside; layer concrete 200 mm; inside }\n";
    write(&folder, "a.detail", wall);
    write(&folder, "out/A-assembly.svg/x", "");
    let (status, _, said) = run(&folder, &["draw", "a.detail", "--out", "out"]);
    assert_eq!(status, 2, "{said}");
    assert!(said.contains("A-assembly.svg cannot be written"), "{said}");
    assert!(folder.join("out/B-assembly.svg").is_file());
}

/// The files of a run, with so many findings of each rule.
fn found(folder: &Path, args: &[&str]) -> (i32, Vec<String>) {
    let (status, out, said) = run(folder, args);
    let rule = |line: &str| line.rsplit_once('(').map_or("", |(_, rule)| rule.trim_end_matches(')')).to_owned();
    assert!(said.is_empty(), "{said}");
    (status, out.lines().map(rule).collect())
}

#[test]
fn includes_lead_so_far_and_no_farther() {
    let folder = scratch("attack/includes");
    let chain = |count: usize| {
        let _ = fs::remove_dir_all(folder.join("lib"));
        for n in 0..count {
            let next = if n + 1 < count { format!("include \"{:03}.detail\"\n", n + 1) } else { String::new() };
            write(
                &folder,
                &format!("lib/{n:03}.detail"),
                &format!("{next}material m{n} sheet {{ holds water; mu 5 }}\n"),
            );
        }
    };
    chain(51);
    assert_eq!(found(&folder, &["review", "lib", "--format", "lines"]).1, [""; 0], "50 in a row are included");
    // What is too deep is reported at the include of each file that it is too deep for, and its names are in doubt there.
    chain(55);
    let (status, rules) = found(&folder, &["review", "lib", "--format", "lines"]);
    assert_eq!((status, rules), (1, vec!["include-failed".to_owned(); 4]));
    // A ring.
    for (count, message) in [(50, "leads back to this file"), (51, "includes are circular or more than 50 files deep")]
    {
        let _ = fs::remove_dir_all(folder.join("lib"));
        for n in 0..count {
            write(&folder, &format!("lib/{n}.detail"), &format!("include \"{}.detail\"\n", (n + 1) % count));
        }
        let (_, out, _) = run(&folder, &["review", "lib", "--format", "lines"]);
        assert_eq!(out.matches(message).count(), count, "{out}");
    }
}

/// Ways over links to one file are one file: it gives no name twice.
#[test]
fn a_file_that_links_lead_to_is_included_once() {
    let folder = scratch("attack/twice");
    write(&folder, "a/m.detail", "material m sheet { holds water; mu 5 }\n");
    symlink("a", folder.join("b")).expect("a link");
    write(&folder, "u.detail", "include \"a/m.detail\"\ninclude \"b/m.detail\"\n");
    assert_eq!(found(&folder, &["review", "u.detail", "--format", "lines"]), (0, Vec::new()));
}

#[test]
fn a_file_that_includes_what_is_not_there_is_not_offered_its_own_name() {
    let folder = scratch("attack/own-name");
    write(&folder, "wall-1.detail", "include \"wall-2.detail\"\n");
    write(&folder, "lib/wall-1.detail", "include \"wall-2.detail\"\n");
    write(&folder, "lib/wall-3.detail", "");
    let (_, out, _) = run(&folder, &["review", ".", "--format", "lines"]);
    assert!(!out.contains("`wall-1.detail` is there"), "{out}");
    assert_eq!(out.matches("`wall-3.detail` is there").count(), 1, "{out}");
}

#[test]
fn a_slip_in_a_folder_of_thousands_is_still_offered_the_name() {
    let folder = scratch("attack/slips");
    for n in 0..600 {
        write(&folder, &format!("lib/wall-{n:03}.detail"), "");
    }
    let slips = ["wall-300.detial", "wal-300.detail", "wall-30.detail"];
    let includes: String = slips.iter().map(|slip| format!("include \"lib/{slip}\"\n")).collect();
    write(&folder, "a.detail", &includes);
    let (_, out, _) = run(&folder, &["review", "a.detail", "--format", "lines"]);
    assert_eq!(out.matches("is there").count(), 3, "{out}");
    assert_eq!(out.matches("`wall-300.detail` is there").count(), 2, "{out}");
}

#[test]
fn a_sentence_names_so_many_things_and_counts_the_rest() {
    let folder = scratch("attack/sentence");
    let rule = "[[rule]]\nid = 'all'\ntitle = 'All'\nlevel = 'note'\nabout = 'piece'\nneeds = 'index > 100000'\n\
                says = '{piece} is one of {detail.pieces}.'\n[[rule.basis]]\nknown = 'practice'\n";
    write(&folder, "firm/all.toml", rule);
    write(&folder, "headlap.toml", "rules = [\"firm\"]\n");
    for (count, reported) in
        [(20, "`p18` and `p19`."), (21, "`p17`, `p18` and 2 others."), (300, "`p17`, `p18` and 281 others.")]
    {
        let pieces: String = (0..count).map(|n| format!("  piece p{n} plywood up {n} m to {} m\n", n + 1)).collect();
        let head = "include \"stock.detail\"\nassembly C existing { outside; layer concrete 200 mm; inside }\n";
        write(&folder, "a.detail", &format!("{head}detail D course joins C {{\n{pieces}}}\n"));
        let (_, out, _) = run(&folder, &["review", "a.detail", "--format", "lines", "--rule", "all"]);
        assert!(out.contains(reported), "{count}: {out}");
    }
}

#[test]
fn so_many_folders_have_adjustments_of_their_own() {
    let folder = scratch("attack/folders");
    let settings = |count: usize| -> String {
        let one = |n| format!("[[folder]]\npath = \"d{n}\"\n");
        (0..count).map(one).collect()
    };
    write(&folder, "a.detail", CLEAN);
    write(&folder, "headlap.toml", &settings(101));
    let (status, _, said) = run(&folder, &["review", "."]);
    assert!(status == 2 && said.contains("more than 100 folders"), "{said}");
    write(&folder, "headlap.toml", &settings(100));
    assert!(run(&folder, &["review", "."]).2.contains("there is no such folder"), "a hundred are read");
}

/// The wheel that `scripts/package` builds, with a script in the place of the program.
#[test]
fn pip_installs_the_program() {
    let folder = scratch("attack/wheel");
    let python = |args: &[&str]| Command::new("python3").current_dir(&folder).args(args).output();
    let has_pip = Command::new("pip").arg("--version").output().is_ok_and(|output| output.status.success());
    if !has_pip || !python(&["-c", "import venv"]).is_ok_and(|output| output.status.success()) {
        assert!(std::env::var_os("HEADLAP_ALL_CHECKS").is_none(), "pip and python3 with venv are there");
        return;
    }
    let script = concat!(env!("CARGO_MANIFEST_DIR"), "/scripts/wheel.py");
    write(&folder, "headlap", "#!/bin/sh\necho it runs\n");
    let made = python(&[script, "wheel", ".", "headlap", "1.2.3", "manylinux2014_x86_64.musllinux_1_1_x86_64"]);
    assert!(made.is_ok_and(|output| output.status.success()));
    let wheel = names(&folder).into_iter().find(|name| name.ends_with(".whl")).expect("a wheel");
    // A pip of its own would take as long to install as all else takes.
    assert!(python(&["-m", "venv", "--without-pip", "env"]).is_ok_and(|output| output.status.success()));
    let mut pip = Command::new("pip");
    let env = ["--python", "env/bin/python", "install", "-q", "--no-index", "--no-deps", &wheel];
    let done = pip.current_dir(&folder).args(env).output().expect("pip runs");
    assert!(done.status.success(), "{}", String::from_utf8_lossy(&done.stderr));
    let said = Command::new(folder.join("env/bin/headlap")).output().expect("it was installed");
    assert_eq!(String::from_utf8_lossy(&said.stdout), "it runs\n");
}

/// Numbers of some of its layers would be those of another assembly.
#[test]
fn an_assembly_of_more_layers_than_are_worked_out_is_refused() {
    let folder = scratch("attack/layers");
    let wall = |count: usize| {
        let layers = "  layer gypsum 1/2 in\n".repeat(count);
        format!("include \"stock.detail\"\nassembly W wall {{\n  outside\n{layers}  inside\n}}\n")
    };
    write(&folder, "a.detail", &wall(100));
    let (_, out, _) = run(&folder, &["review", "a.detail", "--format", "lines"]);
    assert!(!out.contains("too-large"), "{out}");
    write(&folder, "a.detail", &wall(1000));
    let (status, out, _) = run(&folder, &["review", "a.detail", "--format", "lines"]);
    assert_eq!((status, out.matches("(too-large)").count()), (1, 1), "{out}");
    let at = "a.detail:104:3: error: this assembly has more than 100 layers, so none of its numbers were worked out";
    assert!(out.starts_with(at), "{out}");
    let (status, out, _) = run(&folder, &["facts", "a.detail", "--format", "json"]);
    let facts: serde_json::Value = serde_json::from_str(&out).expect("JSON");
    assert_eq!((status, &facts["assemblies"][0]["r_value_m2K_W"]), (1, &serde_json::Value::Null));
}

/// A page has to stay a page.
#[test]
fn a_page_of_many_details_draws_the_gravest() {
    let folder = scratch("attack/page");
    let detail = |name: usize, pieces: &str| format!("detail D{name} course joins W {{\n{pieces}}}\n");
    let wall = "include \"stock.detail\"\n\
                assembly W wall { outside; layer wrap-open controls water, air; layer plywood 12 mm; inside }\n";
    let warned = "  piece deck plywood of W\n";
    let wrong = "  piece deck plywood of W\n  piece upper wrap-open of W up from 0 mm\n  piece lower wrap-open of W up to 200 mm\n";
    let mild: String = (0..221).map(|n| detail(n, &warned.replace("of W", "up 0 mm to 1 m"))).collect();
    write(&folder, "a.detail", &format!("{wall}{mild}{}", detail(221, wrong)));
    assert_eq!(
        run(
            &folder,
            &[
                "review",
                ".",
                "--format",
                "html",
                "--out",
                "page.html",
                "--rule",
                "reverse-lap",
                "--rule",
                "control-not-shown"
            ]
        )
        .0,
        1
    );
    let page = fs::read_to_string(folder.join("page.html")).expect("a page");
    assert_eq!(page.matches("-face-core\"><g").count(), 220, "elevations");
    assert!(page.contains("<g id=\"d221-face\""), "the gravest is drawn");
    assert!(page.contains("2 of 222 details are not drawn here"));
}
