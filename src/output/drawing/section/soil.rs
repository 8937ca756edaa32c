//! Walls that are framed end above the ground: where nobody stated how, they are broken off there and do not run on into the soil.

use crate::facts::face::OPEN_LOW;
use crate::model::{Axis, Control, MaterialKind};
use crate::output::drawing::section::cut::Cut;

/// How far above grade they are broken off, mm of paper.
const OFF: f64 = 5.0;

/// So much has to be left of what is broken off, mm of paper.
const LEAST: f64 = 4.0;

/// The place on the line at which its low end is broken off.
pub(super) fn broken_off(cut: &Cut) -> Option<f64> {
    let detail = cut.subject.detail;
    let grade = detail.grade.filter(|_| cut.line.axis == Axis::Up)?;
    let at = cut.ruler.at_mm(grade.value.si * 1000.0);
    let first = cut.line.steps.first().filter(|step| step.extent.low == OPEN_LOW)?;
    let kind = |piece: &usize| detail.pieces[*piece].material.kind;
    // What insulates a wall below grade stands in the ground as a wall of concrete does.
    let insulates = |piece: &usize| detail.pieces[*piece].material.holds.has(Control::Thermal);
    let in_ground = |piece: &usize| kind(piece) == Some(MaterialKind::Mass) || insulates(piece);
    let framed =
        |piece: &usize| matches!(kind(piece), Some(MaterialKind::Board | MaterialKind::Frame | MaterialKind::Cladding));
    let stands = !cut.spine.lies(cut.spine.leg_from(at, 1.0));
    let is_framed = first.stack.iter().any(framed) && !first.stack.iter().any(in_ground);
    let room = cut.places.along(0)[1] - at > OFF + LEAST;
    (is_framed && stands && room).then_some(at + OFF)
}
