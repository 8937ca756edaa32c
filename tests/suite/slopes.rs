//! How steep a face is, what rules see of it, and by how much it turns at its folds.

use std::sync::Arc;

use headlap::facts::{AssemblyFacts, DetailFacts};
use headlap::model::SourceMap;
use headlap::rules::Pack;
use headlap::text::{FileId, Source};

use crate::review::{pack, review_with};

/// A detail of a roof R and a wall W.
fn text(roof: &str, body: &str) -> String {
    format!(
        "include \"stock.detail\"\nassembly R roof {{ {roof}; outside; layer roof-membrane controls water; layer plywood 16 mm; inside }}\n\
         assembly W wall {{ outside; layer wrap-open controls water; layer plywood 12 mm; inside }}\n\
         detail D roof-to-wall joins R to W {{\n{body}\n}}\n"
    )
}

const LINES: &str = "  fold up 0 mm base\n  piece deck plywood of R up to 0 mm\n  piece ply plywood of W up from 0 mm\n  \
                     piece low roof-membrane of R up to -500 mm\n  piece high roof-membrane of R up -600 mm to 200 mm\n  \
                     piece wrap wrap-open of W up from 100 mm";

/// What a rule that nothing meets says of the things that it looks at, and what the tool says it would have to know.
fn said(text: &str, about: &str, when: &str, says: &str) -> (Vec<String>, Vec<String>) {
    let rule = format!(
        "[[rule]]\nid = 'asked'\ntitle = 'Asked'\nlevel = 'note'\nabout = '{about}'\nwhen = '{when}'\nneeds = 'no'\nsays = '{says}'\n"
    );
    let source = Arc::new(Source::new(FileId::detail(900), "firm/asked.toml", rule));
    let pack = Pack::load(&[source]).unwrap_or_else(|problems| panic!("{says}: {problems:?}"));
    let findings = review_with(&pack, &[("a.detail", text)]).findings;
    let of = |rule: &'static str| findings.iter().filter(move |finding| &*finding.rule == rule);
    (
        of("asked").map(|f| f.message.clone()).collect(),
        of("missing-property").filter_map(|f| f.fix.as_deref().map(str::to_owned)).collect(),
    )
}

/// The messages alone.
fn reported(text: &str, about: &str, when: &str, says: &str) -> Vec<String> {
    said(text, about, when, says).0
}

#[test]
fn laps_and_pieces_know_how_steep_the_face_is() {
    let flat = text("slope 1/4 in per ft", LINES);
    let slope = "{over} over {under} at {slope}";
    assert_eq!(
        reported(&flat, "lap", "known(slope) and under.kind == sheet", slope),
        ["`high` over `low` at 1/4 in per ft", "`wrap` over `high` at plumb"]
    );
    assert_eq!(
        reported(&flat, "lap", "slope < 2:12 and under.kind == sheet", slope),
        ["`high` over `low` at 1/4 in per ft"]
    );
    let of = reported(&flat, "piece", "known(slope-of-face)", "{index} {slope-of-face}");
    let expected = ["1 1/4 in per ft", "2 plumb", "3 1/4 in per ft", "5 plumb"];
    assert_eq!(of, expected, "a piece that turns up has no one slope");
    // What the author says of a part of the face goes before what the roof says.
    let stated = text("slope 4:12", &format!("  slope 2 % up -550 mm to 0 mm\n{LINES}"));
    assert_eq!(
        reported(&stated, "lap", "slope < 2:12 and under.kind == sheet", slope),
        [""; 0],
        "half of that lap lies on 4:12"
    );
    let wide = text("slope 4:12", &format!("  slope 2 % up to 0 mm\n{LINES}"));
    assert_eq!(reported(&wide, "lap", "slope < 2:12 and under.kind == sheet", slope), ["`high` over `low` at 2 %"]);
    assert_eq!(reported(&wide, "detail", "known(slope)", "{slope}"), ["2 %"], "the least counts");
}

#[test]
fn a_roof_without_a_slope_is_asked_for_it_once() {
    let silent = text("climate here", LINES).replace("assembly R", "climate here { zone 5A }\nassembly R");
    let (found, lacking) = said(&silent, "lap", "slope < 2:12", "{over}");
    assert_eq!((found.len(), lacking), (0, vec!["Add `slope` to the assembly R.".to_owned()]));
    let wall = silent.replace("R roof", "R existing");
    assert_eq!(said(&wall, "lap", "slope < 2:12", "{over}"), (Vec::new(), Vec::new()), "walls stand upright");
}

