//! Bonds, seals, fasteners, tucks and what stays uncovered.

use crate::face::build::{Build, OPEN, from, mm, to};
use headlap::facts::face::BondKind;
use headlap::model::Axis;

fn width(face: &Build) -> (bool, Option<i64>) {
    let bond = face.derive().bonds[0];
    (bond.contact, bond.width)
}

#[test]
fn a_bond_is_as_wide_as_the_smaller_extent_of_the_contact() {
    let face = |up, along| {
        Build::new().piece("stem", "conc", to(0.0)).piece("strip", "tape", up).along(along).bonds(&["stem"])
    };
    assert_eq!(width(&face((-60.0, 100.0), OPEN)), (true, Some(mm(60.0))));
    assert_eq!(width(&face((-60.0, 100.0), (0.0, 20.0))), (true, Some(mm(20.0))));
    assert_eq!(width(&face((0.0, 100.0), OPEN)), (false, None));
    assert_eq!(width(&face(to(100.0), OPEN)), (true, None));
}

/// What comes between takes contact away: the wrap leaves the strip only what it does not cover of the stem.
#[test]
fn a_bond_is_only_where_nothing_lies_between() {
    let face = Build::new()
        .piece("stem", "conc", to(0.0))
        .piece("wrap", "wrap", from(-40.0))
        .piece("strip", "tape", (-100.0, 100.0))
        .bonds(&["stem"]);
    assert_eq!(width(&face), (true, Some(mm(60.0))));
    let face = Build::new()
        .piece("stem", "conc", to(0.0))
        .piece("wrap", "wrap", from(-100.0))
        .piece("strip", "tape", (-100.0, 100.0))
        .bonds(&["stem"]);
    assert_eq!(width(&face), (false, None));
    assert!(face.derive().laps.iter().all(|l| !l.sealed));
}

/// A jamb tape beside a flange holds the wrap along an angle; its leg counts.
#[test]
fn an_angle_is_as_wide_as_its_leg() {
    let face = Build::new()
        .piece("wrap", "wrap", OPEN)
        .piece("unit", "win", (0.0, 1000.0))
        .along((-25.0, 800.0))
        .piece("jamb", "tape", (-100.0, 1100.0))
        .along((-80.0, 0.0))
        .bonds(&["wrap"]);
    assert_eq!(width(&face), (true, Some(mm(55.0))));
}

#[test]
fn a_coat_bonds_all_that_it_touches() {
    let face = Build::new().piece("stem", "conc", to(0.0)).piece("deck", "ply", from(0.0)).piece(
        "coat",
        "coat",
        (-50.0, 30.0),
    );
    let found = face.derive();
    assert_eq!(
        found.bonds.iter().map(|b| (b.piece, b.onto, b.width)).collect::<Vec<_>>(),
        [(2, 0, Some(mm(50.0))), (2, 1, Some(mm(30.0)))]
    );
    assert!(found.laps.iter().all(|l| l.sealed));
    // It has cured when more comes over it.
    let covered = Build::new().piece("deck", "ply", OPEN).piece("coat", "coat", OPEN).piece("wrap", "wrap", OPEN);
    assert_eq!(covered.derive().bonds.iter().map(|b| (b.piece, b.onto)).collect::<Vec<_>>(), [(1, 0)]);
}

#[test]
fn a_seal_needs_contact_at_its_place() {
    let touches = |first, second, at| {
        let face = Build::new().piece("low", "wrap", first).piece("high", "wrap", second).seal("low", "high", at);
        face.derive().seals[0].touches
    };
    assert!(touches(to(100.0), from(0.0), None));
    assert!(touches(to(100.0), from(0.0), Some((Axis::Up, 50.0))));
    assert!(touches(to(100.0), from(0.0), Some((Axis::Up, 100.0))));
    assert!(!touches(to(100.0), from(0.0), Some((Axis::Up, 151.0))));
    assert!(!touches(to(100.0), from(0.0), Some((Axis::Up, -51.0))));
    // Edge to edge.
    assert!(touches(to(0.0), from(0.0), None));
    assert!(touches(to(0.0), from(0.0), Some((Axis::Up, 0.0))));
    assert!(!touches(to(0.0), from(0.0), Some((Axis::Along, 0.0))));
    assert!(!touches(to(0.0), from(1.0), None));
    // Two inches are within its reach.
    assert!(touches(to(0.0), from(0.0), Some((Axis::Up, 50.8))));
    assert!(!touches(to(0.0), from(0.0), Some((Axis::Up, 50.9))));
    // A fillet along the end of a lap, whichever is named first.
    assert!(touches(to(40.0), from(-20.0), Some((Axis::Up, 60.0))));
    assert!(touches(from(-20.0), to(40.0), Some((Axis::Up, 60.0))));
    // A bead up the wall at the side of a lap.
    let upright = |at| {
        let face = Build::new().piece("wide", "wrap", OPEN).piece("strip", "wrap", OPEN).along((0.0, 100.0));
        face.seal("strip", "wide", Some((Axis::Along, at))).derive().seals[0].touches
    };
    assert!(upright(50.0) && upright(150.0) && upright(-50.0));
    assert!(!upright(151.0) && !upright(-51.0));
    // Something lies between.
    let face =
        Build::new().piece("a", "wrap", OPEN).piece("felt", "wrap", OPEN).piece("b", "wrap", OPEN).seal("a", "b", None);
    assert!(!face.derive().seals[0].touches);
}

