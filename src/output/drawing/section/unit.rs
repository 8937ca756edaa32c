//! What fills an opening: its flange on the wall, its frame and its pane in the opening.

use std::ops::Range;

use crate::facts::face::{OPEN_HIGH, OPEN_LOW};
use crate::model::{AssemblyKind, Axis, MaterialKind};
use crate::output::drawing::paper::{BEYOND, CUT, MEMBRANE, SPREAD};
use crate::output::drawing::scene::{Ink, Pen, Shape};
use crate::output::drawing::section::bed::LIP;
use crate::output::drawing::section::cut::Cut;
use crate::output::drawing::section::frame::{depth, profile, sealed};
use crate::output::drawing::section::opening::Opening;
use crate::output::drawing::section::pipe;

/// How far what passes through a wall stands out of it inside.
pub(super) const THROUGH: f64 = 3.0;

/// How far what has no flange stands out of everything on the wall.
pub(super) const STANDS_OUT: f64 = 8.0;

/// Free space between a frame and what lies on the edge of the opening.
const SHIM: f64 = 1.2;

pub fn draw(cut: &Cut, index: usize) -> Vec<Shape> {
    let mut shapes = Vec::new();
    for interval in cut.line.intervals(index) {
        let hole = free(cut, &interval);
        if hole.is_empty() {
            shapes.push(flange(cut, index, interval));
            continue;
        }
        if let Some(plumb) = pipe::through_roof(cut, index, &interval) {
            shapes.extend(plumb);
            continue;
        }
        let (first, last, face) = (hole.start, hole.end - 1, face(cut, index, &hole));
        let [wide, _, pane_in] = profile(cut);
        let deep = depth(cut, &hole, face);
        let [foot, top] = ends(cut, &hole);
        // It has a rail wherever it ends, and nothing where the drawing is cut off.
        let steps = &cut.line.steps;
        let walls = [steps[first].extent.low != OPEN_LOW, steps[last].extent.high != OPEN_HIGH];
        let leg = cut.spine.leg_from((foot + top) / 2.0, 1.0);
        let block = |along: [f64; 2], out: [f64; 2]| cut.spine.rectangle(leg, along, out, [false, false]);
        let pen = Some(Pen::solid(CUT, Ink::Black));
        if is_box(cut, index) {
            if stands_out(cut, index, &interval) {
                let flanges =
                    [interval.start..first, last + 1..interval.end].into_iter().filter(|part| !part.is_empty());
                shapes.extend(flanges.map(|part| flange(cut, index, part)));
                continue;
            }
            let out = if hole == interval { beyond(cut, &hole).max(face) } else { face };
            let inner = inner(cut, &hole, leg, face);
            shapes.extend(pipe::body(cut, index, leg, [foot, top], [inner, out]));
        } else {
            let rail = wide.min((top - foot) / 3.0).max(sealed(cut)[0].min((top - foot) / 1.4));
            let pane = [foot + if walls[0] { rail } else { 0.0 }, top - if walls[1] { rail } else { 0.0 }];
            let middle = face - pane_in;
            for out in [middle - 0.7, middle + 0.3] {
                let glass = block(pane, [out, out + 0.4]);
                shapes.push(Shape::polygon(glass, Some(Pen::solid(BEYOND, Ink::Black)), Some(Ink::White)));
            }
            let rails = [[foot, foot + rail], [top - rail, top]];
            for (along, _) in rails.into_iter().zip(walls).filter(|(_, is)| *is) {
                shapes.push(Shape::polygon(block(along, [face - deep, face]), pen, Some(Ink::White)));
                let inner = block([along[0] + 1.2, along[1] - 1.2], [face - deep + 1.2, face - 1.2]);
                shapes.push(Shape::polygon(inner, Some(Pen::solid(BEYOND, Ink::Black)), Some(Ink::Pale)));
            }
        }
        for (part, step, edge, to) in [
            (interval.start..first, first.wrapping_sub(1), cut.places.along(first)[0], foot),
            (last + 1..interval.end, last + 1, cut.places.along(last)[1], top),
        ] {
            if part.is_empty() {
                continue;
            }
            // The flange is a part of the frame.
            let out = cut.places.surface(index, step) - SPREAD / 2.0;
            let fin =
                [(edge, out), (edge, face), (to, face)].map(|(along, out)| cut.spine.raw(leg, along, out)).to_vec();
            shapes.extend([flange(cut, index, part), Shape::line(fin, Pen::solid(MEMBRANE, Ink::Black))]);
        }
    }
    shapes
}

