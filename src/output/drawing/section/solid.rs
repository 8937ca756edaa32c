//! Pieces that are thicker than a line, cut across; the ground; where the drawing is broken off.

use crate::facts::face::{OPEN_HIGH, OPEN_LOW};
use crate::facts::nanometres;
use crate::model::{AssemblyKind, Axis, MaterialKind};
use crate::output::drawing::clip::{self, Half};
use crate::output::drawing::hatch::{Hatch, Runs, hatch, hatch_of};
use crate::output::drawing::page;
use crate::output::drawing::paper::{BEYOND, CUT, EARTH, GRADE, LEADER};
use crate::output::drawing::scene::{Area, Ink, Pen, Point, Role, Shape};
use crate::output::drawing::section::cut::Cut;
use crate::output::drawing::section::masonry::{bed_of, is_rowlock, throat};
use crate::output::drawing::section::spine::Spine;
use crate::output::drawing::section::unit;

/// Every solid piece on the line.
pub fn pieces(cut: &Cut) -> Vec<Shape> {
    let solid = |p: &usize| !cut.places.pieces[*p].thin && !unit::passes(cut, *p);
    let piece = |index: usize| {
        let shapes = match cut.subject.detail.pieces[index].material.kind {
            Some(MaterialKind::Unit) => unit::draw(cut, index),
            _ => body(cut, index),
        };
        Shape::group(Role::Piece(index), page::spoken(cut.subject, index), shapes)
    };
    cut.line.pieces().into_iter().filter(solid).map(piece).collect()
}

/// A part of a piece on one leg of the line, in which it keeps its distance.
pub(super) struct Part {
    pub(super) leg: usize,
    pub(super) along: [f64; 2],
    pub(super) out: [f64; 2],
    /// Its ends run off the detail.
    pub(super) open: [bool; 2],
}

fn body(cut: &Cut, index: usize) -> Vec<Shape> {
    let on_edge = is_rowlock(cut, index);
    let kind = if on_edge { Hatch::Brick } else { hatch_of(&cut.subject.detail.pieces[index].material) };
    let mut shapes = Vec::new();
    for part in parts(cut, index) {
        let outline = outline(cut, index, &part);
        let polygon = &outline.corners;
        if polygon.len() < 3 {
            continue;
        }
        let mut filled = vec![Shape::polygon(polygon.clone(), None, Some(Ink::White))];
        filled.extend(hatched(&cut.spine, part.leg, polygon, kind));
        shapes.push(Shape::group(Role::Hatch(kind), "", filled));
        shapes.extend(rim(cut, index, &part, &outline, kind));
        shapes.extend(throat(cut, index, &part));
        shapes.extend(
            fall(cut, index, &part).filter(|_| on_edge).map(|fall| bed_of(cut, &part, fall)).into_iter().flatten(),
        );
        if cut.places.pieces[index].broken {
            shapes.extend(broken(cut, &part, polygon));
        }
    }
    shapes
}

/// Where a piece keeps its distance, leg by leg.
fn parts(cut: &Cut, piece: usize) -> Vec<Part> {
    let mut stretches: Vec<(usize, usize, [f64; 2])> = Vec::new();
    for step in cut.line.intervals(piece).into_iter().flatten() {
        let Some(slot) = cut.places.slot(piece, step) else { continue };
        match stretches.last_mut() {
            Some((_, last, same)) if *last + 1 == step && *same == slot => *last = step,
            _ => stretches.push((step, step, slot)),
        }
    }
    let mut parts = Vec::new();
    for (first, last, out) in stretches {
        let [low, high] = cut.real(piece, &(first..last + 1));
        for leg in 0..cut.spine.legs() {
            let span = hung(cut, piece, leg);
            let mut along = [low.max(span[0]), high.min(span[1])];
            if along[1] - along[0] > 1e-9 {
                let open = [
                    along[0] == low && cut.line.steps[first].extent.low == OPEN_LOW,
                    along[1] == high && cut.line.steps[last].extent.high == OPEN_HIGH,
                ];
                for (end, past) in past(cut, piece, leg, along).into_iter().enumerate() {
                    along[end] += past;
                }
                for (end, more) in to_corner(cut, piece, leg, out, [low, high]).into_iter().enumerate() {
                    along[end] += more;
                }
                parts.push(Part { leg, along, out, open });
            }
        }
    }
    parts
}