/// A board that runs past the joint lies between a sheet within the wall and one outboard of it, however far each of them goes.
#[test]
fn a_seal_reaches_nothing_past_what_lies_between() {
    let across = |board, low, high, at| {
        let face = Build::new().piece("board", "ply", board).piece("low", "wrap", low);
        face.piece("film", "poly", high).inside().seal("film", "low", at)
    };
    let touches = |face: Build| face.derive().seals[0].touches;
    for at in [None, Some((Axis::Up, 0.0))] {
        assert!(touches(across(to(-300.0), to(0.0), from(0.0), at)), "edge to edge, and nothing between");
        assert!(touches(across(to(0.0), to(0.0), from(0.0), at)), "over the end of the board");
        assert!(!touches(across(OPEN, to(0.0), from(0.0), at)), "edge to edge");
        assert!(!touches(across(OPEN, to(100.0), from(0.0), at)), "lapped");
        assert!(!touches(across(OPEN, OPEN, from(0.0), at)), "the end of one alone");
        assert!(touches(across(to(50.0), to(100.0), from(-50.0), None)), "above the board they meet");
    }
    // So does a sheet between two others on one face.
    let sheets = Build::new().piece("a", "wrap", to(40.0)).piece("felt", "wrap", OPEN).piece("b", "wrap", from(-20.0));
    assert!(!touches(sheets.seal("a", "b", None)));
    // What sticks to one of them is its surface.
    let taped = |bonds: &[&str]| {
        let face = Build::new().piece("stem", "conc", to(0.0)).piece("band", "tape", (-75.0, 75.0)).bonds(bonds);
        touches(face.piece("wrap", "wrap", from(-25.0)).seal("wrap", "stem", Some((Axis::Up, -15.0))))
    };
    assert!(taped(&["stem"]) && !taped(&[]));
    // At either end of a lap, whichever of the two ends there.
    let at_end = |bead| {
        let stem = Build::new().piece("stem", "conc", to(0.0)).piece("band", "tape", (-275.0, 75.0)).bonds(&["stem"]);
        touches(stem.piece("wrap", "wrap", from(-200.0)).seal("wrap", "stem", Some((Axis::Up, bead))))
    };
    assert!(at_end(-10.0) && at_end(-190.0) && !at_end(-100.0));
    // Of two plates the joint between them lies behind neither.
    let plates = Build::new().piece("stem", "conc", OPEN).piece("low", "ply", to(0.0)).piece("high", "ply", from(0.0));
    assert!(!touches(plates.piece("wrap", "wrap", OPEN).seal("wrap", "stem", Some((Axis::Up, 0.0)))));
    // A unit stands through the wall: the film of the room meets its frame, whatever runs into the opening below it.
    let pan = Build::new().piece("pan", "flash", (-100.0, 30.0)).piece("unit", "win", from(0.0));
    assert!(touches(pan.piece("film", "poly", to(0.0)).inside().seal("film", "unit", Some((Axis::Up, 0.0)))));
}

#[test]
fn tape_laid_on_the_heads_of_fasteners() {
    let wall = || Build::new().piece("deck", "ply", OPEN).piece("wrap", "wrap", OPEN).fasten("wrap", from(100.0));
    let taped = |face: Build| face.derive().fastenings[0].taped_over.clone();
    assert_eq!(taped(wall().piece("band", "tape", (50.0, 150.0))), [2]);
    assert!(taped(wall().piece("band", "tape", (0.0, 100.0))).is_empty());
    // Laid before, it is only gone through.
    let before =
        Build::new().piece("deck", "ply", OPEN).piece("wrap", "wrap", OPEN).piece("band", "tape", (50.0, 150.0));
    assert!(taped(before.fasten("wrap", from(100.0))).is_empty());
    // On a second sheet the tape does not rest on the heads.
    assert!(taped(wall().piece("felt", "wrap", OPEN).piece("band", "tape", (50.0, 150.0))).is_empty());
}

