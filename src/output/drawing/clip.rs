//! Cutting shapes off along straight lines.

use crate::output::drawing::scene::{Point, Shape};

/// The side of a line on which `normal` points.
#[derive(Clone, Copy, Debug)]
pub struct Half {
    pub at: Point,
    pub normal: Point,
}

impl Half {
    /// How far inside a point is, in lengths of the normal.
    pub fn depth(self, p: Point) -> f64 {
        (p.x - self.at.x) * self.normal.x + (p.y - self.at.y) * self.normal.y
    }
}

/// What is left of a polygon on one side of a line.
pub fn half(polygon: &[Point], side: Half) -> Vec<Point> {
    let mut kept = Vec::with_capacity(polygon.len() + 1);
    for (n, p) in polygon.iter().enumerate() {
        let q = polygon[(n + 1) % polygon.len()];
        let (a, b) = (side.depth(*p), side.depth(q));
        if a >= 0.0 {
            kept.push(*p);
        }
        if (a < 0.0) != (b < 0.0) {
            kept.push(between(*p, q, a / (a - b)));
        }
    }
    kept
}

/// The sides of a convex polygon, whichever way it runs.
fn sides(polygon: &[Point]) -> Vec<Half> {
    let count = polygon.len().max(1) as f64;
    let sum = polygon.iter().fold(Point::new(0.0, 0.0), |s, p| Point::new(s.x + p.x, s.y + p.y));
    let middle = Point::new(sum.x / count, sum.y / count);
    (0..polygon.len())
        .map(|n| {
            let (p, q) = (polygon[n], polygon[(n + 1) % polygon.len()]);
            let normal = Point::new(p.y - q.y, q.x - p.x);
            let side = Half { at: p, normal };
            if side.depth(middle) >= 0.0 { side } else { Half { at: p, normal: Point::new(-normal.x, -normal.y) } }
        })
        .collect()
}

/// The parts of a run of lines that lie inside of all the sides.
fn within(points: &[Point], sides: &[Half]) -> Vec<Vec<Point>> {
    let mut runs: Vec<Vec<Point>> = Vec::new();
    for pair in points.windows(2) {
        let (mut from, mut to) = (0.0_f64, 1.0_f64);
        for side in sides {
            let (a, b) = (side.depth(pair[0]), side.depth(pair[1]));
            if a < 0.0 && b < 0.0 {
                from = 2.0;
            } else if a < 0.0 {
                from = from.max(a / (a - b));
            } else if b < 0.0 {
                to = to.min(a / (a - b));
            }
        }
        if to - from < 1e-9 {
            continue;
        }
        let (p, q) = (between(pair[0], pair[1], from), between(pair[0], pair[1], to));
        match runs.last_mut() {
            Some(run) if from == 0.0 && run.last().is_some_and(|l| near(*l, p)) => run.push(q),
            _ => runs.push(vec![p, q]),
        }
    }
    runs
}

/// A point lies in a convex polygon.
pub fn holds(polygon: &[Point], at: Point) -> bool {
    polygon.len() > 2 && sides(polygon).iter().all(|side| side.depth(at) >= -1e-9)
}

/// What of a shape lies in a convex polygon. Words and dots are kept whole or not at all; so are small figures with `whole`.
pub fn shape(of: &Shape, polygon: &[Point], whole: bool) -> Option<Shape> {
    part(of, &sides(polygon), whole)
}

fn part(of: &Shape, sides: &[Half], whole: bool) -> Option<Shape> {
    let inside = |p: &Point| sides.iter().all(|side| side.depth(*p) >= -1e-9);
    match of {
        Shape::Path { runs, closed: true, pen, fill } => {
            if whole {
                return runs.iter().flatten().all(inside).then(|| of.clone());
            }
            let cut = |run: &Vec<Point>| sides.iter().fold(run.clone(), |left, side| half(&left, *side));
            let runs: Vec<Vec<Point>> = runs.iter().map(cut).filter(|run| run.len() > 2).collect();
            (!runs.is_empty()).then_some(Shape::Path { runs, closed: true, pen: *pen, fill: *fill })
        }
        Shape::Path { runs, closed: false, pen, fill } => {
            let runs: Vec<Vec<Point>> = runs.iter().flat_map(|points| within(points, sides)).collect();
            (!runs.is_empty()).then_some(Shape::Path { runs, closed: false, pen: *pen, fill: *fill })
        }
        Shape::Circle { center, .. } => inside(center).then(|| of.clone()),
        Shape::Text { at, .. } => inside(at).then(|| of.clone()),
        Shape::Group { role, words, shapes } => {
            let kept: Vec<Shape> = shapes.iter().filter_map(|s| part(s, sides, whole)).collect();
            (!kept.is_empty()).then(|| Shape::group(*role, words.clone(), kept))
        }
    }
}

pub fn between(p: Point, q: Point, part: f64) -> Point {
    Point::new(p.x + part * (q.x - p.x), p.y + part * (q.y - p.y))
}

fn near(p: Point, q: Point) -> bool {
    (p.x - q.x).abs() < 1e-9 && (p.y - q.y).abs() < 1e-9
}

/// The places of two drawings at which they are closest to each other: a corner of one, and a place on the other.
pub fn nearest(first: &[Vec<Point>], second: &[Vec<Point>]) -> Option<[Point; 2]> {
    let apart = |pair: &[Point; 2]| (pair[0].x - pair[1].x).hypot(pair[0].y - pair[1].y);
    let closest = |corners: &[Vec<Point>], lines: &[Vec<Point>]| {
        let sides = || lines.iter().flat_map(|line| line.windows(2));
        let pairs = corners.iter().flatten().flat_map(|at| sides().map(move |side| [*at, onto(side[0], side[1], *at)]));
        pairs.min_by(|a, b| apart(a).total_cmp(&apart(b)))
    };
    let back = closest(second, first).map(|[a, b]| [b, a]);
    closest(first, second).into_iter().chain(back).min_by(|a, b| apart(a).total_cmp(&apart(b)))
}

/// The place on a side that is closest to another.
fn onto(p: Point, q: Point, at: Point) -> Point {
    let (x, y) = (q.x - p.x, q.y - p.y);
    let long = x * x + y * y;
    let part = if long > 0.0 { (((at.x - p.x) * x + (at.y - p.y) * y) / long).clamp(0.0, 1.0) } else { 0.0 };
    between(p, q, part)
}

#[cfg(test)]
mod tests {
    use super::{Half, half, sides, within};
    use crate::output::drawing::scene::Point;

    fn square() -> Vec<Point> {
        [(0.0, 0.0), (2.0, 0.0), (2.0, 2.0), (0.0, 2.0)].map(|(x, y)| Point::new(x, y)).to_vec()
    }

    #[test]
    fn a_half_of_a_square_is_left() {
        let left = half(&square(), Half { at: Point::new(1.0, 0.0), normal: Point::new(-1.0, 0.0) });
        assert!(left.iter().all(|p| p.x <= 1.0) && left.len() == 4, "{left:?}");
    }

    #[test]
    fn a_line_is_cut_at_the_sides() {
        let line = [Point::new(-1.0, 1.0), Point::new(3.0, 1.0), Point::new(3.0, 1.5), Point::new(1.0, 1.5)];
        let runs = within(&line, &sides(&square()));
        assert_eq!(runs, [[Point::new(0.0, 1.0), Point::new(2.0, 1.0)], [Point::new(2.0, 1.5), Point::new(1.0, 1.5)]]);
    }
}