/// What ends at most this far from a corner covers it, mm of the building.
const AT_CORNER: f64 = 30.0;

/// By how much farther cladding lies at its ends near an outside corner: lengths count along the datum, and it stands off that. One side
/// runs through to the face of the other, which butts against it.
fn to_corner(cut: &Cut, piece: usize, leg: usize, out: [f64; 2], ends: [f64; 2]) -> [f64; 2] {
    let kind = cut.subject.detail.pieces[piece].material.kind;
    let clads = cut.places.is_skin(piece) && matches!(kind, Some(MaterialKind::Cladding | MaterialKind::Board));
    let span = cut.spine.span(leg);
    let near = |end: usize| {
        let fold = if end == 0 { leg.checked_sub(1) } else { Some(leg).filter(|leg| leg + 1 < cut.spine.legs()) };
        let short = if end == 0 { ends[0] - span[0] } else { span[1] - ends[1] };
        fold.is_some_and(|fold| cut.spine.opens(fold)) && (-1e-9..=AT_CORNER / cut.scale).contains(&short)
    };
    if !clads || cut.line.axis != Axis::Along || cut.spine.lies(leg) && cut.spine.outward(leg).y < 0.0 {
        return [0.0; 2];
    }
    [if near(0) { -out[0] } else { 0.0 }, if near(1) { out[1] } else { 0.0 }]
}

/// From where to where a piece follows a leg: over the edge of a roof it goes on straight, and nothing of it lies on the leg beyond.
fn hung(cut: &Cut, piece: usize, leg: usize) -> [f64; 2] {
    let mut span = cut.spine.span(leg);
    for over in cut.openings.iter().filter(|o| o.only == Some(piece)) {
        let fold = (0..cut.spine.legs() - 1).find(|fold| (cut.spine.span(*fold)[1] - over.at).abs() < 1e-9);
        let Some((fold, roof)) = fold.and_then(|fold| Some((fold, cut.spine.edge_of(fold)?))) else { continue };
        let [low, high] = [cut.spine.span(fold)[0], cut.spine.span(fold + 1)[1]];
        match leg {
            leg if leg == roof => span = [span[0].min(low), span[1].max(high)],
            leg if leg == fold || leg == fold + 1 => return [over.at, over.at],
            _ => {}
        }
    }
    span
}

/// By how much farther the ends of a part lie that hangs over the edge of a roof: lengths of its overhang count from the face of what is
/// below it.
fn past(cut: &Cut, piece: usize, leg: usize, along: [f64; 2]) -> [f64; 2] {
    let [low, high] = cut.spine.span(leg);
    let face = |steps: &mut dyn Iterator<Item = usize>| {
        let under = steps.flat_map(|n| {
            let stack = cut.line.steps[n].stack.iter().take_while(|p| **p != piece);
            stack.filter(|p| !cut.places.pieces[**p].thin).filter_map(move |p| cut.places.slot(*p, n))
        });
        under.map(|slot| slot[1]).fold(0.0, f64::max)
    };
    let count = cut.line.steps.len();
    let hung = |n: &usize| cut.line.steps[*n].stack.contains(&piece);
    let mut past = [0.0; 2];
    for over in cut.openings.iter().filter(|over| over.only == Some(piece)) {
        if !over.above && (over.at - low).abs() < 1e-9 && along[0] < low - 1e-9 {
            past[0] = -face(&mut (0..count).filter(|n| cut.places.along(*n)[1] <= low + 1e-9).filter(hung));
        }
        if over.above && (over.at - high).abs() < 1e-9 && along[1] > high + 1e-9 {
            past[1] = face(&mut (0..count).filter(|n| cut.places.along(*n)[0] >= high - 1e-9).filter(hung));
        }
    }
    past
}

/// The outline of a part, and where no edge of it is seen.
struct Outline {
    corners: Vec<Point>,
    /// It runs through behind another leg and is cut off at the depth of that.
    cut_off: Option<(usize, f64)>,
    /// The piece goes on beyond these miters as it is.
    miters: Vec<Half>,
}

