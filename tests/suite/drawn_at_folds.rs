//! How bodies, membranes and flashings go over the folds of a detail, on details that their authors drew before any of this was known.

use headlap::output::drawing::{Area, Ink, Point, Role, Scene, Shape};

use crate::drawing::run_folder;
use crate::drawn_as_built::{filled, section, shapes};
use crate::drawn_to_sign::area;

pub type Drawn = (Scene, Vec<String>);

pub fn drawn(file: &str, detail: &str) -> Drawn {
    section(&run_folder(&format!("tests/{file}.detail")), detail)
}

/// The outlines of a solid piece, mm of paper.
pub fn bodies(drawn: &Drawn, piece: &str) -> Vec<Vec<Point>> {
    filled(&shapes(drawn, piece))
}

/// The area of all of them.
pub fn room(drawn: &Drawn, piece: &str) -> Area {
    area(&bodies(drawn, piece).concat())
}

/// The black lines of a membrane, each as its points.
pub fn lines(drawn: &Drawn, piece: &str) -> Vec<Vec<Point>> {
    let black = |shape: Shape| match shape {
        Shape::Path { runs, pen: Some(pen), .. } if pen.ink == Ink::Black => runs,
        _ => Vec::new(),
    };
    shapes(drawn, piece).into_iter().flat_map(black).collect()
}

pub fn close(a: f64, b: f64, within: f64) -> bool {
    (a - b).abs() <= within
}

/// The body of a parapet with insulation on both faces is as thick as it is stated between them, and all ends at one height.
#[test]
fn a_parapet_that_is_lined_on_both_sides_has_its_body_between_them() {
    let drawn = drawn("trials/24/e06-concrete-parapet", "P1");
    let [core, facade, lining] = ["core", "facade", "lining"].map(|piece| room(&drawn, piece));
    // 1:10, 200 mm of concrete, and 160 mm of insulation outboard of it.
    assert!(close(core.width(), 20.0, 0.5) && close(facade.width(), 16.0, 0.5), "{core:?} {facade:?}");
    assert!(core.right <= facade.left + 0.1 && lining.right <= core.left + 0.1, "{lining:?} {core:?} {facade:?}");
    // What is left of the 420 mm.
    assert!(close(facade.right - lining.left, 42.0, 1.0), "{lining:?} {facade:?}");
    assert!(close(core.bottom, lining.bottom, 2.5) && close(core.bottom, facade.bottom, 2.5), "{core:?} {lining:?}");
}

/// A membrane that goes on behind what lies there at a fold is not tucked into a joint, and stays on its parapet.
#[test]
fn a_membrane_over_the_top_of_a_parapet_stays_on_it() {
    for (file, detail) in [("trials/21/PA1-metal-coping", "PA1"), ("trials/21/PA2-stone-coping", "PA2")] {
        let drawn = drawn(file, detail);
        let [coping, under] = ["coping", "under"].map(|piece| area(&lines(&drawn, piece).concat()));
        assert!(under.left > coping.left - 1.0 && under.right < coping.right + 1.0, "{detail}: {under:?} {coping:?}");
    }
}

/// An old wall runs on past the corner that a new one makes with it.
#[test]
fn an_old_wall_at_a_corner_is_cut_square() {
    for (file, detail, old) in [
        ("trials/24/e13-basement-to-old-basement", "X1", "brick"),
        ("trials/24/e14-extension-to-old-brick", "X2", "brick"),
        ("trials/22/old-brick", "X1", "brick"),
        ("trials/22/fdn-existing", "X2", "block"),
    ] {
        let drawn = drawn(file, detail);
        let room = room(&drawn, old);
        let square = |p: &Point| {
            [room.left, room.right].iter().any(|x| close(p.x, *x, 1e-6))
                && [room.top, room.bottom].iter().any(|y| close(p.y, *y, 1e-6))
        };
        assert!(bodies(&drawn, old).concat().iter().all(square), "{file}: {room:?}");
    }
}

