//! Marks of findings on a face.

use crate::output::drawing::front::Plane;
use crate::output::drawing::mark::{self, RADIUS};
use crate::output::drawing::scene::{Area, Point, Shape};
use crate::output::drawing::subject::Subject;

/// Every mark on its first piece, where that lies with the second if it does; and the numbers of those that are about
/// no piece of the face. `taken` are points that must stay free.
pub fn draw(subject: &Subject, plane: &Plane, taken: &[Point]) -> (Vec<Shape>, Vec<usize>) {
    let (mut pointers, mut marks, mut unplaced) = (Vec::new(), Vec::new(), Vec::new());
    let mut rooms: Vec<Area> = taken.iter().map(|at| around(*at, 0.6)).collect();
    for entry in subject.marks {
        let pieces = mark::pieces(subject.detail, entry.finding);
        let Some(at) = anchor(subject, plane, &pieces) else {
            unplaced.push(entry.number);
            continue;
        };
        let center = place(at, plane.whole(), &rooms);
        rooms.push(around(center, RADIUS * 1.2));
        pointers.push(mark::pointer(entry.number, vec![center, at]));
        marks.push(mark::mark(center, *entry));
    }
    pointers.extend(marks);
    (pointers, unplaced)
}

fn anchor(subject: &Subject, plane: &Plane, pieces: &[usize]) -> Option<Point> {
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
    Some(Point::new(cell.left + 0.38 * cell.width(), cell.top + 0.5 * cell.height()))
}

/// The nearest free place on the face, or beside it.
fn place(at: Point, whole: Area, rooms: &[Area]) -> Point {
    let bounds = Area::new(whole.left + RADIUS, whole.top + RADIUS, whole.right - RADIUS, whole.bottom - RADIUS);
    let free = |p: &Point| bounds.contains(*p) && !rooms.iter().any(|room| room.overlaps(around(*p, RADIUS * 1.2)));
    let near = (0..60).flat_map(|ring| {
        let distance = ring as f64 * 2.0;
        let count = if ring == 0 { 1 } else { 12 };
        (0..count).map(move |n| {
            let angle = (n as f64 + 0.5 * (ring % 2) as f64) / count as f64 * std::f64::consts::TAU;
            Point::new(at.x + distance * angle.cos(), at.y + distance * angle.sin())
        })
    });
    near.into_iter().find(free).unwrap_or(at)
}

fn around(at: Point, by: f64) -> Area {
    Area::new(at.x - by, at.y - by, at.x + by, at.y + by)
}
