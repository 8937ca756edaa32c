//! Controls that run through, and where they break.

use crate::face::build::{Build, OPEN, from, to};
use headlap::facts::face::Transition;
use headlap::model::Axis;
use headlap::model::Control::{self, Air, Thermal, Vapor, Water};

fn transition(face: &Build, control: Control) -> Transition {
    let found = face.derive().transitions;
    found.into_iter().find(|t| t.control == control).expect("the transition")
}

fn names(face: &Build, pieces: &[usize]) -> Vec<&'static str> {
    pieces.iter().map(|&p| face.names[p]).collect()
}

fn base(join: &[Control]) -> Build {
    Build::new()
        .joins(&[join, join])
        .piece("stem", "conc", to(0.0))
        .of(0, join)
        .piece("deck", "ply", from(0.0))
        .piece("strip", "tape", (-100.0, 100.0))
        .bonds(&["stem", "deck"])
        .piece("wrap", "wrap", from(-40.0))
        .of(1, join)
}

/// A wrap that laps the wall beside it.
fn beside() -> Build {
    Build::new()
        .joins(&[&[Air], &[Air]])
        .piece("old", "conc", OPEN)
        .along(to(0.0))
        .of(0, &[Air])
        .piece("wrap", "wrap", OPEN)
        .along(from(-60.0))
        .of(1, &[Air])
}

/// A strip that is stuck to the wall's board but not to its wrap leaves the gap between strip and wrap.
#[test]
fn air_goes_through_seals_only() {
    let face = base(&[Air]);
    let found = transition(&face, Air);
    assert!(!found.continuous);
    assert_eq!(found.shown, [true, true]);
    assert_eq!(found.path, None);
    // Strip and wrap are in contact; a bead between them would do.
    let (a, b) = found.nearest.expect("a pair");
    assert_eq!(names(&face, &[a, b]), ["strip", "wrap"]);

    let face = base(&[Air]).seal("wrap", "strip", None);
    let found = transition(&face, Air);
    assert!(found.continuous);
    assert_eq!(found.nearest, None);
    assert_eq!(names(&face, &found.path.expect("a path")), ["stem", "strip", "wrap"]);
}

/// The board links nothing, since it does not hold air, though the strip is bonded to it.
#[test]
fn only_what_holds_the_control_links() {
    let face = base(&[Air]).piece("band", "tape", (50.0, 150.0)).bonds(&["deck", "wrap"]);
    assert!(!transition(&face, Air).continuous);
}

#[test]
fn water_goes_over_shingled_head_laps_and_side_laps() {
    let shingled = |first, second| {
        Build::new()
            .joins(&[&[Water], &[Water]])
            .piece("a", "wrap", first)
            .of(0, &[Water])
            .piece("b", "wrap", second)
            .of(1, &[Water])
    };
    assert!(transition(&shingled(to(0.0), from(-40.0)), Water).continuous);
    // The same lap the other way round holds no water.
    assert!(!transition(&shingled(from(-40.0), to(0.0)), Water).continuous);
    // Edge to edge is no lap.
    assert!(!transition(&shingled(to(0.0), from(0.0)), Water).continuous);
    let sealed = shingled(to(0.0), from(0.0)).seal("a", "b", None);
    assert!(transition(&sealed, Water).continuous);
    let side = Build::new()
        .joins(&[&[Water], &[Water]])
        .piece("b", "wrap", OPEN)
        .along(from(0.0))
        .of(1, &[Water])
        .piece("a", "wrap", OPEN)
        .along(to(10.0))
        .of(0, &[Water]);
    assert!(transition(&side, Water).continuous);
}

/// The same lap carries no air.
#[test]
fn a_lap_alone_carries_no_air() {
    let face = Build::new()
        .joins(&[&[Air], &[Air]])
        .piece("a", "wrap", to(0.0))
        .of(0, &[Air])
        .piece("b", "wrap", from(-40.0))
        .of(1, &[Air]);
    let found = transition(&face, Air);
    assert!(!found.continuous);
    assert_eq!(found.nearest, Some((0, 1)));
}

