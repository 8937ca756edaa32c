//! The water line: what rain meets that has got behind what does not hold it.

use crate::face::build::{Build, OPEN, from, to};
use headlap::facts::face::{End, Event, Joined, LayerEnd, MILLIMETRE};
use headlap::model::{Axis, Control, Controls, MaterialKind};

fn drops(face: Build, expected: &[&str]) {
    assert_eq!(face.drops(), expected);
}

/// Rain gets behind boards, so what they hide is judged as it is without them; battens there are wetted and dry again.
#[test]
fn rain_gets_behind_cladding() {
    let wall =
        || Build::new().piece("deck", "ply", OPEN).piece("high", "wrap", from(0.0)).piece("low", "wrap", to(150.0));
    drops(wall(), &["drop: reverse (low, high), ends wets"]);
    drops(wall().piece("boards", "boards", OPEN), &["drop: reverse (low, high), ends wets"]);
    let battened = wall().piece("batten", "stud", OPEN).piece("boards", "boards", OPEN);
    assert_eq!(
        battened.trail(Event::Reverse, &["low", "high"], End::Wets),
        ["StartsBehind high top", "PassesBehind low 150", "LandsOn deck 0", "Wets deck 0"]
    );
    drops(battened, &["drop: reverse (low, high), ends wets"]);
    // A batten that nothing clads is out in the rain.
    drops(Build::new().piece("wrap", "wrap", OPEN).piece("batten", "stud", OPEN), &["drop: bare (batten)"]);
}

/// Where the wall ends above the boards, what runs down behind them has gone off its foot.
#[test]
fn behind_cladding_rain_drains_off_the_foot_of_the_wall() {
    let wall = Build::new().piece("deck", "ply", from(0.0)).piece("wrap", "wrap", from(0.0));
    drops(wall.piece("boards", "boards", from(-100.0)), &["drop: drains"]);
}

/// What the cladding hides is out of the open, whether rain wets it there or falls past it.
#[test]
fn damage_behind_cladding_is_out_of_the_open() {
    let exposed = |face: Build, event| {
        let found = face.derive().drops;
        found.events.iter().find(|e| e.event == event).expect("the event").exposed
    };
    let deck = |clad: bool| {
        let deck = Build::new().piece("deck", "ply", OPEN);
        exposed(if clad { deck.piece("boards", "boards", OPEN) } else { deck }, Event::Bare)
    };
    assert!(deck(false) && !deck(true));
    let gap = |clad: bool| {
        let wraps = Build::new().piece("low", "wrap", to(0.0)).piece("high", "wrap", from(100.0));
        exposed(if clad { wraps.piece("boards", "boards", OPEN) } else { wraps }, Event::Gap)
    };
    assert!(gap(false) && !gap(true));
}

/// A stud beside the boards carries none of them, so that rain meets it and not what is behind it.
#[test]
fn only_what_touches_the_cladding_is_hidden_with_it() {
    let wall = Build::new().piece("high", "wrap", from(0.0)).along((0.0, 38.0));
    let wall = wall.piece("low", "wrap", to(150.0)).along((0.0, 38.0)).piece("stud", "stud", OPEN).along((0.0, 38.0));
    let clad = wall.piece("wrap", "wrap", OPEN).along(from(200.0)).piece("boards", "boards", OPEN).along(from(200.0));
    drops(clad, &["drop: bare (stud)"]);
}

/// The air behind the boards hides no more than they do.
#[test]
fn rain_gets_behind_cladding_and_its_cavity() {
    let wall = Build::new().piece("deck", "ply", OPEN).piece("high", "wrap", from(0.0)).piece("low", "wrap", to(150.0));
    let clad = wall.piece("cavity", "air", OPEN).piece("boards", "boards", OPEN);
    assert_eq!(
        clad.trail(Event::Reverse, &["low", "high"], End::Wets),
        ["StartsBehind high top", "PassesBehind low 150", "LandsOn deck 0", "Wets deck 0"]
    );
    drops(clad, &["drop: reverse (low, high), ends wets"]);
}

