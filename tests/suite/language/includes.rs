//! Includes: what they bring, what they cannot, and that each is read once.

use std::collections::BTreeMap;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::sync::{Arc, Mutex};

use headlap::finding::{Finding, Id};
use headlap::model::{Reading, SourceMap};
use headlap::report::Report;
use headlap::text::{FileId, Source};

use crate::language::reported;
use crate::review::{pack, review_texts};

/// Reads the first file; the others can be included.
fn read(files: &[(&str, &str)]) -> Reading {
    let fetch = |path: &str| match files.iter().position(|(name, _)| *name == path) {
        Some(at) => Ok(Arc::new(Source::new(FileId::detail(at), path, files[at].1))),
        None => Err("there is no such file".to_owned()),
    };
    SourceMap::new(&fetch, &pack().words).read(Arc::new(Source::new(FileId::detail(0), files[0].0, files[0].1)))
}

fn said(files: &[(&str, &str)]) -> Vec<String> {
    let reading = read(files);
    reported(&reading.source, &reading.findings)
}

/// The findings of a run as `file:line: rule: message`, without those of rules.
fn run(files: &[(&str, &str)]) -> Vec<String> {
    let report: Report = review_texts(files);
    let reported = |f: &Finding| {
        let (file, at) = report.place(f.span).expect("a place");
        format!("{file}:{}: {}: {}", at.line, f.rule, f.message)
    };
    report.findings.iter().filter(|f| Id::from_word(&f.rule).is_some_and(Id::of_text)).map(reported).collect()
}

const FELT: &str = "material felt sheet { holds water; thickness 1 mm; permeance 5 perm; source \"x\" }\n";

#[test]
fn names_come_from_the_folder_of_the_includer() {
    let files = [
        ("walls/a.detail", "include \"../shared/felt.detail\"\nassembly A existing { outside; layer felt; inside }"),
        ("shared/felt.detail", FELT),
    ];
    let reading = read(&files);
    assert_eq!(reported(&reading.source, &reading.findings), [""; 0]);
    assert!(reading.library.material("felt").is_some());
    assert!(reading.library.materials.is_empty(), "what is included is not this file's own");
    assert_eq!(reading.library.assemblies.len(), 1);
    assert_eq!(reading.included.len(), 1);
}

#[test]
fn a_failed_include_is_reported_in_its_place_and_the_rest_goes_on() {
    let text = "include \"none.detail\"\ninclude \"/etc/x.detail\"\ninclude \"..\\\\x.detail\"\ninclude \"\"\n\
                include \"stock.detial\"\nassembly A existing { outside; layer flet; inside }";
    let said = said(&[("a.detail", text)]);
    assert_eq!(said.len(), 5, "{said:#?}");
    assert!(
        said.iter().enumerate().all(|(n, s)| s.starts_with(&format!("{}: ", n + 1)) && s.contains("include-failed"))
    );
    assert!(said[4].ends_with("; it may define `flet`"), "{said:#?}");
}

#[test]
fn names_that_a_lost_include_may_give_are_reported_there_and_misspelt_ones_for_themselves() {
    let text =
        |names: &str| format!("include \"none.detail\"\n{FELT}assembly A existing {{ outside; {names} inside }}");
    let layers = |names: &[&str]| names.iter().map(|name| format!("layer {name};")).collect::<String>();
    let messages = |names: &[&str]| {
        let reading = read(&[("a.detail", &text(&layers(names)))]);
        reading.findings.into_iter().map(|finding| finding.message.clone()).collect::<Vec<_>>()
    };
    let lost = "this cannot be included: there is no such file";
    assert_eq!(messages(&["felt"]), [lost]);
    assert_eq!(messages(&["brick"]), [format!("{lost}; it may define `brick`")]);
    assert_eq!(messages(&["brick", "oak"]), [format!("{lost}; it may define `brick` and `oak`")]);
    let five = ["brick", "oak", "tin", "lime", "hemp"];
    assert_eq!(messages(&five), [format!("{lost}; it may define `brick`, `oak`, `tin` and 2 more")]);
    // Each name is reported once.
    assert_eq!(messages(&["brick", "brick"]), messages(&["brick"]));
    assert_eq!(messages(&["flet"]), [lost, "there is no material `flet`"]);
}

