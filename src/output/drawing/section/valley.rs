//! The laps of roofing over the metal of an open valley.

use crate::model::Axis;
use crate::output::drawing::dimension::Dimension;
use crate::output::drawing::scene::Point;
use crate::output::drawing::section::cut::Cut;
use crate::output::drawing::section::line::Step;
use crate::output::drawing::valley;

/// The line is cut across an open valley.
pub(super) fn is_open(cut: &Cut) -> bool {
    cut.line.axis == Axis::Along && valley::open(cut.subject.detail).is_some()
}

/// How far the roofing on either side of an open valley laps over its metal.
pub(super) fn over_metal(cut: &Cut) -> Vec<Dimension> {
    let Some(valley) = valley::open(cut.subject.detail).filter(|_| cut.line.axis == Axis::Along) else {
        return Vec::new();
    };
    let side = |right: usize| {
        let (piece, edge) = valley.roofing[right]?;
        let steps = &cut.line.steps;
        let over = |s: &&Step| if right == 0 { s.extent.high == edge } else { s.extent.low == edge };
        let step = steps.iter().position(|s| over(&s) && s.stack.contains(&piece))?;
        let [low, high] = cut.places.along(step);
        let leg = cut.spine.leg_from((low + high) / 2.0, 1.0);
        let out = cut.places.surface(piece, step);
        let ends = [edge, valley.metal[right]].map(|at| cut.spine.raw(leg, cut.ruler.at(at), out));
        let words = cut.subject.plain((edge - valley.metal[right]).abs() as f64 * 1e-6);
        Some(Dimension { ends, side: cut.spine.outward(leg), words, failing: None })
    };
    [0, 1].into_iter().filter_map(side).collect()
}

/// Two dimensions of one length at one place.
pub(super) fn is_same(a: &Dimension, b: &Dimension) -> bool {
    let near = |p: &Point, q: &Point| (p.x - q.x).hypot(p.y - q.y) < 3.0;
    let [[p, q], [r, s]] = [&a.ends, &b.ends];
    near(p, r) && near(q, s) || near(p, s) && near(q, r)
}
