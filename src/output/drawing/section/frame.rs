//! Turns a section upright, or lays it down as a plan.

use crate::model::Axis;
use crate::output::drawing::hatch::Runs;
use crate::output::drawing::scene::{Area, Point};

/// Places the run of the line and the distance from the datum on the paper: in a section from the side the outside is
/// on the right, in a plan at the bottom.
#[derive(Clone, Copy, Debug)]
pub struct Frame {
    pub axis: Axis,
    /// Where the low end of the line meets the datum.
    pub origin: Point,
}

impl Frame {
    /// A point `along` the line and `out` from the datum, both in mm of paper.
    pub fn at(&self, along: f64, out: f64) -> Point {
        match self.axis {
            Axis::Up => Point::new(self.origin.x + out, self.origin.y - along),
            Axis::Along => Point::new(self.origin.x + along, self.origin.y + out),
        }
    }

    pub fn area(&self, along: [f64; 2], out: [f64; 2]) -> Area {
        let (a, b) = (self.at(along[0], out[0]), self.at(along[1], out[1]));
        Area::new(a.x.min(b.x), a.y.min(b.y), a.x.max(b.x), a.y.max(b.y))
    }

    /// A point moved `out` and `along`.
    pub fn shifted(&self, from: Point, out: f64, along: f64) -> Point {
        let (zero, moved) = (self.at(0.0, 0.0), self.at(along, out));
        Point::new(from.x + moved.x - zero.x, from.y + moved.y - zero.y)
    }

    pub fn runs(&self) -> Runs {
        match self.axis {
            Axis::Up => Runs::Upright,
            Axis::Along => Runs::Level,
        }
    }
}