#[test]
fn names_of_a_built_in_library_are_reported_once_with_the_include_that_gives_them() {
    let text =
        "assembly A existing { climate miami-1a; outside; layer plywood; layer wrap-open; layer oddity; inside }";
    let reading = read(&[("a.detail", text)]);
    let reported: Vec<(&str, Option<&str>)> =
        reading.findings.iter().map(|finding| (finding.message.as_str(), finding.fix.as_deref())).collect();
    assert_eq!(
        reported,
        [
            (
                "there is no material `oddity`",
                Some(
                    "`headlap materials` lists those that come with headlap; define your own with `material oddity KIND {`."
                )
            ),
            (
                "there is no climate `miami-1a`",
                Some(
                    "Write `include \"climates/miami-1a.detail\"` at the top: this library comes with headlap and defines it."
                )
            ),
            (
                "there is no material `plywood`, nor `wrap-open`",
                Some("Write `include \"stock.detail\"` at the top: this library comes with headlap and defines them.")
            ),
        ]
    );
    let mut mended = text.to_owned();
    reading.findings.iter().flat_map(|finding| &finding.edits).for_each(|edit| {
        assert_eq!((edit.span.start, edit.span.end), (0, 0));
        mended.insert_str(0, &edit.text);
    });
    let left = read(&[("a.detail", &mended)]);
    assert_eq!(messages(&left), ["there is no material `oddity`"]);
}

fn messages(reading: &Reading) -> Vec<&str> {
    reading.findings.iter().map(|finding| finding.message.as_str()).collect()
}

#[test]
fn a_file_that_two_others_include_is_read_once_and_is_no_duplicate() {
    let reads = AtomicUsize::new(0);
    let files: BTreeMap<&str, &str> = BTreeMap::from([
        ("b.detail", "include \"d.detail\"\n"),
        ("c.detail", "include \"d.detail\"\n"),
        ("d.detail", FELT),
    ]);
    let fetch = |path: &str| {
        reads.fetch_add(1, Ordering::Relaxed);
        Ok(Arc::new(Source::new(FileId::detail(path.as_bytes()[0].into()), path, files[path])))
    };
    let source_map = SourceMap::new(&fetch, &pack().words);
    for n in 0..10 {
        let text = "include \"b.detail\"\ninclude \"c.detail\"\ninclude \"d.detail\"\nassembly A existing { outside; layer felt; inside }";
        let reading = source_map.read(Arc::new(Source::new(FileId::detail(n as usize), format!("a{n}.detail"), text)));
        assert_eq!(reported(&reading.source, &reading.findings), [""; 0]);
    }
    assert_eq!(reads.load(Ordering::Relaxed), 3);
}

#[test]
fn items_of_an_include_are_shared_by_its_includers() {
    let fetch = |path: &str| Ok(Arc::new(Source::new(FileId::detail(9), path, FELT)));
    let source_map = SourceMap::new(&fetch, &pack().words);
    let read = |n: u32| {
        source_map.read(Arc::new(Source::new(
            FileId::detail(n as usize),
            format!("{n}.detail"),
            "include \"felt.detail\"",
        )))
    };
    let (one, other) = (read(0), read(1));
    let felt = |reading: &Reading| reading.library.material("felt").expect("included").clone();
    assert!(Arc::ptr_eq(&felt(&one), &felt(&other)));
}

#[test]
fn circles_are_said_where_they_close_and_their_names_count() {
    let a = ("a.detail", "include \"b.detail\"\nassembly A existing { outside; layer felt; inside }");
    let b =
        ("b.detail", "include \"a.detail\"\nmaterial felt sheet { thickness 1 mm }\nset \"x\" { needs course of A }");
    let circle = "circular include: it leads back to this file";
    assert_eq!(said(&[a, b]), [format!("1: \"b.detail\": include-failed: {circle}")]);
    let reported = run(&[a, b]);
    let both = [format!("a.detail:1: include-failed: {circle}"), format!("b.detail:1: include-failed: {circle}")];
    assert_eq!(reported.iter().filter(|t| t.contains("include-failed")).cloned().collect::<Vec<_>>(), both);
    assert!(!reported.iter().any(|t| t.contains("unknown-name")), "{reported:#?}");
    let own = ("a.detail", "include \"a.detail\"\nassembly A existing { outside; layer felt; inside }");
    let said = said(&[own]);
    assert!(said[0].contains("include-failed") && said[1].contains("unknown-name") && said.len() == 2, "{said:#?}");
}

#[test]
fn circles_hang_no_thread() {
    let text = |n: usize| format!("include \"{}.detail\"\nmaterial m{n} sheet {{ thickness 1 mm }}", (n + 1) % 7);
    let fetch = |path: &str| {
        let n: usize = path.trim_end_matches(".detail").parse().expect("a number");
        Ok(Arc::new(Source::new(FileId::detail(n), path, text(n))))
    };
    for _ in 0..20 {
        let source_map = SourceMap::new(&fetch, &pack().words);
        let circles = Mutex::new(0);
        std::thread::scope(|scope| {
            for n in 0..7 {
                let (source_map, circles) = (&source_map, &circles);
                scope.spawn(move || {
                    let source = Arc::new(Source::new(FileId::detail(n), format!("{n}.detail"), text(n)));
                    *circles.lock().expect("no panic") += source_map.read(source).findings.len();
                });
            }
        });
        assert_eq!(circles.into_inner().expect("no panic"), 7, "one for each file");
    }
}