#[test]
fn thermal_links_what_touches_or_overlaps_on_the_face() {
    let face = |first, second| {
        Build::new()
            .joins(&[&[Thermal], &[Thermal]])
            .piece("a", "foam", first)
            .of(0, &[Thermal])
            .piece("plate", "conc", OPEN)
            .piece("b", "foam", second)
            .of(1, &[Thermal])
    };
    assert!(transition(&face(to(0.0), from(0.0)), Thermal).continuous);
    assert!(transition(&face(to(10.0), from(0.0)), Thermal).continuous);
    let gap = face(to(0.0), from(1.0));
    assert!(!transition(&gap, Thermal).continuous);
    assert_eq!(transition(&gap, Thermal).nearest, Some((0, 2)));
    // Corner to corner is no way for heat to be kept in.
    let corner = Build::new()
        .joins(&[&[Thermal], &[Thermal]])
        .piece("a", "foam", to(0.0))
        .along(to(0.0))
        .of(0, &[Thermal])
        .piece("b", "foam", from(0.0))
        .along(from(0.0))
        .of(1, &[Thermal]);
    assert!(!transition(&corner, Thermal).continuous);
}

#[test]
fn insulation_goes_on_beside_itself_as_it_does_above() {
    let face = |left, right| {
        let face = Build::new().joins(&[&[Thermal], &[Thermal]]).piece("a", "foam", OPEN).along(left).of(0, &[Thermal]);
        transition(&face.piece("b", "foam", OPEN).along(right).of(1, &[Thermal]), Thermal).continuous
    };
    assert!(face(to(0.0), from(0.0)));
    assert!(!face(to(0.0), from(1.0)));
}

/// A detail of no assembly has nothing to carry through, and one of three has no two sides.
#[test]
fn there_are_transitions_within_one_assembly_and_between_two() {
    let count = |joins: &[&[Control]]| {
        Build::new().joins(joins).piece("wrap", "wrap", OPEN).of(0, &[Air]).derive().transitions.len()
    };
    assert_eq!(
        [count(&[]), count(&[&[Air]]), count(&[&[Air], &[Air]]), count(&[&[Air], &[Air], &[Air]])],
        [0, 1, 1, 0]
    );
}

#[test]
fn a_control_that_is_not_shown_is_said_to_be_so() {
    let face = Build::new().joins(&[&[Air], &[Air]]).piece("stem", "conc", to(0.0)).of(0, &[Air]).piece(
        "wrap",
        "wrap",
        from(-10.0),
    );
    let found = transition(&face, Air);
    assert_eq!((found.continuous, found.shown, found.nearest), (false, [true, false], None));
}

#[test]
fn a_control_that_only_one_carries_is_no_transition() {
    let face = Build::new().joins(&[&[Air, Water], &[Air]]).piece("stem", "conc", to(0.0)).of(0, &[Air, Water]);
    let found = face.derive().transitions;
    assert_eq!(found.iter().map(|t| t.control).collect::<Vec<_>>(), [Air]);
}

#[test]
fn within_one_assembly_all_courses_hang_together() {
    let courses = || {
        Build::new()
            .joins(&[&[Air, Water]])
            .piece("one", "wrap", to(150.0))
            .of(0, &[Air, Water])
            .piece("two", "wrap", (0.0, 950.0))
            .of(0, &[Air, Water])
            .piece("three", "wrap", from(800.0))
            .of(0, &[Air, Water])
    };
    let face = courses().piece("band", "tape", (-40.0, 40.0)).bonds(&["one", "two"]);
    assert!(transition(&face, Water).continuous);
    let air = transition(&face, Air);
    assert!(!air.continuous);
    assert_eq!(air.nearest, Some((1, 2)));
    let face = face.piece("upper", "tape", (760.0, 840.0)).bonds(&["two", "three"]);
    assert!(transition(&face, Air).continuous);
}

#[test]
fn one_piece_is_linked_with_itself_and_none_is_not_shown() {
    let one = Build::new().joins(&[&[Air]]).piece("wrap", "wrap", OPEN).of(0, &[Air]);
    assert!(transition(&one, Air).continuous);
    let none = Build::new().joins(&[&[Air]]).piece("wrap", "wrap", OPEN);
    let found = transition(&none, Air);
    assert_eq!((found.continuous, found.shown[0]), (false, false));
}

