//! The foot of a wall whose insulation lies outside of the sheathing: lengths on the roof count from the face before which it ends.

use std::sync::LazyLock;

use headlap::model::{Axis, Fold, FoldKind, Piece};
use headlap::output::drawing::Point;
use headlap::review::Run;

use crate::drawing::run_folder;
use crate::drawn_as_built::{section, section_of};
use crate::drawn_at_folds::{Drawn, bodies, close, drawn, lines, room};
use crate::drawn_to_sign::area;

/// A wedge stands in the corner that is seen, and what goes over it is as long on the roof as it is said to be.
#[test]
fn a_cant_stands_before_the_insulation_of_the_wall() {
    let drawn = drawn("trials/21/RW1-roof-to-wall", "RW1");
    let [sheath, backer, cover, slab, foam] = ["sheath", "backer", "cover", "slab", "foam"].map(|p| room(&drawn, p));
    let (cant, base) = (room(&drawn, "cant"), area(&lines(&drawn, "base").concat()));
    // 1:10, and membranes are spread by 1.5 each.
    assert!((0.0..3.0).contains(&(cant.left - backer.right)), "{cant:?} {backer:?}");
    assert!(close(cant.width(), 5.0, 1.5) && close(cant.height(), 5.0, 1.5), "{cant:?}");
    assert!(base.left > backer.right - 0.1, "{base:?} {backer:?}");
    assert!(close(base.right - backer.right, 15.0, 1.0), "150 mm on the roof: {base:?} {backer:?}");
    // The roof itself goes on under the insulation.
    for body in [cover, slab, foam] {
        assert!(close(body.left, sheath.right, 0.5), "{body:?} {sheath:?}");
    }
}

/// What ends at the wall and lies under its insulation goes on to the wall; what comes after the insulation ends before it.
#[test]
fn a_roof_goes_on_under_the_foot_that_stands_on_it() {
    let text = "include \"stock.detail\"
assembly W wall { outside; layer fiber-cement 8 mm; layer vented-gap 20 mm; layer mineral-wool-board 120 mm controls thermal; \
layer wrap-adhered controls water, air; layer plywood 18 mm; inside }
assembly R roof { slope 2 %; outside; layer modified-bitumen 4 mm controls water; layer polyurethane-board 100 mm; \
layer poly-sheet controls vapor; layer plywood 18 mm; inside }
detail A roof-to-wall \"Foot before insulation\" joins R to W {
  fold up 0 mm base
  piece deck plywood of R up to 0 mm
  piece retarder poly-sheet of R up to 0 mm
  piece foam polyurethane-board of R up to 0 mm
  piece sheath plywood of W up from 0 mm
  piece wrap wrap-adhered of W up from 0 mm bonds sheath rolled
  piece ply modified-bitumen of R up to 0 mm bonds foam
  piece foot polyurethane-board up 0 mm to 250 mm
  piece base modified-bitumen as base-flashing up -150 mm to 200 mm bonds ply, foot welded
  piece stone ballast-gravel up to 0 mm
}
";
    let run = crate::drawing::folder(text, "foot");
    let drawn = section(&run, "A");
    let (sheath, foot) = (room(&drawn, "sheath"), room(&drawn, "foot"));
    for line in ["ply", "retarder"].map(|piece| area(&lines(&drawn, piece).concat())) {
        assert!((-0.1..2.5).contains(&(line.left - sheath.right)), "{line:?} {sheath:?} {foot:?}");
    }
    assert!(room(&drawn, "stone").left > foot.right - 0.1);
    assert!(area(&lines(&drawn, "base").concat()).left > foot.right - 0.1);
}

/// A cover that controls water lies on the earth as one that does not: it turns up the wall above it, and the earth lies below.
#[test]
fn a_ground_cover_that_holds_water_off_lies_on_the_earth() {
    for (file, detail, cover) in [("28/crawl-cover", "CC1", "skirt"), ("22/crawl", "G2", "sheet-b")] {
        let drawn = drawn(&format!("trials/{file}"), detail);
        let (soil, line) = (room(&drawn, "soil"), area(&lines(&drawn, cover).concat()));
        assert!(line.bottom < soil.top + 0.5 && line.top < soil.top - 20.0, "{detail}: {line:?} {soil:?}");
    }
}

/// Details of everybody.
pub static ALL: LazyLock<Vec<Run>> = LazyLock::new(|| {
    ["examples", "tests/trials", "tests/details", "tests/findings"].into_iter().map(run_folder).collect()
});

