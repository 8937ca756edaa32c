//! A submittal against the issued details.

use std::path::{Path, PathBuf};

use serde_json::Value;

use crate::command::{self, headlap, run, scratch};

const ISSUED: &str = r#"include "stock.detail"
assembly C existing { outside; layer concrete 200 mm; inside }
detail D1 course joins C {
  piece deck  plywood
  piece low   wrap-open  up to 150 mm
  piece high  wrap-open  up from 0 mm
  weeps every 600 mm up 0 mm
}
"#;

fn write(folder: &Path, name: &str, text: &str) -> PathBuf {
    let path = folder.join(name);
    std::fs::create_dir_all(&path).expect("a folder");
    std::fs::write(path.join("a.detail"), text).expect("written");
    path
}

fn compare(name: &str, submitted: &str) -> (i32, Value) {
    let folder = std::env::temp_dir().join(format!("headlap-compare-{name}-{}", std::process::id()));
    let (old, new) = (write(&folder, "issued", ISSUED), write(&folder, "submitted", submitted));
    let output = headlap().arg("compare").arg(old).arg(new).args(["--format", "json"]).output().expect("it runs");
    std::fs::remove_dir_all(&folder).expect("it was made");
    (output.status.code().expect("a status"), serde_json::from_slice(&output.stdout).expect("JSON"))
}

fn changes(report: &Value) -> Vec<String> {
    let changes =
        report["details"].as_array().expect("a list").iter().flat_map(|d| d["changes"].as_array().expect("a list"));
    changes.map(|c| c["what"].as_str().expect("words").to_owned()).collect()
}

#[test]
fn the_same_text_changes_nothing_in_any_unit() {
    let (status, report) = compare("units", &ISSUED.replace("150 mm", "15 cm"));
    assert_eq!((status, changes(&report)), (0, vec![]));
    assert_eq!(report["findings"]["new"], Value::Array(vec![]));
}

#[test]
fn a_turned_lap_is_a_new_finding_that_fails() {
    let low = "  piece low   wrap-open  up to 150 mm\n";
    let high = "  piece high  wrap-open  up from 0 mm\n";
    let (status, report) = compare("turned", &ISSUED.replace(&format!("{low}{high}"), &format!("{high}{low}")));
    let new = report["findings"]["new"].as_array().expect("a list");
    assert!(new.iter().any(|f| f["rule"] == "reverse-lap"), "{new:?}");
    assert_eq!((status, &report["proposal"]["action"]), (1, &Value::from("revise and resubmit")));
    assert!(changes(&report).contains(&"head lap of high and low".to_owned()), "{report}");
}

#[test]
fn weeps_that_move_up_are_a_change() {
    let (_, report) = compare("weeps", &ISSUED.replace("600 mm up 0 mm", "600 mm up 75 mm"));
    assert_eq!(changes(&report), ["weeps", "weeps"], "gone from one height, added at another");
}

#[test]
fn a_renamed_piece_and_detail_are_not_gone_and_new() {
    let (status, report) = compare("renamed", &ISSUED.replace("piece high", "piece upper").replace("D1", "D1a"));
    let detail = &report["details"][0];
    assert_eq!((&detail["name"], &detail["issued_as"]), (&Value::from("D1a"), &Value::from("D1")));
    assert_eq!(changes(&report), ["piece upper, called"]);
    assert_eq!(status, 0);
}

#[test]
fn a_substituted_material_stands_beside_the_issued_one() {
    let (_, report) = compare("material", &ISSUED.replace("high  wrap-open", "high  poly-6mil"));
    let pair = &report["materials"][0];
    assert_eq!((&pair["issued"], &pair["submitted"]), (&Value::from("wrap-open"), &Value::from("poly-6mil")));
    let rows = pair["properties"].as_array().expect("a list");
    assert!(rows.iter().any(|r| r["property"] == "vapor permeance, dry" && r["control"] == "vapor"), "{rows:?}");
}

#[test]
fn the_page_shows_hostile_names_as_text() {
    let folder = std::env::temp_dir().join(format!("headlap-compare-page-{}", std::process::id()));
    let hostile =
        ISSUED.replace("course joins", "course \"<script>alert(1)</script>\" joins").replace("150 mm", "40 mm");
    let (old, new) = (write(&folder, "issued", ISSUED), write(&folder, "submitted", &hostile));
    let output = headlap().arg("compare").arg(old).arg(new).args(["--format", "html"]).output().expect("it runs");
    std::fs::remove_dir_all(&folder).expect("it was made");
    let page = String::from_utf8(output.stdout).expect("UTF-8");
    assert!(page.starts_with("<!DOCTYPE html>") && page.contains("head-lap-below-code"), "{page}");
    assert!(!page.contains("<script"), "{page}");
}

