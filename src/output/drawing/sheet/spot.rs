//! Where something small has room on a sheet.

use crate::output::drawing::scene::{Area, Point, Shape};

/// Free paper around it, and how far on the next place is tried, mm.
const AROUND: f64 = 2.5;
const NEXT: f64 = 3.0;

/// The upper left corner of the lowest place on which nothing lies, of those the one that is farthest to the left.
pub(super) fn lowest(shapes: &[Shape], within: Area, [wide, high]: [f64; 2]) -> Option<Point> {
    let (mut lines, mut rooms): (Vec<[Point; 2]>, Vec<Area>) = (Vec::new(), Vec::new());
    for shape in shapes {
        shape.each(&mut |shape| match shape {
            Shape::Path { closed: true, .. } | Shape::Circle { .. } | Shape::Text { .. } => {
                rooms.extend(Area::around(std::slice::from_ref(shape)));
            }
            Shape::Path { runs, .. } => lines.extend(runs.iter().flat_map(|run| run.windows(2)).map(|p| [p[0], p[1]])),
            Shape::Group { .. } => {}
        });
    }
    let free = |at: &Point| {
        let room = Area::new(at.x - AROUND, at.y - AROUND, at.x + wide + AROUND, at.y + high + AROUND);
        rooms.iter().all(|other| !other.overlaps(room)) && lines.iter().all(|[a, b]| !room.meets(*a, *b))
    };
    let rows = std::iter::successors(Some(within.bottom - high), |y| Some(y - NEXT)).take_while(|y| *y >= within.top);
    let columns =
        || std::iter::successors(Some(within.left), |x| Some(x + NEXT)).take_while(|x| x + wide <= within.right);
    rows.flat_map(|y| columns().map(move |x| Point::new(x, y))).find(free)
}
