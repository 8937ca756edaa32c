//! Edges of control layers, and folds.

use crate::face::build::{Build, OPEN, from, mm, to};
use headlap::facts::face::{Extent, OPEN_HIGH, Side, Turn};
use headlap::model::Control::{Air, Vapor, Water};
use headlap::model::FoldKind::{Base, InsideCorner, OutsideCorner, Sill};
use headlap::model::{Axis, Controls};

/// Edges as (piece, side, free, sealed).
fn edges(face: &Build) -> Vec<(&'static str, Side, bool, bool)> {
    face.derive().edges.iter().map(|e| (face.names[e.piece], e.side, e.free, e.sealed)).collect()
}

fn wrap() -> Build {
    Build::new()
        .piece("stem", "conc", to(0.0))
        .piece("deck", "ply", from(0.0))
        .piece("wrap", "wrap", from(-40.0))
        .of(1, &[Air])
}

#[test]
fn an_edge_that_runs_off_the_detail_is_none() {
    assert_eq!(edges(&wrap()), [("wrap", Side::Bottom, true, false)]);
    assert_eq!(wrap().derive().edges[0].at, mm(-40.0));
    let all = Build::new().piece("wrap", "wrap", (0.0, 10.0)).along((0.0, 10.0)).of(0, &[Air]);
    let sides: Vec<Side> = edges(&all).iter().map(|e| e.1).collect();
    assert_eq!(sides, Side::ALL);
    assert!(edges(&Build::new().piece("wrap", "wrap", (0.0, 10.0))).is_empty());
}

#[test]
fn a_tape_over_the_edge_seals_it_if_it_sticks_to_the_sheet() {
    let tape = |up, bonds: &[&str]| edges(&wrap().piece("strip", "tape", up).bonds(bonds))[0].3;
    assert!(tape((-100.0, 20.0), &["stem", "wrap"]));
    assert!(!tape((-100.0, 20.0), &["stem"]));
    // Stuck to the sheet alone, it closes nothing beyond the edge.
    assert!(!tape((-100.0, 20.0), &["wrap"]));
    // Flush with the edge it covers nothing.
    assert!(!tape((-40.0, 20.0), &["wrap"]));
    // Short of the whole length it does not do.
    let short = wrap().piece("strip", "tape", (-100.0, 20.0)).along(from(0.0)).bonds(&["stem", "wrap"]);
    assert!(!edges(&short)[0].3);
    let two = short.piece("rest", "tape", (-100.0, 20.0)).along(to(0.0)).bonds(&["stem", "wrap"]);
    assert!(edges(&two)[0].3);
    // A board stuck over it lets air pass.
    let board = wrap().piece("board", "boards", (-100.0, 20.0)).bonds(&["wrap"]);
    assert!(!edges(&board)[0].3);
}

#[test]
fn a_sheet_bonded_at_its_edge_is_sealed_there() {
    assert!(edges(&wrap().bonds(&["stem"]))[0].3);
    // Bonded to the board above, its foot hangs loose.
    assert!(!edges(&wrap().bonds(&["deck"]))[0].3);
}

#[test]
fn a_bead_within_50_mm_of_the_edge_seals_it() {
    let bead = |at| edges(&wrap().seal("wrap", "stem", Some((Axis::Up, at))))[0].3;
    assert!(bead(-15.0));
    assert!(bead(10.0));
    assert!(!bead(11.0));
    assert!(edges(&wrap().seal("wrap", "stem", None))[0].3);
    // A bead is as long as what it joins.
    let half =
        Build::new().piece("stem", "conc", to(20.0)).along(from(0.0)).piece("wrap", "wrap", from(-40.0)).of(1, &[Air]);
    assert!(!edges(&half.seal("wrap", "stem", Some((Axis::Up, -15.0))))[0].3);
    // A bead to something that is not at the edge is not along it.
    assert!(!edges(&wrap().seal("wrap", "deck", None))[0].3);
    // An upright bead does not run along a foot.
    assert!(!edges(&wrap().seal("wrap", "stem", Some((Axis::Along, -15.0))))[0].3);
}

