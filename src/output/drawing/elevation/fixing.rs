//! Fields of fasteners on a face.

use crate::facts::face::Coordinate;
use crate::output::drawing::elevation::Plane;
use crate::output::drawing::page;
use crate::output::drawing::paper::{CASING, CUT, MEDIUM};
use crate::output::drawing::scene::{Ink, Pen, Point, Role, Shape};
use crate::output::drawing::section::rows;
use crate::output::drawing::subject::Subject;

/// Fasteners as upright crosses where they go through their piece; gray where something covers them.
pub fn fastenings(subject: &Subject, plane: &Plane) -> Vec<Shape> {
    let detail = subject.detail;
    let mut shapes = Vec::new();
    for fastening in &detail.fastenings {
        let (piece, every) = (fastening.piece.index, fastening.every.si * 1000.0);
        let (mut open, mut covered) = (Vec::new(), Vec::new());
        let ups = rows(&fastening.up, every, plane.up);
        // Of two rows in a narrow strip the upper one stands over the gaps of the lower one.
        let in_turn = matches!(ups[..], [low, high] if high - low < every - 1e-6);
        let alongs = rows(&fastening.along, every, plane.along);
        let between: Vec<f64> = alongs.windows(2).map(|pair| (pair[0] + pair[1]) / 2.0).collect();
        for (n, up) in ups.into_iter().enumerate() {
            let shifted = in_turn && n == 1 && !between.is_empty();
            for along in if shifted { between.clone() } else { alongs.clone() } {
                let (column, row) = (column_at(plane, along), row_at(plane, up));
                if !plane.has(column, row, piece) {
                    continue;
                }
                let at = Point::new(plane.left + plane.along.at_mm(along), plane.bottom - plane.up.at_mm(up));
                let cross = [
                    vec![Point::new(at.x - 1.4, at.y), Point::new(at.x + 1.4, at.y)],
                    vec![Point::new(at.x, at.y - 1.4), Point::new(at.x, at.y + 1.4)],
                ];
                if plane.seen(column, row) == Some(piece) { open.extend(cross) } else { covered.extend(cross) }
            }
        }
        let mut strokes = Vec::new();
        if !covered.is_empty() {
            strokes.push(Shape::lines(covered, Pen::solid(MEDIUM, Ink::Gray)));
        }
        if !open.is_empty() {
            strokes.push(Shape::lines(open.clone(), Pen::solid(CASING, Ink::White)));
            strokes.push(Shape::lines(open, Pen::solid(CUT, Ink::Black)));
        }
        if !strokes.is_empty() {
            let words = page::fastening_name(subject, fastening);
            shapes.push(Shape::group(Role::Fastening, words, strokes));
        }
    }
    shapes
}

fn column_at(plane: &Plane, mm: f64) -> usize {
    let at = (mm * 1e6) as Coordinate;
    (0..plane.cells.columns()).find(|c| at < plane.cells.column(*c).high).unwrap_or(0)
}

fn row_at(plane: &Plane, mm: f64) -> usize {
    let at = (mm * 1e6) as Coordinate;
    (0..plane.cells.rows()).find(|r| at < plane.cells.row(*r).high).unwrap_or(0)
}
