//! Order in the stacks, and laps.

use crate::face::build::{Build, OPEN, from, mm, to};
use headlap::facts::face::{Extent, Knot, OPEN_HIGH, OPEN_LOW, Rect, Tangle, Third};
use headlap::model::Axis;

fn stack(face: &Build, up: f64, along: f64) -> Vec<&'static str> {
    let cells = face.derive().cells;
    let within = |e: Extent, at| e.low < mm(at) && mm(at) < e.high;
    let row = (0..cells.rows()).find(|&r| within(cells.row(r), up)).expect("a row");
    let column = (0..cells.columns()).find(|&c| within(cells.column(c), along)).expect("a column");
    cells.whole(column, row).iter().map(|&p| face.names[p as usize]).collect()
}

#[test]
fn the_later_piece_lies_outboard_unless_the_author_says_otherwise() {
    let face = Build::new().piece("a", "wrap", OPEN).piece("b", "wrap", OPEN).piece("c", "wrap", OPEN);
    assert_eq!(stack(&face, 0.0, 0.0), ["a", "b", "c"]);
    let face = Build::new().piece("a", "wrap", OPEN).piece("b", "wrap", OPEN).piece("c", "wrap", OPEN).behind(&["b"]);
    assert_eq!(stack(&face, 0.0, 0.0), ["a", "c", "b"]);
    // A piece that is put behind only the last of two lies before one and behind the other, in a circle or not.
    let face =
        Build::new().piece("a", "wrap", OPEN).piece("b", "wrap", OPEN).piece("c", "wrap", OPEN).behind(&["a", "b"]);
    assert_eq!(stack(&face, 0.0, 0.0), ["c", "a", "b"]);
    assert!(face.impossible().is_empty());
}

/// What slips in behind a piece lies behind everything that lies on it, named or not.
#[test]
fn what_lies_on_a_piece_lies_on_what_slips_in_behind_it() {
    let face = Build::new().piece("a", "wrap", OPEN).piece("b", "wrap", OPEN).piece("c", "wrap", OPEN).behind(&["a"]);
    assert_eq!(stack(&face, 0.0, 0.0), ["c", "a", "b"]);
    assert!(face.impossible().is_empty());
    // A sheet does not change sides: it lies behind them also where the one that it is put behind does not reach.
    let face = Build::new().piece("a", "wrap", from(0.0)).piece("b", "wrap", OPEN).piece("c", "wrap", OPEN);
    let face = face.behind(&["a"]);
    assert_eq!(stack(&face, -10.0, 0.0), ["c", "b"]);
    assert!(face.impossible().is_empty());
    // What it meets nowhere with the one that it is put behind, it lies on.
    let face = Build::new().piece("a", "wrap", from(0.0)).piece("b", "wrap", to(0.0)).piece("c", "wrap", OPEN);
    assert_eq!(stack(&face.behind(&["a"]), -10.0, 0.0), ["b", "c"]);
    // What slips in behind that goes behind the same.
    let chain = Build::new().piece("a", "wrap", OPEN).piece("b", "wrap", from(0.0)).piece("c", "wrap", from(-50.0));
    let chain = chain.behind(&["b"]).piece("d", "wrap", OPEN).behind(&["c"]);
    assert_eq!(stack(&chain, 10.0, 0.0), ["a", "d", "c", "b"]);
}

/// A flap that is folded down comes to lie right on the piece that it is folded over, and keeps its order with others.
#[test]
fn flaps_are_folded_over_the_piece_that_comes_later() {
    let face = Build::new()
        .piece("flap", "wrap", OPEN)
        .over(&[])
        .piece("second", "wrap", OPEN)
        .piece("tape", "tape", OPEN)
        .piece("head", "flash", OPEN)
        .piece("boards", "boards", OPEN);
    let mut folded = face;
    let head = folded.id("head");
    folded.face.pieces[0].over = vec![head];
    folded.face.pieces[1].over = vec![head];
    assert_eq!(stack(&folded, 0.0, 0.0), ["tape", "head", "flap", "second", "boards"]);
    assert!(folded.impossible().is_empty());
}

/// A sheet does not lie on both sides of another: above the flashing the tape would lie over the flap, beside it under it.
#[test]
fn no_pair_changes_sides_from_one_cell_to_the_next() {
    let wall = |tape: (f64, f64)| {
        let mut face = Build::new()
            .piece("wrap", "wrap", OPEN)
            .piece("flap", "wrap", from(0.0))
            .piece("tape", "tape", tape)
            .piece("head", "flash", (-50.0, 50.0));
        face.face.pieces[1].over = vec![3];
        face
    };
    let found = wall((20.0, 100.0)).derive().impossible;
    assert_eq!(found.len(), 1);
    assert_eq!((found[0].pair, found[0].why), ([1, 2], Tangle::ChangesSides));
    assert_eq!(found[0].pieces, [1, 2]);
    assert_eq!(found[0].at.up, Extent { low: mm(20.0), high: mm(50.0) });
    // Where the flashing goes as far as the tape, the flap lies over both everywhere.
    assert!(wall((20.0, 50.0)).impossible().is_empty());
    assert!(wall((60.0, 100.0)).impossible().is_empty());
}