/// A sill shows nothing of the wall beside its jambs, and is not asked what closes them.
#[test]
fn beside_a_unit_counts_what_the_detail_shows() {
    let sides = |wrap: Build| {
        let wrap = wrap.of(0, &[Air]);
        let face = wrap.piece("unit", "win", from(10.0)).along((0.0, 900.0)).of(1, &[Air]);
        let unit = edges(&face).into_iter().filter(|e| e.0 == "unit" && e.2);
        unit.map(|e| e.1).collect::<Vec<_>>()
    };
    assert_eq!(sides(Build::new().piece("wrap", "wrap", to(0.0))), [Side::Bottom]);
    // Across a gap the wall still counts.
    assert_eq!(sides(Build::new().piece("wrap", "wrap", OPEN).along(to(-20.0))), [Side::Left]);
}

/// A hood is of no assembly. What lies over its flange is no seam with it, since tape and hood are no one layer.
#[test]
fn the_flange_of_a_unit_is_an_edge_whatever_it_belongs_to() {
    let hood = |bonds: &[&str]| {
        let wrap = Build::new().piece("wrap", "wrap", OPEN).of(0, &[Air]);
        let face = wrap.piece("hood", "win", OPEN).along(from(0.0));
        edges(&face.piece("tape", "tape", OPEN).along((-50.0, 50.0)).bonds(bonds))
    };
    assert_eq!(hood(&["hood", "wrap"]), [("hood", Side::Left, true, true)]);
    assert_eq!(hood(&["hood"]), [("hood", Side::Left, true, false)]);
    assert_eq!(hood(&["wrap"]), [("hood", Side::Left, true, false)]);
}

/// A grille lets air through anyway.
#[test]
fn the_rim_of_a_unit_that_holds_no_air_is_no_edge() {
    let mut face = Build::new().piece("wrap", "wrap", OPEN).piece("grille", "win", OPEN).along(from(0.0));
    face.face.pieces[1].holds = Controls::NONE.with(Water);
    assert!(edges(&face).is_empty());
}

/// The next assembly's control layer is all that has to lie beyond the edge that it is stuck to.
#[test]
fn a_control_layer_stuck_over_the_edge_seals_it() {
    let top = |bonds: &[&str]| {
        let low = Build::new().piece("low", "wrap", to(100.0)).of(0, &[Air]);
        let face = low.piece("high", "wrap", from(0.0)).of(1, &[Air]).bonds(bonds);
        edges(&face).into_iter().find(|e| e.0 == "low").map(|e| e.3)
    };
    assert_eq!((top(&["low"]), top(&[])), (Some(true), Some(false)));
}

/// On the inner face what comes later lies toward the room, and so over the edge.
#[test]
fn a_tape_from_inside_seals_the_edge_of_a_film() {
    let foot = |bonds: &[&str]| {
        let film = Build::new().piece("stem", "conc", OPEN).piece("film", "poly", from(0.0)).inside().of(1, &[Air]);
        edges(&film.piece("band", "tape", (-50.0, 50.0)).inside().bonds(bonds))
    };
    assert_eq!(foot(&["film", "stem"]), [("film", Side::Bottom, true, true)]);
    assert_eq!(foot(&["film"]), [("film", Side::Bottom, true, false)]);
}

/// A longer lap over the next assembly's control layer is no worse than a short one.
#[test]
fn a_bead_anywhere_in_a_lap_over_the_next_assembly_seals_the_edge() {
    let face = |stem_of: usize, at| {
        let stem = Build::new().piece("stem", "conc", to(200.0)).of(stem_of, &[Air]);
        stem.piece("wrap", "wrap", from(0.0)).of(1, &[Air]).seal("wrap", "stem", Some((Axis::Up, at)))
    };
    let sealed = |face: &Build| edges(face).into_iter().find(|e| e.0 == "wrap").map(|e| e.3);
    let foot = |stem_of, at| sealed(&face(stem_of, at));
    assert_eq!(foot(0, 180.0), Some(true));
    // Above the lap it joins nothing, nor far below the edge.
    assert_eq!(foot(0, 260.0), Some(false));
    assert_eq!(foot(0, -100.0), Some(false));
    // Between the edge and the bead the sheet has to be whole.
    assert_eq!(sealed(&face(0, 180.0).cut("wrap", (50.0, 100.0), OPEN)), Some(false));
    // Its own assembly's sheathing is what the air barrier is there to cover.
    let deck = Build::new().piece("deck", "ply", OPEN).piece("wrap", "wrap", from(0.0)).of(1, &[Air]);
    assert!(!edges(&deck.seal("wrap", "deck", Some((Axis::Up, 180.0))))[0].3);
    // Something that ends before the edge leaves it open.
    let short = Build::new().piece("stem", "conc", (100.0, 200.0)).of(0, &[Air]);
    let short = short.piece("wrap", "wrap", from(0.0)).of(1, &[Air]).seal("wrap", "stem", Some((Axis::Up, 180.0)));
    assert_eq!(sealed(&short), Some(false));
}

