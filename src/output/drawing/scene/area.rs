//! Places and rectangles.

use crate::output::drawing::scene::Shape;

#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Point {
    pub x: f64,
    pub y: f64,
}

/// An upright rectangle.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Area {
    pub left: f64,
    pub top: f64,
    pub right: f64,
    pub bottom: f64,
}

impl Point {
    pub fn new(x: f64, y: f64) -> Point {
        Point { x, y }
    }

    pub(super) fn times(self, factor: f64) -> Point {
        Point::new(self.x * factor, self.y * factor)
    }
}

impl Area {
    pub fn new(left: f64, top: f64, right: f64, bottom: f64) -> Area {
        Area { left, top, right, bottom }
    }

    /// The place of a point.
    pub fn at(point: Point) -> Area {
        Area::new(point.x, point.y, point.x, point.y)
    }

    pub fn width(self) -> f64 {
        self.right - self.left
    }

    pub fn height(self) -> f64 {
        self.bottom - self.top
    }

    pub fn center(self) -> Point {
        Point::new((self.left + self.right) / 2.0, (self.top + self.bottom) / 2.0)
    }

    pub fn contains(self, at: Point) -> bool {
        (self.left..=self.right).contains(&at.x) && (self.top..=self.bottom).contains(&at.y)
    }

    /// What holds all points of lines, dots and words; nothing when there are none.
    pub fn around(shapes: &[Shape]) -> Option<Area> {
        let mut area: Option<Area> = None;
        let mut add = |p: Point, by: f64| {
            let own = Area::new(p.x - by, p.y - by, p.x + by, p.y + by);
            area = Some(area.map_or(own, |a| a.with(own)));
        };
        for shape in shapes {
            shape.each(&mut |shape| match shape {
                Shape::Path { runs, .. } => runs.iter().flatten().for_each(|p| add(*p, 0.0)),
                Shape::Circle { center, radius, .. } => add(*center, *radius),
                Shape::Text { .. } => shape.room().into_iter().flat_map(Area::corners).for_each(|p| add(p, 0.0)),
                Shape::Group { .. } => {}
            });
        }
        area
    }

    pub fn with(self, other: Area) -> Area {
        Area::new(
            self.left.min(other.left),
            self.top.min(other.top),
            self.right.max(other.right),
            self.bottom.max(other.bottom),
        )
    }

    /// A straight line runs through it.
    pub fn meets(self, a: Point, b: Point) -> bool {
        let (mut from, mut to) = (0.0f64, 1.0f64);
        for (start, step, low, high) in
            [(a.x, b.x - a.x, self.left, self.right), (a.y, b.y - a.y, self.top, self.bottom)]
        {
            if step.abs() < 1e-12 {
                if start <= low || start >= high {
                    return false;
                }
                continue;
            }
            let (enters, leaves) = ((low - start) / step, (high - start) / step);
            from = from.max(enters.min(leaves));
            to = to.min(enters.max(leaves));
        }
        from < to
    }

    /// They share more than an edge.
    pub fn overlaps(self, other: Area) -> bool {
        self.left < other.right && other.left < self.right && self.top < other.bottom && other.top < self.bottom
    }

    pub fn corners(self) -> Vec<Point> {
        vec![
            Point::new(self.left, self.top),
            Point::new(self.right, self.top),
            Point::new(self.right, self.bottom),
            Point::new(self.left, self.bottom),
        ]
    }
}