/// The line at which two change sides, and on which side of it the later lies over the earlier.
#[test]
fn a_pair_that_changes_sides_says_where_and_how() {
    let knot = |build: Build| build.derive().impossible[0].knot;
    // Folded over the cap alone, the flap lies over the apron beside the cap and under it elsewhere.
    let line = |axis, at, over_beyond| Knot::Line { axis, at: mm(at), over_beyond };
    let rows = |cap: (f64, f64)| {
        let mut face = Build::new().piece("flap", "wrap", OPEN).piece("apron", "wrap", (0.0, 300.0));
        face = face.piece("cap", "flash", cap);
        face.face.pieces[0].over = vec![face.id("cap")];
        face
    };
    assert_eq!(knot(rows((-50.0, 250.0))), line(Axis::Up, 250.0, true));
    assert_eq!(knot(rows((100.0, 400.0))), line(Axis::Up, 100.0, false));
    let columns = |cap: (f64, f64)| {
        let mut face = Build::new().piece("flap", "wrap", OPEN).piece("apron", "wrap", OPEN).along((0.0, 300.0));
        face = face.piece("cap", "flash", OPEN).along(cap);
        face.face.pieces[0].over = vec![face.id("cap")];
        face
    };
    assert_eq!(knot(columns((-50.0, 250.0))), line(Axis::Along, 250.0, true));
    assert_eq!(knot(columns((100.0, 400.0))), line(Axis::Along, 100.0, false));
}

/// What closes a circle: the unit lies over the wrap that the flashing over it is to lie behind.
#[test]
fn a_circle_names_what_closes_it() {
    let knot = |build: Build| build.derive().impossible[0].knot;
    let face = Build::new().piece("wrap", "wrap", OPEN).piece("unit", "win", OPEN).piece("cap", "flash", OPEN);
    let circle = Knot::Circle { outer: 2, inner: 1, third: Third::Cover(0) };
    assert_eq!(knot(face.over(&["unit"]).behind(&["wrap"])), circle);
    let both = Build::new().piece("a", "wrap", OPEN).piece("b", "wrap", OPEN).over(&["a"]).behind(&["a"]);
    assert!(matches!(knot(both), Knot::Circle { third: Third::None, .. }));
}

/// Only the pieces that are tangled are in it: the deck under all of them is not, nor the board over them.
#[test]
fn a_tangle_names_its_own_pieces() {
    let face = Build::new()
        .piece("deck", "ply", OPEN)
        .piece("wrap", "wrap", from(0.0))
        .piece("unit", "win", to(30.0))
        .piece("cap", "flash", (20.0, 120.0))
        .over(&["unit"])
        .behind(&["wrap"])
        .piece("boards", "boards", OPEN);
    let found = face.derive().impossible;
    assert_eq!(found.len(), 1);
    assert_eq!(found[0].pieces, [2, 3]);
    assert_eq!((found[0].pair, found[0].why), ([2, 3], Tangle::Untrue));
    let up = Extent { low: mm(20.0), high: mm(30.0) };
    assert_eq!(found[0].at, Rect { up, along: Extent { low: OPEN_LOW, high: OPEN_HIGH } });
}

#[test]
fn over_and_behind_of_one_pair_cannot_be_built() {
    let face = Build::new().piece("a", "wrap", OPEN).piece("b", "wrap", OPEN).over(&["a"]).behind(&["a"]);
    assert_eq!(face.impossible(), ["impossible stack: a, b"]);
    // Apart from each other they are no trouble.
    let face = Build::new().piece("a", "wrap", from(0.0)).piece("b", "wrap", to(0.0)).over(&["a"]).behind(&["a"]);
    assert!(face.impossible().is_empty());
}

#[test]
fn a_cut_is_not_covered() {
    let face =
        Build::new().piece("deck", "ply", OPEN).piece("wrap", "wrap", OPEN).cut("wrap", (0.0, 100.0), (0.0, 50.0));
    assert_eq!(stack(&face, 50.0, 25.0), ["deck"]);
    assert_eq!(stack(&face, 50.0, 75.0), ["deck", "wrap"]);
    assert_eq!(stack(&face, 150.0, 25.0), ["deck", "wrap"]);
}

