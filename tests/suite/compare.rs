//! A submittal against the issued details.

use std::path::{Path, PathBuf};

use assert_cmd::Command;
use serde_json::Value;

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
    let mut command = Command::cargo_bin("headlap").expect("built");
    let output = command.arg("compare").arg(old).arg(new).args(["--format", "json"]).output().expect("it runs");
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
    let mut command = Command::cargo_bin("headlap").expect("built");
    let output = command.arg("compare").arg(old).arg(new).args(["--format", "html"]).output().expect("it runs");
    std::fs::remove_dir_all(&folder).expect("it was made");
    let page = String::from_utf8(output.stdout).expect("UTF-8");
    assert!(page.starts_with("<!DOCTYPE html>") && page.contains("head-lap-below-code"), "{page}");
    assert!(!page.contains("<script"), "{page}");
}
