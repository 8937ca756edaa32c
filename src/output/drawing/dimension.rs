//! Dimensions: a line between two ticks of 45 degrees with a number; and level marks.

use crate::output::drawing::lettering::width;
use crate::output::drawing::paper::{BEYOND, CUT, LEAD, SMALL, WORDS};
use crate::output::drawing::scene::{Anchor, Area, Ink, Pen, Point, Role, Shape, Symbol};
use crate::output::drawing::spread::spread;

/// A length that is judged, between two points of the drawing.
#[derive(Clone, Debug)]
pub struct Dimension {
    pub ends: [Point; 2],
    /// The unit vector on whose side the line stands.
    pub side: Point,
    pub words: String,
    /// Too short, or too long: the number of the finding that says so.
    pub failing: Option<usize>,
}

/// Half of a tick.
const TICK: f64 = 1.1;

/// A dimension whose line stands so far off its ends.
pub struct Placed {
    pub dimension: Dimension,
    pub off: f64,
}

impl Placed {
    /// The room of its words, and the shape; the words stand at that part of its line.
    pub fn draw(&self, part: f64) -> (Area, Shape) {
        draw(&self.dimension, self.off, part)
    }
}

fn draw(dimension: &Dimension, off: f64, part: f64) -> (Area, Shape) {
    let Dimension { ends: [a, b], side, words, .. } = dimension;
    let failing = dimension.failing.is_some();
    let out = |p: &Point, by: f64| Point::new(p.x + by * side.x, p.y + by * side.y);
    // Both ends of the line are as far out as the farther of the two points.
    let reach = |p: &Point| p.x * side.x + p.y * side.y;
    let far = reach(a).max(reach(b)) + off;
    let (p, q) = (out(a, far - reach(a)), out(b, far - reach(b)));
    let pen = Pen::solid(if failing { BEYOND } else { LEAD.width }, Ink::Black);
    let start = |from: &Point, end: Point| vec![out(from, 1.2), Point::new(end.x + 1.2 * side.x, end.y + 1.2 * side.y)];
    let tick = |p: Point| vec![Point::new(p.x - TICK, p.y + TICK), Point::new(p.x + TICK, p.y - TICK)];
    let mut shapes = vec![
        Shape::lines(vec![start(a, p), start(b, q), vec![p, q]], pen),
        Shape::lines(vec![tick(p), tick(q)], Pen::solid(CUT, Ink::Black)),
    ];
    let middle = Point::new(p.x + part * (q.x - p.x), p.y + part * (q.y - p.y));
    let wide = width(words, WORDS);
    let upright = side.x.abs() > side.y.abs();
    let left = if upright && side.x > 0.0 {
        middle.x + 1.4
    } else if upright {
        middle.x - 1.4 - wide
    } else {
        middle.x - wide / 2.0
    };
    let foot = if upright { middle.y + WORDS / 2.0 } else { middle.y - 1.2 };
    // On a line that is too short for them, they stand clear of it and of its ticks.
    let short = !upright && (q.x - p.x).hypot(q.y - p.y) < wide + 2.0 * TICK + 1.6;
    let clear = 1.8 + wide / 2.0 * side.x.abs() + WORDS / 2.0 * side.y.abs();
    let aside = if short { clear } else { 0.0 };
    let left = left + aside * side.x;
    let foot = if short { middle.y + WORDS / 2.0 + aside * side.y } else { foot };
    let room = Area::new(left - 0.8, foot - WORDS - 0.8, left + wide + 0.8, foot + 0.8);
    let text = Shape::text(Point::new(left, foot), WORDS, words.clone());
    let frame = failing.then(|| Pen::solid(CUT, Ink::Black));
    let frame = Shape::polygon(room.corners(), frame, Some(Ink::White));
    shapes.push(if failing { Shape::group(Role::Symbol(Symbol::Failing), "", vec![frame]) } else { frame });
    shapes.push(if failing { text.bold() } else { text });
    (room, Shape::group(Role::Length, "", shapes))
}

/// Level marks on the left of `x`: a line to the place, a word above it. `levels` from the top down.
pub fn levels(levels: &[(Point, String)], x: f64, top: f64) -> Shape {
    let wanted: Vec<f64> = levels.iter().map(|(at, _)| at.y).collect();
    let middles = spread(&wanted, &vec![WORDS + 2.2; wanted.len()], top);
    let mut shapes = Vec::new();
    for ((at, words), middle) in levels.iter().zip(middles) {
        let line =
            vec![Point::new(x - width(words, WORDS) - 1.0, middle), Point::new(x, middle), Point::new(x + 3.0, at.y)];
        shapes.push(Shape::line(line, LEAD));
        shapes.push(Shape::line(
            vec![Point::new(x + 3.0, at.y), Point::new((at.x - 1.0).max(x + 3.0), at.y)],
            LEAD.dashed(crate::output::drawing::scene::Dash::Chain),
        ));
        shapes.push(Shape::text(Point::new(x - 1.0, middle - 0.8), WORDS, words).anchored(Anchor::End));
    }
    Shape::group(Role::Dimension, "levels", shapes)
}

/// How wide the words of level marks are.
pub fn room(levels: &[(Point, String)]) -> f64 {
    levels.iter().map(|(_, words)| width(words, WORDS) + 2.0).fold(0.0, f64::max)
}

/// Places on a level line at `y` from `left` to `right`, numbers above it or, with `below`, under it. Returns how far
/// right the numbers reach. `levels` from left to right.
pub fn level(levels: &[(f64, String)], y: f64, left: f64, right: f64, below: bool) -> (Shape, f64) {
    let widths: Vec<f64> = levels.iter().map(|(_, words)| width(words, SMALL) + 2.0).collect();
    let wanted: Vec<f64> = levels.iter().map(|(x, _)| *x).collect();
    let middles = spread(&wanted, &widths, 2.0);
    let down = if below { 1.0 } else { -1.0 };
    let mut shapes = vec![Shape::line(vec![Point::new(left, y), Point::new(right, y)], LEAD)];
    for ((x, words), middle) in levels.iter().zip(&middles) {
        let end = Point::new(*middle, y + 4.0 * down);
        shapes.push(Shape::line(vec![Point::new(*x, y - 1.2 * down), Point::new(*x, y + down), end], LEAD));
        let foot = Point::new(end.x, if below { end.y + SMALL + 0.6 } else { end.y - 0.6 });
        shapes.push(Shape::text(foot, SMALL, words).anchored(Anchor::Middle));
    }
    let reach = middles.last().zip(widths.last()).map_or(right, |(middle, width)| middle + width / 2.0);
    (Shape::group(Role::Dimension, "places along the face", shapes), reach.max(right))
}