/// The film on the inner face goes on to the stem by a tape from inside; water takes no such way.
#[test]
fn the_inner_face_carries_air_and_vapor_not_water() {
    let face = Build::new()
        .joins(&[&[Air], &[Air]])
        .piece("stem", "conc", to(0.0))
        .of(0, &[Air])
        .piece("film", "poly", from(50.0))
        .inside()
        .of(1, &[Air])
        .piece("band", "tape", (-50.0, 100.0))
        .inside()
        .bonds(&["stem", "film"]);
    assert!(transition(&face, Air).continuous);
    let face = Build::new()
        .joins(&[&[Water], &[Water]])
        .piece("stem", "wrap", to(0.0))
        .of(0, &[Water])
        .piece("film", "wrap", from(-50.0))
        .inside()
        .bonds(&["stem"])
        .of(1, &[Water]);
    assert!(!transition(&face, Water).continuous);
}

#[test]
fn vapor_follows_the_rule_of_air() {
    let face = |bonds: &[&str]| {
        Build::new()
            .joins(&[&[Vapor], &[Vapor]])
            .piece("a", "poly", to(0.0))
            .of(0, &[Vapor])
            .piece("b", "poly", from(-50.0))
            .bonds(bonds)
            .of(1, &[Vapor])
    };
    assert!(!transition(&face(&[]), Vapor).continuous);
    assert!(transition(&face(&["a"]), Vapor).continuous);
}

/// A bead that lies where its two pieces do not meet joins nothing; a second one in its place does.
#[test]
fn a_misplaced_bead_is_no_link() {
    let lap = || {
        Build::new()
            .joins(&[&[Air, Water], &[Air, Water]])
            .piece("a", "wrap", to(150.0))
            .of(0, &[Air, Water])
            .piece("b", "wrap", from(0.0))
            .of(1, &[Air, Water])
    };
    let stray = || lap().seal("b", "a", Some((Axis::Up, 400.0)));
    let found = transition(&stray(), Air);
    assert!(!found.continuous && !found.partly, "nowhere does a path lead across");
    assert_eq!(transition(&stray().piece("c", "wrap", (-10.0, 10.0)).bonds(&["a"]), Air).nearest, Some((0, 1)));
    assert!(transition(&stray(), Water).continuous, "they lap as shingles");
    assert!(transition(&stray().seal("b", "a", Some((Axis::Up, 75.0))), Air).continuous);
    assert!(transition(&stray().piece("band", "tape", (-40.0, 40.0)).bonds(&["a", "b"]), Air).continuous);
    // Neither does a tape link what it does not reach.
    let apart = || {
        let a = Build::new().joins(&[&[Air], &[Air]]).piece("a", "wrap", to(-50.0)).of(0, &[Air]);
        a.piece("b", "wrap", from(50.0)).of(1, &[Air]).seal("b", "a", Some((Axis::Up, 0.0)))
    };
    let taped = |up| transition(&apart().piece("band", "tape", up).bonds(&["a", "b"]), Air);
    assert!(taped((-100.0, 100.0)).continuous);
    let short = taped((-100.0, 40.0));
    assert!(!short.continuous && !short.partly);
    // The pair that the bead was to join comes before another that lies in contact.
    assert_eq!(transition(&apart().piece("band", "tape", (-100.0, 100.0)).bonds(&["a"]), Air).nearest, Some((0, 1)));
    // Courses of one assembly are no nearer to each other for it.
    let courses = Build::new().joins(&[&[Air]]).piece("a", "wrap", to(150.0)).of(0, &[Air]);
    let courses = courses.piece("b", "wrap", from(0.0)).of(0, &[Air]);
    assert!(!transition(&courses.seal("b", "a", Some((Axis::Up, 400.0))), Air).continuous);
}

