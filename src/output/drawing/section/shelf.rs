//! What stands out of a wall and has a top that is rained on, as a stoop: where water runs that comes down to it.

use crate::facts::face::Coordinate;
use crate::model::Detail;
use crate::output::drawing::scene::Point;
use crate::output::drawing::section::cut::Cut;
use crate::output::drawing::section::drops::AHEAD;
use crate::output::drawing::section::outline::fall;
use crate::output::drawing::section::part::parts;
use crate::output::drawing::section::place::juts;

pub(super) fn is_shelf(detail: &Detail, piece: usize) -> bool {
    juts(detail, &detail.pieces[piece])
}

pub(super) fn falls_outward(detail: &Detail, piece: usize) -> bool {
    detail.pieces[piece].slope.is_some_and(|slope| slope.value.si > 0.0)
}

/// The face has no depth: there every drop that comes down to a shelf gets behind it. On one that falls outward it runs out over the top.
pub(super) fn over(cut: &Cut, piece: usize, at: Coordinate) -> Option<[Point; 2]> {
    let detail = cut.subject.detail;
    let part = parts(cut, piece).into_iter().next_back()?;
    let top = cut.ruler.at(at);
    let on_top = (part.along[1] - top).abs() < 1e-6 && cut.places.is_skin(piece);
    let fall = fall(cut, piece, &part).filter(|_| on_top && is_shelf(detail, piece))?;
    let [inner, outer] = part.out;
    let place = |along: f64, out: f64| cut.spine.raw(part.leg, along + AHEAD, out);
    Some([place(top, inner + AHEAD), place(top - fall, outer)])
}
