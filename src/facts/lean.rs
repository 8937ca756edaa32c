//! The slopes of the tops of walls and of the two sides of a ridge.

use crate::facts::bend::{self, Bend, LEVEL};
use crate::facts::{DetailFacts, nanometres};
use crate::model::{AssemblyKind, Axis, FoldKind};

/// Gives the top of a wall the slope that is stated for the piece on it, and lets a roof fall to both sides of its ridge.
pub fn lean(facts: &DetailFacts, bend: &mut Bend) {
    let detail = &facts.detail;
    let roofs = detail.joins.iter().all(|join| join.assembly.kind == AssemblyKind::Roof);
    let ridge = matches!(&detail.folds[..], [fold] if fold.axis == Axis::Up && fold.kind == FoldKind::OutsideCorner);
    if let ([low, high], true) = (&mut bend.legs[..], roofs && ridge && detail.slopes.is_empty()) {
        let rise = |up| facts.slopes.at(up, None).filter(|slope| slope.si.is_finite());
        let said = [rise(low.extent.inside()), rise(high.extent.inside())];
        if let [Some(below), Some(above)] = said.map(|slope| slope.map(|slope| slope.si.atan().to_degrees())) {
            low.heading = LEVEL - below;
            high.heading = LEVEL + above;
        }
        return;
    }
    for fold in detail.folds.iter().filter(|fold| matches!(fold.kind, FoldKind::Sill | FoldKind::OutsideCorner)) {
        let Some(leg) = bend.legs.iter_mut().find(|leg| leg.extent.low == nanometres(fold.at)) else { continue };
        let stated = detail.slopes.iter().any(|slope| {
            let [low, high] = [slope.up.low, slope.up.high].map(|end| end.map(nanometres));
            low.is_none_or(|low| low < leg.extent.high) && high.is_none_or(|high| high > leg.extent.low)
        });
        let lies = leg.heading.to_radians().cos() < -0.7072;
        if let Some(slope) = bend::rise(detail, fold).filter(|_| lies && !stated) {
            leg.heading = LEVEL - slope.atan().to_degrees();
        }
    }
}
