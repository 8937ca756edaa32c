//! The steps of a drop, one by one, by hand.

use crate::face::build::{Build, OPEN, from, mm, to};
use headlap::facts::face::{End, Event};
use headlap::model::Axis;

fn drops(face: Build, expected: &[&str]) {
    assert_eq!(face.drops(), expected);
}

/// Rain starts on what is outermost, not on what a later piece covers.
#[test]
fn a_covered_board_is_not_rained_on() {
    drops(Build::new().piece("deck", "ply", OPEN).piece("wrap", "wrap", OPEN), &["drop: drains"]);
    drops(Build::new().piece("wrap", "wrap", OPEN).piece("deck", "ply", OPEN), &["drop: bare (deck)"]);
}

/// Above a lap that comes right the lower piece is in the open only where nothing lies over it.
#[test]
fn each_lower_row_in_the_open_is_rained_on() {
    let face =
        Build::new().piece("deck", "ply", OPEN).piece("cap", "flash", (0.0, 100.0)).piece("wrap", "wrap", from(50.0));
    // The drop from the wrap sheds over the cap and lands on bare plywood; rain falls on that, too.
    drops(face, &["drop: bare (deck)", "drop: wets (deck)"]);
}

#[test]
fn no_drop_starts_where_it_is_sheltered() {
    let wall = || Build::new().piece("deck", "ply", from(0.0)).piece("stem", "conc", to(0.0));
    drops(wall(), &["drop: bare (deck)"]);
    drops(wall().sheltered(0.0), &["drop: drains"]);
    // Sheltered from higher up, rain reaches the board below that height.
    drops(wall().sheltered(500.0), &["drop: bare (deck)"]);
    let face = wall().sheltered(500.0);
    assert_eq!(face.trail(Event::Bare, &["deck"], End::Wets), ["StartsOn deck 500", "Wets deck 500"]);
}

#[test]
fn out_of_the_weather_there_are_no_drops() {
    let mut face = Build::new().piece("deck", "ply", OPEN);
    face.face.weather = false;
    drops(face, &[]);
}

/// Behind a cover that is bonded to the piece the water cannot go on; it came in at 100 mm and nothing lower
/// lets it further in, so it comes out there.
#[test]
fn step_1_a_bond_below_holds_the_water() {
    let face = Build::new()
        .piece("deck", "ply", OPEN)
        .piece("low", "wrap", to(200.0))
        .piece("high", "wrap", from(0.0))
        .piece("trim", "win", (-50.0, 100.0))
        .bonds(&["low"]);
    assert_eq!(
        face.trail(Event::Reverse, &["trim", "high"], End::Held),
        ["StartsOn high top", "PassesBehind trim 100", "LandsOn low 0", "BacksUp trim 0", "RunsOut trim 100"]
    );
    drops(face, &["drop: reverse (trim, high), ends held"]);
}

/// The same with a lap of 80 mm: the water rises over the low sheet before it reaches the top of the trim.
#[test]
fn step_1_a_short_lap_behind_it_is_overtopped() {
    let face = Build::new()
        .piece("deck", "ply", OPEN)
        .piece("low", "wrap", to(80.0))
        .piece("high", "wrap", from(0.0))
        .piece("trim", "win", (-50.0, 100.0))
        .bonds(&["low"]);
    assert_eq!(
        face.trail(Event::Reverse, &["trim", "high"], End::Pools),
        ["StartsOn high top", "PassesBehind trim 100", "LandsOn low 0", "BacksUp trim 0", "Overtops low 80"]
    );
    // A lap as high as the trim: the two heights are equal, and the water is out before it is in.
    let face = Build::new()
        .piece("deck", "ply", OPEN)
        .piece("low", "wrap", to(100.0))
        .piece("high", "wrap", from(0.0))
        .piece("trim", "win", (-50.0, 100.0))
        .bonds(&["low"]);
    drops(face, &["drop: reverse (trim, high), ends held"]);
}

/// A lap that is sealed does not let water up between the two, so it lowers no brim.
#[test]
fn step_4_a_sealed_lap_is_not_overtopped() {
    let face = Build::new()
        .piece("deck", "ply", OPEN)
        .piece("low", "wrap", to(80.0))
        .piece("high", "wrap", from(0.0))
        .bonds(&["low"])
        .piece("trim", "win", (-50.0, 100.0))
        .bonds(&["low"]);
    drops(face, &["drop: reverse (trim, high), ends held"]);
}