/// What is without an opening is no window: it passes through the wall, as a hood or a duct does. A window or a door keeps its frame where
/// the line of the wall does not turn into its opening, as behind a buck; what lies on a curb has no pane that is upright.
pub(super) fn is_box(cut: &Cut, index: usize) -> bool {
    let detail = cut.subject.detail;
    let kind = detail.pieces[index].layer.map(|at| detail.joins[at.join].assembly.kind);
    let upright = !matches!(&*detail.kind, "curb" | "penetration" | "drain");
    cut.openings.iter().all(|o| o.only.is_some()) && !(upright && kind == Some(AssemblyKind::Opening))
}

/// A hood, a box or a block with a flange stands out of its wall, and water runs around it.
fn stands_out(cut: &Cut, index: usize, interval: &Range<usize>) -> bool {
    let hole = free(cut, interval);
    let leg = |n: usize| cut.spine.leg_from(cut.places.along(n).iter().sum::<f64>() / 2.0, 1.0);
    let in_wall = matches!(beside(cut, &hole), [Some(a), Some(b)] if leg(a) == leg(b) && !cut.spine.lies(leg(a)));
    let of_layer = cut.subject.detail.pieces[index].layer.is_some();
    cut.line.axis == Axis::Up && is_box(cut, index) && !of_layer && !hole.is_empty() && hole != *interval && in_wall
}

/// The bodies of such a unit, from within the wall to beyond all that lies on it.
pub(super) fn bodies(cut: &Cut, index: usize) -> Vec<Shape> {
    let body = |interval: Range<usize>| {
        let (hole, along) = (free(cut, &interval), ends(cut, &free(cut, &interval)));
        let (leg, face) = (cut.spine.leg_from((along[0] + along[1]) / 2.0, 1.0), face(cut, index, &hole));
        pipe::body(cut, index, leg, along, [inner(cut, &hole, leg, face), beyond(cut, &hole).max(face)])
    };
    cut.line.intervals(index).into_iter().filter(|interval| stands_out(cut, index, interval)).flat_map(body).collect()
}

/// The steps of the wall on either side of a hole, beyond the joint around what fills it.
pub(super) fn beside(cut: &Cut, hole: &Range<usize>) -> [Option<usize>; 2] {
    let joint = |n: &usize| cut.line.steps[*n].extent.length().is_some_and(|length| length <= LIP);
    let below = (0..hole.start).rev().find(|n| cut.walls[*n] || !joint(n));
    let above = (hole.end..cut.line.steps.len()).find(|n| cut.walls[*n] || !joint(n));
    [below, above].map(|n| n.filter(|n| cut.walls[*n]))
}

/// How far inside what passes through ends: beyond a wall that is on both of its sides.
fn inner(cut: &Cut, hole: &Range<usize>, leg: usize, face: f64) -> f64 {
    let same_leg = |n: &usize| {
        let [low, high] = cut.places.along(*n);
        cut.spine.leg_from((low + high) / 2.0, 1.0) == leg
    };
    let [_, deep, _] = profile(cut);
    match beside(cut, hole) {
        [Some(a), Some(b)] if same_leg(&a) && same_leg(&b) => {
            (face - deep).min(cut.depth(a).min(cut.depth(b)) - THROUGH)
        }
        _ => face - deep,
    }
}

/// How far outside what passes through without a flange ends: beyond the boot that is slipped over it, and all that lies beside it.
pub(super) fn beyond(cut: &Cut, hole: &Range<usize>) -> f64 {
    let around = hole.start.saturating_sub(1)..(hole.end + 1).min(cut.line.steps.len());
    around.map(|n| cut.places.reach(n)[1]).fold(0.0, f64::max) + STANDS_OUT
}

/// A place on a unit in a step, on its frame or its pane; nothing where it is none, or lies on the wall.
pub fn spot(cut: &Cut, index: usize, step: usize, along: f64) -> Option<(f64, f64)> {
    let is_unit = cut.subject.detail.pieces[index].material.kind == Some(MaterialKind::Unit);
    let hole = free(cut, &cut.interval(index, step));
    if !is_unit || !hole.contains(&step) {
        return None;
    }
    let [foot, top] = ends(cut, &hole);
    if pipe::stands_up(cut, index, &cut.interval(index, step)) {
        return Some(((foot + top) / 2.0, face(cut, index, &hole)));
    }
    Some((along.clamp(foot, top.max(foot)), face(cut, index, &hole) - profile(cut)[2] - 0.5))
}