/// The head of a cladding, sealed or not, is no edge in the way of water: that runs on the water line all along.
#[test]
fn the_head_of_a_cladding_is_not_judged() {
    let wall = Build::new().piece("deck", "ply", OPEN).piece("high", "wrap", from(0.0)).piece("low", "wrap", to(150.0));
    let clad = wall.piece("boards", "boards", to(500.0)).seal("boards", "high", Some((Axis::Up, 490.0)));
    drops(Build { face: clad.face.clone(), names: clad.names.clone() }, &["drop: reverse (low, high), ends wets"]);
    assert_eq!(
        clad.trail(Event::Reverse, &["low", "high"], End::Wets),
        ["StartsOn high top", "PassesBehind low 150", "LandsOn deck 0", "Wets deck 0"]
    );
    let found = clad.derive().drops;
    let reverse = found.events.iter().find(|e| e.event == Event::Reverse).expect("the lap behind the boards");
    assert!(!reverse.exposed);
}

/// A facing that holds water is the water control layer.
#[test]
fn rain_stays_before_a_facing_that_holds_water() {
    let mut face = Build::new().piece("deck", "ply", OPEN).piece("panels", "boards", OPEN);
    face.face.pieces[1].holds = Controls::NONE.with(Control::Water);
    drops(face, &["drop: drains"]);
    drops(Build::new().piece("deck", "ply", OPEN).piece("boards", "boards", OPEN), &["drop: bare (deck)"]);
}

/// An end of this layer of an assembly, counted from the outside; `controls` says that it is the one for water.
fn layer(mut face: Build, name: &str, assembly: usize, layer: usize, controls: bool) -> Build {
    let piece = face.id(name);
    face.face.pieces[piece].layer = Some(LayerEnd { assembly, layer });
    face.face.pieces[piece].controls = if controls { Controls::NONE.with(Control::Water) } else { Controls::NONE };
    if controls && !face.face.pieces[piece].inside {
        face.face.joins.resize_with(face.face.joins.len().max(assembly + 1), Default::default);
        let water = &mut face.face.joins[assembly].water;
        *water = Some(water.map_or([layer; 2], |[outer, inner]| [outer.min(layer), inner.max(layer)]));
    }
    face
}

/// A wall whose water control layer, the third from outside, laps the wrong way, with a sheet over it that laps nothing.
fn papered() -> Build {
    papered_after(Build::new(), 0)
}

/// The same, its water control layer one of this assembly, with something that stands before it in the text.
fn papered_after(first: Build, assembly: usize) -> Build {
    let wall = first.piece("deck", "ply", OPEN).piece("high", "wrap", from(0.0)).piece("low", "wrap", to(150.0));
    let wall = layer(layer(wall, "high", assembly, 2, true), "low", assembly, 2, true);
    wall.piece("paper", "wrap", OPEN).piece("boards", "boards", OPEN)
}

const THROUGH: &[&str] = &["drop: reverse (low, high), ends wets"];
const OFF: &[&str] = &["drop: drains"];

/// The cladding wets a sheet through that hangs outboard of the layer named for water, so that this one has to lap alone.
#[test]
fn a_sheet_outboard_of_the_layer_for_water_is_wetted_through() {
    drops(layer(papered(), "paper", 0, 1, false), THROUGH);
    drops(layer(papered(), "paper", 0, 0, false), THROUGH);
    // Each assembly has its own.
    let base = Build::new().piece("base", "wrap", OPEN).along(from(900.0));
    drops(layer(papered_after(layer(base, "base", 0, 0, true), 1), "paper", 1, 1, false), THROUGH);
    // It is so before the cladding is drawn, and whatever it is.
    let mut bare = layer(papered(), "paper", 0, 1, false);
    bare.face.pieces.pop();
    drops(bare, THROUGH);
    let mut board = layer(papered(), "paper", 0, 1, false);
    board.face.pieces[3].kind = Some(MaterialKind::Board);
    drops(board, THROUGH);
}

