//! Beads of sealant, and where they lie.

use crate::facts::face::Coordinate;
use crate::facts::nanometres;
use crate::model::Seal;
use crate::output::drawing::joint::Joint;
use crate::output::drawing::page;
use crate::output::drawing::paper::BEYOND;
use crate::output::drawing::scene::{Area, Ink, Pen, Point, Role, Shape};
use crate::output::drawing::section::bearing;
use crate::output::drawing::section::contact::{contacts, edge_to_edge, ends, is_spread, strip};
use crate::output::drawing::section::cut::Cut;
use crate::output::drawing::section::place::is_angle;
use crate::quantity::Quantity;

/// Half the drawn thickness of a membrane, mm of paper.
const SKIN: f64 = 0.45;

/// Beads of sealant: cut across as disks, seen along their length as strips.
pub fn beads(cut: &Cut) -> Vec<Shape> {
    let (detail, line) = (cut.subject.detail, cut.line);
    let disk = |center: Point| Shape::Circle {
        center,
        radius: RADIUS,
        pen: Some(Pen::solid(BEYOND, Ink::Black)),
        fill: Some(Ink::Gray),
    };
    let mut shapes = Vec::new();
    for (index, seal) in detail.seals.iter().enumerate() {
        let (first, second) = (seal.first.index, seal.second.index);
        let words = page::seal_name(cut.subject, seal);
        let here = |joint: &&Joint| joint.seal == index && joint.axis == line.axis && joint.across.overlaps(line.at);
        let open: Vec<Shape> =
            cut.subject.joints.iter().filter(here).flat_map(|joint| filled(cut, seal, joint)).collect();
        if !open.is_empty() {
            shapes.push(Shape::group(Role::Bead, words, open));
            continue;
        }
        if let Some(mouth) = at_mouth(cut, seal) {
            shapes.push(Shape::group(Role::Bead, words, vec![disk(mouth)]));
            continue;
        }
        let (mut centers, mut strips): (Vec<Point>, Vec<Shape>) = (Vec::new(), Vec::new());
        match seal.at {
            Some((axis, at)) if axis == line.axis => centers.extend(placed(cut, first, second, at)),
            Some((_, at)) if !line.at.reaches(nanometres(at)) => {}
            Some(_) => strips.extend(contacts(cut, first, second).iter().map(|run| strip(cut, run))),
            None => {
                for run in contacts(cut, first, second) {
                    let ends = if is_spread(seal) { Vec::new() } else { ends(cut, &run) };
                    if ends.is_empty() {
                        strips.push(strip(cut, &run));
                    }
                    centers.extend(ends);
                }
                centers.extend(edge_to_edge(cut, first, second));
            }
        }
        let across =
            seal.at.filter(|(axis, _)| *axis == line.axis).and_then(|(_, at)| across(cut, [first, second], at));
        if let Some(bead) = across {
            shapes.push(Shape::group(Role::Bead, words, vec![bead]));
        } else if !centers.is_empty() || !strips.is_empty() {
            strips.extend(centers.into_iter().map(disk));
            shapes.push(Shape::group(Role::Bead, words, strips));
        }
    }
    shapes
}

/// Where the name of each bead that fills an open joint points.
pub fn names(cut: &Cut) -> Vec<(usize, Point)> {
    let mut names: Vec<(usize, Point)> = Vec::new();
    for joint in cut.subject.joints.iter().filter(|j| j.axis == cut.line.axis && j.across.overlaps(cut.line.at)) {
        let seal = &cut.subject.detail.seals[joint.seal];
        let bead = filled(cut, seal, joint).into_iter().next().and_then(|bead| Area::around(&[bead]));
        if let Some(bead) = bead.filter(|_| names.iter().all(|(named, _)| *named != joint.seal)) {
            names.push((joint.seal, bead.center()));
        }
    }
    names
}

/// A bead that nobody said the width of, mm of paper.
pub(super) const RADIUS: f64 = 0.8;

/// The least depth that a bead is drawn with, mm of paper.
const SHALLOW: f64 = 0.8;