/// Seen from inside, the later piece lies nearer to the room.
#[test]
fn the_inner_face_stacks_toward_the_room() {
    let face = Build::new()
        .piece("studs", "conc", OPEN)
        .piece("film", "poly", OPEN)
        .inside()
        .piece("wrap", "wrap", OPEN)
        .piece("board", "ply", OPEN)
        .inside();
    assert_eq!(stack(&face, 0.0, 0.0), ["board", "film", "studs", "wrap"]);
    let face = Build::new()
        .piece("film", "poly", OPEN)
        .inside()
        .piece("board", "ply", OPEN)
        .inside()
        .behind(&["film"])
        .piece("wrap", "wrap", OPEN);
    assert_eq!(stack(&face, 0.0, 0.0), ["film", "board", "wrap"]);
}

#[test]
fn what_lies_within_another_is_a_patch_and_no_lap() {
    let patch = |up| Build::new().piece("wrap", "wrap", (0.0, 1000.0)).piece("patch", "tape", up).laps();
    assert!(patch((100.0, 200.0)).is_empty());
    assert!(patch((0.0, 200.0)).is_empty());
    assert!(patch((0.0, 1000.0)).is_empty());
    assert_eq!(patch((-1.0, 200.0)), ["lap patch over wrap, head, 200 mm, not shingled"]);
    assert_eq!(patch((900.0, 1001.0)), ["lap patch over wrap, head, 100 mm, shingled"]);
}

#[test]
fn a_cut_makes_two_intervals() {
    // A flap between two slits laps what is above and below the opening.
    let face = Build::new()
        .piece("wrap", "wrap", OPEN)
        .cut("wrap", (0.0, 100.0), (0.0, 50.0))
        .piece("unit", "win", (-10.0, 120.0))
        .along((0.0, 50.0));
    assert_eq!(
        face.laps(),
        ["lap unit over wrap, head, 10 mm, shingled", "lap unit over wrap, head, 20 mm, not shingled"]
    );
}

#[test]
fn the_shortest_lap_of_a_pair_counts() {
    let face = Build::new().piece("low", "wrap", to(100.0)).cut("low", (60.0, 100.0), (0.0, 50.0)).piece(
        "high",
        "wrap",
        from(0.0),
    );
    assert_eq!(face.laps(), ["lap high over low, head, 60 mm, shingled"]);
}

/// A circular order is reported once, however many edges cross it, and two of them twice.
#[test]
fn each_circle_is_reported_once() {
    let ring = |face: Build, names: [&'static str; 3], along: (f64, f64)| {
        face.piece(names[0], "wrap", OPEN)
            .along(along)
            .piece(names[1], "wrap", OPEN)
            .along(along)
            .behind(&[names[0]])
            .piece(names[2], "wrap", OPEN)
            .along(along)
            .over(&[names[0]])
            .behind(&[names[1]])
    };
    let face = ring(Build::new().piece("rail", "boards", (0.0, 50.0)).along(from(900.0)), ["a", "b", "c"], to(300.0));
    let face = ring(face, ["d", "e", "f"], (400.0, 800.0));
    assert_eq!(face.impossible(), ["impossible stack: a, c", "impossible stack: d, f"]);
}

/// Which of two lies outside is read off where the lap can be built; here the circle takes up its lower half.
#[test]
fn a_lap_lies_as_its_buildable_part_has_it() {
    let face = Build::new()
        .piece("low", "wrap", to(100.0))
        .piece("high", "wrap", from(0.0))
        .behind(&["low"])
        .piece("patch", "tape", (-10.0, 50.0))
        .over(&["low"])
        .behind(&["high"]);
    assert_eq!(face.impossible(), ["impossible stack: low, patch"]);
    assert!(face.laps().contains(&"lap low over high, head, 100 mm, not shingled".to_owned()), "{:?}", face.laps());
}

/// Each course is bonded to the one below it and to no other, however many there are.
#[test]
fn a_wall_of_many_courses_keeps_its_pairs_apart() {
    let mut face = Build::new();
    let names: Vec<&'static str> = (0..150).map(|n| &*Box::leak(format!("course-{n}").into_boxed_str())).collect();
    for (n, name) in names.iter().enumerate() {
        let foot = n as f64 * 100.0;
        face = face.piece(name, "wrap", (foot, foot + 120.0));
        if n > 0 {
            face = face.bonds(&[names[n - 1]]);
        }
    }
    let facts = face.derive();
    let laps: Vec<_> = facts.laps.iter().map(|lap| (lap.over, lap.under, lap.sealed, lap.contact)).collect();
    assert_eq!(laps, (1..150).map(|n| (n, n - 1, true, true)).collect::<Vec<_>>());
    assert!(facts.bonds.iter().all(|bond| bond.contact && bond.width == Some(mm(20.0))));
    assert_eq!(facts.contacts, (1..150).map(|n| (n - 1, n)).collect::<Vec<_>>());
}

