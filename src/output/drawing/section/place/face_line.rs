//! The line of a face through the steps of a line.

use std::ops::Range;

use crate::output::drawing::section::place::Places;

/// How far out a line lies at a place along it.
fn reached(line: &[(f64, f64)], at: f64) -> f64 {
    let ahead = line.windows(2).find(|pair| pair[0].0 <= at && at < pair[1].0);
    let last = line.last().map_or(0.0, |(_, out)| *out);
    ahead.map_or(last, |pair| {
        let [(a, out_a), (b, out_b)] = [pair[0], pair[1]];
        out_a + (at - a) / (b - a) * (out_b - out_a)
    })
}

/// Height over which a draped membrane goes from one distance to another, mm of paper.
const DRAPE: f64 = 1.6;

impl Places {
    /// The line of that face through steps, `ahead` in front of it: along the line, and out from the datum.
    pub fn face_line(&self, piece: usize, steps: Range<usize>, ahead: f64) -> Vec<(f64, f64)> {
        let distance = |step: usize| self.surface(piece, step) + ahead;
        let mut points = Vec::new();
        let Some(first) = steps.clone().next() else { return points };
        points.push((self.along[first][0], distance(first)));
        for step in steps.clone().skip(1) {
            let (below, above) = (distance(step - 1), distance(step));
            let at = self.along[step][0];
            if (below - above).abs() < 1e-9 {
                continue;
            }
            let edges = if self.pieces[piece].metal { &self.edges[..] } else { &[] };
            if self.folds.iter().chain(edges).any(|fold| (fold - at).abs() < 1e-6) {
                points.extend([(at, below), (at, above)]);
                continue;
            }
            // Under a veneer a flashing turns out over the ledge.
            if self.ledge.is_some_and(|[foot, outer]| (foot - at).abs() < 1e-6 && below > outer) {
                points.extend([(at - 0.9, below), (at - 0.4, above)]);
                continue;
            }
            // It leans in the step in which it lies nearer to the datum: there nothing is in its way.
            let room = |n: usize| ((self.along[n][1] - self.along[n][0]) / 2.0).min(DRAPE);
            if (below - ahead).abs() < (above - ahead).abs() {
                points.extend([(at - room(step - 1), below), (at, above)]);
            } else {
                points.extend([(at, below), (at + room(step), above)]);
            }
        }
        let last = steps.end - 1;
        points.push((self.along[last][1], distance(last)));
        self.over_hood(piece, first, ahead, &mut points);
        points
    }

    /// The foot of a head flashing: from its back leg out over its top, and down its face.
    fn over_hood(&self, piece: usize, first: usize, ahead: f64, points: &mut Vec<(f64, f64)>) {
        let Some([face, fall, out]) = self.pieces[piece].hood else { return };
        let lowest = first == 0 || self.slots[piece][first - 1].is_none();
        let (low, back) = points[0];
        // Under a veneer it turns out over the ledge, and has no foot of its own.
        let on_ledge = self.ledge.is_some_and(|[foot, outer]| low < foot && back >= outer);
        if !lowest || on_ledge {
            return;
        }
        let top = low + face + ahead;
        // Below its top it may pass over a joint; its back leg lies on the wall.
        let leg = reached(points, top + fall);
        let foot = (leg + out).max(back);
        points.retain(|(along, _)| *along > top + fall);
        points.splice(0..0, [(low, foot), (top, foot), (top + fall, leg)]);
    }
}
