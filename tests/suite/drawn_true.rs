//! What an architect who had never seen the program marked in red: gaps that are open, slabs that stand in front of their wall, what stands
//! out of it, and marks that say what they mean in an office.

use std::sync::LazyLock;

use headlap::output::drawing::{self, Ink, Point, Role, Scene, Shape, Subject};
use headlap::review::Run;

use crate::drawing::{demo, folder};
use crate::drawn_as_built::{filled, heavy, section, shapes, span};

const DETAILS: &str = "include \"stock.detail\"
material wood-blocking frame \"Blocking between studs\" { conductivity 0.12 W/m.K; surface wood }
assembly F foundation { outside; layer concrete 8 in controls water, air; inside }
assembly W wall { outside; layer cedar-boards 3/4 in; layer vented-gap 3/4 in; layer wood-fiber-board 2 in controls thermal; layer wrap-open controls water, air; layer osb 7/16 in; inside }
assembly P wall { outside; layer fiber-cement 5/16 in; layer vented-gap 3/4 in; layer wrap-open controls water, air; layer plywood 5/8 in; inside }
assembly S wall { outside; layer stucco 7/8 in; layer building-paper; layer wrap-open controls water, air; layer plywood 1/2 in; inside }
assembly O opening { outside; layer window-wood controls water, air; inside }
detail BELT belt joins W {
  piece deck osb of W
  piece low wrap-open of W up to 12 in
  piece wool-l wood-fiber-board of W up to 0 in
  piece boards-l cedar-boards of W up to -1/4 in
  piece belt stainless-flashing up -1-1/2 in to 8 in slope 8 deg with drip
  piece high wrap-open of W up from 3 in
  piece wool-h wood-fiber-board of W up from 0 in
  piece boards-h cedar-boards of W up from 1/2 in
}
detail STOOP base-of-wall joins F to P {
  grade up -14 in paved
  piece stem concrete of F up to 0 in
  piece ply plywood of P up from 0 in
  piece strip flash-tape up -3 in to 3 in bonds stem, ply primed rolled
  piece stoop reinforced-concrete up -14 in to -8 in slope 1/4 in per ft
  piece wrap wrap-open of P up from -1 in
  piece boards fiber-cement of P up from -1-1/2 in
}
detail LANDING base-of-wall joins F to P {
  piece stem concrete of F up to 0 in
  piece ply plywood of P up from 0 in
  piece landing reinforced-concrete up -7 in to -1 in slope 2 %
  piece turn liquid-flashing up -4 in to 8 in primed
  piece wrap wrap-open of P up from 3 in
}
detail BLOCK penetration joins P {
  piece ply plywood of P
  cut ply up -1 in to 1 in along -1 in to 1 in
  piece low wrap-open of P up to 14 in
  cut low up -1 in to 1 in along -1 in to 1 in
  piece block vent-hood up -4 in to 4 in along -4 in to 4 in
  piece side-l flash-tape up -7 in to 6 in along -7 in to -3 in bonds block, low rolled
  piece side-r flash-tape up -7 in to 6 in along 3 in to 7 in bonds block, low rolled
  piece top flash-tape up 3 in to 8 in along -8 in to 8 in bonds block, low, side-l, side-r rolled
}
detail SCREED base-of-wall joins F to S {
  grade up -5 in
  piece stem concrete of F up to 0 in
  piece ply plywood of S up from 0 in
  piece strip flash-tape up -2 in to 7 in bonds stem, ply primed rolled
  piece screed weep-screed up -2 in to 4 in with drip
  piece wrap wrap-open of S up from 0 in
  piece paper building-paper of S up from 0 in
  piece coat stucco of S up from -2 in
}
detail LEDGER ledger joins P {
  piece deck plywood of P
  piece low wrap-open of P up to 9 in
  piece beam spruce up -9 in to 0 in
  piece block wood-blocking up -20 in to -15 in
}
";

static RUN: LazyLock<Run> = LazyLock::new(|| folder(DETAILS, "true"));

/// Left, right, top and foot of the body of a piece.
fn body(drawn: &(Scene, Vec<String>), piece: &str) -> [f64; 4] {
    span(&filled(&shapes(drawn, piece)).concat())
}

fn points(shapes: &[Shape]) -> Vec<Point> {
    let mut points = Vec::new();
    shapes.to_vec().iter_mut().for_each(|shape| shape.each_place(&mut |p| points.push(*p)));
    points
}