#[test]
fn a_sheet_sheds_behind_cladding_where_no_layer_for_water_is_behind_it() {
    drops(papered(), OFF);
    // It is named for water itself.
    drops(layer(papered(), "paper", 0, 1, true), OFF);
    // It is of the same layer, or of one inboard of it.
    drops(layer(papered(), "paper", 0, 2, false), OFF);
    drops(layer(papered(), "paper", 0, 3, false), OFF);
    // It is of an assembly that names none, or names one further out.
    drops(layer(papered(), "paper", 1, 1, false), OFF);
    let base = layer(papered().piece("base", "wrap", OPEN).along(from(900.0)), "base", 1, 0, true);
    drops(layer(base, "paper", 1, 1, false), OFF);
}

/// Of several water control layers the inmost is the last to keep the wall dry, wherever it stands in the text.
#[test]
fn the_inmost_of_two_layers_for_water_counts() {
    let collar = |wall: Build| layer(wall.piece("collar", "wrap", from(500.0)), "collar", 0, 1, true);
    for wall in [collar(papered()), papered_after(collar(Build::new()), 0)] {
        drops(layer(wall, "paper", 0, 1, false), THROUGH);
    }
}

/// What is named for water at the face of the room keeps no rain off the wall: the sheet outside is all there is.
#[test]
fn a_layer_for_water_inside_lets_no_sheet_be_wetted_through() {
    let wall =
        Build::new().piece("lining", "wrap", OPEN).inside().piece("deck", "ply", OPEN).piece("paper", "wrap", OPEN);
    let wall = layer(wall.piece("boards", "boards", OPEN), "lining", 0, 3, true);
    drops(layer(wall, "paper", 0, 1, false), OFF);
}

/// A wall with insulation outboard of its membrane, the parts of its assembly counted from outside.
fn insulated(face: Build) -> Build {
    let face = face.piece("wool", "foam", from(0.0));
    layer(face, "wool", 0, 1, false)
}

fn membrane(up: (f64, f64)) -> Build {
    let face = Build::new().piece("deck", "ply", OPEN).piece("wrap", "wrap", up);
    layer(layer(face, "wrap", 0, 2, true), "deck", 0, 3, false)
}

/// Insulation outboard of the membrane changes nothing about the water on it.
#[test]
fn insulation_hides_nothing() {
    let flashed = || membrane(OPEN).piece("flash", "flash", (-50.0, 100.0)).drip();
    let expected = &["drop: reverse (flash, wrap), ends drains"];
    drops(flashed(), expected);
    drops(insulated(flashed()), expected);
    drops(insulated(flashed()).piece("boards", "boards", OPEN), expected);
}

/// A strip outboard of the insulation is not judged. Without insulation behind it, it would be.
#[test]
fn a_screen_is_not_judged() {
    let strip = |face: Build| face.piece("strip", "flash", (-20.0, 50.0)).drip();
    drops(strip(insulated(membrane(OPEN))), &["drop: drains"]);
    drops(strip(membrane(OPEN)), &["drop: reverse (strip, wrap), ends drains"]);
    // Where no piece of the layer is behind it, it is all that there is.
    let face = strip(insulated(membrane(from(500.0))));
    drops(face, &["drop: bare (deck)", "drop: wets (deck)"]);
}

/// A second piece of the layer itself is a screen outboard of the insulation, and the water line over what is behind the layer.
#[test]
fn the_outer_of_two_pieces_of_the_layer() {
    let flap = |face: Build| layer(face.piece("flap", "wrap", (-20.0, 50.0)), "flap", 0, 2, true);
    drops(flap(insulated(membrane(OPEN))), &["drop: drains"]);
    let roof = Build::new().piece("base", "wrap", OPEN).piece("foam", "foam", OPEN);
    let roof = roof.piece("high", "wrap", from(0.0)).piece("low", "wrap", to(150.0));
    let roof = layer(layer(roof, "base", 0, 2, true), "foam", 0, 1, false);
    let roof = layer(layer(roof, "high", 0, 0, true), "low", 0, 0, true);
    drops(roof, &["drop: reverse (low, high), ends behind"]);
}