/// At a fold a part is mitered where the piece goes on, else it butts as carpenters do it.
fn outline(cut: &Cut, piece: usize, part: &Part) -> Outline {
    let spine = &cut.spine;
    let span = spine.span(part.leg);
    let inboard = part.out[1] <= 1e-6;
    let fold_below = (part.leg > 0 && (part.along[0] - span[0]).abs() < 1e-6).then(|| part.leg - 1);
    let fold_above = (part.leg + 1 < spine.legs() && (part.along[1] - span[1]).abs() < 1e-6).then_some(part.leg);
    let mut more = [false, false];
    let mut halves = Vec::new();
    let mut miters = Vec::new();
    let mut cut_off = None;
    for (end, fold, other) in [(0, fold_below, part.leg.wrapping_sub(1)), (1, fold_above, part.leg + 1)] {
        let Some(fold) = fold else { continue };
        let [below, above] = cut.around(span[end]);
        let within = || {
            (0..cut.line.steps.len())
                .find(|n| cut.places.along(*n)[0] < span[end] && span[end] < cut.places.along(*n)[1])
        };
        let Some(beside) = (if end == 0 { below } else { above }).or_else(within) else { continue };
        if cut.line.steps[beside].stack.contains(&piece) {
            more[end] = true;
            let half = spine.half_of(fold, end == 0);
            halves.push(half);
            let same = |slot: [f64; 2]| (0..2).all(|side| (slot[side] - part.out[side]).abs() < 1e-6);
            if cut.places.slot(piece, beside).is_some_and(same) {
                miters.push(half);
            }
            continue;
        }
        let depth = cut.depth(beside);
        let opens = spine.opens(fold);
        // Over a corner that lies open the lying part runs through, into one that closes the standing one does.
        let runs_through = match cut.line.axis {
            Axis::Up => spine.lies(part.leg) == opens,
            Axis::Along => end == 1,
        };
        if !inboard {
            if !opens {
                halves.push(spine.beyond(other, 0.0, true));
            }
            continue;
        }
        more[end] = true;
        if !opens && runs_through && depth < -1e-6 {
            cut_off = Some((other, depth));
        }
        halves.push(match (opens, runs_through) {
            (true, true) => spine.beyond(other, 0.0, false),
            (true, false) => spine.beyond(other, depth, false),
            (false, true) => spine.beyond(other, depth, true),
            (false, false) => spine.beyond(other, 0.0, true),
        });
    }
    let mut whole = spine.rectangle(part.leg, part.along, part.out, more);
    if let Some(fall) = fall(cut, piece, part).filter(|_| fold_above.is_none()) {
        whole[2] = spine.raw(part.leg, part.along[1] - fall, part.out[1]);
        // Bricks on edge are laid as steep as their top.
        if is_rowlock(cut, piece) {
            whole[0] = spine.raw(part.leg, part.along[0] + fall, part.out[0]);
        }
    }
    let corners = halves.into_iter().fold(whole, |left, side| clip::half(&left, side));
    Outline { corners, cut_off, miters }
}

/// By how much the top of a standing piece falls outward: a sill of stone is as steep as it is said to be.
pub(super) fn fall(cut: &Cut, piece: usize, part: &Part) -> Option<f64> {
    let said = &cut.subject.detail.pieces[piece];
    let rise = said.slope.filter(|_| cut.line.axis == Axis::Up && !cut.spine.lies(part.leg))?.value.si;
    let deep = part.out[1] - part.out[0];
    (!part.open[1] && rise.is_finite() && rise > 0.0).then(|| (deep * rise).min(0.8 * (part.along[1] - part.along[0])))
}

/// A hatch laid along a leg, within an outline.
pub fn hatched(spine: &Spine, leg: usize, polygon: &[Point], kind: Hatch) -> Vec<Shape> {
    let local: Vec<(f64, f64)> = polygon.iter().map(|p| spine.local(leg, *p)).collect();
    let fold =
        |pick: fn(&(f64, f64)) -> f64, best: fn(f64, f64) -> f64, first: f64| local.iter().map(pick).fold(first, best);
    let area = Area::new(
        fold(|p| p.0, f64::min, f64::MAX),
        fold(|p| p.1, f64::min, f64::MAX),
        fold(|p| p.0, f64::max, f64::MIN),
        fold(|p| p.1, f64::max, f64::MIN),
    );
    let whole = matches!(kind, Hatch::Concrete | Hatch::Gravel | Hatch::Eps);
    let placed = hatch(area, kind, Runs::Level).into_iter().map(|mut shape| {
        shape.each_place(&mut |p| *p = spine.raw(leg, p.x, p.y));
        shape
    });
    placed.filter_map(|shape| clip::shape(&shape, polygon, whole)).collect()
}

