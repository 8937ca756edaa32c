//! Where the drawing is cut off, and where a stretch is left out.

use crate::facts::face::{OPEN_HIGH, OPEN_LOW};
use crate::output::drawing::page;
use crate::output::drawing::paper::BEYOND;
use crate::output::drawing::scene::{Ink, Pen, Role, Shape};
use crate::output::drawing::section::cut::Cut;
use crate::output::drawing::section::unit;

/// How far a broken line goes on past what it cuts, mm of paper.
const PAST: f64 = 2.5;

/// Broken lines where a stretch is left out and where the detail is cut off.
pub fn breaks(cut: &Cut) -> Vec<Shape> {
    let thin = Pen::solid(BEYOND, Ink::Dark);
    let last = cut.line.steps.len().saturating_sub(1);
    let reach_of = |step: usize| {
        let units = cut.line.steps[step].stack.iter().filter_map(|p| unit::reach(cut, *p, step));
        units.fold(cut.places.reach(step), |[low, high], unit| [low.min(unit[0]), high.max(unit[1])])
    };
    let across = |leg: usize, at: f64, reach: [f64; 2]| {
        page::zigzag(cut.spine.raw(leg, at, reach[0] - PAST), cut.spine.raw(leg, at, reach[1] + PAST))
    };
    let low = cut.broken_off.unwrap_or(0.0);
    let mut shapes = Vec::new();
    // Nothing is cut off there where a piece has ended before.
    let drawn = |step: usize| cut.line.steps[step].stack.iter().any(|piece| cut.places.slot(*piece, step).is_some());
    for (open, at, step) in [
        (cut.line.steps.first().is_some_and(|s| s.extent.low == OPEN_LOW && !s.stack.is_empty()), low, 0),
        (
            cut.line.steps.last().is_some_and(|s| s.extent.high == OPEN_HIGH && !s.stack.is_empty()),
            cut.ruler.length(),
            last,
        ),
    ] {
        if open && drawn(step) {
            let leg = cut.spine.leg_from(at, if step == 0 { 1.0 } else { -1.0 });
            shapes.push(Shape::lines(vec![across(leg, at, reach_of(step))], thin));
        }
    }
    for stretch in cut.ruler.breaks() {
        let middle = (stretch.paper[0] + stretch.paper[1]) / 2.0;
        let leg = cut.spine.leg_from(middle, 1.0);
        let step = (0..=last).find(|n| middle < cut.places.along(*n)[1]).unwrap_or(last);
        let reach = reach_of(step);
        let wide = [reach[0] - PAST, reach[1] + PAST];
        let gap = cut.spine.rectangle(leg, [middle - 1.0, middle + 1.0], wide, [false, false]);
        shapes.push(Shape::polygon(gap, None, Some(Ink::White)));
        let lines = vec![across(leg, middle - 1.0, reach), across(leg, middle + 1.0, reach)];
        shapes.push(Shape::lines(lines, thin));
    }
    vec![Shape::group(Role::Break, "cut off here", shapes)]
}
