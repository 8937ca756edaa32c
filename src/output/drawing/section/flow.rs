//! Where a drop runs on the pieces of a section.

use crate::facts::bend::falls_along;
use crate::facts::face::{Coordinate, Fall, StepKind};
use crate::output::drawing::clip::between;
use crate::output::drawing::scene::Point;
use crate::output::drawing::section::cut::Cut;
use crate::output::drawing::section::drops::AHEAD;
use crate::output::drawing::section::foot;
use crate::output::drawing::section::unit;
use crate::output::drawing::water::WaterPath;

/// The path over a piece from one height to another, up or down; in the open, or behind something.
pub(super) fn run(cut: &Cut, piece: usize, [from, to]: [Coordinate; 2], open: bool) -> Vec<Point> {
    let (low, high) = (from.min(to), from.max(to));
    let steps: Vec<usize> = (0..cut.line.steps.len())
        .filter(|n| cut.line.steps[*n].stack.contains(&piece))
        .filter(|n| cut.line.steps[*n].extent.low < high && low < cut.line.steps[*n].extent.high)
        .collect();
    let (Some(first), Some(last)) = (steps.first(), steps.last()) else { return Vec::new() };
    let mut line = match open {
        true => cut.places.face_line(piece, *first..last + 1, AHEAD),
        false => cut.places.hidden_line(piece, *first..last + 1, AHEAD),
    };
    // On a window it runs down the frame and the pane in one line.
    if let Some(([foot, top], out)) = unit::front(cut, piece, *first) {
        let (from, to) = (cut.places.along(*first)[0], cut.places.along(*last)[1]);
        // A frame that is set back stands on the edge of its opening.
        let from = if cut.interval(piece, *first).start == *first { from.min(foot) } else { from };
        line.retain(|p| p.0 < foot || p.0 > top);
        // Off its flange it steps out, not aslant.
        let flange = line.iter().rev().find(|p| p.0 < foot).map(|p| (foot, p.1));
        line.extend(flange);
        line.extend([(foot.max(from), out + AHEAD), (top.min(to), out + AHEAD)]);
        line.sort_by(|a, b| a.0.total_cmp(&b.0));
    }
    let mut points = cut.trace(piece, *first..last + 1, &line);
    if to < from {
        points.reverse();
    }
    points
}

/// From what hangs free a drop falls: it does not run back along the underside.
const FREE: f64 = 3.0;

/// Adds to the last run, or begins one where the path jumps to what stands farther in.
pub(super) fn flow(runs: &mut Vec<Vec<Point>>, points: Vec<Point>) {
    let Some(first) = points.first().copied() else { return };
    match runs.last_mut() {
        Some(run) if run.last().is_some_and(|l| (l.y - first.y).abs() > 0.5 || (l.x - first.x).abs() <= FREE) => {
            run.extend(points);
        }
        _ => runs.push(points),
    }
}

/// On the upper leg of what is tucked into a joint of the wall a drop runs out, and down from there.
pub(super) fn onto_tucked(cut: &Cut, piece: usize, from: Coordinate, runs: &mut [Vec<Point>], points: &[Point]) {
    let at = cut.ruler.at(from);
    let Some(own) = cut.places.tucked.iter().find(|own| own.piece == piece && (own.at - at).abs() < 1e-6) else {
        return;
    };
    let (Some(first), Some(last)) = (points.first(), runs.last_mut().and_then(|run| run.last_mut())) else { return };
    let (leg, over) =
        if own.above { (cut.spine.leg_from(at, -1.0), AHEAD) } else { (cut.spine.leg_from(at, 1.0), -AHEAD) };
    let [(along, inner), (_, outer)] = [cut.spine.local(leg, *last), cut.spine.local(leg, *first)];
    if (along - at).abs() > AHEAD || inner > outer {
        return;
    }
    *last = cut.spine.raw(leg, at + over, inner);
    let corner = cut.spine.raw(leg, at + over, outer);
    runs.last_mut().into_iter().for_each(|run| run.push(corner));
}

/// Rain that falls on a roof or a slab from a fold on begins before what stands there.
pub(super) fn from_foot(cut: &Cut, fall: &Fall, runs: &mut [Vec<Point>]) {
    let start = fall.trail.first().filter(|step| step.kind == StepKind::StartsOn).map(|step| cut.ruler.at(step.up));
    let at_start = |fold: &usize| start.is_some_and(|at| (at - cut.spine.span(*fold)[1]).abs() < 1e-6);
    let fold = (0..cut.spine.legs() - 1).find(at_start).filter(|fold| !cut.spine.opens(*fold) && cut.spine.lies(*fold));
    let (Some(fold), Some(run)) = (fold, runs.first_mut()) else { return };
    let [at, from] = [cut.spine.span(fold)[1], cut.spine.span(fold)[0]];
    let before = foot::of(cut, fold, 1).map_or(0.0, |foot| foot.out);
    let stands = cut.around(at)[1].map_or(0.0, |n| cut.places.reach(n)[1]) - before;
    for point in run.iter_mut() {
        let (along, out) = cut.spine.local(fold, *point);
        if along > at - stands && at - stands > from {
            *point = cut.spine.raw(fold, at - stands, out);
        }
    }
    run.dedup_by(|p, q| (p.x - q.x).hypot(p.y - q.y) < 1e-9);
}