/// A tape that stops half way leaves the rest of the joint open; a second one goes on from there.
#[test]
fn air_is_asked_all_along_the_joint() {
    let joint = |taped: &[(f64, f64)]| {
        let mut face = Build::new()
            .joins(&[&[Air], &[Air]])
            .piece("stem", "conc", to(0.0))
            .of(0, &[Air])
            .piece("wrap", "wrap", from(0.0))
            .of(1, &[Air]);
        for along in taped {
            face = face.piece("strip", "tape", (-75.0, 75.0)).along(*along).bonds(&["stem", "wrap"]);
        }
        transition(&face, Air)
    };
    let half = joint(&[to(0.0)]);
    assert_eq!((half.continuous, half.partly, half.nearest), (false, true, Some((0, 1))));
    assert_eq!(half.path, None);
    let none = joint(&[]);
    assert_eq!((none.continuous, none.partly), (false, false));
    assert!(joint(&[to(0.0), from(-100.0)]).continuous);
    assert!(joint(&[to(0.0), from(1.0)]).partly);
}

/// A bead at a height closes a level joint all along, one along the face an upright joint, and neither the other.
#[test]
fn beads_close_the_joints_that_they_follow() {
    let level = |at| {
        let face = base(&[Air]).piece("patch", "tape", (-60.0, 40.0)).along((0.0, 50.0)).bonds(&["strip", "wrap"]);
        transition(&if at { face.seal("wrap", "strip", Some((Axis::Up, -20.0))) } else { face }, Air)
    };
    assert!(level(true).continuous);
    assert!(level(false).partly);
    let upright = |place| transition(&beside().seal("wrap", "old", Some(place)), Air);
    assert!(upright((Axis::Along, -30.0)).continuous);
    assert!(upright((Axis::Up, 500.0)).partly);
}

/// A bead joins the inner film to the wrap where they meet, and not where a board runs through between the two.
#[test]
fn a_bead_closes_no_part_of_a_joint_that_something_parts() {
    let joint = |board: (f64, f64)| {
        let wall = Build::new().joins(&[&[Air], &[Air]]).piece("board", "ply", board).along(from(0.0));
        let sheets = wall.piece("low", "wrap", to(0.0)).of(0, &[Air]).piece("film", "poly", from(0.0)).of(1, &[Air]);
        transition(&sheets.inside().seal("film", "low", None), Air)
    };
    let through = joint(OPEN);
    assert_eq!((through.continuous, through.partly), (false, true));
    assert!(joint(to(0.0)).continuous, "they meet over the end of the board");
}

/// Where the ends of a layer cannot hold its control, they are what the break lies between all the same.
#[test]
fn ends_that_hold_nothing_are_named_where_a_joint_breaks() {
    let face = Build::new()
        .joins(&[&[Air], &[Air]])
        .piece("low", "conc", to(0.0))
        .along(from(0.0))
        .of(0, &[Air])
        .piece("high", "wrap", from(0.0))
        .along(from(0.0))
        .of(1, &[Air])
        .piece("strip", "tape", (-100.0, 100.0))
        .along(from(0.0))
        .bonds(&["low", "high"])
        .piece("low-board", "ply", to(0.0))
        .along(to(0.0))
        .of(0, &[Air])
        .piece("high-board", "ply", from(0.0))
        .along(to(0.0))
        .of(1, &[Air]);
    let found = transition(&face, Air);
    assert!(found.partly);
    let (a, b) = found.nearest.expect("a pair");
    assert_eq!(names(&face, &[a, b]), ["low-board", "high-board"]);
}

/// Of two places where a joint breaks, the one that is easier to close is reported, on whichever side it lies.
#[test]
fn of_two_breaks_the_smaller_one_is_reported_from_both_sides() {
    let joint = |sides: [((f64, f64), f64); 2]| {
        let mut face = Build::new()
            .joins(&[&[Air], &[Air]])
            .piece("stem", "conc", to(0.0))
            .of(0, &[Air])
            .piece("wrap", "wrap", from(0.0))
            .along((-50.0, 50.0))
            .of(1, &[Air])
            .piece("strip", "tape", (-75.0, 75.0))
            .along((-50.0, 50.0))
            .bonds(&["stem", "wrap"]);
        for (along, gap) in sides {
            let name = if gap < 5.0 { "near" } else { "far" };
            face = face.piece(name, "wrap", from(gap)).along(along).of(1, &[Air]);
        }
        let found = transition(&face, Air);
        let (a, b) = found.nearest.expect("a pair");
        (found.partly, names(&face, &[a, b]).join(" "))
    };
    let reported = (true, "stem near".to_owned());
    assert_eq!(joint([(to(-50.0), 1.0), (from(50.0), 9.0)]), reported);
    assert_eq!(joint([(to(-50.0), 9.0), (from(50.0), 1.0)]), reported);
}