/// Masonry beside a roof stands plumb below it, and is not mitered with its boards.
#[test]
fn a_chimney_goes_down_through_its_roof() {
    let drawn = drawn("trials/22/chimney-side", "CH2");
    for body in bodies(&drawn, "brick-low") {
        let room = area(&body);
        assert!(body.iter().all(|p| close(p.y, room.top, 1e-6) || close(p.y, room.bottom, 1e-6)), "{body:?}");
    }
}

/// Behind a valley a chimney rises, whether no fold is stated or one on the valley.
#[test]
fn a_chimney_rises_behind_its_valley() {
    for (file, detail, low) in [
        ("trials/22/chimney-back", "CH1", "brick-low"),
        ("trials/23/chimney", "H2", "brick"),
        ("trials/28/chimney-back", "CH2", "brick"),
    ] {
        let drawn = drawn(file, detail);
        let [top, low, deck] = ["brick-top", low, "deck"].map(|piece| room(&drawn, piece));
        assert!(top.bottom <= low.top + 0.1 && close(top.left, low.left, 0.1), "{detail}: {top:?} {low:?}");
        assert!(deck.right < low.left + 1.0 && deck.top < low.bottom, "{detail}: {deck:?} {low:?}");
    }
}

/// What lies on a shelf angle drips outboard of the bricks, however deep the wall behind them is.
#[test]
fn a_flashing_on_a_shelf_angle_ends_outboard_of_its_bricks() {
    for (file, detail, flashing, brick) in [
        ("trials/24/n01-shelf-angle", "SA1", "flashing", "brick-high"),
        ("trials/21/SA1-shelf-angle", "SA1", "through", "brick-high"),
        ("trials/23/shelf-angle", "B2", "drip", "veneer-up"),
    ] {
        let drawn = drawn(file, detail);
        let (metal, brick) = (area(&lines(&drawn, flashing).concat()), room(&drawn, brick));
        assert!(metal.right > brick.right && metal.right < brick.right + 8.0, "{file}: {metal:?} {brick:?}");
    }
}

/// A wall is drawn to below the roof that lies on it.
#[test]
fn insulation_is_seen_below_its_eave() {
    let drawn = drawn("trials/24/e09-eave-tiles", "E1");
    let [facade, wool] = ["facade", "wool"].map(|piece| room(&drawn, piece));
    assert!(facade.bottom > wool.bottom + 5.0, "{facade:?} {wool:?}");
}

/// A window in a roof lies in it: nothing of the roof hangs plumb below its head.
#[test]
fn a_roof_window_lies_in_its_roof() {
    let drawn = drawn("trials/24/e10-roof-window-head", "RH1");
    let all = [bodies(&drawn, "wool"), bodies(&drawn, "board")].concat();
    for body in &all {
        let plumb = |n: usize| close(body[n].x, body[(n + 1) % body.len()].x, 0.1);
        assert!(!(0..body.len()).any(plumb), "{body:?}");
    }
    assert_eq!(all.len(), 2);
}

/// Between rafters insulation meets at the ridge, and neither half lies in the other.
#[test]
fn insulation_meets_at_the_ridge() {
    let drawn = drawn("trials/23/ridge-vented", "H5");
    let ridge = area(&lines(&drawn, "cap").concat());
    let ridge = if ridge.width() > 0.0 { ridge } else { room(&drawn, "cap") };
    let middle = (ridge.left + ridge.right) / 2.0;
    let wool = bodies(&drawn, "wool");
    assert!(wool.len() >= 2);
    for body in wool {
        let room = area(&body);
        assert!(room.right < middle + 0.5 || room.left > middle - 0.5, "{room:?} over {middle}");
    }
}

/// Ballast ends before the insulation that stands up beside the wall.
#[test]
fn gravel_ends_before_upright_insulation() {
    let drawn = drawn("details/correct/practice/inverted-roof-upstand", "I1");
    let [stone, upright] = ["stone", "foam-up"].map(|piece| room(&drawn, piece));
    assert!(stone.left >= upright.right - 0.1, "{stone:?} {upright:?}");
}