/// Where another course of the same layer laps the edge it is a seam, which is another question.
#[test]
fn a_seam_is_no_free_edge() {
    let face =
        Build::new().piece("low", "wrap", to(150.0)).of(0, &[Air]).piece("high", "wrap", from(0.0)).of(0, &[Air]);
    assert_eq!(edges(&face), [("low", Side::Top, false, true), ("high", Side::Bottom, false, true)]);
    // Only half of it lapped, the rest is free.
    let half = Build::new()
        .piece("low", "wrap", to(150.0))
        .of(0, &[Air])
        .piece("high", "wrap", from(0.0))
        .along(to(0.0))
        .of(0, &[Air]);
    assert_eq!(edges(&half)[0], ("low", Side::Top, true, false));
    // Edge to edge is no lap, nor is a piece of another layer.
    let butt = Build::new().piece("low", "wrap", to(0.0)).of(0, &[Air]).piece("high", "wrap", from(0.0)).of(0, &[Air]);
    assert_eq!(edges(&butt)[0], ("low", Side::Top, true, false));
    let other =
        Build::new().piece("low", "wrap", to(150.0)).of(0, &[Air]).piece("high", "wrap", from(0.0)).of(1, &[Air]);
    assert_eq!(edges(&other)[0], ("low", Side::Top, true, false));
}

#[test]
fn a_ground_cover_is_asked_for_vapor() {
    let mut face = Build::new().piece("cover", "poly", to(0.0)).of(0, &[Vapor]);
    assert!(edges(&face).is_empty());
    face.face.edges = Vapor;
    assert_eq!(edges(&face), [("cover", Side::Top, true, false)]);
}

#[test]
fn where_a_cut_takes_the_edge_away_there_is_none() {
    let face = wrap()
        .cut("wrap", (-40.0, 0.0), (0.0, 500.0))
        .piece("strip", "tape", (-100.0, 20.0))
        .along(to(0.0))
        .bonds(&["stem", "wrap"]);
    let face = face.piece("rest", "tape", (-100.0, 20.0)).along(from(500.0)).bonds(&["stem", "wrap"]);
    assert_eq!(edges(&face)[0], ("wrap", Side::Bottom, true, true));
}

fn turn(face: Build) -> Turn {
    face.derive().turns[0]
}

#[test]
fn a_corner_wants_a_sheet_of_the_water_layer_past_it() {
    let corner = |left, right| {
        Build::new()
            .piece("left", "wrap", OPEN)
            .along(left)
            .of(0, &[Water])
            .piece("right", "wrap", OPEN)
            .along(right)
            .of(0, &[Water])
            .fold(Axis::Along, 0.0, OutsideCorner)
    };
    let found = turn(corner(to(100.0), from(-150.0)));
    assert_eq!((found.piece, found.past), (Some(1), Some(mm(150.0))));
    let found = turn(corner(to(200.0), from(-150.0)));
    assert_eq!((found.piece, found.past), (Some(0), Some(mm(200.0))));
    // Both end at the fold: they reach it and go no farther.
    let found = turn(corner(to(0.0), from(0.0)));
    assert_eq!((found.piece, found.past), (Some(0), Some(0)));
    // Both stop short of it.
    let found = turn(corner(to(-10.0), from(10.0)));
    assert_eq!((found.piece, found.past, found.spanned), (None, None, false));
}

#[test]
fn a_sheet_that_goes_on_both_ways_runs_past_without_end() {
    let face = Build::new().piece("wrap", "wrap", OPEN).of(0, &[Water]).fold(Axis::Along, 0.0, InsideCorner);
    let found = turn(face);
    assert_eq!((found.piece, found.past), (Some(0), None));
    assert_eq!(OPEN_HIGH, i64::MAX);
}

#[test]
fn what_serves_another_control_does_not_count_at_a_corner() {
    let face = Build::new().piece("film", "poly", OPEN).of(0, &[Vapor]).fold(Axis::Along, 0.0, OutsideCorner);
    assert_eq!(turn(face).piece, None);
}

