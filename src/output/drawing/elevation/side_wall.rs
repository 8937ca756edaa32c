//! Water on a roof that falls along its wall.

use crate::facts::bend::falls_along;
use crate::facts::nanometres;
use crate::model::{Axis, FoldKind, Piece};
use crate::output::drawing::elevation::Plane;
use crate::output::drawing::scene::Point;
use crate::output::drawing::subject::Subject;

/// On the roof it does not run on away from the wall but along it, to the side of the kick-out; without one nobody says to which side, and
/// it ends where it comes to the roof.
pub(super) fn turn_along(subject: &Subject, plane: &Plane, run: &mut Vec<Point>) {
    let detail = subject.detail;
    let base = |fold: &&crate::model::Fold| fold.axis == Axis::Up && fold.kind == FoldKind::Base;
    let Some(fold) = detail.folds.iter().find(base).filter(|_| falls_along(detail)) else { return };
    let y = plane.y(nanometres(fold.at));
    let Some(first) = run.first().copied().filter(|_| run.iter().any(|point| point.y > y + 1e-9)) else { return };
    run.retain(|point| point.y <= y + 1e-9);
    let whole = plane.whole();
    let Some(side) = low_side(&detail.pieces) else {
        // What begins on the roof is not shown.
        run.extend((!run.is_empty()).then_some(Point::new(first.x, y)));
        return;
    };
    let on_roof = (y + BELOW).min(whole.bottom).max(first.y);
    let end = (first.x + side * LONG).clamp(whole.left + 2.0, whole.right - 2.0);
    run.extend([Point::new(first.x, on_roof), Point::new(end, on_roof)]);
}

/// How far below the fold it turns, and how far it is drawn, mm of paper.
const BELOW: f64 = 3.0;
const LONG: f64 = 22.0;

/// On which side the roof ends: at its kick-out, beside the flashing that steps up from there.
fn low_side(pieces: &[Piece]) -> Option<f64> {
    let of = |role: &str| pieces.iter().filter(move |piece| piece.role.as_deref() == Some(role)).collect::<Vec<_>>();
    let (kicks, steps) = (of("kick-out"), of("step-flashing"));
    let low = |pieces: &[&Piece]| {
        pieces.iter().map(|p| p.along.low.map_or(f64::NEG_INFINITY, |at| at.si)).fold(f64::MAX, f64::min)
    };
    let left = !kicks.is_empty() && (steps.is_empty() || low(&kicks) < low(&steps));
    (!kicks.is_empty()).then_some(if left { -1.0 } else { 1.0 })
}