/// What is tucked into a joint of the wall is sealed to the part above it where that joint opens, on its upper side.
fn at_mouth(cut: &Cut, seal: &Seal) -> Option<Point> {
    let pair = [seal.first.index, seal.second.index];
    let given = seal.at.map(|(axis, at)| (axis == cut.line.axis).then_some(nanometres(at)));
    let own = cut.places.tucked.iter().find(|own| {
        let other = if own.piece == pair[0] { pair[1] } else { pair[0] };
        let steps = &cut.line.steps[own.steps.clone()];
        let sealed = |at: Coordinate| steps.iter().any(|step| step.extent.reaches(at));
        pair.contains(&own.piece)
            && !cut.places.is_skin(other)
            && steps.iter().any(|step| step.stack.contains(&other))
            && given.is_none_or(|at| at.is_some_and(sealed))
    })?;
    let (leg, side) =
        if own.above { (cut.spine.leg_from(own.at, -1.0), 1.0) } else { (cut.spine.leg_from(own.at, 1.0), -1.0) };
    Some(cut.spine.raw(leg, own.at + side * (SKIN + RADIUS), -RADIUS / 2.0))
}

/// An open joint with its bead flush with the outer face of the shallower of its two sides, and the backer behind it.
fn filled(cut: &Cut, seal: &Seal, joint: &Joint) -> Vec<Shape> {
    let steps = 0..cut.line.steps.len();
    let side = |piece: usize, edge: Coordinate| {
        let at = |n: &usize| cut.line.steps[*n].stack.contains(&piece) && cut.line.steps[*n].extent.reaches(edge);
        let n = steps.clone().find(at)?;
        // The joint under an angle opens at the face of what that carries.
        let toe = cut.places.ledge.filter(|_| is_angle(&cut.subject.detail.pieces[piece])).map(|ledge| ledge.outer);
        Some([inner(cut, piece, n), toe.unwrap_or(0.0).max(outer(cut, piece, n))])
    };
    let [low, high] = joint.edges.map(|edge| cut.ruler.at(edge));
    let (Some(lower), Some(upper)) = (side(joint.pieces[0], joint.edges[0]), side(joint.pieces[1], joint.edges[1]))
    else {
        return Vec::new();
    };
    let pen = Some(Pen::solid(BEYOND, Ink::Black));
    if let Some(corner) = in_corner(cut, [low, high], [lower[1], upper[1]]) {
        return vec![Shape::polygon(corner, pen, Some(Ink::Gray))];
    }
    let (face, back) = (lower[1].min(upper[1]), lower[0].max(upper[0]));
    let stated = seal.depth.map_or((high - low) / 2.0, |depth| depth.si * 1000.0 / cut.scale);
    let depth = stated.max(SHALLOW).min((face - back).max(SHALLOW));
    let leg = cut.spine.leg_from((low + high) / 2.0, 1.0);
    let bead = cut.spine.rectangle(leg, [low, high], [face - depth, face], [false, false]);
    let mut shapes = vec![Shape::polygon(bead, pen, Some(Ink::Gray))];
    let radius = (high - low) / 2.0;
    if seal.backer.is_some() && radius > 0.2 && face - depth - 2.0 * radius >= back - 1e-9 {
        let center = cut.spine.raw(leg, (low + high) / 2.0, face - depth - radius);
        shapes.push(Shape::Circle { center, radius, pen, fill: Some(Ink::White) });
    }
    shapes
}

/// The bead between two coverings that meet in a corner of the line: as wide on either of them as it is stated.
fn in_corner(cut: &Cut, [low, high]: [f64; 2], outs: [f64; 2]) -> Option<Vec<Point>> {
    let legs = [cut.spine.leg_from(low, -1.0), cut.spine.leg_from(high, 1.0)];
    if legs[1] != legs[0] + 1 || cut.spine.opens(legs[0]) || outs.iter().any(|out| *out < 1e-6) {
        return None;
    }
    let (at, wide) = (cut.spine.corner(legs, outs), (high - low).max(SHALLOW));
    let [back, on] = [(legs[0], -wide), (legs[1], wide)].map(|(leg, by)| {
        let d = cut.spine.forward(leg);
        Point::new(at.x + by * d.x, at.y + by * d.y)
    });
    Some(vec![at, back, on])
}

/// The bead under a body, on the deck that it stands on.
fn at_foot(cut: &Cut, [first, second]: [usize; 2], n: usize) -> Option<Point> {
    let fold =
        (0..cut.spine.legs() - 1).find(|fold| (cut.places.along(n)[0] - cut.spine.span(*fold)[1]).abs() < 1e-6)?;
    let [below, above] = cut.around(cut.spine.span(fold)[1]);
    let foot = |piece: usize, other: usize, lying: usize, own: usize, legs: [usize; 2]| {
        let out =
            bearing::stands_on(cut, piece, [lying, own]).filter(|_| cut.line.steps[lying].stack.contains(&other))?;
        cut.places.slot(piece, own)?;
        Some(cut.spine.corner(legs, [out, outer(cut, piece, own) - RADIUS]))
    };
    let (below, above) = (below?, above?);
    let ways = [[first, second], [second, first]].into_iter();
    ways.flat_map(|[piece, other]| {
        [(piece, other, below, above, [fold, fold + 1]), (piece, other, above, below, [fold + 1, fold])]
    })
    .find_map(|(piece, other, lying, own, legs)| foot(piece, other, lying, own, legs))
}