/// A bead anywhere in the row holds water; one that lies far below the top edge is met on the way down.
#[test]
fn step_1_a_bead_far_down_stops_the_water_there() {
    let face = || Build::new().piece("wrap", "wrap", OPEN).piece("trim", "win", (0.0, 200.0));
    drops(face(), &["drop: reverse (trim, wrap), ends drains"]);
    drops(face().seal("trim", "wrap", Some((Axis::Up, 100.0))), &["drop: reverse (trim, wrap), ends held"]);
    assert_eq!(
        face().seal("trim", "wrap", Some((Axis::Up, 100.0))).trail(Event::Reverse, &["trim", "wrap"], End::Held),
        ["StartsOn wrap top", "PassesBehind trim 200", "BacksUp trim 100", "RunsOut trim 200"]
    );
    // On the very edge it still counts.
    drops(face().seal("trim", "wrap", Some((Axis::Up, 0.0))), &["drop: reverse (trim, wrap), ends held"]);
}

/// A cover that ends leaves the drop in the open again.
#[test]
fn step_2_a_cover_that_ends_is_gone() {
    let face = Build::new().piece("wrap", "wrap", OPEN).piece("band", "tape", (0.0, 50.0));
    assert_eq!(
        face.trail(Event::Reverse, &["band", "wrap"], End::Drains),
        ["StartsOn wrap top", "PassesBehind band 50", "Drains wrap bottom"]
    );
}

/// A bead at most 2 in below the edge seals it, one a nanometre lower does not.
#[test]
fn step_3_a_bead_within_two_inches_seals_the_edge() {
    let face = |bead: f64| {
        let wall = Build::new().piece("wrap", "wrap", OPEN).piece("trim", "win", (0.0, 200.0));
        wall.seal("trim", "wrap", Some((Axis::Up, bead)))
    };
    drops(face(149.2), &["drop: relies (trim, wrap), ends drains"]);
    drops(face(149.199999), &["drop: reverse (trim, wrap), ends held"]);
    drops(face(200.0), &["drop: relies (trim, wrap), ends drains"]);
    // A fillet on the edge does. A bead farther above, or along the face, seals no top edge.
    drops(face(206.35), &["drop: relies (trim, wrap), ends drains"]);
    drops(face(206.350001), &["drop: reverse (trim, wrap), ends drains"]);
    let upright = Build::new().piece("wrap", "wrap", OPEN).piece("trim", "win", (0.0, 200.0));
    drops(upright.seal("trim", "wrap", Some((Axis::Along, 149.2))), &["drop: reverse (trim, wrap), ends drains"]);
}

/// A seal without a place counts though something lies between; a bond does not.
#[test]
fn step_3_a_bond_needs_contact_and_a_seal_does_not() {
    let face = || {
        Build::new()
            .piece("wrap", "wrap", OPEN)
            .piece("felt", "wrap", (0.0, 300.0))
            .piece("trim", "win", (100.0, 300.0))
            .bonds(&["wrap"])
    };
    drops(face(), &["drop: reverse (felt, wrap), ends drains"]);
    // The felt's edge is asked first, and being open ends the question.
    drops(face().seal("trim", "wrap", None), &["drop: reverse (felt, wrap), ends drains"]);
    drops(
        face().seal("felt", "wrap", None).seal("trim", "felt", None),
        &["drop: relies (felt, wrap), ends drains", "drop: relies (trim, felt), ends drains"],
    );
}

/// Edges behind a cover that goes on are asked, those in front of it are not.
#[test]
fn step_3_only_edges_behind_the_covers_are_in_the_way() {
    let face = Build::new()
        .piece("wrap", "wrap", OPEN)
        .piece("inner", "flash", (0.0, 100.0))
        .piece("cover", "win", (-50.0, 200.0))
        .piece("outer", "win", (0.0, 100.0));
    // The drop behind the cover meets the inner edge; only rain on the cover meets the outer one.
    drops(
        face,
        &[
            "drop: reverse (cover, wrap), ends drains",
            "drop: reverse (inner, wrap), ends drains",
            "drop: reverse (outer, cover), ends drains",
        ],
    );
}

/// The outer one alone begins at that height; behind the cover it is not asked.
#[test]
fn step_3_an_edge_in_front_of_a_cover_is_not_asked() {
    let face = Build::new().piece("wrap", "wrap", OPEN).piece("cover", "win", (-50.0, 200.0)).piece(
        "outer",
        "win",
        (0.0, 100.0),
    );
    drops(face, &["drop: reverse (cover, wrap), ends drains", "drop: reverse (outer, cover), ends drains"]);
}

/// A drop that is back in the open has run over what lies there: its damage is not reported again as a new drop's.
#[test]
fn what_a_drop_in_the_open_ran_over_is_not_rained_on_afresh() {
    let face = Build::new()
        .piece("deck", "ply", OPEN)
        .piece("wrap", "wrap", from(-100.0))
        .piece("band", "tape", (0.0, 50.0))
        .drip();
    drops(face, &["drop: bare (deck)", "drop: reverse (band, wrap), ends wets"]);
}

