//! The heights that stand beside a section.

use crate::facts::bend;
use crate::model::{Axis, Detail, Fold, FoldKind};
use crate::output::drawing::scene::Point;
use crate::output::drawing::section::cut::Cut;

/// Sill, head, foot and eave, grade, and the height above which no rain falls.
pub(super) fn levels(cut: &Cut) -> Vec<(Point, String)> {
    let detail = cut.subject.detail;
    if cut.line.axis != Axis::Up {
        return Vec::new();
    }
    let mut levels: Vec<(Point, String)> = Vec::new();
    let mut add = |metres: f64, words: &str| {
        let along = cut.ruler.at_mm(metres * 1000.0);
        let at = Point::new(cut.spine.at(along, 0.0).x, cut.spine.at(along, 0.0).y);
        // The mark ends at the wall: at its inner face, or at its outer one where that looks to the left, as the back of a chimney does.
        let [below, above] = cut.around(along);
        let [inner, outer] = below.or(above).map_or([0.0; 2], |n| cut.places.reach(n));
        let legs = [-1.0, 1.0].map(|toward| cut.spine.leg_from(along, toward));
        let left = legs.into_iter().find(|leg| !cut.spine.lies(*leg)).map(|leg| cut.spine.outward(leg).x < 0.0);
        let reach = if left == Some(true) { -outer } else { inner.min(0.0) };
        let length = cut.subject.plain(metres * 1000.0);
        levels.push((Point::new(at.x + reach, at.y), format!("{words} {length}")));
    };
    // Where something lies between it and zero, or the line comes down, a place on the face is no height.
    let is_height = |metres: f64| {
        let [zero, at] = [0.0, metres * 1000.0].map(|mm| cut.ruler.at_mm(mm));
        let [low, high] = [zero.min(at), zero.max(at)];
        let up = |leg: usize| !cut.spine.lies(leg) && cut.spine.forward(leg).y < 0.0;
        high - low < 1e-9 || (cut.spine.leg_from(low, 1.0)..=cut.spine.leg_from(high, -1.0)).all(up)
    };
    // Beside an opening the wall goes on, and its sill and its head are no heights of it.
    let beside = cut.walls.iter().all(|wall| *wall);
    let missed = |fold: &Fold| beside && bend::openings(detail, Axis::Up).any(|edge| edge.at == fold.at);
    for fold in detail.folds.iter().filter(|f| f.axis == Axis::Up && is_height(f.at.si) && !missed(f)) {
        add(fold.at.si, level_of(detail, fold));
    }
    detail.grade.iter().for_each(|grade| add(grade.value.si, "grade"));
    let sheltered = detail.sheltered.unwrap_or_default();
    sheltered.low.iter().for_each(|low| add(low.si, "no rain above"));
    sheltered.high.iter().for_each(|high| add(high.si, "no rain below"));
    levels.sort_by(|a, b| a.0.y.total_cmp(&b.0.y));
    levels
}

/// What an office calls the height of a fold.
pub fn level_of(detail: &Detail, fold: &Fold) -> &'static str {
    match fold.kind {
        // Where nothing fills an opening, a sill is the top of a parapet or a curb.
        FoldKind::Sill if bend::openings(detail, Axis::Up).all(|edge| edge.at != fold.at) => "top",
        FoldKind::OutsideCorner => "top",
        FoldKind::InsideCorner => "corner",
        kind => kind.word(),
    }
}