/// Stem and wrap meet in one half only; another layer of the wall, which closes nothing for this one, is no part of it.
#[test]
fn another_layer_of_the_assembly_is_no_end_of_this_one() {
    let face = Build::new()
        .joins(&[&[Air], &[Air]])
        .piece("stem", "conc", to(0.0))
        .of(0, &[Air])
        .piece("wrap", "wrap", from(0.0))
        .of(1, &[Air])
        .piece("strip", "tape", (-75.0, 75.0))
        .along(to(0.0))
        .bonds(&["stem", "wrap"])
        .piece("lining", "conc", from(-50.0))
        .along(from(0.0))
        .inside()
        .bonds(&["stem"])
        .of(1, &[]);
    assert!(transition(&face, Air).partly);
}

/// Two plies of one layer are as good as one, and as open.
#[test]
fn a_layer_of_two_plies_is_asked_all_along_its_joint() {
    let face = |strip| {
        let face = Build::new()
            .joins(&[&[Air], &[Air]])
            .piece("stem", "conc", to(0.0))
            .of(0, &[Air])
            .piece("first", "wrap", from(0.0))
            .of(1, &[Air])
            .piece("second", "wrap", from(0.0))
            .bonds(&["first"])
            .of(1, &[Air]);
        transition(&face.piece("strip", "tape", (-75.0, 75.0)).along(strip).bonds(&["stem", "second"]), Air)
    };
    assert!(face(OPEN).continuous);
    assert!(face(to(0.0)).partly);
}

/// A bead at a height crosses an upright lap at one point, even where its height and a place along the lap are one number.
#[test]
fn a_height_is_no_place_along_the_face() {
    assert!(transition(&beside().seal("wrap", "old", Some((Axis::Up, -30.0))), Air).partly);
}

/// A bead well inside of a lap joins the two where nothing lies between them.
#[test]
fn a_bead_closes_a_lap_where_the_two_touch() {
    let lap = |plate: bool| {
        let stem = Build::new().joins(&[&[Air], &[Air]]).piece("stem", "conc", to(0.0)).of(0, &[Air]);
        let stem = if plate { stem.piece("plate", "ply", (-200.0, 0.0)).along(from(0.0)) } else { stem };
        let face = stem.piece("wrap", "wrap", from(-200.0)).of(1, &[Air]);
        transition(&face.seal("wrap", "stem", Some((Axis::Up, -100.0))), Air)
    };
    assert!(lap(false).continuous);
    assert!(lap(true).partly);
}

/// Where a plate lies behind the bead, it does not help that the two touch above and below.
#[test]
fn a_bead_closes_a_lap_only_where_it_lies() {
    let lap = |plate| {
        let stem = Build::new().joins(&[&[Air], &[Air]]).piece("stem", "conc", to(0.0)).of(0, &[Air]);
        let stem = stem.piece("plate", "ply", plate).along(from(0.0)).piece("wrap", "wrap", from(-200.0));
        transition(&stem.of(1, &[Air]).seal("wrap", "stem", Some((Axis::Up, -100.0))), Air)
    };
    assert!(lap((-120.0, -80.0)).partly);
    assert!(lap((-90.0, -50.0)).continuous);
}

/// Where the layer is of a board that air goes through, a tape onto it closes nothing.
#[test]
fn a_tape_onto_what_holds_nothing_closes_no_part_of_a_joint() {
    let joint = |board: &'static str| {
        let stem = Build::new().joins(&[&[Air], &[Air]]).piece("stem", "conc", to(0.0)).of(0, &[Air]);
        let wall = stem.piece("wrap", "wrap", from(0.0)).along(to(0.0)).of(1, &[Air]);
        let wall = wall.piece("board", board, from(0.0)).along(from(0.0)).of(1, &[Air]);
        transition(&wall.piece("strip", "tape", (-75.0, 75.0)).bonds(&["stem", "wrap", "board"]), Air)
    };
    assert!(joint("ply").partly);
    assert!(joint("wrap").continuous);
}