/// A pair that is taken not to be sealed is so wherever the drop meets it again, here below a cut.
#[test]
fn a_lost_seal_is_lost_everywhere() {
    let face = Build::new()
        .piece("deck", "ply", OPEN)
        .piece("wrap", "wrap", from(50.0))
        .piece("band", "tape", to(300.0))
        .bonds(&["wrap"])
        .cut("band", (100.0, 200.0), OPEN);
    drops(face, &["drop: relies (band, wrap), ends wets"]);
}

/// A drip throws the water clear, but not behind a cover.
#[test]
fn step_4_a_drip_drains_in_the_open_only() {
    let wall = || Build::new().piece("deck", "ply", to(100.0)).piece("cap", "flash", (0.0, 100.0));
    drops(wall(), &["drop: bare (deck)", "drop: wets (deck)"]);
    drops(wall().drip(), &["drop: bare (deck)"]);
    let covered = Build::new().piece("deck", "ply", to(100.0)).piece("cap", "flash", (0.0, 200.0)).drip().piece(
        "skirt",
        "win",
        (-100.0, 100.0),
    );
    drops(covered, &["drop: bare (deck)", "drop: reverse (skirt, cap), ends wets", "drop: wets (deck)"]);
}

/// Nothing to land on.
#[test]
fn step_4_nothing_below() {
    // Off the end of all there is.
    drops(Build::new().piece("sign", "flash", (0.0, 100.0)), &["drop: drains"]);
    // Past a gap.
    drops(Build::new().piece("wrap", "wrap", from(0.0)).piece("stem", "conc", to(-50.0)), &["drop: gap (wrap)"]);
    // Behind a cover, into the wall.
    drops(
        Build::new().piece("wrap", "wrap", from(0.0)).piece("skirt", "win", (-50.0, 50.0)),
        &["drop: reverse (skirt, wrap), ends enters"],
    );
}

/// An open butt joint lets water through to what goes on behind, or into the wall.
#[test]
fn step_4_butt_joints() {
    let boards = || Build::new().piece("upper", "conc", from(0.0)).piece("lower", "conc", to(0.0));
    drops(boards(), &["drop: joint (upper, lower), ends enters"]);
    let lined =
        || Build::new().piece("wrap", "wrap", OPEN).piece("upper", "conc", from(0.0)).piece("lower", "conc", to(0.0));
    drops(lined(), &["drop: joint (upper, lower), ends drains"]);
    assert_eq!(
        lined().trail(Event::Joint, &["upper", "lower"], End::Drains),
        ["StartsOn upper top", "PassesBehind lower 0", "LandsOn wrap 0", "Drains wrap bottom"]
    );
    // Sealed, it relies on the seal: without it the water would go where it goes above.
    drops(boards().seal("upper", "lower", Some((Axis::Up, 0.0))), &["drop: relies (lower, upper), ends enters"]);
    drops(lined().seal("upper", "lower", None), &["drop: relies (lower, upper), ends drains"]);
    let over_ply =
        Build::new().piece("deck", "ply", OPEN).piece("upper", "conc", from(0.0)).piece("lower", "conc", to(0.0));
    let over_ply = over_ply.seal("upper", "lower", None);
    assert_eq!(
        over_ply.trail(Event::Relies, &["lower", "upper"], End::Wets),
        ["SealLost lower 0", "LandsOn deck 0", "Wets deck 0"]
    );
}

/// Water that came through a joint onto a sheet rises behind it just as it would at a lap.
#[test]
fn step_4_a_joint_lowers_brims_too() {
    let face = |sheet: f64| {
        Build::new()
            .piece("deck", "ply", OPEN)
            .piece("sheet", "wrap", to(sheet))
            .piece("upper", "conc", from(0.0))
            .piece("lower", "conc", (-100.0, 0.0))
            .piece("skirt", "win", (-200.0, 50.0))
            .bonds(&["sheet"])
    };
    let found = face(40.0);
    assert_eq!(
        found.trail(Event::Joint, &["upper", "lower"], End::Pools),
        [
            "StartsOn upper top",
            "PassesBehind skirt 50",
            "PassesBehind lower 0",
            "LandsOn sheet 0",
            "BacksUp skirt -100",
            "Overtops sheet 40"
        ]
    );
    drops(face(60.0), &["drop: joint (upper, lower), ends held", "drop: reverse (skirt, upper), ends held"]);
}

/// Damage: what water harms, unless it keeps water out.
#[test]
fn step_5_only_what_suffers_is_wetted() {
    let face = |board| {
        Build::new().piece("board", board, to(0.0)).piece("cap", "flash", (-10.0, 50.0)).piece(
            "skirt",
            "conc",
            to(-10.0),
        )
    };
    // The skirt begins where the cap ends: an open joint, and behind it the board.
    drops(face("ply"), &["drop: joint (cap, skirt), ends wets"]);
    drops(face("conc"), &["drop: joint (cap, skirt), ends drains"]);
}

