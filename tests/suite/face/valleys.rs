//! Lines that water runs to from both sides, and laps on what is too flat to shed.

use headlap::facts::face::{End, Event, FaceFacts, Run, Slope, StepKind};

use crate::face::build::{Build, OPEN, from, mm, to};

/// With a valley at this height.
fn valley(mut face: Build, at: f64) -> Build {
    face.face.valleys.push(mm(at));
    face
}

/// The same face, this steep from one height to another.
fn slope(mut face: Build, rise: f64, up: (f64, f64)) -> Build {
    face.face.slopes.push(Slope {
        up: crate::face::build::extent(up),
        along: headlap::facts::face::Extent::OPEN,
        rise,
    });
    face
}

/// Above the line and below it: a sheet through the line, and courses that lap over it from both sides.
fn lined() -> Build {
    Build::new()
        .piece("deck", "ply", OPEN)
        .piece("lining", "wrap", (-300.0, 300.0))
        .piece("upper", "wrap", from(100.0))
        .piece("lower", "wrap", to(-100.0))
}

#[test]
fn water_runs_to_a_valley_from_both_sides() {
    // On a wall the top edge of the lower course would be in the way.
    assert_eq!(lined().drops(), ["drop: reverse (lower, lining), ends wets"]);
    assert_eq!(valley(lined(), 0.0).drops(), ["drop: drains"]);
    let face = valley(lined(), 0.0);
    let laps = |facts: &FaceFacts| facts.laps.iter().map(|l| (l.over, l.under, l.shingled, l.foot)).collect::<Vec<_>>();
    let (lining, upper, lower) = (face.id("lining"), face.id("upper"), face.id("lower"));
    // The foot of a lap is where its outboard piece ends in the way of the water.
    assert_eq!(laps(&face.derive()), [(upper, lining, true, Some(mm(100.0))), (lower, lining, true, Some(mm(-100.0)))]);
}

#[test]
fn below_a_valley_an_edge_in_the_way_is_the_lower_one() {
    // The lining was put over the lower course.
    let face = || {
        Build::new()
            .piece("deck", "ply", OPEN)
            .piece("lower", "wrap", to(-100.0))
            .piece("lining", "wrap", (-300.0, 300.0))
            .piece("upper", "wrap", from(100.0))
    };
    let turned = valley(face(), 0.0);
    assert_eq!(turned.drops(), ["drop: reverse (lining, lower), ends wets"]);
    let trail = turned.trail(Event::Reverse, &["lining", "lower"], End::Wets);
    assert_eq!(
        trail,
        ["StartsOn lower bottom", "PassesBehind lining -300", "LandsOn deck -100", "Wets deck -100"],
        "heights are told as they are on the face"
    );
    // On a wall that is how it has to be.
    assert_eq!(face().drops(), ["drop: drains"]);
}

#[test]
fn a_lap_across_a_valley_sheds_on_neither_side() {
    let face =
        Build::new().piece("deck", "ply", OPEN).piece("lower", "wrap", to(150.0)).piece("upper", "wrap", from(-150.0));
    assert_eq!(valley(face, 0.0).derive().laps.iter().map(|l| l.shingled).collect::<Vec<_>>(), [false]);
}

#[test]
fn a_drop_ends_in_the_valley_that_it_comes_to() {
    let face = valley(lined(), 0.0);
    let quiet = face.derive().drops;
    let steps = quiet.trail(&quiet.events[0].ends[0]);
    assert_eq!(steps.last().map(|step| (step.kind, step.up)), Some((StepKind::ReachesValley, 0)));
}

/// Between two valleys water runs to one or the other, and the text does not say to which.
#[test]
fn what_lies_between_two_valleys_is_not_judged() {
    let between = Build::new()
        .piece("deck", "ply", OPEN)
        .piece("low", "wrap", to(-50.0))
        .piece("bare", "ply", (-50.0, 50.0))
        .piece("high", "wrap", from(50.0));
    assert_eq!(valley(valley(between, -60.0), 60.0).drops(), ["drop: drains"]);
}

fn courses(sealed: bool) -> Build {
    let face = Build::new().piece("deck", "ply", OPEN).piece("low", "wrap", to(100.0)).piece("high", "wrap", from(0.0));
    if sealed { face.bonds(&["low"]) } else { face }
}

#[test]
fn a_dry_lap_on_what_is_too_flat_does_not_hold() {
    assert_eq!(courses(false).drops(), ["drop: drains"]);
    let flat = |rise, sealed| slope(courses(sealed), rise, OPEN).drops();
    assert_eq!(flat(2.0 / 12.0, false), ["drop: drains"]);
    assert_eq!(flat(1.9 / 12.0, false), ["drop: joint (high, low), ends wets"]);
    assert_eq!(flat(1.9 / 12.0, true), ["drop: drains"]);
    // What falls back to the building holds water longer still.
    assert_eq!(flat(-0.5, false), ["drop: joint (high, low), ends wets"]);
    // Elsewhere it may be as flat as it likes.
    assert_eq!(slope(courses(false), 0.0, to(-10.0)).drops(), ["drop: drains"]);
    // Where no slope is stated, the lap is taken to shed.
    let mut unknown = courses(false);
    unknown.face.steepness = None;
    assert_eq!(unknown.drops(), ["drop: drains"]);
}

/// Below a valley the face falls back, as it should there.
#[test]
fn a_steep_side_below_a_valley_sheds() {
    let face = |rise| slope(slope(valley(lined(), 0.0), rise, to(0.0)), 0.5, from(0.0)).drops();
    assert_eq!(face(-0.5), ["drop: drains"]);
    assert_eq!(face(0.5), ["drop: drains"]);
    assert_eq!(face(-0.1), ["drop: joint (lower, lining), ends wets"]);
}

#[test]
fn water_control_does_not_go_on_by_a_dry_lap_that_is_too_flat() {
    use headlap::model::Control::Water;
    let continuous = |face: Build| {
        let facts = face.derive();
        facts.transitions.iter().find(|t| t.control == Water).map(|t| t.continuous)
    };
    let joined = |sealed| {
        let mut face = courses(sealed).joins(&[&[Water]]);
        for name in ["low", "high"] {
            let id = face.id(name);
            face.face.pieces[id].layer = Some(headlap::facts::face::LayerEnd { assembly: 0, layer: 0 });
            face.face.pieces[id].controls = headlap::model::Controls::NONE.with(Water);
        }
        face
    };
    assert_eq!(continuous(joined(false)), Some(true));
    assert_eq!(continuous(slope(joined(false), 0.1, OPEN)), Some(false));
    assert_eq!(continuous(slope(joined(true), 0.1, OPEN)), Some(true));
    let facts = slope(joined(false), 0.1, OPEN).derive();
    assert!(facts.laps.iter().all(|lap| lap.run == Run::Head && !lap.sheds));
}