/// A stretch left out of the depth of a piece: a white band between two broken lines in its middle.
fn broken(cut: &Cut, part: &Part, polygon: &[Point]) -> Vec<Shape> {
    let spine = &cut.spine;
    let middle = (part.out[0] + part.out[1]) / 2.0;
    let along: Vec<f64> = polygon.iter().map(|p| spine.local(part.leg, *p).0).collect();
    let ends = [along.iter().copied().fold(f64::MAX, f64::min), along.iter().copied().fold(f64::MIN, f64::max)];
    let band = spine.rectangle(part.leg, ends, [middle - 1.0, middle + 1.0], [false, false]);
    let band = Shape::polygon(band, None, Some(Ink::White));
    let line = |out: f64| page::zigzag(spine.raw(part.leg, ends[0], out), spine.raw(part.leg, ends[1], out));
    let lines = Shape::lines(vec![line(middle - 1.0), line(middle + 1.0)], Pen::solid(BEYOND, Ink::Dark));
    [band, lines].into_iter().filter_map(|shape| clip::shape(&shape, polygon, false)).collect()
}

/// The cut outline without the ends that run off, and with a broken line where nobody said how thick the piece is.
fn rim(cut: &Cut, index: usize, part: &Part, outline: &Outline, kind: Hatch) -> Vec<Shape> {
    let spine = &cut.spine;
    let polygon = &outline.corners;
    let cut_off = cut.places.pieces[index].cut_off;
    let mut runs = Vec::new();
    let mut broken = Vec::new();
    for (n, p) in polygon.iter().enumerate() {
        let q = polygon[(n + 1) % polygon.len()];
        let (a, b) = (spine.local(part.leg, *p), spine.local(part.leg, q));
        let on = |along: f64| (a.0 - along).abs() < 1e-6 && (b.0 - along).abs() < 1e-6;
        let inner = (a.1 - part.out[0]).abs() < 1e-6 && (b.1 - part.out[0]).abs() < 1e-6;
        let joins = |half: &Half| [*p, q].iter().all(|at| half.depth(*at).abs() < 1e-6);
        let runs_off = part.open[0] && on(part.along[0]) || part.open[1] && on(part.along[1]);
        if runs_off || outline.miters.iter().any(joins) {
            continue;
        }
        let on_depth =
            |(leg, depth): (usize, f64)| [*p, q].iter().all(|at| (spine.local(leg, *at).1 - depth).abs() < 1e-6);
        let goes_on = outline.cut_off.is_some_and(on_depth);
        if cut_off && inner || goes_on {
            broken.push(page::zigzag(*p, q));
        } else {
            runs.push(vec![*p, q]);
        }
    }
    // A heavy outline on both sides would leave nothing of a slate.
    let pen = Pen::solid(if matches!(kind, Hatch::Air | Hatch::Slate) { BEYOND } else { CUT }, Ink::Black);
    let mut shapes = vec![Shape::lines(runs, pen)];
    if !broken.is_empty() {
        shapes.push(Shape::lines(broken, Pen::solid(BEYOND, Ink::Dark)));
    }
    shapes
}

/// Finished ground, outside.
pub fn ground(cut: &Cut) -> Vec<Shape> {
    if cut.line.axis != Axis::Up {
        return Vec::new();
    }
    let Some(grade) = cut.subject.detail.grade else { return bed(cut) };
    let at = cut.ruler.at_mm(grade.value.si * 1000.0);
    let leg = cut.spine.leg_from(at, -1.0);
    let out = cut.places.reach(cut.line.step_at(nanometres(grade.value)))[1];
    let width = [out, out + 26.0];
    let polygon = cut.spine.rectangle(leg, [at - EARTH, at], width, [false, false]);
    let mut shapes = hatched(&cut.spine, leg, &polygon, Hatch::Earth);
    let line = width.map(|out| cut.spine.raw(leg, at, out)).to_vec();
    shapes.push(Shape::line(line, Pen::solid(GRADE, Ink::Black)));
    vec![Shape::group(Role::Ground, "finished ground", shapes)]
}

