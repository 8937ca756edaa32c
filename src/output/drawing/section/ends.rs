//! How far a roof or a slab is drawn that runs off the detail: shorter than it is thick, it would look like a post.

use crate::facts::bend::{Bend, Leg};
use crate::facts::face::{Coordinate, OPEN_HIGH, OPEN_LOW};
use crate::facts::nanometres;
use crate::model::{AssemblyKind, Axis, Fold, FoldKind, MaterialKind};
use crate::output::drawing::section::line::{SectionLine, Step};
use crate::output::drawing::section::place::{depth, is_flat};
use crate::output::drawing::subject::Subject;

/// How much of its thickness is drawn of it, besides what every open end has.
const PART: f64 = 0.8;

/// No more than this, mm of the building: a longer stretch is broken out.
const MOST: f64 = 340.0;

/// The places to which the lying ends of a bent line are drawn at least.
pub fn ends(subject: &Subject, line: &SectionLine, bend: &Bend) -> Vec<Coordinate> {
    let [first, .., last] = &bend.legs[..] else { return Vec::new() };
    if line.axis != Axis::Up {
        return Vec::new();
    }
    let deep = |step: &Step| ((PART * thick(subject, step)).min(MOST) * 1e6) as Coordinate;
    let under = under_eave(subject, line, bend).into_iter().chain(top_of_parapet(subject, line, bend));
    let low = line.steps.first().filter(|step| step.extent.low == OPEN_LOW && lies(first));
    let high = line.steps.last().filter(|step| step.extent.high == OPEN_HIGH && lies(last));
    let low = low.map(|step| first.extent.high - deep(step));
    low.into_iter().chain(high.map(|step| last.extent.low + deep(step))).chain(under).collect()
}

/// Where what lies on a parapet and runs off the detail is cut off: it goes no farther than what carries it.
pub fn top_of_parapet(subject: &Subject, line: &SectionLine, bend: &Bend) -> Option<Coordinate> {
    let [.., wall, top] = &bend.legs[..] else { return None };
    let from = top.extent.low;
    let detail = subject.detail;
    let is_top =
        |fold: &Fold| matches!(fold.kind, FoldKind::Sill | FoldKind::OutsideCorner) && nanometres(fold.at) == from;
    let open = line.axis == Axis::Up && line.steps.last()?.extent.high == OPEN_HIGH;
    let parapet = &*detail.kind == "parapet" && !lies(wall) && lies(top) && detail.folds.iter().any(is_top);
    if !open || !parapet {
        return None;
    }
    let on_top = || line.steps.iter().filter(|step| step.extent.low >= from);
    let roof =
        |p: &usize| detail.pieces[*p].layer.is_some_and(|at| detail.joins[at.join].assembly.kind == AssemblyKind::Roof);
    let body = |p: &usize| carries(detail.pieces[*p].material.kind);
    if on_top().any(|step| step.stack.iter().any(roof)) {
        return None;
    }
    // A body on top that runs off the detail itself lies on the wall below it.
    let below = line.steps.iter().find(|step| step.extent.high == from)?;
    let known = below.stack.iter().filter(|p| body(p)).map(|p| depth(detail, &detail.pieces[*p])).sum::<Option<f64>>();
    let wall = from + (known.unwrap_or(0.0).min(MOST) * 1e6) as Coordinate;
    let laid =
        on_top().filter(|step| step.stack.iter().any(body)).map(|step| step.extent.high).filter(|at| *at != OPEN_HIGH);
    let end = laid.fold(wall, Coordinate::max);
    let stated = on_top().map(|step| step.extent.low).all(|at| at <= end);
    (end > from && stated).then_some(end)
}

/// What carries others: neither membrane nor cladding.
fn carries(kind: Option<MaterialKind>) -> bool {
    matches!(kind, Some(MaterialKind::Mass | MaterialKind::Board | MaterialKind::Frame))
}

/// A wall is drawn to below the roof that lies on it: there the roof is as deep as it is thick, and more the steeper it is.
fn under_eave(subject: &Subject, line: &SectionLine, bend: &Bend) -> Option<Coordinate> {
    let [wall, roof] = &bend.legs[..] else { return None };
    let slope = roof.heading.to_radians().cos().abs();
    let first = line.steps.first().filter(|step| step.extent.low == OPEN_LOW && !lies(wall) && lies(roof))?;
    let above = line.steps.iter().find(|step| step.extent.low == wall.extent.high)?;
    let stands = |p: &usize| {
        let piece = &subject.detail.pieces[*p];
        let of = piece.layer.map(|at| subject.detail.joins[at.join].assembly.kind);
        of == Some(AssemblyKind::Wall) && !is_flat(piece.material.kind)
    };
    let deep = thick(subject, above) / slope + BELOW;
    first.stack.iter().any(stands).then(|| wall.extent.high - (deep.min(FAR) * 1e6) as Coordinate)
}

/// What is drawn of a wall below its roof, and how far below its edge at most, mm of the building.
const BELOW: f64 = 60.0;
const FAR: f64 = 700.0;

/// The sum of what is solid in a step, mm of the building.
fn thick(subject: &Subject, step: &Step) -> f64 {
    let solid = step.stack.iter().map(|p| &subject.detail.pieces[*p]).filter(|p| !is_flat(p.material.kind));
    solid.filter_map(|piece| depth(subject.detail, piece)).sum()
}

fn lies(leg: &Leg) -> bool {
    leg.heading.to_radians().cos().abs() > 0.7072
}
