//! What something opaque covers is not drawn.

use crate::output::drawing::clip::between;
use crate::output::drawing::scene::{Area, Point};

/// Closer than this to an edge, a line runs along it and stays.
const EDGE: f64 = 1e-6;

/// An opaque area: runs that bound it, an area within an area being a hole.
pub struct Cover {
    runs: Vec<Vec<Point>>,
    room: Area,
}

impl Cover {
    pub fn new(runs: Vec<Vec<Point>>) -> Option<Cover> {
        let all = || runs.iter().flatten();
        let first = *all().next()?;
        let point = |p: &Point| Area::new(p.x, p.y, p.x, p.y);
        let room = all().fold(point(&first), |room, p| room.with(point(p)));
        Some(Cover { runs, room })
    }

    /// Inside, and not on its edge.
    pub fn covers(&self, p: Point) -> bool {
        if !self.room.contains(p) {
            return false;
        }
        let mut inside = false;
        for (a, b) in self.edges() {
            if distance(p, a, b) < EDGE {
                return false;
            }
            inside ^= (a.y > p.y) != (b.y > p.y) && p.x < a.x + (p.y - a.y) / (b.y - a.y) * (b.x - a.x);
        }
        inside
    }

    /// The parts of a line that it leaves.
    pub fn leaves(&self, line: &[Point]) -> Vec<Vec<Point>> {
        let own = line.iter().fold(None, |room: Option<Area>, p| {
            let point = Area::new(p.x, p.y, p.x, p.y);
            Some(room.map_or(point, |room| room.with(point)))
        });
        let apart = |own: Area| {
            own.right < self.room.left
                || self.room.right < own.left
                || own.bottom < self.room.top
                || self.room.bottom < own.top
        };
        if own.is_none_or(apart) {
            return vec![line.to_vec()];
        }
        let mut left: Vec<Vec<Point>> = Vec::new();
        for pair in line.windows(2) {
            for part in self.cut(pair[0], pair[1]).windows(2) {
                let (p, q) = (between(pair[0], pair[1], part[0]), between(pair[0], pair[1], part[1]));
                if self.covers(between(p, q, 0.5)) {
                    continue;
                }
                match left.last_mut() {
                    Some(run) if run.last().is_some_and(|last| (last.x - p.x).hypot(last.y - p.y) < EDGE) => {
                        run.push(q)
                    }
                    _ => left.push(vec![p, q]),
                }
            }
        }
        left
    }

    fn edges(&self) -> impl Iterator<Item = (Point, Point)> {
        self.runs.iter().flat_map(|run| run.iter().enumerate().map(|(n, a)| (*a, run[(n + 1) % run.len()])))
    }

    /// Where an edge meets a straight line, in parts of the line, with both its ends.
    fn cut(&self, p: Point, q: Point) -> Vec<f64> {
        let mut at = vec![0.0, 1.0];
        let (dx, dy) = (q.x - p.x, q.y - p.y);
        for (a, b) in self.edges() {
            let (ex, ey) = (b.x - a.x, b.y - a.y);
            let cross = dx * ey - dy * ex;
            if cross.abs() < 1e-12 {
                continue;
            }
            let along = ((a.x - p.x) * ey - (a.y - p.y) * ex) / cross;
            let on = ((a.x - p.x) * dy - (a.y - p.y) * dx) / cross;
            if (0.0..=1.0).contains(&on) && along > 0.0 && along < 1.0 {
                at.push(along);
            }
        }
        at.sort_by(f64::total_cmp);
        at.dedup_by(|a, b| (*a - *b).abs() < 1e-9);
        at
    }
}

fn distance(p: Point, a: Point, b: Point) -> f64 {
    let (dx, dy) = (b.x - a.x, b.y - a.y);
    let length = dx * dx + dy * dy;
    let part = if length < 1e-18 { 0.0 } else { (((p.x - a.x) * dx + (p.y - a.y) * dy) / length).clamp(0.0, 1.0) };
    (a.x + part * dx - p.x).hypot(a.y + part * dy - p.y)
}

#[cfg(test)]
mod tests {
    use super::Cover;
    use crate::output::drawing::scene::{Area, Point};

    #[test]
    fn a_line_goes_on_behind_an_area() {
        let cover = Cover::new(vec![Area::new(0.0, 0.0, 2.0, 2.0).corners()]).expect("it has corners");
        let p = |x: f64, y: f64| Point::new(x, y);
        assert_eq!(
            cover.leaves(&[p(-1.0, 1.0), p(3.0, 1.0)]),
            [[p(-1.0, 1.0), p(0.0, 1.0)], [p(2.0, 1.0), p(3.0, 1.0)]]
        );
        assert_eq!(cover.leaves(&[p(0.0, 0.0), p(2.0, 0.0)]), [[p(0.0, 0.0), p(2.0, 0.0)]], "its own edge stays");
        assert_eq!(cover.leaves(&[p(0.5, 0.5), p(1.5, 1.5)]).len(), 0);
        assert_eq!(cover.leaves(&[p(5.0, 0.0), p(6.0, 1.0)]).len(), 1);
    }
}
