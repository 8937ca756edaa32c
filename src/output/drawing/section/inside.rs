//! Where the membranes of the inner face lie.

use crate::output::drawing::scene::Point;
use crate::output::drawing::section::cut::Cut;
use crate::output::drawing::section::old_wall;

/// A place on such a membrane.
pub(super) fn place(cut: &Cut, piece: usize, step: usize, along: f64, out: f64) -> Point {
    let on_leg = || {
        let [low, high] = cut.places.along(step);
        let leg = cut.spine.leg_from(along, (low + high) / 2.0 - along);
        cut.spine.inside(leg, along, corner(cut, piece, step, leg, along), out)
    };
    old_wall::place(cut, piece, along).unwrap_or_else(on_leg)
}

/// Its line on paper.
pub(super) fn trace(cut: &Cut, piece: usize, step: usize, line: &[(f64, f64)]) -> Vec<Point> {
    let on_legs = || cut.spine.trace_inside(line, &|leg, along| corner(cut, piece, step, leg, along));
    old_wall::trace(cut, piece, line).unwrap_or_else(on_legs)
}

/// Lengths of the inner face count from its own corner, which lies off the fold of the outer face by so much along a leg. What begins and
/// ends within a leg has its heights as everything on it has.
fn corner(cut: &Cut, piece: usize, step: usize, leg: usize, along: f64) -> f64 {
    let [from, to] = cut.spine.span(leg);
    let [low, high] = cut.real(piece, &cut.interval(piece, step));
    if from < low - 1e-6 && high < to - 1e-6 {
        return 0.0;
    }
    let below = leg > 0 && (leg + 1 == cut.spine.legs() || along - from < to - along);
    let fold = if below { leg - 1 } else { leg };
    if fold + 1 >= cut.spine.legs() {
        return 0.0;
    }
    let [lower, upper] = cut.around(cut.spine.span(fold)[1]).map(|n| n.map_or(0.0, |n| cut.depth(n)));
    cut.spine.corner_off(fold, leg, [lower, upper])
}
