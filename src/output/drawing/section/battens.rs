//! Battens that nobody drew: what carries slates and tiles over a gap.
//!
//! Across the slope they are cut, along it one of them is seen. A gap that is deeper than a batten has counter battens too, which run
//! the other way.

use crate::model::Axis;
use crate::output::drawing::paper::BEYOND;
use crate::output::drawing::scene::{Dash, Ink, Pen, Role, Shape};
use crate::output::drawing::section::cut::Cut;

/// How wide a batten is, how far the next one lies, and the gap from which on there are counter battens below, mm of the building
/// (practice).
const WIDE: f64 = 50.0;
const EVERY: f64 = 330.0;
const COUNTER: f64 = 40.0;

/// They begin so far from the ends of what they carry, mm of paper.
const IN: f64 = 2.0;

/// Battens from `along[0]` to `along[1]`, between what carries them and what they carry.
pub(super) fn battens(cut: &Cut, along: [f64; 2], [low, high]: [f64; 2]) -> Shape {
    let leg = cut.spine.leg_from((along[0] + along[1]) / 2.0, 1.0);
    let pen = Pen::solid(BEYOND, Ink::Dark).dashed(Dash::Dashed);
    let counter = (high - low) * cut.scale >= COUNTER;
    let middle = if counter { (low + high) / 2.0 } else { low };
    let strip =
        |out: [f64; 2]| vec![Shape::polygon(cut.spine.rectangle(leg, along, out, [false, false]), Some(pen), None)];
    let cut_across = |out: [f64; 2]| {
        let block =
            |at: f64| Shape::crossed(cut.spine.rectangle(leg, [at, at + WIDE / cut.scale], out, [false, false]), pen);
        places(along, cut.scale).into_iter().flat_map(block).collect()
    };
    let up = cut.line.axis == Axis::Up;
    let mut shapes: Vec<Shape> = if up { cut_across([middle, high]) } else { strip([middle, high]) };
    if counter {
        shapes.extend(if up { strip([low, middle]) } else { cut_across([low, middle]) });
    }
    Shape::group(Role::Covered, "battens, not given", shapes)
}

/// Where battens begin that are cut: one near each end of what they carry, and others between them.
fn places([from, to]: [f64; 2], scale: f64) -> Vec<f64> {
    let wide = WIDE / scale;
    let room = to - from - wide - 2.0 * IN;
    if room < wide {
        return vec![(from + to - wide) / 2.0];
    }
    let spaces = (room * scale / EVERY).round().max(1.0);
    (0..=spaces as usize).map(|n| from + IN + room * n as f64 / spaces).collect()
}
