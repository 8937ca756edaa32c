//! The line of a section on paper, bent as the building is.
//!
//! A place is given by how far it lies along the face and how far out from it, both in mm of paper. The outer side is on the right hand
//! of the way up the line; where a roof or a slab is cut across, the whole is mirrored so that its outer side is up.

mod trace;
mod turned;

use crate::facts::bend::Bend;
use crate::output::drawing::clip::Half;
use crate::output::drawing::ruler::Ruler;
use crate::output::drawing::scene::Point;

#[derive(Clone, Debug)]
pub struct Spine {
    legs: Vec<Leg>,
    mirrored: bool,
}

/// A straight part of the line.
#[derive(Clone, Copy, Debug)]
struct Leg {
    from: f64,
    to: f64,
    /// The point of the line at `from`.
    start: Point,
    /// Degrees counterclockwise from the right.
    heading: f64,
    /// How far out something stands on it at its two ends, before which the next leg ends.
    feet: [f64; 2],
}

/// How far a line is drawn out when what crosses it is looked for, mm of paper.
const FAR: f64 = 400.0;

impl Spine {
    pub fn new(bend: &Bend, ruler: &Ruler) -> Spine {
        let parts = bend.legs.iter().map(|leg| (ruler.at(leg.extent.low), ruler.at(leg.extent.high), leg.heading));
        Spine { legs: chain(parts.collect(), Point::new(0.0, 0.0)), mirrored: bend.lies }
    }

    pub fn legs(&self) -> usize {
        self.legs.len()
    }

    /// Where a leg begins and ends along the line.
    pub fn span(&self, leg: usize) -> [f64; 2] {
        [self.legs[leg].from, self.legs[leg].to]
    }

    /// The leg in which a line begins that leaves `along` in that direction.
    pub fn leg_from(&self, along: f64, toward: f64) -> usize {
        let last = self.legs.len() - 1;
        if toward >= 0.0 {
            self.legs.iter().position(|leg| along < leg.to - 1e-9).unwrap_or(last)
        } else {
            self.legs.iter().position(|leg| along <= leg.to + 1e-9).unwrap_or(last)
        }
    }

    /// A leg that is nearer to level than to plumb.
    pub fn lies(&self, leg: usize) -> bool {
        self.legs[leg].heading.to_radians().cos().abs() > 0.7072
    }

    pub fn at(&self, along: f64, out: f64) -> Point {
        self.on(self.leg_from(along, -1.0), along, out)
    }

    /// A place on a leg. Where two legs come close to each other it goes no farther than where they meet.
    pub fn on(&self, leg: usize, along: f64, out: f64) -> Point {
        self.between(leg, along, out, [None, None])
    }

    /// The same for what turns at the ends of the leg: there it goes as far as its own corner.
    pub fn between(&self, leg: usize, along: f64, out: f64, [low, high]: [Option<f64>; 2]) -> Point {
        let meets = |fold: usize, end: usize| {
            let out = out - self.legs[leg].feet[end];
            self.closes(fold, out).then(|| out.abs() * self.half_turn(fold))
        };
        let below = || Some(self.legs[leg].from + meets(leg.checked_sub(1)?, 0)?);
        let above = || Some(self.legs[leg].to - meets(Some(leg).filter(|leg| leg + 1 < self.legs.len())?, 1)?);
        let along = low.or_else(below).map_or(along, |low| along.max(low));
        let along = high.or_else(above).map_or(along, |high| along.min(high));
        self.raw(leg, along, out)
    }

    /// The same, wherever the next leg is.
    pub fn raw(&self, leg: usize, along: f64, out: f64) -> Point {
        let Leg { from, start, .. } = self.legs[leg];
        let (d, n) = (self.forward(leg), self.outward(leg));
        Point::new(start.x + (along - from) * d.x + out * n.x, self.sign() * start.y + (along - from) * d.y + out * n.y)
    }

    /// The unit vector along a leg, y down.
    pub fn forward(&self, leg: usize) -> Point {
        let angle = self.legs[leg].heading.to_radians();
        Point::new(angle.cos(), -self.sign() * angle.sin())
    }

    /// The unit vector out from a leg, y down.
    pub fn outward(&self, leg: usize) -> Point {
        let angle = self.legs[leg].heading.to_radians();
        Point::new(angle.sin(), self.sign() * angle.cos())
    }

    /// How far along and out a point lies, as a leg counts.
    pub fn local(&self, leg: usize, p: Point) -> (f64, f64) {
        let (d, n) = (self.forward(leg), self.outward(leg));
        let zero = self.raw(leg, 0.0, 0.0);
        let (x, y) = (p.x - zero.x, p.y - zero.y);
        (x * d.x + y * d.y, x * n.x + y * n.y)
    }

    /// The turn from a leg to the next is to the left: the outer side lies open.
    pub fn opens(&self, fold: usize) -> bool {
        self.turn(fold) > 0.0
    }

    /// All that lies farther out from a leg than `out`; or less far.
    pub fn beyond(&self, leg: usize, out: f64, farther: bool) -> Half {
        let (at, n) = (self.raw(leg, self.legs[leg].from, out), self.outward(leg));
        Half { at, normal: if farther { n } else { Point::new(-n.x, -n.y) } }
    }

    /// The side of a leg of the line that halves the corner at a fold: the one of what lies inboard, or the one that is seen.
    pub fn half_of(&self, fold: usize, upper: bool, inboard: bool) -> Half {
        let (d, e) = (self.forward(fold), self.forward(fold + 1));
        let s = if upper { 1.0 } else { -1.0 };
        let seen = || self.raw(fold, self.legs[fold].to, self.legs[fold].feet[1]);
        let at = if inboard && !self.opens(fold) { self.corner([fold, fold + 1], [0.0, 0.0]) } else { seen() };
        Half { at, normal: Point::new(s * (d.x + e.x), s * (d.y + e.y)) }
    }

    /// An upright rectangle in the measures of a leg, drawn out over an end by `more`, as a polygon.
    pub fn rectangle(&self, leg: usize, along: [f64; 2], out: [f64; 2], more: [bool; 2]) -> Vec<Point> {
        let low = along[0] - if more[0] { FAR } else { 0.0 };
        let high = along[1] + if more[1] { FAR } else { 0.0 };
        [(low, out[0]), (low, out[1]), (high, out[1]), (high, out[0])].map(|(a, o)| self.raw(leg, a, o)).to_vec()
    }

    fn turn(&self, fold: usize) -> f64 {
        self.legs[fold + 1].heading - self.legs[fold].heading
    }

    fn half_turn(&self, fold: usize) -> f64 {
        (self.turn(fold).abs().min(170.0).to_radians() / 2.0).tan()
    }

    /// On that side the legs come closer to each other toward their fold.
    fn closes(&self, fold: usize, out: f64) -> bool {
        if self.opens(fold) { out < 0.0 } else { out > 0.0 && self.turn(fold) < 0.0 }
    }

    fn sign(&self) -> f64 {
        if self.mirrored { -1.0 } else { 1.0 }
    }
}

/// Parts of a line one after the other, with the first starting at a point; y down, not mirrored.
fn chain(parts: Vec<(f64, f64, f64)>, start: Point) -> Vec<Leg> {
    let mut at = start;
    parts
        .into_iter()
        .map(|(from, to, heading)| {
            let leg = Leg { from, to, start: at, heading, feet: [0.0; 2] };
            let angle = heading.to_radians();
            at = Point::new(at.x + (to - from) * angle.cos(), at.y - (to - from) * angle.sin());
            leg
        })
        .collect()
}
