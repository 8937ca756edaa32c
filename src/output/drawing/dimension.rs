//! Running dimensions: a line with a tick and a number at each place (ISO 129-1, running dimensioning).

use crate::output::drawing::lettering::{HAIR, SMALL, width};
use crate::output::drawing::scene::{Anchor, Ink, Pen, Point, Role, Shape};
use crate::output::drawing::spread::spread;

const LINE: Pen = Pen { width: HAIR, ink: Ink::Gray, dash: crate::output::drawing::scene::Dash::Solid };

/// How wide the numbers beside an upright line are.
pub fn room(levels: &[(f64, String)]) -> f64 {
    levels.iter().map(|(_, words)| width(words, SMALL)).fold(12.0, f64::max)
}

/// Heights on an upright line at `x`, numbers on its left. `levels` from the top down.
pub fn upright(levels: &[(f64, String)], x: f64, top: f64, bottom: f64) -> Shape {
    let wanted: Vec<f64> = levels.iter().map(|(y, _)| *y).collect();
    let middles = spread(&wanted, &vec![SMALL + 1.0; wanted.len()], top - 2.0);
    let mut shapes = vec![Shape::line(vec![Point::new(x, bottom), Point::new(x, top)], LINE)];
    for ((y, words), middle) in levels.iter().zip(middles) {
        let end = Point::new(x - 3.5, middle);
        shapes.push(Shape::line(vec![Point::new(x + 1.2, *y), Point::new(x - 1.0, *y), end], LINE));
        let foot = Point::new(end.x - 0.6, middle + SMALL / 2.0);
        shapes.push(Shape::text(foot, SMALL, words).anchored(Anchor::End));
    }
    Shape::group(Role::Dimension, "heights", shapes)
}

/// Places on a level line at `y` from `left` to `right`, numbers above it or, with `below`, under it. Returns how far
/// right the numbers reach. `levels` from left to right.
pub fn level(levels: &[(f64, String)], y: f64, left: f64, right: f64, below: bool) -> (Shape, f64) {
    let widths: Vec<f64> = levels.iter().map(|(_, words)| width(words, SMALL) + 2.0).collect();
    let wanted: Vec<f64> = levels.iter().map(|(x, _)| *x).collect();
    let middles = spread(&wanted, &widths, 2.0);
    let down = if below { 1.0 } else { -1.0 };
    let mut shapes = vec![Shape::line(vec![Point::new(left, y), Point::new(right, y)], LINE)];
    for ((x, words), middle) in levels.iter().zip(&middles) {
        let end = Point::new(*middle, y + 4.0 * down);
        shapes.push(Shape::line(vec![Point::new(*x, y - 1.2 * down), Point::new(*x, y + down), end], LINE));
        let foot = Point::new(end.x, if below { end.y + SMALL + 0.6 } else { end.y - 0.6 });
        shapes.push(Shape::text(foot, SMALL, words).anchored(Anchor::Middle));
    }
    let reach = middles.last().zip(widths.last()).map_or(right, |(middle, width)| middle + width / 2.0);
    (Shape::group(Role::Dimension, "places along the face", shapes), reach.max(right))
}
