//! What passes through a wall or a roof without a flange: a pipe.

use std::ops::Range;

use crate::model::{Axis, MaterialKind};
use crate::output::drawing::page;
use crate::output::drawing::paper::{BEYOND, CUT, FOLD};
use crate::output::drawing::scene::{Ink, Pen, Point, Role, Shape};
use crate::output::drawing::section::cut::Cut;
use crate::output::drawing::section::unit::{self, STANDS_OUT, THROUGH, beside, beyond, ends, face, free, is_box};

/// A pipe stands out through all that lies on the wall.
pub fn passes(cut: &Cut, index: usize) -> bool {
    let is_unit = cut.subject.detail.pieces[index].material.kind == Some(MaterialKind::Unit);
    is_unit && cut.line.intervals(index).iter().any(|interval| is_through(cut, index, interval))
}

/// The wall is on both of its sides, and nothing of it lies on that.
fn is_through(cut: &Cut, index: usize, interval: &Range<usize>) -> bool {
    let hole = free(cut, interval);
    let leg = |n: usize| cut.spine.leg_from(cut.places.along(n).iter().sum::<f64>() / 2.0, 1.0);
    // What joins a slab to a wall stands between two legs, and passes through neither.
    let on_one_leg = matches!(beside(cut, &hole), [Some(a), Some(b)] if leg(a) == leg(b));
    is_box(cut, index) && !hole.is_empty() && hole == *interval && on_one_leg
}

/// The body of what passes through, between two places along the face and from the inmost to the outmost distance. What leads air or
/// water is hollow and has an axis; a box and a block are solid.
pub fn body(cut: &Cut, index: usize, leg: usize, [low, high]: [f64; 2], [inner, outer]: [f64; 2]) -> Vec<Shape> {
    let block = |along: [f64; 2]| cut.spine.rectangle(leg, along, [inner, outer], [false, false]);
    let pen = Pen::solid(CUT, Ink::Black);
    if !is_hollow(cut, index) || high - low < 4.0 * WALL {
        return vec![Shape::polygon(block([low, high]), Some(pen), Some(Ink::Pale))];
    }
    let line = |along: f64, ends: [f64; 2]| ends.map(|out| cut.spine.raw(leg, along, out)).to_vec();
    let bore = [low + WALL, high - WALL].map(|along| line(along, [inner, outer])).to_vec();
    vec![
        Shape::polygon(block([low, high]), Some(pen), Some(Ink::White)),
        Shape::lines(bore, Pen::solid(BEYOND, Ink::Black)),
        Shape::line(line((low + high) / 2.0, [inner - AXIS, outer + AXIS]), FOLD),
    ]
}

/// How thick the wall of a pipe is drawn, and how far its axis stands out of it, mm of paper.
const WALL: f64 = 0.8;
const AXIS: f64 = 1.5;

/// Its words say that something is led through it.
fn is_hollow(cut: &Cut, index: usize) -> bool {
    LEADS.iter().any(|word| is_called(cut, index, word))
}

/// The word stands in one of the names of a piece.
fn is_called(cut: &Cut, index: usize, word: &str) -> bool {
    let of = &cut.subject.detail.pieces[index];
    let names = [Some(&*of.name), Some(&*of.material.name), of.material.title.as_deref()];
    names.into_iter().flatten().any(|name| name.to_lowercase().contains(word))
}

const LEADS: [&str; 9] = ["pipe", "duct", "hood", "vent", "sleeve", "flue", "conduit", "spout", "scupper"];

/// What passes through the membranes is drawn over them.
pub fn passing(cut: &Cut) -> Vec<Shape> {
    let unit = |index: &usize| cut.subject.detail.pieces[*index].material.kind == Some(MaterialKind::Unit);
    let piece = |index: usize| {
        let shapes = if passes(cut, index) { unit::draw(cut, index) } else { unit::bodies(cut, index) };
        (!shapes.is_empty())
            .then(|| Shape::group(Role::Piece(index), page::accessible_name(cut.subject, index), shapes))
    };
    cut.line.pieces().into_iter().filter(unit).filter_map(piece).collect()
}

/// A pipe through a roof is plumb, however steep the roof is. A drain ends in the roof.
pub fn stands_up(cut: &Cut, index: usize, interval: &Range<usize>) -> bool {
    let drain = is_called(cut, index, "drain") || cut.subject.detail.kind.to_lowercase().contains("drain");
    let middle = (cut.places.along(interval.start)[0] + cut.places.along(interval.end - 1)[1]) / 2.0;
    let leg = cut.spine.leg_from(middle, 1.0);
    let roof = cut.spine.lies(leg) && cut.spine.outward(leg).y < -0.1;
    cut.line.axis == Axis::Up && !drain && roof && is_through(cut, index, interval)
}

/// Such a pipe, from below the roof to above all that lies on it; it is cut off at both ends.
pub fn through_roof(cut: &Cut, index: usize, interval: &Range<usize>) -> Option<Vec<Shape>> {
    if !stands_up(cut, index, interval) {
        return None;
    }
    let (spine, face) = (&cut.spine, face(cut, index, interval));
    let along = ends(cut, interval);
    let leg = spine.leg_from((along[0] + along[1]) / 2.0, 1.0);
    let sides = along.map(|along| spine.raw(leg, along, face).x);
    let [left, right] = [sides[0].min(sides[1]), sides[0].max(sides[1])];
    let inner = beside(cut, interval).iter().flatten().map(|n| cut.depth(*n)).fold(face, f64::min) - THROUGH;
    let outer = beyond(cut, interval);
    let edge =
        |out: f64, pick: fn(f64, f64) -> f64| along.map(|along| spine.raw(leg, along, out).y).into_iter().reduce(pick);
    let (top, foot) = (edge(outer, f64::min)? - STANDS_OUT, edge(inner, f64::max)?);
    let at = |x: f64, y: f64| Point::new(x, y);
    let rectangle = vec![at(left, foot), at(left, top), at(right, top), at(right, foot)];
    let walls = vec![vec![at(left, foot), at(left, top)], vec![at(right, foot), at(right, top)]];
    let end = |y: f64| page::zigzag(at(left - 1.0, y), at(right + 1.0, y));
    let middle = (left + right) / 2.0;
    Some(vec![
        Shape::polygon(rectangle, None, Some(Ink::Pale)),
        Shape::lines(walls, Pen::solid(CUT, Ink::Black)),
        Shape::lines(vec![end(top), end(foot)], Pen::solid(BEYOND, Ink::Dark)),
        Shape::line(vec![at(middle, foot + 2.0), at(middle, top - 2.0)], FOLD),
    ])
}
