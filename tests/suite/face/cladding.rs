//! What rain meets that has got behind the cladding.

use crate::face::build::{Build, OPEN, from, to};
use headlap::facts::face::{End, Event, LayerEnd};
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

/// Behind a cladding drops start where there is one, and none of them is in the open. Its head is sealed here, so that no
/// drop gets there from above.
#[test]
fn behind_cladding_rain_starts_below_its_head_and_out_of_the_open() {
    let wall = Build::new().piece("deck", "ply", OPEN).piece("high", "wrap", from(0.0)).piece("low", "wrap", to(150.0));
    let clad = wall.piece("boards", "boards", to(500.0)).seal("boards", "high", Some((Axis::Up, 490.0)));
    assert_eq!(
        clad.trail(Event::Reverse, &["low", "high"], End::Wets),
        ["StartsBehind high 500", "PassesBehind low 150", "LandsOn deck 0", "Wets deck 0"]
    );
    let found = clad.derive().drops;
    let reverse = found.events.iter().find(|e| e.event == Event::Reverse).expect("the lap behind the boards");
    assert!(!reverse.exposed);
}

/// A facing that holds water is the water layer.
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
    face
}

/// A wall whose water layer, the third from outside, laps the wrong way, with a sheet over it that laps nothing.
fn papered() -> Build {
    papered_after(Build::new(), 0)
}

/// The same, its water layer one of this assembly, with something that stands before it in the text.
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
    // Without cladding nothing sticks to it, and it sheds.
    let mut bare = layer(papered(), "paper", 0, 1, false);
    bare.face.pieces.pop();
    drops(bare, OFF);
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
    // What is no sheet does not let it through.
    let mut board = layer(papered(), "paper", 0, 1, false);
    board.face.pieces[3].kind = Some(MaterialKind::Board);
    drops(board, OFF);
}

/// Of several layers for water the inmost is the last to keep the wall dry, wherever it stands in the text.
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
