//! The line of a section on paper, bent as the building is.
//!
//! A place is told by how far it lies along the face and how far out from it, both in mm of paper. The outer side is on the right hand
//! of the way up the line; where a roof or a slab is cut across, the whole is mirrored so that its outer side is up.

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
}

/// How far a line is drawn out when what crosses it is looked for, mm of paper.
const FAR: f64 = 400.0;

impl Spine {
    pub fn new(bend: &Bend, ruler: &Ruler) -> Spine {
        let parts = bend.legs.iter().map(|leg| (ruler.at(leg.extent.low), ruler.at(leg.extent.high), leg.heading));
        Spine { legs: chain(parts.collect(), Point::new(0.0, 0.0)), mirrored: bend.lies }
    }

    /// The same line turned into an opening at a place: what lies beyond it returns at a right angle, above it or below it. Above it, it
    /// rises inward by `lean` degrees.
    pub fn turned_into(&self, at: f64, above: bool, lean: f64) -> Spine {
        let n = self.leg_from(at, if above { 1.0 } else { -1.0 });
        let leg = self.legs[n];
        let point = self.raw(n, at, 0.0);
        let start = Point::new(point.x, self.sign() * point.y);
        // What lies on the wall stays where it is, with its folds.
        let legs = if above {
            let turned = Leg { from: at, to: leg.to, start, heading: leg.heading + 90.0 - lean };
            self.legs[..n].iter().copied().chain([Leg { to: at, ..leg }, turned]).collect()
        } else {
            let heading = leg.heading - 90.0;
            let (angle, long) = (heading.to_radians(), at - leg.from);
            let foot = Point::new(start.x - long * angle.cos(), start.y + long * angle.sin());
            let turned = Leg { from: leg.from, to: at, start: foot, heading };
            [turned, Leg { from: at, start, ..leg }].into_iter().chain(self.legs[n + 1..].iter().copied()).collect()
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
        let straight = Leg { from: first.from, to: last.to, start, heading: self.legs[leg].heading };
        let mut legs = self.legs.clone();
        legs.splice(fold..fold + 2, [straight]);
        Spine { legs, mirrored: self.mirrored }
    }

    /// Moves the last leg on by so much, as the one before it is longer on paper than along the line.
    pub fn widen(&mut self, by: f64) {
        let Some(before) = self.legs.len().checked_sub(2) else { return };
        let angle = self.legs[before].heading.to_radians();
        let last = &mut self.legs[before + 1].start;
        *last = Point::new(last.x + by * angle.cos(), last.y - by * angle.sin());
    }

    pub fn legs(&self) -> usize {
        self.legs.len()
    }

    /// Where a leg begins and ends along the line.
    pub fn span(&self, leg: usize) -> [f64; 2] {
        [self.legs[leg].from, self.legs[leg].to]
    }

    /// The leg in which a way begins that leaves `along` in that direction.
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
        let mut along = along;
        if leg > 0 && self.closes(leg - 1, out) {
            along = along.max(self.legs[leg].from + out.abs() * self.half_turn(leg - 1));
        }
        if leg + 1 < self.legs.len() && self.closes(leg, out) {
            along = along.min(self.legs[leg].to - out.abs() * self.half_turn(leg));
        }
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

    /// A way on the line as a line on paper: it turns where the line turns.
    pub fn trace(&self, way: &[(f64, f64)]) -> Vec<Point> {
        self.traced(way, &|leg, along, out| self.on(leg, along, out))
    }

    /// The same where nothing stops at the corner of two legs.
    pub fn trace_through(&self, way: &[(f64, f64)]) -> Vec<Point> {
        self.traced(way, &|leg, along, out| self.raw(leg, along, out))
    }

    /// The same with lengths that begin `off` from the folds.
    pub fn trace_inside(&self, way: &[(f64, f64)], off: &dyn Fn(usize, f64) -> f64) -> Vec<Point> {
        self.traced(way, &|leg, along, out| self.inside(leg, along, off(leg, along), out))
    }

    /// A place on a leg whose lengths begin `off` from its fold; it stays on the line.
    pub fn inside(&self, leg: usize, along: f64, off: f64, out: f64) -> Point {
        let [low, high] = [self.legs[0].from, self.legs[self.legs.len() - 1].to];
        self.raw(leg, (along + off).clamp(low, high), out)
    }

    /// How far along a leg the corner of two lines inboard of a fold lies from the fold.
    pub fn corner_off(&self, fold: usize, leg: usize, outs: [f64; 2]) -> f64 {
        self.local(leg, self.corner([fold, fold + 1], outs)).0 - self.legs[fold].to
    }

    fn traced(&self, way: &[(f64, f64)], place: &dyn Fn(usize, f64, f64) -> Point) -> Vec<Point> {
        let mut points: Vec<Point> = Vec::new();
        let mut last: Option<(usize, f64, f64)> = None;
        for pair in way.windows(2) {
            let [(a, out_a), (b, out_b)] = [pair[0], pair[1]];
            if (a - b).abs() < 1e-9 {
                // A step on a fold is the corner itself.
                let fold = self.legs.windows(2).any(|legs| (legs[0].to - a).abs() < 1e-9);
                if let (false, Some((leg, along, out))) = (fold, last) {
                    points.push(place(leg, along, out));
                    last = Some((leg, b, out_b));
                } else if last.is_none() && !fold {
                    let leg = self.leg_from(a, -1.0);
                    points.push(place(leg, a, out_a));
                    last = Some((leg, b, out_b));
                }
                continue;
            }
            let (first, end) = (self.leg_from(a, b - a), self.leg_from(b, a - b));
            match last {
                Some((leg, _, out)) if leg != first => points.push(self.corner([leg, first], [out, out_a])),
                Some((leg, along, out)) => {
                    points.push(place(leg, along, out));
                    if (out - out_a).abs() > 1e-9 {
                        points.push(place(first, a, out_a));
                    }
                }
                None => points.push(place(first, a, out_a)),
            }
            let mut leg = first;
            while leg != end {
                let next = if b > a { leg + 1 } else { leg - 1 };
                let fold = if b > a { self.legs[leg].to } else { self.legs[leg].from };
                let out = out_a + (fold - a) / (b - a) * (out_b - out_a);
                points.push(self.corner([leg, next], [out, out]));
                leg = next;
            }
            last = Some((end, b, out_b));
        }
        points.extend(last.map(|(leg, along, out)| place(leg, along, out)));
        points.dedup_by(|p, q| (p.x - q.x).abs() < 1e-9 && (p.y - q.y).abs() < 1e-9);
        points
    }

    /// Where two lines at some distance from two neighboring legs meet.
    pub fn corner(&self, legs: [usize; 2], outs: [f64; 2]) -> Point {
        let fold = if legs[0] < legs[1] { self.legs[legs[0]].to } else { self.legs[legs[0]].from };
        let (p, q) = (self.raw(legs[0], fold, outs[0]), self.raw(legs[1], fold, outs[1]));
        let (d, e) = (self.forward(legs[0]), self.forward(legs[1]));
        let cross = d.x * e.y - d.y * e.x;
        if cross.abs() < 1e-6 {
            return p;
        }
        let along = ((q.x - p.x) * e.y - (q.y - p.y) * e.x) / cross;
        Point::new(p.x + along * d.x, p.y + along * d.y)
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

    /// The side of a leg of the line that halves the corner at a fold.
    pub fn half_of(&self, fold: usize, upper: bool) -> Half {
        let (d, e) = (self.forward(fold), self.forward(fold + 1));
        let s = if upper { 1.0 } else { -1.0 };
        Half { at: self.raw(fold, self.legs[fold].to, 0.0), normal: Point::new(s * (d.x + e.x), s * (d.y + e.y)) }
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
            let leg = Leg { from, to, start: at, heading };
            let angle = heading.to_radians();
            at = Point::new(at.x + (to - from) * angle.cos(), at.y - (to - from) * angle.sin());
            leg
        })
        .collect()
}
