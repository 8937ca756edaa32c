//! What carries the membranes on a leg of the line where nobody states it, as the roof side of a parapet.

use crate::output::drawing::clip;
use crate::output::drawing::paper::BEYOND;
use crate::output::drawing::scene::{Dash, Ink, Pen, Point, Role, Shape};
use crate::output::drawing::section::cut::Cut;
use crate::output::drawing::section::solid;

/// So far inboard of the datum its body begins in any case, mm of paper.
const WITHIN: f64 = 0.6;

/// Fewer places than this, 1 mm from each other, only hang over an edge.
const LEAST: usize = 4;

/// A dashed line behind what comes over a fold onto a leg that has no body.
pub fn backing(cut: &Cut) -> Vec<Shape> {
    let legs = 0..cut.spine.legs();
    if legs.len() < 2 {
        return Vec::new();
    }
    let bodies: Vec<Vec<Point>> = cut.line.pieces().into_iter().flat_map(|piece| solid::outlines(cut, piece)).collect();
    let carried: Vec<usize> = legs.clone().filter(|leg| has_body(cut, *leg)).collect();
    let bare = |leg: usize| {
        let free = |along: &f64| {
            let at = cut.spine.raw(leg, *along, -WITHIN);
            !bodies.iter().any(|body| clip::holds(body, at))
        };
        let places: Vec<f64> = covered(cut, leg).into_iter().flat_map(every).collect();
        let bare: Vec<f64> = places.iter().copied().filter(free).collect();
        (bare.len() > LEAST).then_some(bare)
    };
    let line = |leg: usize| {
        let bare = bare(leg)?;
        let (low, high) = bare.iter().fold((f64::MAX, f64::MIN), |(l, h), at| (l.min(*at), h.max(*at)));
        let ends = [low, high].map(|along| cut.spine.raw(leg, along, 0.0)).to_vec();
        let pen = Pen::solid(BEYOND, Ink::Dark).dashed(Dash::Dashed);
        Some(Shape::group(Role::Covered, "support, not given", vec![Shape::line(ends, pen)]))
    };
    legs.filter(|leg| !carried.is_empty() && !carried.contains(leg)).filter_map(line).collect()
}

/// The steps of a leg, and from where to where each lies on it.
fn steps(cut: &Cut, leg: usize) -> impl Iterator<Item = (usize, [f64; 2])> {
    let span = cut.spine.span(leg);
    let within = move |n: usize| {
        let [low, high] = cut.places.along(n);
        let along = [low.max(span[0]), high.min(span[1])];
        (along[1] - along[0] > 1e-6).then_some((n, along))
    };
    (0..cut.line.steps.len()).filter_map(within)
}

/// Something on it is no membrane.
fn has_body(cut: &Cut, leg: usize) -> bool {
    let solid = |p: &usize, n: usize| !cut.places.pieces[*p].thin && cut.places.slot(*p, n).is_some();
    steps(cut, leg).any(|(n, _)| cut.line.steps[n].stack.iter().any(|p| solid(p, n)))
}

/// The stretches of a leg on which membranes lie.
fn covered(cut: &Cut, leg: usize) -> Vec<[f64; 2]> {
    let lies =
        |p: &usize, n: usize| cut.places.is_skin(*p) && cut.places.pieces[*p].thin && cut.places.slot(*p, n).is_some();
    let steps = steps(cut, leg).filter(|(n, _)| cut.line.steps[*n].stack.iter().any(|p| lies(p, *n)));
    steps.map(|(_, along)| along).collect()
}

/// Places along a stretch, 1 mm of paper from each other.
fn every([low, high]: [f64; 2]) -> impl Iterator<Item = f64> {
    let count = (high - low).ceil().max(1.0);
    (0..=count as usize).map(move |n| low + n as f64 / count * (high - low))
}