/// How far inside of an outline a place lies: nothing where it lies outside.
fn inside(outline: &[Point], at: Point) -> f64 {
    let pairs = || (0..outline.len()).map(|n| (outline[n], outline[(n + 1) % outline.len()]));
    let crosses =
        |(p, q): &(Point, Point)| (p.y > at.y) != (q.y > at.y) && at.x < p.x + (at.y - p.y) / (q.y - p.y) * (q.x - p.x);
    if pairs().filter(crosses).count() % 2 == 0 {
        return 0.0;
    }
    let off = |(p, q): (Point, Point)| {
        let (d, long) = (Point::new(q.x - p.x, q.y - p.y), (q.x - p.x).hypot(q.y - p.y));
        let t = (((at.x - p.x) * d.x + (at.y - p.y) * d.y) / (long * long).max(1e-12)).clamp(0.0, 1.0);
        (at.x - p.x - t * d.x).hypot(at.y - p.y - t * d.y)
    };
    pairs().map(off).fold(f64::MAX, f64::min)
}

/// How much of the lines of a membrane lies within the outlines of a body, mm of paper.
fn within(drawn: &Drawn, membrane: &str, body: &str) -> f64 {
    inside_of(&lines(drawn, membrane), &bodies(drawn, body))
}

/// How much of lines lies within outlines.
pub fn inside_of(lines: &[Vec<Point>], outlines: &[Vec<Point>]) -> f64 {
    if lines.is_empty() || outlines.is_empty() {
        return 0.0;
    }
    let [own, room] = [lines, outlines].map(|all| area(&all.concat()));
    if own.right < room.left || room.right < own.left || own.bottom < room.top || room.bottom < own.top {
        return 0.0;
    }
    let on = |pair: &[Point]| {
        let (x, y) = (pair[1].x - pair[0].x, pair[1].y - pair[0].y);
        let count = (x.hypot(y) / STEP).ceil();
        let at = (0..count as usize).map(|n| (n as f64 + 0.5) / count);
        let within = at.filter(|t| {
            let at = Point::new(pair[0].x + t * x, pair[0].y + t * y);
            outlines.iter().any(|outline| inside(outline, at) > LINE)
        });
        within.count() as f64 * x.hypot(y) / count.max(1.0)
    };
    lines.iter().flat_map(|line| line.windows(2)).map(on).sum()
}

/// A liner turns up on the blocking behind a board that begins above the floor, and the floor goes on under it to there.
#[test]
fn a_liner_lies_on_the_blocking_behind_its_board() {
    let drawn = drawn("trials/28/shower", "SH1");
    let [block, board, sub] = ["block", "board", "sub"].map(|piece| room(&drawn, piece));
    let line = area(&lines(&drawn, "liner").concat());
    assert!((-0.1..1.6).contains(&(line.left - block.right)) && line.left < board.left, "{line:?} {block:?} {board:?}");
    assert!(close(sub.left, block.right, 0.1) && line.right > board.right + 5.0, "{sub:?} {line:?}");
}

/// Places on a line lie so far apart, and half of its weight may lie on a body, mm of paper.
const STEP: f64 = 0.25;
const LINE: f64 = 0.5;

/// What turns up at a wall runs through nothing that stands there, whether it goes up before that or behind it.
#[test]
fn no_upturn_runs_through_what_stands_at_the_wall() {
    let (mut count, mut wrong) = (0, Vec::new());
    for run in &*ALL {
        for facts in run.checked.iter().flat_map(|c| &c.facts.details) {
            let detail = &facts.detail;
            let base = |fold: &&Fold| fold.kind == FoldKind::Base && fold.axis == Axis::Up;
            let Some(fold) = detail.folds.iter().find(base).map(|fold| fold.at.si) else { continue };
            let [low, high] =
                [|p: &Piece| p.up.low.map_or(f64::MIN, |q| q.si), |p: &Piece| p.up.high.map_or(f64::MAX, |q| q.si)];
            let drawn: Drawn = section_of(facts);
            let turns = detail
                .pieces
                .iter()
                .filter(|p| !p.inside && low(p) < fold && fold < high(p) && bodies(&drawn, &p.name).is_empty());
            for membrane in turns {
                for body in detail.pieces.iter().filter(|p| low(p) == fold) {
                    count += 1;
                    let long = within(&drawn, &membrane.name, &body.name);
                    if long > 1.0 {
                        wrong.push(format!(
                            "{}, {}: {} in {}, {long:.1} mm",
                            detail.name,
                            detail.title.as_deref().unwrap_or_default(),
                            membrane.name,
                            body.name
                        ));
                    }
                }
            }
        }
    }
    assert!(count > 300, "{count}");
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}
