//! Ways along a line as lines on paper: they turn where it turns.

use crate::output::drawing::scene::Point;
use crate::output::drawing::section::spine::Spine;

/// A place on a leg, given where on it the corners of the line lie.
type Placing<'a> = dyn Fn(usize, f64, f64, [Option<f64>; 2]) -> Point + 'a;

/// What a line passes: a place so far along and out from a leg, or the corner between two of them.
enum Stop {
    On { leg: usize, along: f64, out: f64 },
    Corner { legs: [usize; 2], at: Point },
}

impl Spine {
    /// A line over the face, on paper: it turns where the line turns.
    pub fn trace(&self, line: &[(f64, f64)]) -> Vec<Point> {
        self.traced(line, &|leg, along, out, corners| self.between(leg, along, out, corners))
    }

    /// The same where nothing stops at the corner of two legs.
    pub fn trace_through(&self, line: &[(f64, f64)]) -> Vec<Point> {
        self.traced(line, &|leg, along, out, _| self.raw(leg, along, out))
    }

    /// The same with lengths that begin `off` from the folds.
    pub fn trace_inside(&self, line: &[(f64, f64)], off: &dyn Fn(usize, f64) -> f64) -> Vec<Point> {
        self.traced(line, &|leg, along, out, _| self.inside(leg, along, off(leg, along), out))
    }

    /// A place on a leg whose lengths begin `off` from its fold; it stays on the line, and what runs off the detail runs to its end.
    pub fn inside(&self, leg: usize, along: f64, off: f64, out: f64) -> Point {
        let [low, high] = [self.legs[0].from, self.legs[self.legs.len() - 1].to];
        let end = [low, high].into_iter().find(|end| (along - end).abs() < 1e-6);
        self.raw(leg, end.unwrap_or((along + off).clamp(low, high)), out)
    }

    /// How far along a leg the corner of two lines inboard of a fold lies from the fold.
    pub fn corner_off(&self, fold: usize, leg: usize, outs: [f64; 2]) -> f64 {
        self.local(leg, self.corner([fold, fold + 1], outs)).0 - self.legs[fold].to
    }

    fn traced(&self, line: &[(f64, f64)], place: &Placing) -> Vec<Point> {
        let way = self.way(line);
        // Where a leg begins and ends for this line: at its own corners.
        let corner = |leg: usize, other: Option<usize>| {
            way.iter().find_map(|stop| match stop {
                Stop::Corner { legs, at } if legs.contains(&leg) && other.is_some_and(|o| legs.contains(&o)) => {
                    Some(self.local(leg, *at).0)
                }
                _ => None,
            })
        };
        let point = |stop: &Stop| match *stop {
            Stop::On { leg, along, out } => {
                place(leg, along, out, [corner(leg, leg.checked_sub(1)), corner(leg, Some(leg + 1))])
            }
            Stop::Corner { at, .. } => at,
        };
        let mut points: Vec<Point> = way.iter().map(point).collect();
        points.dedup_by(|p, q| (p.x - q.x).abs() < 1e-9 && (p.y - q.y).abs() < 1e-9);
        points
    }

    /// The places of a line, leg by leg, and its corners between them.
    fn way(&self, line: &[(f64, f64)]) -> Vec<Stop> {
        let on = |(leg, along, out): (usize, f64, f64)| Stop::On { leg, along, out };
        let turn = |legs: [usize; 2], outs: [f64; 2]| Stop::Corner { legs, at: self.corner(legs, outs) };
        let mut stops: Vec<Stop> = Vec::new();
        let mut last: Option<(usize, f64, f64)> = None;
        for pair in line.windows(2) {
            let [(a, out_a), (b, out_b)] = [pair[0], pair[1]];
            if (a - b).abs() < 1e-9 {
                // A step on a fold is the corner itself.
                let fold = self.legs.windows(2).any(|legs| (legs[0].to - a).abs() < 1e-9);
                if let (false, Some(place)) = (fold, last) {
                    stops.push(on(place));
                    last = Some((place.0, b, out_b));
                } else if last.is_none() && !fold {
                    let leg = self.leg_from(a, -1.0);
                    stops.push(on((leg, a, out_a)));
                    last = Some((leg, b, out_b));
                }
                continue;
            }
            let (first, end) = (self.leg_from(a, b - a), self.leg_from(b, a - b));
            match last {
                Some((leg, _, out)) if leg != first => stops.push(turn([leg, first], [out, out_a])),
                Some(place) => {
                    stops.push(on(place));
                    if (place.2 - out_a).abs() > 1e-9 {
                        stops.push(on((first, a, out_a)));
                    }
                }
                None => stops.push(on((first, a, out_a))),
            }
            let mut leg = first;
            while leg != end {
                let next = if b > a { leg + 1 } else { leg - 1 };
                let fold = if b > a { self.legs[leg].to } else { self.legs[leg].from };
                let out = out_a + (fold - a) / (b - a) * (out_b - out_a);
                stops.push(turn([leg, next], [out, out]));
                leg = next;
            }
            last = Some((end, b, out_b));
        }
        stops.extend(last.map(on));
        stops
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
}