/// A gap of 3/4 in is drawn as that beside insulation of 2 in, whatever laps behind the boards, and both courses lie in one plane.
#[test]
fn a_vented_gap_is_open_on_paper() {
    let drawn = section(&RUN, "BELT");
    let wool = body(&drawn, "wool-h");
    let (upper, lower) = (body(&drawn, "boards-h"), body(&drawn, "boards-l"));
    let inch = (wool[1] - wool[0]) / 2.0;
    assert!((upper[0] - wool[1] - 0.75 * inch).abs() < 0.05, "the gap of {upper:?} before {wool:?}");
    assert!((upper[0] - lower[0]).abs() < 0.05, "one plane: {upper:?} {lower:?}");
    assert!(lower[0] - body(&drawn, "wool-l")[1] > 0.75 * inch - 0.05, "that of the lower course is no narrower");
}

/// A wall stands on its stem, and the slab lies in front of that.
#[test]
fn a_slab_outside_leaves_the_wall_on_its_stem() {
    for (detail, slab) in [("STOOP", "stoop"), ("LANDING", "landing")] {
        let drawn = section(&RUN, detail);
        let (stem, ply, slab) = (body(&drawn, "stem"), body(&drawn, "ply"), body(&drawn, slab));
        assert!((stem[1] - ply[1]).abs() < 0.05, "{detail}: flush: {stem:?} {ply:?}");
        assert!((slab[0] - stem[1]).abs() < 0.05, "{detail}: in front of it: {slab:?} {stem:?}");
    }
}

/// The slab goes on outside, and ends at the wall: the other way round it would be a curb cast into that. Where something is dressed over
/// its end, that is drawn and a stretch before it left out.
#[test]
fn a_slab_is_broken_off_outside_and_not_at_its_wall() {
    let drawn = section(&RUN, "STOOP");
    let [left, right, top, foot] = body(&drawn, "stoop");
    let edge = |detail: &str, piece: &str, x: f64| {
        let upright = |[a, b]: &&[Point; 2]| (a.x - x).abs() < 0.05 && (b.x - x).abs() < 0.05;
        heavy(&shapes(&section(&RUN, detail), piece)).iter().filter(upright).count()
    };
    assert!(right - left > (foot - top).min(20.0), "no curb: {left} to {right}, {top} to {foot}");
    assert_eq!((edge("STOOP", "stoop", left), edge("STOOP", "stoop", right)), (1, 0));
    let ends = body(&section(&RUN, "LANDING"), "landing");
    assert_eq!((edge("LANDING", "landing", ends[0]), edge("LANDING", "landing", ends[1])), (1, 1));
    let white = filled(&shapes(&section(&RUN, "LANDING"), "landing")).len();
    assert_eq!(white, 2, "its outline, and the stretch left out");
}

/// Of what runs off the detail inside, each membrane reaches as far as the insulation that it covers.
#[test]
fn a_vapor_retarder_runs_to_the_break() {
    let drawn = section(demo(), "RW1");
    let (kraft, retarder) = (span(&points(&shapes(&drawn, "kraft"))), span(&points(&shapes(&drawn, "retarder"))));
    let (wall, roof) = (body(&drawn, "wool"), body(&drawn, "roof-wool"));
    assert!((kraft[2] - wall[2]).abs() < 1.0, "the kraft {kraft:?} up {wall:?}");
    assert!((retarder[1] - roof[1]).abs() < 1.0, "the retarder {retarder:?} along {roof:?}");
}

/// A hood is cut where it passes through the wall, and stands out of that.
#[test]
fn a_flanged_hood_is_cut_through_its_hole_and_stands_out() {
    for (run, detail, hood, wall) in [(&*RUN, "BLOCK", "block", "ply"), (demo(), "P1", "hood", "deck")] {
        let drawn = section(run, detail);
        assert_eq!(filled(&shapes(&drawn, wall)).len(), 2, "{detail}: the wall below and above its hole");
        let outermost = points(&shapes(&drawn, "top")).iter().map(|p| p.x).fold(f64::MIN, f64::max);
        let hood = span(&points(&shapes(&drawn, hood)));
        assert!(hood[1] > outermost + 4.0, "{detail}: {hood:?} beyond {outermost}");
    }
}

/// A weep screed carries the stucco: its toe lies under the whole of that.
#[test]
fn stucco_stands_on_its_screed() {
    let drawn = section(&RUN, "SCREED");
    let coat = body(&drawn, "coat");
    let toe = points(&shapes(&drawn, "screed")).into_iter().filter(|p| (p.y - coat[3]).abs() < 0.6);
    let [left, right] = toe.fold([f64::MAX, f64::MIN], |[l, r], p| [l.min(p.x), r.max(p.x)]);
    assert!(left < coat[0] && right > coat[1] - 0.1, "{left} to {right} under {coat:?}");
}