/// What is behind the layer is kept dry whether it suffers or not, and so is the mass of a foundation below grade.
#[test]
fn what_is_behind_the_layer_is_kept_dry() {
    let block = |kind: &str| {
        let face = Build::new().piece("block", kind, to(0.0)).piece("coat", "wrap", to(-300.0));
        layer(layer(face, "coat", 0, 0, true), "block", 0, 1, false)
    };
    drops(block("conc"), &["drop: bare (block)"]);
    let mut stem = block("conc");
    stem.face.joins[0].foundation = true;
    drops(Build { face: stem.face.clone(), names: stem.names.clone() }, &["drop: reverse (coat, block), ends behind"]);
    stem.face.grade = Some(0);
    drops(Build { face: stem.face.clone(), names: stem.names.clone() }, &["drop: bare (block)"]);
    stem.face.grade = Some(-300 * MILLIMETRE);
    drops(stem, &["drop: reverse (coat, block), ends behind"]);
    // A layer of which nothing is drawn keeps nothing dry that could be judged.
    let mut alone = layer(Build::new().piece("block", "conc", to(0.0)), "block", 0, 1, false);
    alone.face.joins = vec![Joined { water: Some([0, 0]), ..Joined::default() }];
    drops(alone, &["drop: drains"]);
}

/// A drop that ends on what the layer is to keep dry, or behind the layer anywhere, has done damage.
#[test]
fn behind_the_layer_is_damage() {
    let face = |deck: &str| {
        let face =
            Build::new().piece("deck", deck, OPEN).piece("high", "wrap", from(0.0)).piece("low", "wrap", to(150.0));
        layer(layer(layer(face, "deck", 0, 1, false), "high", 0, 0, true), "low", 0, 0, true)
    };
    drops(face("ply"), &["drop: reverse (low, high), ends wets"]);
    drops(face("foam"), &["drop: reverse (low, high), ends behind"]);
    assert_eq!(
        face("foam").trail(Event::Reverse, &["low", "high"], End::Behind),
        ["StartsOn high top", "PassesBehind low 150", "LandsOn deck 0", "Behind deck 0"]
    );
    // It is held between the sheet and a mass that is no part of the layer.
    let held = Build::new().piece("wall", "conc", OPEN).piece("sheet", "wrap", to(0.0));
    let held = layer(held, "sheet", 0, 0, true).seal("sheet", "wall", Some((Axis::Up, -200.0)));
    drops(held, &["drop: reverse (sheet, wall), ends behind"]);
    let mut held = Build::new().piece("wall", "conc", OPEN).piece("sheet", "wrap", to(0.0));
    held = layer(layer(held, "sheet", 0, 0, true), "wall", 1, 0, true).seal("sheet", "wall", Some((Axis::Up, -200.0)));
    drops(held, &["drop: reverse (sheet, wall), ends held"]);
}

/// A piece that goes on below in front of the water line leads off what is on it; one that stood in front of the line and
/// belongs to it below is a cover that nothing is said of.
#[test]
fn what_crosses_the_water_line_is_no_event() {
    let lead = membrane(to(0.0)).piece("lead", "flash", (-100.0, 100.0));
    let lead = layer(lead.piece("wool", "foam", to(-20.0)), "wool", 0, 1, false);
    let mut off = lead;
    // The wool slips in between the membrane and the flashing.
    let (flash, wool) = (off.id("lead"), off.id("wool"));
    off.face.pieces[wool].behind = vec![flash];
    drops(off, &["drop: bare (deck)"]);
}

/// Water that gets into a pan has to come out outboard of the water control layer.
#[test]
fn a_drop_starts_in_every_pan() {
    let sill = |behind: bool| {
        let mut face = Build::new()
            .piece("deck", "ply", to(0.0))
            .piece("pan", "flash", (-100.0, 40.0))
            .piece("wrap", "wrap", to(0.0))
            .piece("unit", "win", from(-30.0));
        face = layer(face, "wrap", 0, 0, true);
        face.face.pieces[1].catches = true;
        if !behind {
            face.face.pieces[1].over = vec![2];
        }
        face
    };
    drops(sill(false), &["drop: drains"]);
    drops(sill(true), &["drop: reverse (wrap, pan), ends wets"]);
    assert_eq!(
        sill(true).trail(Event::Reverse, &["wrap", "pan"], End::Wets),
        ["StartsIn pan 40", "PassesBehind wrap 0", "LandsOn deck -100", "Wets deck -100"]
    );
}