/// Where a unit stands free in its opening: from its foot to its top, and its outer face.
pub fn front(cut: &Cut, index: usize, step: usize) -> Option<([f64; 2], f64)> {
    let is_unit = cut.subject.detail.pieces[index].material.kind == Some(MaterialKind::Unit);
    let hole = free(cut, &cut.interval(index, step));
    (is_unit && !hole.is_empty()).then(|| (edges(cut, &hole), face(cut, index, &hole)))
}

/// The inmost and outmost distance of what fills an opening in a step.
pub fn reach(cut: &Cut, index: usize, step: usize) -> Option<[f64; 2]> {
    let hole = free(cut, &cut.interval(index, step));
    front(cut, index, step).map(|(_, face)| [face - depth(cut, &hole, face), face])
}

/// Where the frame begins and ends: off what lines the edges of the hole.
pub(super) fn ends(cut: &Cut, hole: &Range<usize>) -> [f64; 2] {
    let edge = |above: bool, step: usize| {
        cut.openings.iter().find(|o| o.only.is_none() && o.above == above && o.steps.contains(&step))
    };
    let room = |o: &Opening| SHIM + SPREAD * lining(cut, o) as f64 + o.rise * profile(cut)[1];
    let [low, high] = edges(cut, hole);
    let foot = edge(true, hole.start).map_or(low, |o| low.max(o.at + room(o)));
    let top = edge(false, hole.end - 1).map_or(high, |o| high.min(o.at - room(o)));
    [foot, top]
}

/// The edges between which a frame stands.
fn edges(cut: &Cut, hole: &Range<usize>) -> [f64; 2] {
    let plain = [cut.places.along(hole.start)[0], cut.places.along(hole.end - 1)[1]];
    let back = set_back(cut, hole);
    [0, 1].map(|end| if back[end][0] > 0.0 { back[end][1] } else { plain[end] })
}

/// A frame that begins farther in the opening than a joint is wide stands back from the face: lengths on the edge run into the
/// opening. By how much at its lower and its upper end, and the edge there; nothing where it stands flush.
fn set_back(cut: &Cut, hole: &Range<usize>) -> [[f64; 2]; 2] {
    let joint = LIP as f64 * 1e-6 / cut.scale;
    let (low, high) = (cut.places.along(hole.start)[0], cut.places.along(hole.end - 1)[1]);
    let edge = |above: bool, step: usize, by: &dyn Fn(f64) -> f64| {
        let edges = cut.openings.iter().filter(|o| o.only.is_none() && o.above == above && o.steps.contains(&step));
        edges.map(|o| [by(o.at), o.at]).find(|[by, _]| *by > joint + 1e-6).unwrap_or([0.0; 2])
    };
    [edge(true, hole.start, &|at| low - at), edge(false, hole.end - 1, &|at| at - high)]
}

/// The steps of a unit in which it fills a hole of the wall.
pub(super) fn free(cut: &Cut, interval: &Range<usize>) -> Range<usize> {
    let mut steps = interval.clone().filter(|n| !cut.walls[*n]);
    steps.next().map_or(0..0, |first| first..steps.next_back().unwrap_or(first) + 1)
}

/// The outer face of a frame, as its flange lies in the middle of the hole.
pub(super) fn face(cut: &Cut, index: usize, free: &Range<usize>) -> f64 {
    let back = set_back(cut, free).iter().map(|end| end[0]).fold(0.0, f64::max);
    // Set back, it is measured from the wall and not from what lies on that.
    if back > 0.0 { -back } else { cut.places.surface(index, (free.start + free.end - 1) / 2) - SPREAD / 2.0 + 0.4 }
}

/// How many membranes turn into the opening at this edge.
pub(super) fn lining(cut: &Cut, opening: &Opening) -> usize {
    let pieces = cut.line.pieces().into_iter().flat_map(|p| cut.line.intervals(p).into_iter().map(move |i| (p, i)));
    pieces.filter(|(p, i)| opening.takes(cut.subject, cut.line, &cut.places, *p, i)).count()
}

/// The part of a unit that lies on the wall.
fn flange(cut: &Cut, index: usize, interval: Range<usize>) -> Shape {
    let line = cut.places.face_line(index, interval.clone(), -SPREAD / 2.0);
    let traced = cut.spine.trace(&line);
    Shape::line(traced, Pen::solid(MEMBRANE, Ink::Black))
}
