//! Insulation is notched around what is built into it, and no hollow beside that looks like a cavity.

use headlap::output::drawing::{Area, Point};

use crate::drawing::folder;
use crate::drawn_as_built::section;
use crate::drawn_at_folds::{Drawn, bodies, close, drawn, lines, room};
use crate::drawn_to_sign::area;

/// The parts of a body, from the lowest up.
fn parts(drawn: &Drawn, piece: &str) -> Vec<Area> {
    let mut parts: Vec<Area> = bodies(drawn, piece).iter().map(|body| area(body)).collect();
    parts.sort_by(|a, b| b.bottom.total_cmp(&a.bottom));
    parts
}

/// Below the block that carries a window it lies on the wall, as thick as it is said to be, with one face outside.
#[test]
fn insulation_is_notched_around_the_block_of_a_window() {
    let drawn = drawn("trials/24/e02-window-sill", "S1");
    let ([blocks, support], parts) = (["blocks", "support"].map(|piece| room(&drawn, piece)), parts(&drawn, "facade"));
    let [low, high] = parts[..] else { panic!("two parts: {parts:?}") };
    // 160 mm at 1:5.
    assert!(close(low.left, blocks.right, 0.1) && close(low.width(), 32.0, 0.1), "{low:?} {blocks:?}");
    assert!(close(low.top, support.bottom, 0.1) && close(high.bottom, support.bottom, 0.1), "{low:?} {support:?}");
    assert!(high.left >= support.right - 0.1 && close(high.right, low.right, 1e-6), "{high:?} {support:?}");
    // They are one body: no line between them, beyond the foot of the block.
    let level = |pair: &&[Point]| close(pair[0].y, low.top, 0.1) && close(pair[1].y, low.top, 0.1);
    let between = |pair: &[Point]| pair[0].x.max(pair[1].x) > high.left + 0.1;
    let drawn_between = lines(&drawn, "facade").iter().any(|line| line.windows(2).filter(level).any(between));
    assert!(!drawn_between, "{:?}", lines(&drawn, "facade"));
}

/// The same in plan. A block of no stated thickness leaves half of the insulation in front of it.
#[test]
fn insulation_is_notched_in_plan_too() {
    let drawn = drawn("trials/24/e03-jamb-old-brick", "J1");
    let ([brick, support], parts) = (["brick", "support"].map(|piece| room(&drawn, piece)), bodies(&drawn, "facade"));
    let whole = area(&parts.concat());
    // 140 mm at 1:10; outside is below.
    assert!(close(whole.top, brick.bottom, 0.1) && close(whole.height(), 14.0, 0.1), "{whole:?} {brick:?}");
    assert!(close(support.height(), 7.0, 0.1), "{support:?}");
    for part in parts.iter().map(|part| area(part)) {
        let beside = part.right <= support.left + 0.1 || part.top >= support.bottom - 0.1;
        assert!(beside, "{part:?} in {support:?}");
    }
}

/// Nobody hooks a board over the plate beside it, where no wall of its own is behind it.
#[test]
fn insulation_keeps_its_face_where_another_wall_begins() {
    let parts = parts(&drawn("trials/24/e05-timber-base", "B2"), "perimeter");
    assert!(parts.iter().all(|part| close(part.left, parts[0].left, 1e-6)), "{parts:?}");
}

const DETAILS: &str = "include \"stock.detail\"
assembly W wall { outside; layer fiber-cement 8 mm; layer vented-gap 20 mm; layer mineral-wool-board 120 mm controls thermal; \
layer wrap-adhered controls water, air; layer plywood 18 mm; inside }
detail CLEAT course \"Cleat behind the wool\" joins W {
  piece sheath plywood of W
  piece wrap wrap-adhered of W bonds sheath rolled
  piece cleat treated-wood as nailer up -40 mm to 40 mm
  piece wool mineral-wool-board of W
  piece boards fiber-cement of W
}
";

/// On a membrane as on the wall itself; and the air space in front of it is as wide as it is.
#[test]
fn insulation_is_notched_around_a_nailer_on_a_membrane() {
    let drawn = section(&folder(DETAILS, "cleat"), "CLEAT");
    let ([cleat, sheath, boards], parts) =
        (["cleat", "sheath", "boards"].map(|piece| room(&drawn, piece)), parts(&drawn, "wool"));
    let [low, middle, high] = parts[..] else { panic!("three parts: {parts:?}") };
    for part in [low, high] {
        assert!(part.left < cleat.right - 3.0 && part.left < sheath.right + 1.6, "{part:?} {cleat:?}");
        assert!(close(part.right, middle.right, 1e-6), "{part:?} {middle:?}");
    }
    assert!(middle.left >= cleat.right - 0.1, "{middle:?} {cleat:?}");
    let scale = drawn.0.scale;
    assert!(close((boards.left - middle.right) * scale, 20.0, 1.6 * scale), "{boards:?} {middle:?}");
}
