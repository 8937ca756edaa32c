//! The face as it is bent in the building: where each place of the unfolded face is in a section or a plan.
//!
//! All lengths are metres, all angles radians. A face is a chain of straight panels between its folds. Along a panel lengths
//! stay true: two places that are 100 mm apart on the face are so in the section.

use std::f64::consts::FRAC_PI_2;

use crate::facts::DetailFacts;
use crate::facts::face::{OPEN_HIGH, OPEN_LOW};
use crate::model::{Axis, FoldKind};

/// A face bent at its folds, seen from the side (along `Axis::Up`, a section) or from above (along `Axis::Along`, a plan).
#[derive(Clone, Debug)]
pub struct Bend {
    /// In the order of the face, at least one; each begins where the one before it ends.
    pub panels: Vec<Panel>,
}

/// A part of the face that is straight.
#[derive(Clone, Copy, Debug)]
pub struct Panel {
    /// Where it begins and ends on the unfolded face; the first begins at minus infinity and the last ends at infinity.
    pub low: f64,
    pub high: f64,
    /// Which way it goes as the place on the face rises. In a section: a quarter turn is upright, 0 lies level and goes toward the
    /// building, half a turn comes out of it (the underside of a head). In a plan: a quarter turn goes to the right.
    pub angle: f64,
    /// The place on the face that `at` stands for.
    from: f64,
    at: Point,
}

/// A place in a section or a plan. The place 0 of the face is the point 0, 0.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Point {
    /// Away from the building.
    pub out: f64,
    /// Upward in a section, to the right in a plan.
    pub run: f64,
}

impl Bend {
    /// The face of a detail, bent by its slopes. A fold between sides of which no slope is known bends it by a right angle.
    pub fn of(facts: &DetailFacts, axis: Axis) -> Bend {
        let mut folds: Vec<(f64, FoldKind)> =
            facts.detail.folds.iter().filter(|fold| fold.axis == axis).map(|fold| (fold.at.si, fold.kind)).collect();
        folds.sort_by(|a, b| a.0.total_cmp(&b.0));
        folds.dedup_by_key(|fold| fold.0);
        let stated = facts.detail.slopes.iter().filter(|_| axis == Axis::Up);
        let bands = stated.flat_map(|band| [band.up.low, band.up.high]).flatten().map(|end| end.si);
        let mut ends: Vec<f64> = folds.iter().map(|fold| fold.0).chain(bands).collect();
        ends.sort_by(f64::total_cmp);
        ends.dedup();
        let ends: Vec<f64> = [f64::NEG_INFINITY].into_iter().chain(ends).chain([f64::INFINITY]).collect();
        let fold_at = |at: f64| folds.iter().find(|fold| fold.0 == at).map(|fold| fold.1);
        let parts: Vec<Part> = ends
            .windows(2)
            .map(|part| Part { low: part[0], high: part[1], below: fold_at(part[0]), above: fold_at(part[1]) })
            .collect();
        let known = parts.iter().map(|part| if axis == Axis::Up { part.known(facts) } else { None }).collect();
        Bend::chain(&parts, spread(&parts, known, axis))
    }

    fn chain(parts: &[Part], angles: Vec<f64>) -> Bend {
        let mut panels: Vec<Panel> = parts
            .iter()
            .zip(angles)
            .map(|(part, angle)| Panel {
                low: part.low,
                high: part.high,
                angle,
                from: 0.0,
                at: Point { out: 0.0, run: 0.0 },
            })
            .collect();
        let zero = panels.iter().position(|panel| panel.low <= 0.0 && 0.0 < panel.high).unwrap_or(0);
        for n in zero + 1..panels.len() {
            let from = panels[n].low;
            (panels[n].from, panels[n].at) = (from, panels[n - 1].place(from, 0.0));
        }
        for n in (0..zero).rev() {
            let from = panels[n].high;
            (panels[n].from, panels[n].at) = (from, panels[n + 1].place(from, 0.0));
        }
        Bend { panels }
    }

    /// A place of the face, `off` in front of it (behind it when negative).
    pub fn place(&self, at: f64, off: f64) -> Point {
        self.panels[self.panel(at)].place(at, off)
    }

    /// The line from one place of the face to another, `off` in front of it all the way: its corners are where the panels
    /// meet at that distance.
    pub fn path(&self, low: f64, high: f64, off: f64) -> Vec<Point> {
        let (first, last) = (self.panel(low), self.panels.partition_point(|panel| panel.high < high));
        let last = last.min(self.panels.len() - 1).max(first);
        let mut points = vec![self.panels[first].place(low, off)];
        for n in first..last {
            let corner = self.corner(n, off);
            // In an inside corner the line is shorter than the face, so that it may begin behind its own corner.
            let start = points[points.len() - 1];
            let way = self.panels[n].way();
            let ahead = (corner.out - start.out) * way.out + (corner.run - start.run) * way.run;
            if ahead < 0.0 && points.len() == 1 {
                points.clear();
            }
            points.push(corner);
        }
        let end = self.panels[last].place(high, off);
        let corner = points[points.len() - 1];
        let way = self.panels[last].way();
        if (end.out - corner.out) * way.out + (end.run - corner.run) * way.run >= 0.0 || points.len() == 1 {
            points.push(end);
        }
        points
    }