/// The folders `issued` and `submitted` with these files, compared with these options.
fn sides(name: &str, issued: &[(&str, &str)], submitted: &[(&str, &str)], args: &[&str]) -> (i32, String) {
    let folder = scratch(&format!("compare/{name}"));
    for (side, files) in [("issued", issued), ("submitted", submitted)] {
        for (file, text) in files {
            command::write(&folder.join(side), file, text);
        }
    }
    let (status, out, _) = run(&folder, &[&["compare", "issued", "submitted"], args].concat());
    (status, out)
}

fn in_json(name: &str, issued: &[(&str, &str)], submitted: &[(&str, &str)]) -> (i32, Value) {
    let (status, text) = sides(name, issued, submitted, &["--format", "json"]);
    (status, serde_json::from_str(&text).expect("JSON"))
}

fn rules_of(list: &Value) -> Vec<&str> {
    list.as_array().expect("a list").iter().map(|f| f["rule"].as_str().expect("a rule")).collect()
}

/// One that submits does not accept deviations from what was issued.
#[test]
fn what_a_submittal_brings_acquits_nobody() {
    let short = ISSUED.replace("150 mm", "40 mm");
    let waived = short.replace("  weeps", "  waive head-lap-below-code because \"it fits\" by \"sub\"\n  weeps");
    let (status, report) = in_json("waiver", &[("a.detail", ISSUED)], &[("a.detail", &waived)]);
    assert!(rules_of(&report["findings"]["new"]).contains(&"head-lap-below-code"), "{report}");
    assert_eq!(status, 1);
    let brought = &report["not_applied"]["waivers"][0];
    assert_eq!((&brought["item"], &brought["rule"]), (&"D1".into(), &"head-lap-below-code".into()));

    let settings = "[adjust.head-lap-below-code]\noff = true\nbecause = \"we like it\"\n";
    let files = [("a.detail", &*short), ("headlap.toml", settings)];
    let (status, report) = in_json("settings", &[("a.detail", ISSUED)], &files);
    assert!(rules_of(&report["findings"]["new"]).contains(&"head-lap-below-code"), "{report}");
    assert_eq!(status, 1);
    let said = report["not_applied"]["settings"][0].as_str().expect("words");
    assert!(said.contains("adjust.head-lap-below-code: off") && said.contains("we like it"), "{said}");

    // What was issued with the details judges both sides, folders by their place.
    let inside = format!("[[folder]]\npath = \"old\"\n{}", settings.replace("[adjust", "[folder.adjust"));
    let issued = [("old/a.detail", ISSUED), ("headlap.toml", &*inside)];
    let (_, report) = in_json("issued-settings", &issued, &[("old/a.detail", &short)]);
    assert!(!rules_of(&report["findings"]["new"]).contains(&"head-lap-below-code"), "{report}");
    let (_, report) = in_json("other-folder", &issued, &[("new/a.detail", &short)]);
    assert!(rules_of(&report["findings"]["new"]).contains(&"head-lap-below-code"), "{report}");
}

#[test]
fn old_findings_are_not_held_against_the_submittal() {
    let short = ISSUED.replace("150 mm", "40 mm");
    let (status, report) = in_json("old", &[("a.detail", &short)], &[("a.detail", &short)]);
    assert!(rules_of(&report["findings"]["unchanged"]).contains(&"head-lap-below-code"), "{report}");
    assert_eq!((status, &report["proposal"]["action"]), (0, &"no exceptions taken".into()));
    // The issued details accept it, and the submittal leaves the waiver out.
    let waived = short.replace("  weeps", "  waive head-lap-below-code because \"it fits\"\n  weeps");
    let (_, report) = in_json("dropped", &[("a.detail", &waived)], &[("a.detail", &short)]);
    assert!(!rules_of(&report["findings"]["new"]).contains(&"head-lap-below-code"), "{report}");
}