/// A bead at a place: between two pieces that lie on each other there, in the joint of two that meet edge to edge.
fn placed(cut: &Cut, first: usize, second: usize, place: Quantity) -> Option<Point> {
    let at = nanometres(place);
    let along = cut.ruler.at_mm(place.si * 1000.0);
    let n = cut.line.step_at(at);
    let both = |n: usize| cut.places.slot(first, n).is_some() && cut.places.slot(second, n).is_some();
    let below = n.checked_sub(1).filter(|_| cut.line.steps[n].extent.low == at);
    if let Some(n) = std::iter::once(n).chain(below).find(|n| both(*n)) {
        // A piece that turns into an opening takes its bead along.
        let turned = |p: usize| !std::ptr::eq(cut.spine_of(p, &cut.interval(p, n)), &cut.spine);
        let piece = if turned(first) { first } else { second };
        return Some(cut.on(piece, n, along, facing(cut, first, second, n).min(outer(cut, piece, n) + SKIN)));
    }
    if let Some(foot) = at_foot(cut, [first, second], n) {
        return Some(foot);
    }
    let any = |piece: usize| cut.places.slot(piece, n).or_else(|| cut.places.slot(piece, n.checked_sub(1)?));
    any(first).and(any(second)).map(|[inner, outer]| cut.spine.at(along, (inner + outer) / 2.0))
}

/// A bead that closes the gap between two pieces that stand off each other.
fn across(cut: &Cut, pieces: [usize; 2], place: Quantity) -> Option<Shape> {
    let at = nanometres(place);
    let n = cut.line.step_at(at);
    let n = std::iter::once(n)
        .chain(n.checked_sub(1))
        .find(|n| pieces.iter().all(|p| cut.places.slot(*p, *n).is_some()))?;
    let [under, over] = if cut.places.middle(pieces[0], n) <= cut.places.middle(pieces[1], n) {
        pieces
    } else {
        [pieces[1], pieces[0]]
    };
    let out = [outer(cut, under, n), inner(cut, over, n)];
    let along = cut.ruler.at(at);
    let leg = cut.spine.leg_from(along, cut.places.along(n)[0] - along);
    let corners = cut.spine.rectangle(leg, [along - RADIUS, along + RADIUS], out, [false, false]);
    let wide = out[1] - out[0];
    let apart = wide > APART && wide < WIDE && wide * cut.scale < BRIDGED;
    apart.then(|| Shape::polygon(corners, Some(Pen::solid(BEYOND, Ink::Black)), Some(Ink::Gray)))
}

/// No bead closes a wider gap, mm of paper, and mm of the building.
const WIDE: f64 = 25.0;
const BRIDGED: f64 = 60.0;

/// The middle of the gap between two pieces of one step; on the inner one where they do not touch.
pub fn facing(cut: &Cut, a: usize, b: usize, step: usize) -> f64 {
    let (a, b) = if cut.places.middle(a, step) <= cut.places.middle(b, step) { (a, b) } else { (b, a) };
    let [under, over] = [outer(cut, a, step), inner(cut, b, step)];
    if over - under > APART { under + RADIUS } else { (under + over) / 2.0 }
}

/// Pieces farther from each other than this do not touch, however membranes are drawn apart, mm of paper.
const APART: f64 = 3.0;

pub fn outer(cut: &Cut, piece: usize, step: usize) -> f64 {
    match cut.places.slot(piece, step) {
        Some(_) if cut.places.pieces[piece].thin => cut.places.middle(piece, step) + SKIN,
        Some([_, outer]) => outer.max(cut.places.on_ledge(piece, step)),
        None => 0.0,
    }
}

pub fn inner(cut: &Cut, piece: usize, step: usize) -> f64 {
    match cut.places.slot(piece, step) {
        Some(_) if cut.places.pieces[piece].thin => cut.places.middle(piece, step) - SKIN,
        Some([inner, _]) => inner,
        None => 0.0,
    }
}
