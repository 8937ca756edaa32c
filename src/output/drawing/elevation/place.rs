//! Where a finding lies on a face.

use crate::output::drawing::elevation::Plane;
use crate::output::drawing::scene::Point;
use crate::output::drawing::subject::Subject;

/// A point on the first of these pieces, where that lies with the second if it does; so far down its cell, as a part of it.
pub fn anchor(subject: &Subject, plane: &Plane, pieces: &[usize], part: f64) -> Option<Point> {
    let outer = |p: &&usize| !subject.detail.pieces[**p].inside;
    let first = *pieces.iter().find(outer)?;
    let second = pieces.iter().filter(outer).find(|p| **p != first);
    let cells = plane.cells.block(first).iter().filter(|(c, r)| plane.has(*c, *r, first));
    let rank = |(c, r): &(usize, usize)| {
        let cell = plane.cell(*c, *r);
        let both = second.is_some_and(|second| plane.has(*c, *r, *second));
        let seen = plane.seen(*c, *r) == Some(first);
        (both, seen, cell.width().min(cell.height()), cell.width() * cell.height())
    };
    let best = cells.max_by(|a, b| {
        let (a, b) = (rank(a), rank(b));
        (a.0, a.1).cmp(&(b.0, b.1)).then(a.2.total_cmp(&b.2)).then(a.3.total_cmp(&b.3))
    })?;
    let cell = plane.cell(best.0, best.1);
    Some(Point::new(cell.left + 0.38 * cell.width(), cell.top + part * cell.height()))
}