#[test]
fn fasteners_go_through_what_is_there() {
    let face = Build::new()
        .piece("pan", "flash", (0.0, 200.0))
        .piece("wrap", "wrap", OPEN)
        .fasten("wrap", from(150.0))
        .piece("cap", "flash", (180.0, 400.0));
    let found = &face.derive().fastenings[0];
    assert_eq!((&found.pierces[..], &found.flashed_over[..]), (&[0][..], &[2][..]));
    let clear =
        Build::new().piece("pan", "flash", (0.0, 200.0)).piece("wrap", "wrap", OPEN).fasten("wrap", from(200.0));
    assert!(clear.derive().fastenings[0].pierces.is_empty());
    // A flashing may be nailed at its own edge.
    let own = Build::new().piece("pan", "flash", (0.0, 200.0)).fasten("pan", from(150.0));
    assert!(own.derive().fastenings[0].pierces.is_empty());
    // A pan of membrane is a flashing by its role.
    let mut pan =
        Build::new().piece("pan", "wrap", (0.0, 200.0)).piece("wrap", "wrap", OPEN).fasten("wrap", from(150.0));
    assert!(pan.derive().fastenings[0].pierces.is_empty());
    pan.face.pieces[0].flashing = true;
    assert_eq!(pan.derive().fastenings[0].pierces, [0]);
}

#[test]
fn fasteners_go_through_tapes_laid_before() {
    let through = |face: Build| face.derive().fastenings[0].pierces_tapes.clone();
    let under = || Build::new().piece("band", "tape", (0.0, 100.0)).piece("wrap", "wrap", OPEN);
    assert_eq!(through(under().fasten("wrap", from(99.0))), [0]);
    assert!(through(under().fasten("wrap", from(100.0))).is_empty());
    let over = || Build::new().piece("wrap", "wrap", OPEN).piece("band", "tape", (0.0, 100.0));
    assert_eq!(through(over().fasten("wrap", from(50.0))), [1]);
    assert!(through(over().fasten("band", from(50.0))).is_empty());
    let later = Build::new().piece("wrap", "wrap", OPEN).fasten("wrap", from(50.0));
    assert!(through(later.piece("band", "tape", (0.0, 100.0))).is_empty());
    // A tape on the other face is out of reach; one that serves as a flashing counts as that alone.
    let mut face = under().fasten("wrap", from(50.0));
    face.face.pieces[0].inside = true;
    assert!(face.derive().fastenings[0].pierces_tapes.is_empty());
    face.face.pieces[0].inside = false;
    face.face.pieces[0].flashing = true;
    let found = &face.derive().fastenings[0];
    assert_eq!((&found.pierces[..], &found.pierces_tapes[..]), (&[0][..], &[][..]));
}

fn tucks(face: &Build) -> Vec<(&'static str, &'static str, bool)> {
    let found = face.derive().tucks;
    found.iter().map(|t| (face.names[t.piece], face.names[t.behind], t.fixed)).collect()
}

#[test]
fn a_piece_goes_behind_what_is_still_loose() {
    let loose = Build::new()
        .piece("deck", "ply", OPEN)
        .piece("wrap", "wrap", OPEN)
        .piece("cap", "flash", (0.0, 100.0))
        .behind(&["wrap"]);
    assert_eq!(tucks(&loose), [("cap", "wrap", false)]);
    let nailed = Build::new()
        .piece("deck", "ply", OPEN)
        .piece("wrap", "wrap", OPEN)
        .fasten("wrap", from(50.0))
        .piece("cap", "flash", (0.0, 100.0))
        .behind(&["wrap"]);
    assert_eq!(tucks(&nailed), [("cap", "wrap", true)]);
    let higher = Build::new()
        .piece("deck", "ply", OPEN)
        .piece("wrap", "wrap", OPEN)
        .fasten("wrap", from(100.0))
        .piece("cap", "flash", (0.0, 100.0))
        .behind(&["wrap"]);
    assert_eq!(tucks(&higher), [("cap", "wrap", false)]);
    // Nailed when the flashing is in, as it should be.
    let later = Build::new()
        .piece("deck", "ply", OPEN)
        .piece("wrap", "wrap", OPEN)
        .piece("cap", "flash", (0.0, 100.0))
        .behind(&["wrap"])
        .fasten("wrap", from(50.0));
    assert_eq!(tucks(&later), [("cap", "wrap", false)]);
    let bonded = Build::new()
        .piece("deck", "ply", OPEN)
        .piece("wrap", "wrap", OPEN)
        .bonds(&["deck"])
        .piece("cap", "flash", (0.0, 100.0))
        .behind(&["wrap"]);
    assert_eq!(tucks(&bonded), [("cap", "wrap", true)]);
}