/// A drop that met several causes gives each of them its end, and damage with a cause is not reported again.
#[test]
fn several_causes_share_an_end() {
    let face = Build::new()
        .piece("deck", "ply", OPEN)
        .piece("high", "wrap", from(0.0))
        .piece("low", "wrap", to(100.0))
        .piece("band", "tape", (-50.0, 200.0))
        .bonds(&["low"]);
    drops(face, &["drop: reverse (band, high), ends wets", "drop: reverse (low, high), ends wets"]);
}

/// The hypothesis unseals one pair and no other.
#[test]
fn a_hypothesis_is_about_one_pair() {
    let face = Build::new()
        .piece("deck", "ply", OPEN)
        .piece("high", "wrap", from(0.0))
        .piece("low", "wrap", to(100.0))
        .bonds(&["high"])
        .piece("band", "tape", (-50.0, 200.0))
        .bonds(&["high", "low"]);
    // With the band's hold on the high sheet lost, the low sheet's own bond still leads the water out onto it; there the
    // band is bonded, and the water comes out again over its top.
    drops(face, &["drop: relies (band, high), ends held"]);
}

/// Pieces of the inner face are not in the way of water.
#[test]
fn the_inner_face_stays_dry() {
    let face = Build::new().piece("deck", "conc", OPEN).piece("board", "ply", OPEN).inside();
    drops(face, &["drop: drains"]);
    let face = Build::new().piece("wrap", "wrap", from(0.0)).piece("board", "ply", OPEN).inside();
    drops(face, &["drop: drains"]);
}

#[test]
fn an_event_says_whether_it_was_met_in_the_open() {
    let face = Build::new().piece("wrap", "wrap", OPEN).piece("inner", "flash", (0.0, 100.0)).piece(
        "cover",
        "win",
        (-50.0, 200.0),
    );
    let found = face.derive().drops;
    let of = |name| found.events.iter().find(|e| e.pieces[0] == Some(face.id(name))).expect("an event");
    assert!(of("cover").exposed);
    assert!(!of("inner").exposed);
    assert_eq!(of("cover").ends[0].up, mm(200.0));
}

/// A rim that is sealed lets nothing in; what the drop wets farther down is damage of its own.
#[test]
fn a_seal_that_holds_is_no_cause_of_what_comes_later() {
    let face = Build::new()
        .piece("deck", "ply", OPEN)
        .piece("wrap", "wrap", from(100.0))
        .piece("band", "tape", (50.0, 150.0))
        .bonds(&["wrap"]);
    drops(face, &["drop: bare (deck)", "drop: relies (band, wrap), ends wets", "drop: wets (deck)"]);
}

/// Behind the cover the same edge lies out of the rain; where there is no cover, it is met in the open.
#[test]
fn one_place_in_the_open_is_enough() {
    for cover in [from(0.0), to(0.0)] {
        let face = Build::new()
            .piece("wrap", "wrap", OPEN)
            .piece("inner", "flash", (0.0, 100.0))
            .piece("cover", "win", (-50.0, 200.0))
            .along(cover);
        let found = face.derive().drops;
        let inner = found.events.iter().find(|e| e.pieces[0] == Some(face.id("inner"))).expect("an event");
        assert!(inner.exposed);
    }
}

#[test]
fn an_open_joint_says_whether_it_was_met_in_the_open() {
    let boards =
        || Build::new().piece("wrap", "wrap", OPEN).piece("upper", "win", (0.0, 500.0)).piece("lower", "win", to(0.0));
    let exposed = |face: Build| {
        let found = face.derive().drops;
        found.events.iter().find(|e| e.event == Event::Joint).expect("a joint").exposed
    };
    assert!(exposed(boards()));
    assert!(!exposed(boards().piece("skirt", "flash", (-50.0, 50.0)).piece("hood", "flash", (-60.0, 60.0))));
}

/// Without the seal the water starts just below the edge that it held, behind the piece: it does not meet the edge again.
#[test]
fn a_lost_seal_is_followed_from_the_edge_on() {
    let edge = Build::new().piece("wrap", "wrap", OPEN).piece("trim", "win", (0.0, 200.0)).bonds(&["wrap"]);
    assert_eq!(edge.trail(Event::Relies, &["trim", "wrap"], End::Drains), ["SealLost trim 200", "Drains wrap bottom"]);
    let joint = Build::new()
        .piece("wrap", "wrap", OPEN)
        .piece("upper", "win", from(0.0))
        .piece("lower", "win", to(0.0))
        .seal("upper", "lower", None);
    assert_eq!(
        joint.trail(Event::Relies, &["lower", "upper"], End::Drains),
        ["SealLost lower 0", "LandsOn wrap 0", "Drains wrap bottom"]
    );
}
