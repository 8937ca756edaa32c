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
        let [below, above] = cut.around(along);
        let inner = below.or(above).map_or(0.0, |n| cut.places.reach(n)[0]);
        let length = cut.subject.plain(metres * 1000.0);
        levels.push((Point::new(at.x + inner.min(0.0), at.y), format!("{words} {length}")));
    };
    // Beyond what lies, a place on the face is no height.
    let is_height = |metres: f64| {
        let leg = cut.spine.leg_from(cut.ruler.at_mm(metres * 1000.0), -1.0);
        (1..=leg).all(|n| !cut.spine.lies(n))
    };
    for fold in detail.folds.iter().filter(|f| f.axis == Axis::Up && is_height(f.at.si)) {
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
fn level_of(detail: &Detail, fold: &Fold) -> &'static str {
    match fold.kind {
        // Where nothing fills an opening, a sill is the top of a parapet or a curb.
        FoldKind::Sill if bend::openings(detail, Axis::Up).all(|edge| edge.at != fold.at) => "top",
        FoldKind::OutsideCorner => "top",
        FoldKind::InsideCorner => "corner",
        kind => kind.word(),
    }
}