#[test]
fn what_else_rules_see_of_the_new_clauses() {
    let body = format!(
        "{LINES}\n  grade up -900 mm paved\n  wall-line up -450 mm\n  valley up -300 mm\n  piece rows plywood up 300 mm to 500 mm every 150 mm\n  \
         piece bar plywood bonds wrap clamped\n  piece weld plywood bonds high welded\n  \
         seal rows to wrap with butyl-bead up 310 mm width 10 mm depth 6 mm on mineral-wool"
    );
    let text = text("slope 4:12", &body);
    let yes = |about: &str, when: &str| reported(&text, about, when, "x").len();
    assert_eq!((yes("detail", "paved"), yes("detail", "valley"), yes("detail", "wall-line == -450 mm")), (1, 1, 1));
    assert_eq!(
        (yes("piece", "row and every == 150 mm"), yes("lap", "over.row and under.row")),
        (1, 1),
        "said once of all"
    );
    assert_eq!((yes("bond", "clamped"), yes("bond", "welded"), yes("piece", "welded")), (1, 1, 1));
    assert_eq!(yes("seal", "width == 10 mm and depth == 6 mm and backed and backer.kind == fill"), 1);
    assert_eq!(reported(&text, "turn", "known(angle)", "{angle}"), ["71.57"], "90 less the 18.4 degrees of 4:12");
}

/// Degrees by which the face of the only detail turns at each of its folds.
fn turns(roof: &str, body: &str) -> Vec<f64> {
    let text = text(roof, body);
    let fetch = |_: &str| Err("there is no such file".to_owned());
    let library =
        SourceMap::new(&fetch, &pack().words).read(Arc::new(Source::new(FileId::detail(0), "a.detail", text))).library;
    let assumed = crate::review::assumed();
    let assemblies = library.assemblies.iter().map(|a| Arc::new(AssemblyFacts::derive(a.clone(), &assumed)));
    let facts = DetailFacts::derive(library.details[0].clone(), assemblies.collect(), true, &assumed);
    let folds = 0..facts.detail.folds.len();
    folds.map(|fold| facts.fold_angle(fold).expect("every fold turns").to_degrees()).collect()
}

fn near(reported: Vec<f64>, expected: &[f64]) {
    let close = |(a, b): (&f64, &f64)| (a - b).abs() < 1e-9;
    assert!(
        reported.len() == expected.len() && reported.iter().zip(expected).all(close),
        "{reported:?}, not {expected:?}"
    );
}

#[test]
fn a_base_turns_toward_the_onlooker_by_as_much_as_the_roof_leaves() {
    near(turns("slope level", LINES), &[90.0]);
    // 4:12 rises 18.43 degrees: the arc whose tangent is a third.
    near(turns("slope 4:12", LINES), &[90.0 - (1.0_f64 / 3.0).atan().to_degrees()]);
    // No slope is stated: a right angle.
    near(turns("waive reverse-lap because \"x\"", LINES), &[90.0]);
}

/// As steep as the author says, on both sides of a fold and of a valley: arctan(6/12) is 26.57 degrees.
#[test]
fn sides_are_as_steep_as_stated_beyond_a_fold_and_below_a_valley() {
    let pitch = 0.5_f64.atan().to_degrees();
    let valley = "fold up 0 mm inside-corner\nvalley up 0 mm\nslope -6:12 up to 0 mm\npiece deck plywood of R";
    near(turns("slope 6:12", valley), &[2.0 * pitch]);
    near(turns("slope 6:12", &format!("slope 6:12 up from 0 mm\n{valley}")), &[2.0 * pitch]);
    near(turns("slope level", "fold up 0 mm base\nslope level up to 0 mm\nslope 60 deg up from 0 mm"), &[60.0]);
    near(turns("slope 6:12", "fold up 0 mm eave\nslope 60 deg up to 0 mm\npiece deck plywood of R"), &[pitch - 60.0]);
    // A ledge is not all of the wall.
    near(turns("slope level", &format!("slope 30 deg up 200 mm to 220 mm\n{LINES}")), &[90.0]);
}