/// Across a joint of a roof the roof lies, and its curbs stand up.
#[test]
fn a_roof_across_its_joint_lies() {
    let drawn = drawn("trials/21/EJ1-roof-expansion-joint", "EJ1");
    let [left, right, cap] = ["flash-l", "flash-r", "cap"].map(|piece| area(&lines(&drawn, piece).concat()));
    assert!(close(left.bottom, right.bottom, 1.0) && left.right < right.left, "{left:?} {right:?}");
    assert!(left.left < cap.left && cap.right < right.right && cap.bottom < left.bottom, "{cap:?} {left:?}");
}

/// Of what stands between two layers and has no stated thickness, that is as thick as their distance.
#[test]
fn what_has_no_thickness_fills_the_room_that_it_has() {
    let drawn = drawn("trials/24/e07-roof-to-rising-wall", "RW1");
    let [splash, facade] = ["splash", "facade"].map(|piece| room(&drawn, piece));
    assert!(close(splash.width(), facade.width(), 2.0), "{splash:?} {facade:?}");
}

/// A cant is a wedge with the sides that are stated, and sheets go over it aslant.
#[test]
fn a_cant_is_a_wedge() {
    let drawn = drawn("details/correct/drawn/parapet-in", "PI");
    let wedge = bodies(&drawn, "cant");
    assert_eq!((wedge.len(), wedge[0].len()), (1, 3), "{wedge:?}");
    // 4 in at 3" = 1'-0".
    let room = area(&wedge[0]);
    assert!(close(room.height(), 25.4, 1.0) && close(room.width(), 25.4, 1.0), "{room:?}");
    let slanted = |p: &[Point]| {
        let (x, y) = ((p[1].x - p[0].x).abs(), (p[1].y - p[0].y).abs());
        x > 5.0 && close(x, y, 1.0)
    };
    assert!(lines(&drawn, "base-ply").iter().any(|line| line.windows(2).any(slanted)));
}

/// Insulation beside an old wall stands at it, though the joint between them is closed by a bead.
#[test]
fn a_new_wall_stands_at_the_old_one() {
    let drawn = drawn("trials/24/e14-extension-to-old-brick", "X2");
    let [brick, wool] = ["brick", "wool"].map(|piece| room(&drawn, piece));
    assert!(close(brick.bottom, wool.top, 2.0), "{brick:?} {wool:?}");
}

/// A bead between pieces that the section shows apart lies on the inner one, and does not hang in the air.
#[test]
fn no_bead_hangs_in_the_air() {
    let text = "include \"stock.detail\"
assembly W wall { outside; layer brick-veneer 90 mm; layer drained-gap 60 mm; layer wrap-adhered controls water; layer plywood 18 mm; inside }
detail A course \"Bead across a gap\" joins W {
  piece board plywood of W
  piece wrap wrap-adhered of W bonds board rolled
  piece brick brick-veneer of W up from 0 mm
  seal brick to wrap with polyurethane-sealant up 100 mm
}
";
    let run = crate::drawing::folder(text, "bead");
    let drawn = section(&run, "A");
    let beads = drawn.0.groups(Role::Bead);
    let mut centers = Vec::new();
    beads.into_iter().flatten().for_each(|shape| {
        shape.each(&mut |shape| {
            if let Shape::Circle { center, .. } = shape {
                centers.push(center.x / drawn.0.scale);
            }
        });
    });
    let (brick, board) = (room(&drawn, "brick"), room(&drawn, "board"));
    assert_eq!(centers.len(), 1);
    assert!(centers[0] > board.right && centers[0] < board.right + 4.0, "{centers:?} {board:?} {brick:?}");
}

/// A mat whose thickness nobody said keeps two sheets apart; it lifts nothing off the roof.
#[test]
fn a_mat_of_unknown_thickness_is_thin() {
    let drawn = drawn("trials/24/e11-slate-valley", "V1");
    let ends = |piece: &str| area(&lines(&drawn, piece).concat());
    assert!(ends("lining").bottom - ends("metal").bottom < 6.0, "{:?} {:?}", ends("lining"), ends("metal"));
}
