//! How far a roof or a slab is drawn that runs off the detail: shorter than it is thick, it would look like a post.

use crate::facts::bend::{Bend, Leg};
use crate::facts::face::{Coordinate, OPEN_HIGH, OPEN_LOW};
use crate::model::Axis;
use crate::output::drawing::section::line::{Line, Step};
use crate::output::drawing::section::place::{depth, is_flat};
use crate::output::drawing::subject::Subject;

/// How much of its thickness is drawn of it, besides what every open end has.
const PART: f64 = 0.8;

/// No more than this, mm of the building: a longer stretch is broken out.
const MOST: f64 = 340.0;

/// The places to which the lying ends of a bent line are drawn at least.
pub fn ends(subject: &Subject, line: &Line, bend: &Bend) -> Vec<Coordinate> {
    let [first, .., last] = &bend.legs[..] else { return Vec::new() };
    if line.axis != Axis::Up {
        return Vec::new();
    }
    let lies = |leg: &Leg| leg.heading.to_radians().cos().abs() > 0.7072;
    let deep = |step: &Step| {
        let solid = step.stack.iter().map(|p| &subject.detail.pieces[*p]).filter(|p| !is_flat(p.material.kind));
        let deep: f64 = solid.filter_map(|piece| depth(subject.detail, piece)).sum();
        ((PART * deep).min(MOST) * 1e6) as Coordinate
    };
    let low = line.steps.first().filter(|step| step.extent.low == OPEN_LOW && lies(first));
    let high = line.steps.last().filter(|step| step.extent.high == OPEN_HIGH && lies(last));
    let low = low.map(|step| first.extent.high - deep(step));
    low.into_iter().chain(high.map(|step| last.extent.low + deep(step))).collect()
}