#[test]
fn a_lap_that_misses_its_limit_by_more_is_worse() {
    let (short, shorter) = (ISSUED.replace("150 mm", "40 mm"), ISSUED.replace("150 mm", "20 mm"));
    let (status, report) = in_json("worse", &[("a.detail", &short)], &[("a.detail", &shorter)]);
    assert!(rules_of(&report["findings"]["worse"]).contains(&"head-lap-below-code"), "{report}");
    assert_eq!((status, &report["proposal"]["action"]), (1, &"revise and resubmit".into()));
    let (status, report) = in_json("better", &[("a.detail", &shorter)], &[("a.detail", &short)]);
    assert_eq!((status, rules_of(&report["findings"]["worse"])), (0, vec![]));
}

#[test]
fn what_could_not_be_read_is_never_no_change() {
    let broken = ISSUED.replace("  weeps every 600 mm up 0 mm\n", "  weeeps evry 600 mm\n");
    for (name, issued, submitted) in [("unread", ISSUED, &*broken), ("unread-issued", &broken, &*broken)] {
        let (status, text) = sides(name, &[("a.detail", issued)], &[("a.detail", submitted)], &[]);
        assert_eq!(status, 1, "{text}");
        assert!(text.contains("Unreadable text in the submittal") && text.contains("was not compared"), "{text}");
        assert!(!text.contains("changes nothing"), "{text}");
    }
    let (status, text) = sides("mended", &[("a.detail", &broken)], &[("a.detail", ISSUED)], &[]);
    assert_eq!(status, 1, "{text}");
    assert!(text.contains("Unreadable text in the issued details"), "{text}");
}

#[test]
fn the_sheet_names_project_detail_and_what_a_lost_piece_takes_along() {
    let titled = ISSUED.replace("course joins", "course \"Band course at the stair\" joins");
    let titled = titled.replace("  piece deck", "  sheet \"A-501\"\n  piece deck");
    let low = "  piece low   wrap-open  up to 150 mm\n";
    let lost = titled.replace(low, "");
    let named = ["--project", "Millrace Library annex", "--submittal", "12", "--date", "2026-05-31"];
    let (_, text) = sides("sheet", &[("a.detail", &titled)], &[("a.detail", &lost)], &named);
    assert!(text.starts_with("Project Millrace Library annex, submittal 12, 2026-05-31\n\nProposed: "), "{text}");
    assert!(text.contains("Band course at the stair, sheet A-501"), "{text}");
    let piece = text.find("    - piece low: gone").expect("the piece");
    let lap = text.find("      - head lap of high and low: gone").expect("its lap");
    assert!(lap > piece, "{text}");
    let (_, page) = sides("page", &[("a.detail", &titled)], &[("a.detail", &lost)], &["--format", "html"]);
    let (findings, changes) = (page.find("New and worse findings"), page.find("<h2>Details</h2>"));
    assert!(findings.is_some() && findings < changes, "findings first");
    assert!(page.contains("<svg") && page.contains("To do: "), "with drawing and cure");
    assert_eq!(sides("date", &[("a.detail", ISSUED)], &[("a.detail", ISSUED)], &["--date", "soon"]).0, 2);
}

#[test]
fn a_substitution_shows_what_it_does_to_drying_and_vapor_class() {
    let wall = |inner: &str| {
        format!(
            "include \"stock.detail\"\nassembly W wall {{\n  outside\n  layer wrap-open  controls water air\n  \
             layer osb 12 mm\n  layer mineral-wool 140 mm  controls thermal\n  layer {inner}\n  inside\n}}\n"
        )
    };
    let (issued, submitted) = (wall("kraft-facing"), wall("poly-6mil"));
    let (_, report) = in_json("drying", &[("a.detail", &issued)], &[("a.detail", &submitted)]);
    let changes = report["assemblies"][0]["changes"].as_array().expect("a list");
    let row = changes.iter().find(|c| c["what"] == "layer osb, dries inward through").expect("a row");
    assert!(row["issued"].as_str().expect("words").ends_with(" perm"), "{row}");
    assert_eq!(row["submitted"], "0.060 perm", "{row}");
    assert!(
        changes.iter().any(|c| c["what"].as_str().expect("words").ends_with("vapor retarder class")),
        "{changes:?}"
    );
}