/// Run along the foot of a lapped sheet, on the stem below it, a bead within reach of the edge closes the lap.
#[test]
fn a_bead_along_the_foot_of_a_sheet_closes_its_lap() {
    let face = |at, turned: bool| {
        let names = if turned { ["stem", "wrap"] } else { ["wrap", "stem"] };
        Build::new()
            .joins(&[&[Air], &[Air]])
            .piece("stem", "conc", to(0.0))
            .of(0, &[Air])
            .piece("wrap", "wrap", from(-200.0))
            .of(1, &[Air])
            .seal(names[0], names[1], Some((Axis::Up, at)))
    };
    for turned in [false, true] {
        assert!(face(-220.0, turned).derive().seals[0].touches);
        assert!(transition(&face(-220.0, turned), Air).continuous);
        // Below its reach it joins nothing.
        assert!(!face(-251.0, turned).derive().seals[0].touches);
        assert!(!transition(&face(-251.0, turned), Air).continuous);
    }
}

/// Which of the two a seal names first makes no difference to a butt joint, in neither direction.
#[test]
fn a_butt_joint_is_sealed_from_either_side() {
    for names in [["a", "b"], ["b", "a"]] {
        let level = || Build::new().joins(&[&[Air], &[Air]]).piece("a", "wrap", to(0.0)).of(0, &[Air]);
        let level = level().piece("b", "wrap", from(0.0)).of(1, &[Air]).seal(names[0], names[1], None);
        assert!(transition(&level, Air).continuous);
        let upright = Build::new()
            .joins(&[&[Air], &[Air]])
            .piece("a", "wrap", OPEN)
            .along(to(0.0))
            .of(0, &[Air])
            .piece("b", "wrap", OPEN)
            .along(from(0.0))
            .of(1, &[Air])
            .seal(names[0], names[1], None);
        assert!(transition(&upright, Air).continuous);
    }
}

/// A slab, the wall that stands on it, and a door beside the wall: each is asked for the next that it touches.
#[test]
fn of_three_assemblies_each_goes_on_to_the_next_that_it_touches() {
    let three = |wall: f64, door: f64| {
        Build::new()
            .joins(&[&[Air], &[Air], &[Air]])
            .piece("slab", "conc", to(0.0))
            .of(0, &[Air])
            .piece("wall", "conc", from(wall))
            .along(to(0.0))
            .of(1, &[Air])
            .piece("door", "conc", from(0.0))
            .along(from(door))
            .of(2, &[Air])
            .seal("slab", "wall", None)
    };
    let asked = |face: Build| -> Vec<([usize; 2], bool)> {
        face.derive().transitions.iter().map(|t| (t.sides, t.continuous)).collect()
    };
    assert_eq!(asked(three(0.0, 0.0)), [([0, 1], true), ([1, 2], false)]);
    assert_eq!(asked(three(100.0, 0.0)), [([0, 2], false), ([1, 2], false)], "the slab meets the door alone");
    assert_eq!(asked(three(0.0, 10.0)), [([0, 1], true)], "the door meets nothing of the wall");
}

/// What lies between two sheets that lap sideways keeps the water control layers apart, unless they are sealed.
#[test]
fn a_side_lap_links_only_what_touches() {
    let turn = |between: bool| {
        let water = &[Control::Water][..];
        let face = Build::new().joins(&[water, water]).piece("felt", "wrap", OPEN).along(to(0.0)).of(0, water);
        let face = if between { face.piece("brick", "conc", OPEN).along(to(0.0)) } else { face };
        face.piece("wrap", "wrap", OPEN).along(from(-150.0)).of(1, water)
    };
    let continuous = |face: &Build| face.derive().transitions[0].continuous;
    assert!(continuous(&turn(false)));
    assert!(!continuous(&turn(true)));
    assert!(continuous(&turn(true).seal("felt", "wrap", None)));
}
