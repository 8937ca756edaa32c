//! A line that turns elsewhere than its face does: into an opening, straight over an edge, farther out.

use crate::output::drawing::scene::Point;
use crate::output::drawing::section::spine::{Leg, Spine};

impl Spine {
    /// The same line turned into an opening at a place: what lies beyond it returns at a right angle, above it or below it. Above it, it
    /// rises inward by `lean` degrees.
    pub fn turned_into(&self, at: f64, above: bool, lean: f64) -> Spine {
        let n = self.leg_from(at, if above { 1.0 } else { -1.0 });
        let leg = self.legs[n];
        let point = self.raw(n, at, 0.0);
        let start = Point::new(point.x, self.sign() * point.y);
        // What lies on the wall stays where it is, with its folds.
        let legs = if above {
            let turned = Leg { from: at, to: leg.to, start, heading: leg.heading + 90.0 - lean, feet: [0.0; 2] };
            let wall = Leg { to: at, feet: [leg.feet[0], 0.0], ..leg };
            self.legs[..n].iter().copied().chain([wall, turned]).collect()
        } else {
            let heading = leg.heading - 90.0;
            let (angle, long) = (heading.to_radians(), at - leg.from);
            let foot = Point::new(start.x - long * angle.cos(), start.y + long * angle.sin());
            let turned = Leg { from: leg.from, to: at, start: foot, heading, feet: [0.0; 2] };
            let wall = Leg { from: at, start, feet: [0.0, leg.feet[1]], ..leg };
            [turned, wall].into_iter().chain(self.legs[n + 1..].iter().copied()).collect()
        };
        Spine { legs, mirrored: self.mirrored }
    }

    /// The leg of a roof that ends at a fold over which things hang, at an eave or a rake.
    pub fn edge_of(&self, fold: usize) -> Option<usize> {
        let roof = |leg: usize| self.lies(leg) && self.outward(leg).y < -0.1;
        match [roof(fold), roof(fold + 1)] {
            [true, false] if self.opens(fold) => Some(fold),
            [false, true] if self.opens(fold) => Some(fold + 1),
            _ => None,
        }
    }

    /// The same line without the turn at a fold: one of its two legs goes on straight.
    pub fn straightened(&self, fold: usize, leg: usize) -> Spine {
        let (first, last) = (self.legs[fold], self.legs[fold + 1]);
        let start = self.raw(leg, first.from, 0.0);
        let start = Point::new(start.x, self.sign() * start.y);
        let feet = [first.feet[0], last.feet[1]];
        let straight = Leg { from: first.from, to: last.to, start, heading: self.legs[leg].heading, feet };
        let mut legs = self.legs.clone();
        legs.splice(fold..fold + 2, [straight]);
        Spine { legs, mirrored: self.mirrored }
    }

    /// Moves the last leg on by so much, as the one before it is longer on paper than along the line.
    pub fn widen(&mut self, by: f64) {
        let Some(before) = self.legs.len().checked_sub(2) else { return };
        let angle = self.legs[before].heading.to_radians();
        self.shift(before + 1, by * angle.cos(), -by * angle.sin());
    }

    /// A leg that lies ends at a fold before what stands so far out on the other one.
    pub fn end_before(&mut self, fold: usize, wall: usize, out: f64) {
        let angle = self.legs[wall].heading.to_radians();
        let by = if wall > fold { -out } else { out };
        self.shift(fold + 1, by * angle.sin(), by * angle.cos());
        self.legs[wall].feet[if wall > fold { 0 } else { 1 }] = out;
    }

    fn shift(&mut self, first: usize, x: f64, y: f64) {
        for leg in &mut self.legs[first..] {
            leg.start = Point::new(leg.start.x + x, leg.start.y + y);
        }
    }
}