/// Each kind of statement changes by itself, whether or not a finding follows.
#[test]
fn every_change_of_words_is_seen() {
    let issued = "include \"stock.detail\"
climate site { zone 4A; design outdoor -5 C 80 % indoor 20 C 50 % for 90 days }
material own-wrap sheet \"Wrap\" { holds water; thickness 0.2 mm; permeance 50 perm; section \"07 25 00\"; source \"sheet 1\" }
assembly C existing \"Wall\" { outside; climate site; layer concrete 200 mm; layer own-wrap; inside }
detail D1 course \"Band\" joins C {
  sheet \"A-501\"
  note \"see structure\"
  fold along 0 mm inside-corner
  sheltered up from 3 m
  installed-at 10 C
  piece deck  plywood
  piece low   wrap-open  up to 150 mm
  piece high  wrap-open  up from 0 mm
  cut high up 1 m to 2 m along 1 m to 2 m
  weeps every 600 mm up 0 mm
}
set \"annex\" { needs course of C }
";
    for (from, to, what) in [
        ("-5 C 80 %", "-8 C 80 %", "design"),
        ("section \"07 25 00\"", "section \"07 27 00\"", "section"),
        ("source \"sheet 1\"", "source \"sheet 2\"", "source"),
        ("existing \"Wall\"", "existing \"Old wall\"", "title"),
        ("\"Band\"", "\"Course\"", "title"),
        ("\"A-501\"", "\"A-502\"", "sheet"),
        ("note \"see structure\"", "note \"see section\"", "note"),
        ("inside-corner", "outside-corner", "fold"),
        ("up from 3 m\n  installed", "up from 4 m\n  installed", "sheltered"),
        ("installed-at 10 C", "installed-at 5 C", "installed-at"),
        ("along 1 m to 2 m", "along 1 m to 3 m", "cut high"),
        ("  note \"see structure\"\n", "", "note"),
        ("needs course of C", "needs course of C; needs corner of C", "needs corner"),
        ("climate site;", "", "climate"),
    ] {
        assert!(issued.contains(from), "{from}");
        let submitted = issued.replacen(from, to, 1);
        let (_, report) = in_json("words", &[("a.detail", issued)], &[("a.detail", &submitted)]);
        let lists =
            ["details", "assemblies", "others"].into_iter().flat_map(|list| report[list].as_array().expect("a list"));
        let changes = lists.flat_map(|item| item["changes"].as_array().expect("a list")).map(|change| &change["what"]);
        let rows = report["materials"].as_array().expect("a list").iter();
        let rows = rows.flat_map(|pair| pair["properties"].as_array().expect("a list")).map(|row| &row["property"]);
        let reported: Vec<&Value> = changes.chain(rows).collect();
        assert!(reported.iter().any(|reported| **reported == what), "{from} -> {to}: {reported:?}");
    }
    let (_, report) = in_json("same-words", &[("a.detail", issued)], &[("a.detail", issued)]);
    assert!(
        ["details", "assemblies", "others", "materials"].iter().all(|list| report[*list] == Value::Array(vec![])),
        "{report}"
    );
}

#[test]
fn a_library_against_itself_proposes_nothing() {
    let library = concat!(env!("CARGO_MANIFEST_DIR"), "/examples/millrace");
    for format in ["text", "html"] {
        let (status, said, _) = run(&scratch("compare/itself"), &["compare", library, library, "--format", format]);
        let said = said.to_lowercase();
        assert_eq!(status, 0);
        assert!(said.contains("the submittal changes nothing"), "{said}");
        assert!(!said.contains("propose") && !said.contains("no exceptions taken"), "{said}");
        assert!(!said.contains("<figure"), "nothing changed, nothing drawn");
    }
}

/// Before and after stand side by side; what changed is in a cloud on both, and nothing else is.
#[test]
fn a_changed_detail_is_drawn_before_and_after_with_clouds() {
    let folder = scratch("compare/clouds");
    let moved = ISSUED.replace("up to 150 mm", "up to 60 mm");
    let (old, new) = (write(&folder, "issued", ISSUED), write(&folder, "submitted", &moved));
    let paths = [&old, &new].map(|path| path.to_str().expect("a plain path"));
    let (_, page, _) = run(&folder, &["compare", paths[0], paths[1], "--format", "html"]);
    assert_eq!(page.matches("<figure>").count(), 2, "one before, one after");
    assert!(page.contains("<strong>Issued</strong>") && page.contains("<strong>Submitted</strong>"));
    assert_eq!(page.matches("<title>changed</title>").count(), 2, "one cloud on each: the piece low");
    assert_eq!(page.matches("Changed: low.").count(), 2);
    let verdict = page.find("Proposed: ").expect("a verdict");
    assert!(verdict < page.find(" new finding").expect("how many"), "the verdict comes first");
}