/// The face leads every drop down its unfolded height. On a top that falls back to the roof, or beyond a ridge, that path would climb:
/// there the drop runs from the crest to the other side.
pub(super) fn from_crest(cut: &Cut, runs: &mut Vec<Vec<Point>>) {
    let legs = 0..cut.spine.legs();
    if legs.into_iter().all(|leg| cut.spine.forward(leg).y < FALLS) {
        return;
    }
    let Some(first) = runs.first() else { return };
    let crest = (0..first.len()).min_by(|a, b| first[*a].y.total_cmp(&first[*b].y)).unwrap_or(0);
    if first.first().is_none_or(|start| start.y < first[crest].y + CLIMB) {
        return;
    }
    let mut back = runs.remove(0);
    let on = back.split_off(crest);
    back.push(on[0]);
    back.reverse();
    runs.insert(0, on);
    runs.insert(0, back);
    runs.retain(|run| run.len() > 1);
}

/// At a side wall the roof falls along the wall: water leaves the section where it comes to the roof.
pub(super) fn end_at_side_wall(cut: &Cut, runs: &mut Vec<Vec<Point>>) {
    if !falls_along(cut.subject.detail) || !cut.spine.lies(0) {
        return;
    }
    let on_roof = |pair: &[Point]| {
        let long = pair[1].x - pair[0].x;
        long > LEAVES && (pair[1].y - pair[0].y).abs() < 0.2 * long
    };
    let near = |point: &Point| cut.spine.local(0, *point).1 < ON_ROOF;
    let mut ended = false;
    runs.retain_mut(|run| {
        if std::mem::replace(&mut ended, true) {
            return false;
        }
        match run.windows(2).position(|pair| on_roof(pair) && near(&pair[0])) {
            Some(0) => return false,
            Some(n) => {
                run[n + 1] = between(run[n], run[n + 1], LEAVES / (run[n + 1].x - run[n].x));
                run.truncate(n + 2);
            }
            None => ended = false,
        }
        true
    });
}

/// So near to the deck something lies on the roof, and so much is drawn of the water there, mm of paper.
const ON_ROOF: f64 = 25.0;
const LEAVES: f64 = 5.0;

/// How much of its length a leg falls up the line, to be no level one.
const FALLS: f64 = 0.005;

/// What is no climb but the thickness of things, mm of paper.
const CLIMB: f64 = 0.3;

/// Below grade the ground takes over.
pub(super) fn stop_at_grade(cut: &Cut, path: &mut WaterPath) {
    let Some(grade) = cut.subject.detail.grade else { return };
    let y = cut.spine.at(cut.ruler.at_mm(grade.value.si * 1000.0), 0.0).y;
    path.clean.retain(|run| run.first().is_none_or(|first| first.y < y - 1e-6));
    path.clean.iter_mut().chain([&mut path.wrong]).for_each(|run| {
        let Some(n) = run.windows(2).position(|pair| pair[0].y < y - 1e-9 && pair[1].y >= y - 1e-9) else { return };
        let (a, b) = (run[n], run[n + 1]);
        run.truncate(n + 1);
        run.push(between(a, b, ((y - 1.2 - a.y) / (b.y - a.y)).max(0.0)));
    });
}

pub(super) fn place(cut: &Cut, piece: usize, up: Coordinate) -> Option<Point> {
    let n = step_with(cut, piece, up)?;
    let along = cut.ruler.at(up).clamp(cut.places.along(n)[0], cut.places.along(n)[1]);
    Some(cut.on(piece, n, along, cut.places.surface(piece, n) + AHEAD))
}

pub(super) fn inward(cut: &Cut, piece: usize, up: Coordinate) -> Option<Point> {
    let n = step_with(cut, piece, up)?;
    let spine = cut.spine_of(piece, &cut.interval(piece, n));
    let out = spine.outward(spine.leg_from(cut.ruler.at(up), -1.0));
    let down = spine.forward(spine.leg_from(cut.ruler.at(up), -1.0));
    let d = Point::new(-out.x - 0.6 * down.x, -out.y - 0.6 * down.y);
    let length = (d.x * d.x + d.y * d.y).sqrt();
    Some(Point::new(d.x / length, d.y / length))
}

pub(super) fn step_with(cut: &Cut, piece: usize, up: Coordinate) -> Option<usize> {
    let has = |n: &usize| cut.line.steps[*n].stack.contains(&piece) && cut.line.steps[*n].extent.reaches(up);
    (0..cut.line.steps.len()).find(has)
}