#[test]
fn a_fragment_is_reported_as_it_reads_in_its_includers() {
    let main = (
        "main.detail",
        "include \"stock.detail\"\ninclude \"part.detail\"\nmaterial felt sheet { thickness 1 mm; permeance 1 perm }",
    );
    let part =
        ("part.detail", "assembly A existing { outside; layer concrete 200 mm; layer felt; layer flet; inside }");
    let reading = read(&[main, part]);
    assert_eq!(reported(&reading.source, &reading.findings), [""; 0]);
    assert_eq!(reading.fragments.len(), 1);
    assert_eq!(reading.fragments[0].library.assemblies.len(), 1);
    assert!(reading.library.assembly("A").is_some() && reading.library.assemblies.is_empty());
    let only_slip = ["part.detail:1: unknown-name: there is no material `flet`"];
    assert_eq!(run(&[main, part]), only_slip);
    assert_eq!(run(&[part, main]), only_slip, "whatever the order");
    assert_eq!(run(&[("other.detail", main.1), main, part]), only_slip, "once for all includers");
}

#[test]
fn an_undefined_name_makes_no_fragment_of_an_included_file() {
    let shared =
        ("shared.detail", "include \"stock.detail\"\nassembly A existing { outside; layer conrete 200 mm; inside }");
    let user = ("user.detail", "include \"shared.detail\"\nset \"x\" { needs course of A }");
    let reading = read(&[user, shared]);
    assert!(reading.fragments.is_empty() && reading.findings.is_empty());
    assert_eq!(run(&[user, shared])[0], "shared.detail:2: unknown-name: there is no material `conrete`");
}

#[test]
fn a_fragment_inside_of_an_include_belongs_to_that_include() {
    let user = ("user.detail", "include \"walls.detail\"\nset \"x\" { needs course of A }");
    let walls = ("walls.detail", "include \"part.detail\"\nmaterial felt sheet { thickness 1 mm; permeance 1 perm }");
    let part = ("part.detail", "assembly A existing { outside; layer felt; inside }");
    let reading = read(&[user, walls, part]);
    assert_eq!(reported(&reading.source, &reading.findings), [""; 0]);
    assert!(reading.fragments.is_empty() && reading.library.assembly("A").is_some());
    let deeper = ("user.detail", "include \"walls.detail\"\nmaterial felt sheet { thickness 1 mm; permeance 1 perm }");
    let walls = ("walls.detail", "include \"part.detail\"\nset \"x\" { needs course of A }");
    let reading = read(&[deeper, walls, part]);
    assert_eq!(reported(&reading.source, &reading.findings), [""; 0]);
    let names: Vec<&str> = reading.fragments.iter().map(|part| part.source.name.as_str()).collect();
    assert_eq!(names, ["part.detail", "walls.detail"]);
}

#[test]
fn a_name_that_two_includes_give_is_said_at_the_second() {
    let a = ("a.detail", "include \"b.detail\"\ninclude \"c.detail\"\n");
    let said = said(&[a, ("b.detail", FELT), ("c.detail", "include \"d.detail\"\n"), ("d.detail", FELT)]);
    assert_eq!(said, ["2: \"c.detail\": duplicate-name: the included files define the material `felt` twice"]);
    let own = ("a.detail", "include \"b.detail\"\nmaterial felt sheet { thickness 1 mm }");
    let reading = read(&[own, ("b.detail", FELT)]);
    assert_eq!(reported(&reading.source, &reading.findings), ["2: felt: duplicate-name: duplicate material `felt`"]);
    assert_eq!(reading.findings[0].related[0].span.file, FileId::detail(1), "with the place of the first");
}

#[test]
fn a_long_chain_of_includes_is_followed_to_its_end() {
    let fetch = |path: &str| {
        let n: u32 = path.trim_end_matches(".detail").parse().expect("a number");
        let text = if n == 50 { FELT.to_owned() } else { format!("include \"{}.detail\"", n + 1) };
        Ok(Arc::new(Source::new(FileId::detail(n as usize), path, text)))
    };
    let source_map = SourceMap::new(&fetch, &pack().words);
    let reading = source_map.read(Arc::new(Source::new(FileId::detail(0), "0.detail", "include \"1.detail\"")));
    assert!(reading.library.material("felt").is_some());
}

#[test]
fn a_name_that_is_no_slip_is_offered_the_names_with_a_word_in_common() {
    let text = "include \"stock.detail\"\nassembly A existing { outside; layer acrylic-roof; layer brickwork; inside }";
    let reading = read(&[("a.detail", text)]);
    let fixes: Vec<Option<&str>> = reading.findings.iter().map(|finding| finding.fix.as_deref()).collect();
    // The longest word in common comes first.
    let acrylic = "Similar names: `acrylic-flashing`, `acrylic-sealant`, `acrylic-tape` and 2 more.";
    let way_out =
        "`headlap materials` lists those that come with headlap; define your own with `material brickwork KIND {`.";
    assert_eq!(fixes, [Some(acrylic), Some(way_out)]);
}