/// What a ground cover lies on.
fn bed(cut: &Cut) -> Vec<Shape> {
    let ground = cut.subject.detail.joins.iter().any(|join| join.assembly.kind == AssemblyKind::Ground);
    let lies = |leg: &usize| {
        let steps = (0..cut.line.steps.len()).filter(|n| cut.spine.leg_from(cut.places.along(*n)[0], 1.0) == *leg);
        cut.spine.lies(*leg) && steps.into_iter().all(|n| cut.depth(n) > -1e-6)
    };
    let legs = (0..cut.spine.legs()).filter(lies).filter(|_| ground);
    let band = |leg: usize| {
        let polygon = cut.spine.rectangle(leg, cut.spine.span(leg), [-EARTH, 0.0], [false, false]);
        Shape::group(Role::Ground, "ground", hatched(&cut.spine, leg, &polygon, Hatch::Earth))
    };
    legs.map(band).collect()
}

/// The part of a piece in a step that is seen: it ends where another leg of the wall runs through.
pub fn shown(cut: &Cut, piece: usize, step: usize) -> [f64; 2] {
    let [mut low, mut high] = cut.real(piece, &(step..step + 1));
    let leg = cut.spine.leg_from((low + high) / 2.0, 1.0);
    let inboard = cut.places.slot(piece, step).is_some_and(|slot| slot[1] <= 1e-6);
    if !inboard || cut.line.axis != Axis::Up || cut.subject.detail.pieces[piece].inside && cut.places.pieces[piece].thin
    {
        return [low, high];
    }
    let end = cut.spine.span(leg);
    if leg + 1 < cut.spine.legs() && cut.spine.opens(leg) && !cut.spine.lies(leg) {
        let [_, above] = cut.around(end[1]);
        high = high.min(end[1] + above.map_or(0.0, |n| cut.depth(n))).max(low);
    }
    if leg > 0 && cut.spine.opens(leg - 1) && !cut.spine.lies(leg) {
        let [below, _] = cut.around(end[0]);
        low = low.max(end[0] - below.map_or(0.0, |n| cut.depth(n))).min(high);
    }
    [low, high]
}

/// Broken lines where a stretch is left out and where the detail is cut off.
pub fn breaks(cut: &Cut) -> Vec<Shape> {
    let thin = Pen::solid(LEADER, Ink::Dark);
    let last = cut.line.steps.len().saturating_sub(1);
    let reach_of = |step: usize| {
        let units = cut.line.steps[step].stack.iter().filter_map(|p| unit::reach(cut, *p, step));
        units.fold(cut.places.reach(step), |[low, high], unit| [low.min(unit[0]), high.max(unit[1])])
    };
    let across = |leg: usize, at: f64, reach: [f64; 2]| {
        page::zigzag(cut.spine.raw(leg, at, reach[0] - 2.0), cut.spine.raw(leg, at, reach[1] + 2.0))
    };
    let mut shapes = Vec::new();
    for (open, at, step) in [
        (cut.line.steps.first().is_some_and(|s| s.extent.low == OPEN_LOW && !s.stack.is_empty()), 0.0, 0),
        (
            cut.line.steps.last().is_some_and(|s| s.extent.high == OPEN_HIGH && !s.stack.is_empty()),
            cut.ruler.length(),
            last,
        ),
    ] {
        if open {
            let leg = cut.spine.leg_from(at, if step == 0 { 1.0 } else { -1.0 });
            shapes.push(Shape::lines(vec![across(leg, at, reach_of(step))], thin));
        }
    }
    for stretch in cut.ruler.breaks() {
        let middle = (stretch.paper[0] + stretch.paper[1]) / 2.0;
        let leg = cut.spine.leg_from(middle, 1.0);
        let step = (0..=last).find(|n| middle < cut.places.along(*n)[1]).unwrap_or(last);
        let reach = reach_of(step);
        let wide = [reach[0] - 2.0, reach[1] + 2.0];
        let gap = cut.spine.rectangle(leg, [middle - 1.0, middle + 1.0], wide, [false, false]);
        shapes.push(Shape::polygon(gap, None, Some(Ink::White)));
        let lines = vec![across(leg, middle - 1.0, reach), across(leg, middle + 1.0, reach)];
        shapes.push(Shape::lines(lines, thin));
    }
    vec![Shape::group(Role::Break, "cut off here", shapes)]
}