#[test]
fn a_piece_spans_a_corner_when_sealed_on_both_sides() {
    let corner = |along, bonds: &[&str]| {
        Build::new()
            .piece("left", "wrap", OPEN)
            .along(to(0.0))
            .of(0, &[Water])
            .piece("right", "wrap", OPEN)
            .along(from(0.0))
            .of(0, &[Water])
            .piece("band", "tape", OPEN)
            .along(along)
            .bonds(bonds)
            .fold(Axis::Along, 0.0, OutsideCorner)
    };
    assert!(turn(corner((-75.0, 75.0), &["left", "right"])).spanned);
    assert!(!turn(corner((-75.0, 75.0), &["left"])).spanned);
    assert!(!turn(corner((0.0, 150.0), &["left", "right"])).spanned);
}

/// A strip beside the fold spans nothing, though a sheet that it holds comes round the corner.
#[test]
fn a_strip_beside_the_fold_does_not_span_it() {
    let face = Build::new()
        .piece("left", "wrap", OPEN)
        .along(to(100.0))
        .piece("right", "wrap", OPEN)
        .along(from(50.0))
        .piece("band", "tape", OPEN)
        .along((0.0, 150.0))
        .bonds(&["left", "right"])
        .fold(Axis::Along, 0.0, OutsideCorner);
    assert!(!turn(face).spanned);
}

/// A patch on one sheet that itself turns the corner spans nothing.
#[test]
fn a_patch_on_one_sheet_spans_nothing() {
    let face = Build::new()
        .piece("wrap", "wrap", OPEN)
        .of(0, &[Water])
        .piece("patch", "tape", (0.0, 100.0))
        .along((-50.0, 50.0))
        .bonds(&["wrap"])
        .fold(Axis::Along, 0.0, OutsideCorner);
    assert!(!turn(face).spanned);
}

#[test]
fn any_sheet_may_turn_up_at_the_base() {
    let face = |top| Build::new().piece("cover", "poly", to(top)).fold(Axis::Up, 0.0, Base);
    let found = turn(face(150.0));
    assert_eq!((found.piece, found.past), (Some(0), Some(mm(150.0))));
    assert_eq!(turn(face(-1.0)).piece, None);
    // Where the first sheet has ended, the second counts; in their lap the one that does more.
    let pair = |top| face(150.0).along(to(100.0)).piece("second", "poly", to(top)).along(from(0.0));
    let found = turn(pair(120.0));
    assert_eq!((found.piece, found.past), (Some(1), Some(mm(120.0))));
    assert_eq!((turn(pair(200.0)).piece, turn(pair(200.0)).past), (Some(0), Some(mm(150.0))));
    assert_eq!(turn(pair(-1.0)).piece, None);
    // A film that begins on the wall is no part of the cover.
    let film = face(150.0).along(to(0.0)).piece("film", "poly", from(0.0));
    assert_eq!(turn(film).past, Some(mm(150.0)));
    // Tapes are no sheets.
    assert_eq!(turn(Build::new().piece("strip", "tape", to(150.0)).fold(Axis::Up, 0.0, Base)).piece, None);
}

#[test]
fn other_folds_are_not_asked() {
    assert!(Build::new().piece("wrap", "wrap", OPEN).fold(Axis::Up, 0.0, Sill).derive().turns.is_empty());
}

/// A slit at the fold takes the run past it away in those rows; the row where it runs farthest counts.
#[test]
fn cuts_count_in_a_turn() {
    let face = Build::new()
        .piece("wrap", "wrap", OPEN)
        .along(to(200.0))
        .of(0, &[Water])
        .cut("wrap", from(500.0), (80.0, 200.0))
        .cut("wrap", to(500.0), (120.0, 200.0))
        .fold(Axis::Along, 0.0, OutsideCorner);
    assert_eq!(turn(face).past, Some(mm(120.0)));
}

/// A sheet that stops short at the base is carried up by one that laps it.
#[test]
fn a_second_sheet_may_carry_the_first_one_up() {
    let pair = |first, second| {
        Build::new().piece("cover", "poly", to(first)).piece("skirt", "poly", to(second)).fold(Axis::Up, 0.0, Base)
    };
    assert_eq!(turn(pair(50.0, 150.0)).past, Some(mm(150.0)));
    assert_eq!(turn(pair(150.0, 50.0)).past, Some(mm(150.0)));
}