/// The tape is one of many pieces; which of them bridges the seam does not depend on how many came before.
#[test]
fn a_seam_among_many_pieces_is_bridged_by_its_own_tape() {
    let mut face = Build::new();
    for n in 0..140 {
        let left = 1000.0 + 10.0 * n as f64;
        let name = Box::leak(format!("strip-{n}").into_boxed_str());
        face = face.piece(name, "wrap", OPEN).along((left, left + 5.0));
    }
    let face = face
        .piece("low", "wrap", to(100.0))
        .along(to(0.0))
        .piece("high", "wrap", from(0.0))
        .along(to(0.0))
        .piece("band", "tape", (-50.0, 50.0))
        .along(to(0.0))
        .bonds(&["low", "high"]);
    let facts = face.derive();
    let seam = facts.laps.iter().find(|lap| (lap.over, lap.under) == (face.id("high"), face.id("low"))).expect("a lap");
    assert_eq!(seam.bridged, Some(face.id("band")));
}

#[test]
fn a_lap_without_contact_has_something_between() {
    let face =
        Build::new().piece("low", "wrap", to(100.0)).piece("felt", "wrap", OPEN).piece("high", "wrap", from(0.0));
    assert!(!face.derive().laps[0].contact);
    let face =
        Build::new().piece("low", "wrap", to(100.0)).piece("felt", "wrap", from(50.0)).piece("high", "wrap", from(0.0));
    let laps = face.derive().laps;
    let of = |over, under| laps.iter().find(|l| (l.over, l.under) == (face.id(over), face.id(under))).expect("a lap");
    assert!(of("high", "low").contact);
}

/// A tape over the seam, stuck to both courses; short of the whole seam it does not bridge it.
#[test]
fn a_tape_across_a_seam_bridges_it() {
    let courses = || Build::new().piece("low", "wrap", to(100.0)).piece("high", "wrap", from(0.0));
    let bridged = |face: &Build| {
        let laps = face.derive().laps;
        laps.iter().find(|l| (l.over, l.under) == (1, 0)).expect("the seam").bridged
    };
    assert_eq!(bridged(&courses()), None);
    let taped = courses().piece("band", "tape", (-40.0, 40.0)).bonds(&["low", "high"]);
    assert_eq!(bridged(&taped), Some(2));
    let one_side = courses().piece("band", "tape", (-40.0, 40.0)).bonds(&["low"]);
    assert_eq!(bridged(&one_side), None);
    let short = courses().piece("band", "tape", (-40.0, 40.0)).along((0.0, 500.0)).bonds(&["low", "high"]);
    assert_eq!(bridged(&short), None);
    let leaky = courses().piece("band", "boards", (-40.0, 40.0)).bonds(&["low", "high"]);
    assert_eq!(bridged(&leaky), None);
    // Stuck to both above and below, and cut away where the seam is.
    let apart = courses().piece("band", "tape", (-200.0, 300.0)).bonds(&["low", "high"]);
    assert_eq!(bridged(&apart.cut("band", (-50.0, 150.0), OPEN)), None);
    // Far from the seam a strip that happens to be stuck to both does nothing for it.
    let far = courses().piece("far", "tape", (-400.0, -300.0)).bonds(&["low"]).seal("far", "high", None);
    assert_eq!(bridged(&far), None);
}

#[test]
fn side_laps_are_found_in_rows() {
    let face = Build::new()
        .piece("left", "wrap", OPEN)
        .along(to(150.0))
        .piece("right", "wrap", OPEN)
        .along(from(0.0))
        .seal("left", "right", Some((Axis::Along, 100.0)));
    assert_eq!(face.laps(), ["lap right over left, side, 150 mm, sealed"]);
}

#[test]
fn pieces_of_the_inner_face_have_no_laps_here() {
    let face = Build::new().piece("low", "poly", to(100.0)).inside().piece("high", "poly", from(0.0)).inside();
    assert!(face.laps().is_empty());
    assert_eq!(face.derive().contacts, [(0, 1)]);
}

#[test]
fn neighbours_in_any_stack_meet() {
    let face = Build::new().piece("a", "wrap", OPEN).piece("b", "wrap", from(0.0)).piece("c", "wrap", OPEN);
    assert_eq!(face.derive().contacts, [(0, 1), (0, 2), (1, 2)]);
    let face = Build::new().piece("a", "wrap", OPEN).piece("b", "wrap", OPEN).piece("c", "wrap", OPEN);
    assert_eq!(face.derive().contacts, [(0, 1), (1, 2)]);
}