/// A flap that is folded down over a later piece is the same thing said the other way round.
/// Put into the opening of a sheet, a piece lies behind nothing.
#[test]
fn what_fills_a_cut_is_not_tucked() {
    let face = Build::new()
        .piece("wrap", "wrap", OPEN)
        .cut("wrap", (0.0, 100.0), (0.0, 100.0))
        .piece("unit", "win", (0.0, 100.0))
        .along((0.0, 100.0))
        .behind(&["wrap"]);
    assert_eq!(tucks(&face), []);
    let larger = Build::new()
        .piece("wrap", "wrap", OPEN)
        .cut("wrap", (0.0, 100.0), (0.0, 100.0))
        .piece("unit", "win", (-10.0, 100.0))
        .along((0.0, 100.0))
        .behind(&["wrap"]);
    assert_eq!(tucks(&larger), [("unit", "wrap", false)]);
}

#[test]
fn a_flap_over_a_later_piece_is_a_tuck() {
    let mut face =
        Build::new().piece("deck", "ply", OPEN).piece("flap", "wrap", from(0.0)).piece("cap", "flash", (-50.0, 100.0));
    face.face.pieces[1].over = vec![2];
    assert_eq!(tucks(&face), [("cap", "flap", false)]);
    // Behind something later is where a piece is anyway.
    let plain = Build::new().piece("cap", "flash", (0.0, 100.0)).piece("wrap", "wrap", OPEN).over(&["cap"]);
    assert!(tucks(&plain).is_empty());
}

/// A tape that holds the flap down at the place fixes it; a patch on the flap alone does not.
#[test]
fn a_tape_over_its_edge_fixes_a_sheet() {
    let face = |bonds: &[&str]| {
        Build::new()
            .piece("deck", "ply", OPEN)
            .piece("flap", "wrap", from(0.0))
            .piece("band", "tape", (-40.0, 40.0))
            .bonds(bonds)
            .piece("cap", "flash", (-50.0, 100.0))
            .behind(&["flap", "band"])
    };
    assert!(tucks(&face(&["deck", "flap"])).contains(&("cap", "flap", true)));
    assert!(tucks(&face(&["flap"])).contains(&("cap", "flap", false)));
}

#[test]
fn what_waits_for_its_cladding_is_uncovered() {
    let face = Build::new()
        .piece("deck", "ply", OPEN)
        .piece("felt", "wrap", OPEN)
        .piece("wrap", "wrap", OPEN)
        .piece("boards", "boards", OPEN)
        .piece("trim", "boards", (0.0, 100.0));
    assert_eq!(face.derive().uncovered, [false, false, true, true, true]);
    // A flashing over it covers it; where that ends it does not.
    let face = Build::new().piece("wrap", "wrap", OPEN).piece("cap", "flash", OPEN);
    assert_eq!(face.derive().uncovered, [false, true]);
    let face = Build::new().piece("wrap", "wrap", OPEN).piece("cap", "flash", (0.0, 100.0));
    assert_eq!(face.derive().uncovered, [true, true]);
    // A sheet tucked behind boards that were there before never lay open.
    let face = Build::new().piece("boards", "boards", OPEN).piece("wrap", "wrap", OPEN).behind(&["boards"]);
    assert_eq!(face.derive().uncovered, [true, false]);
}

/// Adhesive is on the inboard face of a tape: what is installed later lies on its dry back.
#[test]
fn a_tape_does_not_stick_to_what_comes_over_it() {
    let head = |first: bool| {
        let face = Build::new().piece("wrap", "wrap", from(0.0));
        if first {
            let mut face = face.piece("tape", "tape", (0.0, 100.0)).piece("unit", "win", to(30.0));
            face.face.pieces[1].bonds = vec![0.into(), 2.into()];
            face
        } else {
            face.piece("unit", "win", to(30.0)).piece("tape", "tape", (0.0, 100.0)).bonds(&["wrap", "unit"])
        }
    };
    let bonds =
        |face: &Build| -> Vec<(bool, bool)> { face.derive().bonds.iter().map(|b| (b.contact, b.dry)).collect() };
    assert_eq!(bonds(&head(false)), [(true, false), (true, false)]);
    assert_eq!(bonds(&head(true)), [(true, false), (true, true)]);
    assert_eq!(
        head(true).drops(),
        ["drop: relies (tape, wrap), ends enters", "drop: reverse (unit, tape), ends enters"]
    );
    // Adhesive on both faces, a clamp and a weld hold either way, and so does a tape that is folded over the flange.
    let mut face = head(true);
    face.face.pieces[1].double_sided = true;
    assert_eq!(bonds(&face), [(true, false), (true, false)]);
    for by in [BondKind::Clamped, BondKind::Welded] {
        let mut face = head(true);
        face.face.pieces[1].bonds[1].by = by;
        assert_eq!(bonds(&face), [(true, false), (true, false)]);
    }
    let mut face = head(true);
    face.face.pieces[1].over = vec![2];
    assert_eq!(bonds(&face), [(true, false), (true, false)]);
}