/// A wall whose plywood, once a vapor-tight covering is submitted for the paint, dries neither way.
fn walls() -> (String, String) {
    let wall = |inner: &str| {
        format!(
            "include \"stock.detail\"\nassembly W wall \"Stack room\" {{\n  outside\n  layer foil-faced-board 50 mm  controls thermal\n  layer plywood 12 mm\n  layer {inner}\n  inside\n}}\n"
        )
    };
    (wall("emulsion-paint"), wall("poly-6mil controls vapor"))
}

/// A finding about an assembly has its picture too, before and after: the layer in a bracket, how much it dries, the change in a cloud.
#[test]
fn a_changed_assembly_is_drawn_before_and_after() {
    let folder = scratch("compare/assembly");
    let (issued, submitted) = walls();
    let (old, new) = (write(&folder, "issued", &issued), write(&folder, "submitted", &submitted));
    let paths = [&old, &new].map(|path| path.to_str().expect("a plain path"));
    let (_, page, _) = run(&folder, &["compare", paths[0], paths[1], "--format", "html"]);
    let held = page.split_once("New and worse findings").expect("findings").1.split("<h2>").next().expect("it ends");
    assert!(held.contains("<h3>W, Stack room</h3>"), "{held}");
    let figures: Vec<&str> = held.split("<figure>").skip(1).collect();
    let [before, after] = &figures[..] else { panic!("{}", figures.len()) };
    assert!(before.contains("Issued") && after.contains("Submitted"));
    assert!(after.contains("dries in: ") && after.contains("dries out: "), "{after}");
    for side in [before, after] {
        assert_eq!(side.matches("<title>changed</title>").count(), 1, "{side}");
    }
    let changes = page.split_once("<h2>Assemblies</h2>").expect("what changed").1;
    assert!(changes.contains("Drawn with finding 1"), "{changes}");
}

/// Two findings about an assembly are two pictures, and one of these shows what changed.
#[test]
fn what_changed_in_an_assembly_is_in_a_cloud_once() {
    let folder = scratch("compare/assembly-once");
    let wall = |inner: &str| {
        format!(
            "include \"stock.detail\"\nassembly W wall {{\n outside\n layer foil-faced-board 50 mm controls thermal\n layer plywood 12 mm\n \
             layer osb 11 mm\n layer {inner}\n inside\n}}\n"
        )
    };
    let old = write(&folder, "issued", &wall("emulsion-paint"));
    let new = write(&folder, "submitted", &wall("poly-6mil controls vapor"));
    let paths = [&old, &new].map(|path| path.to_str().expect("a plain path"));
    let (_, page, _) = run(&folder, &["compare", paths[0], paths[1], "--format", "html"]);
    let held = page.split_once("New and worse findings").expect("findings").1.split("<h2>").next().expect("it ends");
    let clouds = |figure: &str| figure.matches("<title>changed</title>").count();
    let pictures = |side: &str| -> Vec<usize> {
        held.split("<figure>").skip(1).filter(|figure| figure.contains(side)).map(clouds).collect()
    };
    let submitted = pictures("<strong>Submitted");
    assert!(submitted.len() > 1, "{submitted:?}");
    assert_eq!(submitted.iter().sum::<usize>(), 1, "{submitted:?}");
    assert_eq!(pictures("<strong>Issued").iter().sum::<usize>(), 1);
    assert_eq!(held.matches("in a cloud").count(), 2, "one on each side");
}

/// What is only on one side has nothing that changed.
#[test]
fn what_is_missing_is_not_called_changed() {
    let folder = scratch("compare/missing");
    let two = format!(
        "{ISSUED}{}",
        ISSUED.split_once("detail D1").map(|(_, rest)| format!("detail D2{rest}")).expect("a detail")
    );
    let (old, new) = (write(&folder, "issued", &two), write(&folder, "submitted", ISSUED));
    let paths = [&old, &new].map(|path| path.to_str().expect("a plain path"));
    let (_, page, _) = run(&folder, &["compare", paths[0], paths[1], "--format", "html"]);
    assert!(page.contains("</strong>, missing from the submittal") && !page.contains("in a cloud"), "{page}");
}