#[test]
fn below_a_valley_the_roof_falls_to_it() {
    let body = "valley up 0 mm\nslope 2 % up from 0 mm\nslope -4:12 up to 0 mm\npiece deck plywood of R\n\
                piece low roof-membrane of R up to -500 mm\npiece gutter roof-membrane of R up -600 mm to 600 mm\n\
                piece high roof-membrane of R up from 500 mm";
    let text = text("slope 4:12", body);
    let slope = "{over} over {under} at {slope}";
    let laps = ["`gutter` over `low` at 4:12", "`high` over `gutter` at 2 %"];
    assert_eq!(reported(&text, "lap", "known(slope) and under.kind == sheet", slope), laps);
    assert_eq!(reported(&text, "detail", "known(slope)", "{slope}"), ["2 %"], "the least of what falls to the line");
}

#[test]
fn an_eave_a_sill_and_a_head_turn_away() {
    near(turns("slope 45 deg", "fold up 0 mm eave\npiece deck plywood of R up from 0 mm"), &[-45.0]);
    let sill = "fold up 0 mm sill\nfold up 900 mm head\npiece pan roof-membrane as pan up -50 mm to 50 mm slope 6 deg";
    near(turns("slope level", sill), &[-84.0, -90.0]);
}

/// 90 degrees and the 3 of its fall to the roof.
#[test]
fn the_top_of_a_wall_is_as_steep_as_its_coping() {
    let top = "fold up 0 mm sill\npiece ply plywood of W up to 0 mm\npiece cap metal-coping as coping up from -50 mm slope -3 deg";
    near(turns("slope 2 %", top), &[-93.0]);
}

#[test]
fn a_corner_turns_in_the_plan() {
    let corner =
        |kind| turns("slope level", &format!("fold along 0 mm {kind}\npiece a plywood of W along -1 m to 1 m"));
    near(corner("outside-corner"), &[-90.0]);
    near(corner("inside-corner"), &[90.0]);
}

/// What programs read: each fold with its angle, each lap with its slope and whether it keeps water out.
#[test]
fn facts_for_programs_give_the_angles_of_folds_and_the_slopes_of_laps() {
    let folder = crate::command::scratch("slopes/json");
    std::fs::write(folder.join("a.detail"), text("slope 45 deg", LINES)).expect("a file");
    let (_, out, said) = crate::command::run(&folder, &["facts", "a.detail", "--format", "json"]);
    let facts: serde_json::Value = serde_json::from_str(&out).unwrap_or_else(|_| panic!("{said}"));
    let detail = &facts["details"][0];
    let fold = serde_json::json!({ "kind": "base", "axis": "up", "at_mm": 0.0, "angle_deg": 45.0 });
    assert_eq!(detail["folds"], serde_json::json!([fold]));
    // The roof rises to the left at 45 degrees, the wall stands on it, and nothing turns along them.
    let sides = serde_json::json!([
        { "axis": "up", "from_mm": null, "to_mm": 0.0, "heading_deg": 135.0 },
        { "axis": "up", "from_mm": 0.0, "to_mm": null, "heading_deg": 90.0 },
        { "axis": "along", "from_mm": null, "to_mm": null, "heading_deg": 0.0 },
    ]);
    assert_eq!(detail["sides"], sides);
    let lap = detail["laps"].as_array().expect("laps").iter().find(|lap| lap["under"] == "low").expect("that lap");
    assert_eq!((&lap["slope_deg"], &lap["seam_watertight"]), (&45.0.into(), &true.into()));
    std::fs::write(folder.join("a.detail"), text("slope level", LINES)).expect("a file");
    let (_, out, _) = crate::command::run(&folder, &["facts", "a.detail", "--format", "json"]);
    let facts: serde_json::Value = serde_json::from_str(&out).expect("JSON");
    let lap = facts["details"][0]["laps"].as_array().expect("laps").iter().find(|lap| lap["under"] == "low");
    let lap = lap.expect("that lap");
    assert_eq!((&lap["slope_deg"], &lap["seam_watertight"]), (&0.0.into(), &false.into()));
}

#[test]
fn facts_in_words_give_the_angles_of_folds_and_the_widths_of_joints() {
    let folder = crate::command::scratch("slopes/words");
    let joint = "piece left plywood along to 0 mm\npiece right plywood along from 10 mm\n\
                 seal left to right with silicone-sealant along 5 mm width 10 mm";
    std::fs::write(folder.join("a.detail"), text("slope 45 deg", &format!("{LINES}\n{joint}"))).expect("a file");
    let (_, out, said) = crate::command::run(&folder, &["facts", "a.detail"]);
    assert!(out.contains("base, turned 45 degrees: "), "{out}{said}");
    assert!(out.contains("left to right with silicone-sealant, across a joint 10 mm wide"), "{out}");
}