/// Paving lies on the earth, and gravel under a cover of the ground is as deep as its assembly says.
#[test]
fn what_lies_on_the_ground_is_drawn() {
    let ground = |run: &Run, detail: &str| {
        let (scene, _) = section(run, detail);
        let mut all = Vec::new();
        for shape in scene.groups(Role::Ground).into_iter().flatten() {
            shape.each(&mut |shape| all.push(shape.clone()));
        }
        all
    };
    let black = |detail: &str| heavy(&ground(&RUN, detail)).len();
    assert_eq!((black("SCREED"), black("STOOP")), (1, 3), "the line of the ground, and a slab under it");
    let stones = ground(demo(), "G1-F1").iter().filter(|shape| matches!(shape, Shape::Circle { .. })).count();
    assert!(stones > 4, "{stones} stones");
}

/// Continuous lumber has one cross over its section, blocking one diagonal; on the elevation its grain runs along it.
#[test]
fn lumber_is_crossed_once_and_its_grain_runs_along() {
    let drawn = section(&RUN, "LEDGER");
    let aslant = |run: &&Vec<Point>| run.len() == 2 && run[0].x != run[1].x && run[0].y != run[1].y;
    let strokes = |drawn: &(Scene, Vec<String>), piece: &str| {
        let of = |shape: &Shape| match shape {
            Shape::Path { runs, closed: false, pen: Some(pen), .. } if pen.ink == Ink::Dark => {
                runs.iter().filter(aslant).count()
            }
            _ => 0,
        };
        shapes(drawn, piece).iter().map(of).sum::<usize>()
    };
    assert_eq!((strokes(&drawn, "beam"), strokes(&drawn, "block")), (2, 1));
    assert_eq!(strokes(&section(demo(), "B1"), "plate"), 2, "a plate is continuous");
    let (level, upright) = elevation_lines(&RUN, "LEDGER", "beam");
    assert!(level.len() > 3 && upright.is_empty(), "{level:?} {upright:?}");
}

/// Level and upright lines on the face of a piece, where they lie on paper.
fn elevation_lines(run: &Run, detail: &str, piece: &str) -> (Vec<f64>, Vec<f64>) {
    let mut all = run.checked.iter().flat_map(|c| &c.facts.details);
    let facts = all.find(|f| &*f.detail.name == detail).expect("the detail");
    let front = drawing::elevation(&Subject::new(facts, &[]));
    let index = facts.detail.pieces.iter().position(|p| &*p.name == piece).expect("a piece");
    let (mut level, mut upright) = (Vec::new(), Vec::new());
    for shape in front.groups(Role::Piece(index)).into_iter().flatten() {
        if let Shape::Path { runs, closed: false, .. } = shape {
            level.extend(runs.iter().filter(|run| run[0].y == run[1].y).map(|run| run[0].y / front.scale));
            upright.extend(runs.iter().filter(|run| run[0].x == run[1].x).map(|run| run[0].x / front.scale));
        }
    }
    (level, upright)
}

/// Bricks are laid in courses of 67 to 75 mm of the building at any scale: on the elevation and on the section.
#[test]
fn courses_are_as_high_as_bricks() {
    let drawn = section(demo(), "RW2");
    let thick = body(&drawn, "brick");
    let facts = demo().checked.iter().flat_map(|c| &c.facts.details).find(|f| &*f.detail.name == "RW2").expect("RW2");
    let brick = facts.detail.pieces.iter().find(|p| &*p.name == "brick").expect("brick");
    let layer = brick.layer.and_then(|at| facts.detail.layer(at).thickness).expect("a thickness").si * 1000.0;
    let mm = layer / (thick[1] - thick[0]);
    let apart = |mut at: Vec<f64>| {
        at.sort_by(f64::total_cmp);
        at.dedup_by(|a, b| (*a - *b).abs() < 0.1);
        at.windows(2).map(|pair| pair[1] - pair[0]).fold(f64::MAX, f64::min) * mm
    };
    let level = |shape: &Shape| match shape {
        Shape::Path { runs, closed: false, pen: Some(pen), .. } if pen.ink == Ink::Dark => {
            runs.iter().filter(|run| run.len() == 2 && (run[0].y - run[1].y).abs() < 1e-6).map(|run| run[0].y).collect()
        }
        _ => Vec::new(),
    };
    let cut = apart(shapes(&drawn, "brick").iter().flat_map(level).collect());
    assert!((67.0..=75.0).contains(&cut), "{cut} mm in the section");
    // The counterflashing is seen from 90 mm to 260 mm, above that it is built in.
    let front = drawing::elevation(&Subject::new(facts, &[]));
    let counter = facts.detail.pieces.iter().position(|p| &*p.name == "counter").expect("counter");
    let seen: Vec<Shape> = front.groups(Role::Piece(counter)).into_iter().flatten().cloned().collect();
    let [_, _, top, foot] = span(&points(&seen)).map(|at| at / front.scale);
    let seen = apart(elevation_lines(demo(), "RW2", "brick-top").0) / mm * 170.0 / (foot - top);
    assert!((67.0..=75.0).contains(&seen), "{seen} mm in the elevation");
}
