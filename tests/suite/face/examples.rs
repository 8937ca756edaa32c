//! The worked faces of the design pages, met exactly.

use crate::face::build::{Build, OPEN, from, to};
use headlap::model::Axis;

fn holds(face: Build, expected: &str) {
    let mut found = face.laps();
    found.extend(face.drops());
    found.extend(face.impossible());
    let expected: Vec<&str> = expected.lines().map(str::trim).filter(|l| !l.is_empty()).collect();
    assert_eq!(found, expected);
}

#[test]
fn e1_the_seal_under_the_wrap_sheds() {
    let face = Build::new()
        .piece("stem", "conc", to(0.0))
        .piece("deck", "ply", from(0.0))
        .piece("strip", "tape", (-100.0, 100.0))
        .bonds(&["stem", "deck"])
        .piece("wrap", "wrap", from(-40.0));
    holds(
        face,
        "lap strip over deck, head, 100 mm, not shingled, sealed
         lap strip over stem, head, 100 mm, shingled, sealed
         lap wrap over stem, head, 40 mm, shingled
         lap wrap over strip, head, 140 mm, shingled
         drop: drains",
    );
}

#[test]
fn e2_the_same_tape_outside_relies_on_its_adhesive() {
    let face = Build::new()
        .piece("stem", "conc", to(0.0))
        .piece("deck", "ply", from(0.0))
        .piece("wrap", "wrap", from(-40.0))
        .piece("strip", "tape", (-100.0, 100.0))
        .bonds(&["stem", "wrap"]);
    holds(
        face,
        "lap strip over deck, head, 100 mm, not shingled
         lap strip over stem, head, 100 mm, shingled, sealed
         lap strip over wrap, head, 140 mm, not shingled, sealed
         lap wrap over stem, head, 40 mm, shingled
         drop: relies (strip, wrap), ends pools",
    );
}

#[test]
fn e3_a_tape_across_a_correct_lap_may_fail() {
    let face = Build::new()
        .piece("deck", "ply", OPEN)
        .piece("low", "wrap", to(150.0))
        .piece("high", "wrap", from(0.0))
        .piece("band", "tape", (-40.0, 40.0))
        .bonds(&["low", "high"]);
    holds(
        face,
        "lap band over high, head, 40 mm, not shingled, sealed
         lap high over low, head, 150 mm, shingled
         drop: relies (band, high), ends held",
    );
}

#[test]
fn e4_courses_in_the_wrong_order() {
    let face = Build::new().piece("deck", "ply", OPEN).piece("high", "wrap", from(0.0)).piece("low", "wrap", to(150.0));
    holds(
        face,
        "lap low over high, head, 150 mm, not shingled
         drop: reverse (low, high), ends wets",
    );
}

fn trimmed_sill(trim: f64) -> Build {
    Build::new()
        .piece("deck", "ply", to(0.0))
        .piece("wrap", "wrap", to(0.0))
        .piece("pan", "flash", (-120.0, 40.0))
        .piece("unit", "win", from(-20.0))
        .piece("trim", "win", (-60.0, trim))
        .seal("trim", "pan", Some((Axis::Up, -50.0)))
}

#[test]
fn e5a_a_low_trim_lets_the_water_out_again() {
    holds(
        trimmed_sill(30.0),
        "lap pan over deck, head, 120 mm, shingled
         lap pan over wrap, head, 120 mm, shingled
         lap trim over deck, head, 60 mm, shingled
         lap trim over unit, head, 50 mm, not shingled
         lap trim over wrap, head, 60 mm, shingled
         lap unit over deck, head, 20 mm, shingled
         lap unit over pan, head, 60 mm, shingled
         lap unit over wrap, head, 20 mm, shingled
         drop: reverse (trim, unit), ends held",
    );
}

#[test]
fn e5b_a_tall_trim_makes_it_overtop_the_pan() {
    holds(
        trimmed_sill(60.0),
        "lap pan over deck, head, 120 mm, shingled
         lap pan over wrap, head, 120 mm, shingled
         lap trim over deck, head, 60 mm, shingled
         lap trim over pan, head, 100 mm, shingled, sealed
         lap trim over unit, head, 80 mm, not shingled
         lap trim over wrap, head, 60 mm, shingled
         lap unit over deck, head, 20 mm, shingled
         lap unit over pan, head, 60 mm, shingled
         lap unit over wrap, head, 20 mm, shingled
         drop: reverse (trim, unit), ends pools",
    );
}

#[test]
fn e6_a_flashing_behind_the_wrap_is_behind_the_flange_on_it() {
    let face = Build::new()
        .piece("deck", "ply", from(0.0))
        .piece("wrap", "wrap", from(0.0))
        .piece("unit", "win", to(30.0))
        .piece("cap", "flash", (20.0, 120.0))
        .drip()
        .behind(&["wrap"]);
    holds(
        face,
        "lap unit over cap, head, 10 mm, not shingled
         lap unit over deck, head, 30 mm, not shingled
         lap unit over wrap, head, 30 mm, not shingled
         drop: reverse (unit, wrap), ends enters",
    );
}

#[test]
fn e7_a_flange_over_the_wrap_on_all_sides() {
    let face = Build::new()
        .piece("deck", "ply", OPEN)
        .cut("deck", (0.0, 1000.0), (0.0, 800.0))
        .piece("wrap", "wrap", OPEN)
        .cut("wrap", (0.0, 1000.0), (0.0, 800.0))
        .piece("unit", "win", (-25.0, 1025.0))
        .along((-25.0, 825.0))
        .piece("jamb", "tape", (-80.0, 1080.0))
        .along((-80.0, 0.0))
        .bonds(&["unit", "wrap"]);
    holds(
        face,
        "lap jamb over unit, side, 25 mm, sealed
         lap unit over deck, head, 25 mm, not shingled
         lap unit over deck, head, 25 mm, shingled
         lap unit over deck, side, 25 mm
         lap unit over wrap, head, 25 mm, not shingled
         lap unit over wrap, head, 25 mm, shingled
         lap unit over wrap, side, 25 mm
         drop: relies (jamb, wrap), ends drains
         drop: reverse (unit, wrap), ends drains
         drop: reverse (unit, wrap), ends enters",
    );
}