    /// How far the face turns after its panel `n`: positive where it turns toward whoever looks at it, as at the base of a wall,
    /// negative where it turns away, as at an eave. `None` after the last panel.
    pub fn turn(&self, n: usize) -> Option<f64> {
        Some(self.panels.get(n + 1)?.angle - self.panels[n].angle)
    }

    /// The panel on which a place lies; a place on a fold belongs to the panel that begins there.
    fn panel(&self, at: f64) -> usize {
        self.panels.partition_point(|panel| panel.high <= at).min(self.panels.len() - 1)
    }

    /// Where panel `n` and the next meet, `off` in front of the face.
    fn corner(&self, n: usize, off: f64) -> Point {
        let (one, next) = (&self.panels[n], &self.panels[n + 1]);
        let (a, b) = (one.front(), next.front());
        let foot = next.place(next.low, 0.0);
        let both = 1.0 + a.out * b.out + a.run * b.run;
        // Panels folded back onto each other do not meet.
        let scale = if both < 0.1 { 0.5 } else { 1.0 / both };
        Point { out: foot.out + off * scale * (a.out + b.out), run: foot.run + off * scale * (a.run + b.run) }
    }
}

impl Panel {
    /// One metre along it.
    pub fn way(&self) -> Point {
        Point { out: -self.angle.cos(), run: self.angle.sin() }
    }

    /// One metre away from it, toward whoever looks at the face.
    pub fn front(&self) -> Point {
        Point { out: self.angle.sin(), run: self.angle.cos() }
    }

    fn place(&self, at: f64, off: f64) -> Point {
        let (way, front, along) = (self.way(), self.front(), at - self.from);
        Point {
            out: self.at.out + way.out * along + front.out * off,
            run: self.at.run + way.run * along + front.run * off,
        }
    }
}

/// A panel whose angle is not yet known, with the folds at its ends.
struct Part {
    low: f64,
    high: f64,
    below: Option<FoldKind>,
    above: Option<FoldKind>,
}

impl Part {
    /// The angle of a panel by itself: by its slope where somebody says so, else upright where the folds at its ends say that it
    /// is the wall.
    fn known(&self, facts: &DetailFacts) -> Option<f64> {
        let steep = |slope: f64| slope.atan();
        // Beyond a valley a wall stands the other way round: going on along the face, one climbs down it.
        let beyond = facts.detail.valleys.iter().any(|valley| valley.axis == Axis::Up && self.high < valley.at.si);
        if beyond && matches!(self.above, Some(FoldKind::Base | FoldKind::InsideCorner)) {
            return Some(-FRAC_PI_2);
        }
        if let Some(slope) = facts.slopes.said(coordinate(self.low), coordinate(self.high)) {
            return Some(steep(slope.si));
        }
        if self.below == Some(FoldKind::Sill) && self.above.is_none() {
            let pan = facts.detail.pieces.iter().find(|piece| {
                let reaches = piece.up.low.is_none_or(|low| low.si <= self.low)
                    && piece.up.high.is_none_or(|high| high.si > self.low);
                reaches && piece.slope.is_some()
            });
            return pan.and_then(|piece| piece.slope).map(|slope| steep(slope.value.si));
        }
        let wall_below = matches!(self.below, Some(FoldKind::Base | FoldKind::InsideCorner | FoldKind::Head));
        let wall_above = matches!(self.above, Some(FoldKind::Sill | FoldKind::Eave | FoldKind::OutsideCorner));
        // What lies between sill and head is the opening, drawn upright.
        let opening = self.below == Some(FoldKind::Sill) && self.above == Some(FoldKind::Head);
        (wall_below || wall_above || opening).then_some(FRAC_PI_2)
    }
}

/// Gives each panel an angle: its own, or that of its neighbor with a right angle between the two.
fn spread(parts: &[Part], mut angles: Vec<Option<f64>>, axis: Axis) -> Vec<f64> {
    let turn = |part: &Part| match part.below {
        Some(FoldKind::Base | FoldKind::InsideCorner) => FRAC_PI_2,
        Some(_) => -FRAC_PI_2,
        None => 0.0,
    };
    if angles.iter().all(Option::is_none) {
        let zero = parts.iter().position(|part| part.low <= 0.0 && 0.0 < part.high).unwrap_or(0);
        // In a plan the panel to the left of a corner is seen from the front.
        let first = if axis == Axis::Along { 0 } else { zero };
        angles[first] = Some(FRAC_PI_2);
    }
    for n in 1..parts.len() {
        if angles[n].is_none() {
            angles[n] = angles[n - 1].map(|before| before + turn(&parts[n]));
        }
    }
    for n in (0..parts.len() - 1).rev() {
        if angles[n].is_none() {
            angles[n] = angles[n + 1].map(|after| after - turn(&parts[n + 1]));
        }
    }
    angles.into_iter().map(|angle| angle.unwrap_or(FRAC_PI_2)).collect()
}

fn coordinate(metres: f64) -> i64 {
    match metres {
        f64::NEG_INFINITY => OPEN_LOW,
        f64::INFINITY => OPEN_HIGH,
        metres => (metres * 1e9).round() as i64,
    }
}
