//! A body ends at the flashing that comes out over its top or under its foot, though its text takes it on to the line of the flashing.

use crate::output::drawing::clip::{self, Half};
use crate::output::drawing::scene::Point;
use crate::output::drawing::section::cut::Cut;
use crate::output::drawing::section::part::Part;

/// Texts count lengths on the face, and flashings fall over what they come out over: a body ends no farther from its stated end than this,
/// mm of the building, and on paper at least as far as membranes are spread.
const NEAR: f64 = 30.0;
const SPREAD: f64 = 3.2;

/// A flashing that crosses less than this part of a body is tucked into it.
const ACROSS: f64 = 0.4;

/// From the line of a flashing to the body, and what lies no deeper in it than this, mm of paper.
const OFF: f64 = 0.5;

/// What is left of the outline of a part.
pub(super) fn ended(cut: &Cut, part: &Part, corners: Vec<Point>) -> Vec<Point> {
    let near = (NEAR / cut.scale).max(SPREAD).min(0.5 * (part.along[1] - part.along[0]));
    let pairs = cut.membranes.iter().flat_map(|line| line.windows(2));
    pairs.fold(corners, |left, pair| match end(cut, part, [pair[0], pair[1]], near) {
        Some(half) => clip::half(&left, half),
        None => left,
    })
}

/// The lines of the membranes of the outer face.
pub(super) fn membranes(cut: &Cut) -> Vec<Vec<Point>> {
    let skin = |piece: &usize| cut.places.pieces[*piece].thin && cut.places.is_skin(*piece);
    let lines = cut.line.pieces().into_iter().filter(skin).flat_map(|piece| {
        let runs = cut.line.intervals(piece).into_iter();
        runs.map(move |run| cut.trace(piece, run.clone(), &cut.places.face_line(piece, run, 0.0)))
    });
    lines.collect()
}

/// The side of a line on which a part ends.
fn end(cut: &Cut, part: &Part, [p, q]: [Point; 2], near: f64) -> Option<Half> {
    let (a, b) = (cut.spine.local(part.leg, p), cut.spine.local(part.leg, q));
    let (from, to) = (a.1.min(b.1).max(part.out[0]), a.1.max(b.1).min(part.out[1]));
    if (a.1 - b.1).abs() < (a.0 - b.0).abs() || to - from < ACROSS * (part.out[1] - part.out[0]) {
        return None;
    }
    let at = |out: f64| a.0 + (out - a.1) / (b.1 - a.1) * (b.0 - a.0);
    let [low, high] = [at(from).min(at(to)), at(from).max(at(to))];
    let free = |end: usize| !part.open[end] && part.joins[end].is_none();
    let top = free(1) && part.along[1] - near <= low && low < part.along[1] - OFF && high < part.along[1] + near;
    let foot = free(0) && high <= part.along[0] + near && part.along[0] + OFF < high && part.along[0] - near < low;
    let sign = if top { -1.0 } else { 1.0 };
    let d = cut.spine.forward(part.leg);
    let normal = Point::new(-(q.y - p.y), q.x - p.x);
    let long = normal.x.hypot(normal.y);
    let toward = if (normal.x * d.x + normal.y * d.y) * sign < 0.0 { -1.0 } else { 1.0 };
    let normal = Point::new(toward * normal.x / long, toward * normal.y / long);
    (top || foot).then(|| Half { at: Point::new(p.x + OFF * normal.x, p.y + OFF * normal.y), normal })
}