/// A level edge that is a corner, such as that of a soffit, asks for the water control layer as an upright one does.
#[test]
fn a_level_corner_is_a_corner() {
    let film = || Build::new().piece("film", "poly", to(200.0)).of(0, &[Vapor]).fold(Axis::Up, 0.0, OutsideCorner);
    assert_eq!(turn(film()).piece, None);
    assert_eq!(turn(film().piece("wrap", "wrap", to(80.0)).of(0, &[Water])).past, Some(mm(80.0)));
}

/// Two pieces that both lie on one side of the fold, and one that the band is said to be joined to and does not reach.
#[test]
fn a_band_spans_a_corner_by_what_it_reaches_on_either_side() {
    let corner = || {
        Build::new()
            .piece("low", "wrap", to(0.0))
            .along(to(0.0))
            .piece("high", "wrap", from(0.0))
            .along(to(0.0))
            .piece("far", "wrap", from(5000.0))
            .along(from(0.0))
            .piece("band", "tape", (-500.0, 500.0))
            .along((-75.0, 75.0))
            .bonds(&["low", "high"])
            .fold(Axis::Along, 0.0, OutsideCorner)
    };
    assert!(!turn(corner()).spanned);
    assert!(!turn(corner().seal("band", "far", None)).spanned);
    let near = corner().piece("near", "wrap", OPEN).along(from(0.0)).bonds(&["band"]);
    assert!(turn(near).spanned);
}

/// A seal without a place closes an edge to what lies under it, and to what it butts against.
#[test]
fn a_seal_without_a_place_is_at_the_edge_from_either_side() {
    let sheet = || Build::new().piece("board", "ply", from(-40.0)).piece("stem", "conc", to(-40.0));
    let sheet = |to| sheet().piece("wrap", "wrap", from(-40.0)).of(1, &[Air]).seal("wrap", to, None);
    assert_eq!(edges(&sheet("board")), [("wrap", Side::Bottom, true, true)]);
    assert_eq!(edges(&sheet("stem")), [("wrap", Side::Bottom, true, true)]);
    let far = Build::new().piece("board", "ply", from(100.0)).piece("wrap", "wrap", from(-40.0)).of(1, &[Air]);
    assert_eq!(edges(&far.seal("wrap", "board", None)), [("wrap", Side::Bottom, true, false)]);
}

/// The bead may run along the very end of what it joins.
#[test]
fn a_bead_at_the_end_of_a_lap_is_in_the_lap() {
    let foot =
        Build::new().piece("stem", "conc", to(200.0)).of(0, &[Air]).piece("wrap", "wrap", from(0.0)).of(1, &[Air]);
    let found = edges(&foot.seal("wrap", "stem", Some((Axis::Up, 200.0))));
    assert_eq!(found.iter().find(|e| e.0 == "wrap").map(|e| e.3), Some(true));
    let head =
        Build::new().piece("deck", "conc", from(0.0)).of(0, &[Air]).piece("wrap", "wrap", to(200.0)).of(1, &[Air]);
    let found = edges(&head.seal("wrap", "deck", Some((Axis::Up, 0.0))));
    assert_eq!(found.iter().find(|e| e.0 == "wrap").map(|e| e.3), Some(true));
}

/// Edges apart by the width that a bead states meet across it; a nanometre more and they do not.
#[test]
fn a_wide_bead_closes_its_joint() {
    let wall = |gap: f64, upright: bool| {
        let mut face = Build::new().piece("first", "wrap", to(0.0)).piece("second", "wrap", from(gap));
        if upright {
            for piece in &mut face.face.pieces {
                (piece.rect.along, piece.rect.up) = (piece.rect.up, Extent::OPEN);
            }
        }
        let axis = if upright { Axis::Along } else { Axis::Up };
        let mut face = face.seal("first", "second", Some((axis, gap / 2.0)));
        face.face.seals[0].width = mm(20.0);
        face
    };
    assert_eq!(wall(20.0, false).drops(), ["drop: relies (first, second), ends enters"]);
    assert_eq!(wall(20.000001, false).drops(), ["drop: gap (second)"]);
    assert!(wall(20.0, true).derive().seals[0].touches);
    assert!(!wall(20.000001, true).derive().seals[0].touches);
}