/// In a browser the page fits every window, its drawings stay on white and legible, and what scrolls can be reached by keyboard.
#[test]
fn a_comparison_works_in_a_browser() {
    let checks = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/browser");
    let required = std::env::var_os("HEADLAP_BROWSER").is_some_and(|value| value == "required");
    let Some(browser) = crate::report::browser().filter(|_| checks.join("node_modules").is_dir()) else {
        assert!(!required, "a browser and `npm ci` in tests/browser are required");
        eprintln!("skipped: no comparison was opened in a browser");
        return;
    };
    let folder = scratch("compare/browser");
    let (before, after) = walls();
    let wide = |detail: &str, wall: &str| format!("{detail}{}", wall.replace("include \"stock.detail\"", ""));
    let (issued, moved) = (wide(ISSUED, &before), wide(&ISSUED.replace("up to 150 mm", "up to 60 mm"), &after));
    let (old, new) = (write(&folder, "issued", &issued), write(&folder, "submitted", &moved));
    let paths = [&old, &new].map(|path| path.to_str().expect("a plain path"));
    let (_, page, _) = run(&folder, &["compare", paths[0], paths[1], "--format", "html"]);
    let file = folder.join("comparison.html");
    std::fs::write(&file, page).expect("a page");
    let done = std::process::Command::new("node").arg(checks.join("compare.mjs")).arg(browser).arg(&file).output();
    let done = done.expect("node runs");
    let said = format!("{}{}", String::from_utf8_lossy(&done.stdout), String::from_utf8_lossy(&done.stderr));
    assert!(done.status.success(), "{said}");
}

/// A lap that was issued reversed stays reversed: both drawings say so, and the verdict names it, whatever else changed.
#[test]
fn what_stands_unchanged_is_drawn_on_both_sides_and_named_in_the_verdict() {
    let folder = scratch("compare/stands");
    let low = "  piece low   wrap-open  up to 150 mm\n";
    let high = "  piece high  wrap-open  up from 0 mm\n";
    let reversed = ISSUED.replace(&format!("{low}{high}"), &format!("{high}{low}"));
    let moved = reversed.replace("every 600 mm", "every 500 mm");
    let (old, new) = (write(&folder, "issued", &reversed), write(&folder, "submitted", &moved));
    let paths = [&old, &new].map(|path| path.to_str().expect("a plain path"));
    let (status, page, _) = run(&folder, &["compare", paths[0], paths[1], "--format", "html"]);
    assert_eq!(status, 0, "what was issued is not held against the submittal");
    let figures: Vec<&str> = page.split("<figure").skip(1).collect();
    assert_eq!(figures.len(), 2, "one before, one after");
    for svg in figures {
        let svg = svg.split("</figure>").next().expect("it ends");
        assert!(!svg.contains("No findings"), "{svg}");
        assert!(svg.contains(", unchanged: "), "an unchanged finding says so");
    }
    let verdict = page.split_once("Proposed: ").expect("a verdict").1.split_once("</p>").expect("it ends").0;
    assert!(verdict.contains("unchanged, in D1") && !verdict.contains("nothing was found"), "{verdict}");
    let (_, text, _) = run(&folder, &["compare", paths[0], paths[1]]);
    assert!(text.contains("unchanged, in D1") && !text.contains("nothing was found"), "{text}");
    let (_, json, _) = run(&folder, &["compare", paths[0], paths[1], "--format", "json"]);
    let report: Value = serde_json::from_str(&json).expect("JSON");
    assert!(report["proposal"]["stands"].as_str().expect("words").contains("D1"), "{report}");
    assert_eq!(report["proposal"]["because"], "nothing was found", "as it was for programs");
}

/// In sentences: no arrows, no boxes, no columns.
#[test]
fn a_narrated_comparison_is_prose() {
    let folder = scratch("compare/narrated");
    let (old, new) = (
        write(&folder, "issued", ISSUED),
        write(&folder, "submitted", &ISSUED.replace("high  wrap-open", "high  poly-6mil")),
    );
    let paths = [&old, &new].map(|path| path.to_str().expect("a plain path"));
    let (_, text, _) = run(&folder, &["compare", paths[0], paths[1], "--narrate"]);
    for sign in ["->", "[ ]", "  ", " | ", "\n- "] {
        assert!(!text.contains(sign), "{sign:?} in {text}");
    }
    assert!(text.contains("Material `poly-6mil` stands in place of `wrap-open`."), "{text}");
    assert!(text.find("Proposed: ") < text.find("Material "), "the verdict comes first");
}
