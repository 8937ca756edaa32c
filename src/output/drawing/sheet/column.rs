//! The column on the far right of a sheet.

use crate::output::drawing::legend;
use crate::output::drawing::lettering::wrap;
use crate::output::drawing::mark;
use crate::output::drawing::page::View;
use crate::output::drawing::paper::{LINE, WORDS};
use crate::output::drawing::scene::{Area, Point, Shape};
use crate::output::drawing::sheet::GAP;
use crate::output::drawing::subject::Subject;
use crate::output::visible;

/// What was found, as far as the column has room, the joint at fault, enlarged, and the signs at the foot.
pub(super) fn findings(
    subject: &Subject,
    unplaced: &[usize],
    column: Area,
    views: &[&View],
    joint: Option<&View>,
) -> Vec<Shape> {
    let listed: Vec<Shape> = subject.marks.iter().map(|entry| mark::mark(Point::new(0.0, 0.0), *entry)).collect();
    let drawn = views.iter().map(|view| &view.shapes[..]);
    let seen: Vec<&[Shape]> = drawn.chain([&listed[..]]).collect();
    let (signs, high) = legend::legend(subject, &seen);
    let foot = column.bottom - high;
    let mut shapes: Vec<Shape> = signs.into_iter().map(|shape| shape.moved(column.left, foot)).collect();
    let foot = match joint {
        Some(joint) => {
            let top = foot - joint.height - GAP;
            let left = column.left + (column.width() - joint.width) / 2.0;
            shapes.extend(joint.shapes.iter().cloned().map(|shape| shape.moved(left, top)));
            top
        }
        None => foot,
    };
    let mut at = column.top;
    shapes.push(Shape::text(Point::new(column.left, at + WORDS), WORDS, "FINDINGS").bold());
    at += 6.0;
    if subject.marks.is_empty() {
        shapes.push(Shape::text(Point::new(column.left, at + WORDS), WORDS, "None."));
        at += LINE;
    }
    // What to do stands beside each finding, or beside none where that leaves no room for all.
    let end = |cure: bool| mark::list(subject.marks, unplaced, column.left, at, column.width(), cure).1;
    let cure = end(true) <= foot - 8.0;
    for (n, entry) in subject.marks.iter().enumerate() {
        let (list, end) = mark::list(std::slice::from_ref(entry), unplaced, column.left, at, column.width(), cure);
        if end > foot - 8.0 {
            let left = subject.marks.len() - n;
            let words = format!("and {left} more in the report");
            shapes.push(Shape::text(Point::new(column.left, at + WORDS), WORDS, words));
            at += LINE;
            break;
        }
        shapes.extend(list);
        at = end;
    }
    for note in &subject.detail.notes {
        let lines = wrap(&format!("Note: {}", visible(note)), WORDS, column.width());
        if at + lines.len() as f64 * LINE > foot - 4.0 {
            break;
        }
        for line in lines {
            shapes.push(Shape::text(Point::new(column.left, at + WORDS), WORDS, line));
            at += LINE;
        }
    }
    shapes
}
