//! The line of a face through the steps of a line.

use std::ops::Range;

use crate::output::drawing::paper::SPREAD;
use crate::output::drawing::section::place::{Ledge, Places};

/// A line that keeps its distance from another, also where that leans: what runs over a slope lies on it and not in it.
fn beside(line: &[(f64, f64)], ahead: f64, turns: &dyn Fn(f64) -> bool) -> Vec<(f64, f64)> {
    let mut points: Vec<(f64, f64)> = line.to_vec();
    points.dedup_by(|a, b| (a.0 - b.0).abs() < 1e-9 && (a.1 - b.1).abs() < 1e-9);
    let normal = |pair: &[(f64, f64)]| {
        let (up, out) = (pair[1].0 - pair[0].0, pair[1].1 - pair[0].1);
        (-out / up.hypot(out), up / up.hypot(out))
    };
    let normals: Vec<(f64, f64)> = points.windows(2).map(normal).collect();
    let (Some(first), Some(last)) = (normals.first(), normals.last()) else {
        return points.into_iter().map(|(along, out)| (along, out + ahead)).collect();
    };
    let moved = |n: usize, (along, out): (f64, f64)| {
        if turns(along) {
            return (along, out + ahead);
        }
        let (a, b) = (n.checked_sub(1).map_or(*first, |n| normals[n]), *normals.get(n).unwrap_or(last));
        let both = (a.0 + b.0, a.1 + b.1);
        // Where it turns back on itself, not far beyond the corner.
        let by = 2.0 * ahead / (both.0 * both.0 + both.1 * both.1).max(SHARP);
        (along + by * both.0, out + by * both.1)
    };
    points.iter().enumerate().map(|(n, point)| moved(n, *point)).collect()
}

/// The square of the sum of two directions that are a little more than square to each other.
const SHARP: f64 = 1.0;

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
pub const DRAPE: f64 = 1.6;

/// No slope takes more than this part of what it turns out of.
const MOST: f64 = 0.8;

/// How far above the top that it lies on the line of a sloped piece runs, mm of paper.
const ON_TOP: f64 = 0.6;

impl Places {
    /// The line of that face through steps, `ahead` in front of it: along the line, and out from the datum.
    pub fn face_line(&self, piece: usize, steps: Range<usize>, ahead: f64) -> Vec<(f64, f64)> {
        beside(&self.on_face(piece, steps, true), ahead, &|along| self.turns(piece, along))
    }

    /// The same for what runs behind the ledge of a veneer.
    pub fn hidden_line(&self, piece: usize, steps: Range<usize>, ahead: f64) -> Vec<(f64, f64)> {
        beside(&self.on_face(piece, steps, false), ahead, &|along| self.turns(piece, along))
    }

    /// The line turns there: what is farther along lies on another leg.
    fn turns(&self, piece: usize, along: f64) -> bool {
        self.folds.iter().chain(&self.edges).any(|at| (at - along).abs() < 1e-6) || self.turns_in(piece, along)
    }

    /// The piece is tucked into a joint of the wall there.
    fn turns_in(&self, piece: usize, along: f64) -> bool {
        self.tucked.iter().any(|own| own.piece == piece && (own.at - along).abs() < 1e-6)
    }

    /// Where a ledge is drawn that nobody stated, its face is that of the wall.
    pub fn on_ledge(&self, piece: usize, step: usize) -> f64 {
        let within = |ledge: &Ledge| !self.skin[piece] && ledge.grounded && self.along[step][1] < ledge.foot + 1e-6;
        self.ledge.filter(within).map_or(f64::MIN, |ledge| ledge.outer)
    }

    fn on_face(&self, piece: usize, steps: Range<usize>, ledge: bool) -> Vec<(f64, f64)> {
        let distance = |step: usize| {
            let own = self.surface(piece, step);
            if ledge { own.max(self.on_ledge(piece, step)) } else { own }
        };
        let mut points = Vec::new();
        let Some(first) = steps.clone().next() else { return points };
        points.push((self.along[first][0], distance(first)));
        for step in steps.clone().skip(1) {
            let (below, above) = (distance(step - 1), distance(step));
            let at = self.along[step][0];
            if (below - above).abs() < 1e-9 {
                continue;
            }
            // What comes in from the face of something thick lies on its top.
            let bent = self.pieces[piece].metal || (below - above).abs() > 2.0 * SPREAD;
            let edges = if bent { &self.edges[..] } else { &[] };
            let on_fold = self.folds.iter().any(|fold| (fold - at).abs() < 1e-6);
            if let Some([low, high]) = self.slope(piece, step, [below, above]).filter(|_| !on_fold) {
                points.extend([(at + low, below), (at + high, above)]);
                continue;
            }
            if self.folds.iter().chain(edges).any(|fold| (fold - at).abs() < 1e-6) || self.turns_in(piece, at) {
                points.extend([(at, below), (at, above)]);
                continue;
            }
            // Under a veneer a flashing turns out over the ledge.
            if self.ledge.is_some_and(|ledge| (ledge.foot - at).abs() < 1e-6 && below > ledge.outer) {
                points.extend([(at - 0.9, below), (at - 0.4, above)]);
                continue;
            }
            // It leans in the step in which it lies nearer to the datum: there nothing is in its way.
            let room = |n: usize| ((self.along[n][1] - self.along[n][0]) / 2.0).min(DRAPE);
            if below.abs() < above.abs() {
                points.extend([(at - room(step - 1), below), (at, above)]);
            } else {
                points.extend([(at, below), (at + room(step), above)]);
            }
        }
        let last = steps.end - 1;
        points.push((self.along[last][1], distance(last)));
        self.over_hood(piece, first, &mut points);
        points
    }

    /// Over the top of what it comes down in front of, a piece falls as it is said to, and lies on that where it falls too: how far from
    /// the edge between two steps it turns down, and up.
    fn slope(&self, piece: usize, step: usize, [below, above]: [f64; 2]) -> Option<[f64; 2]> {
        let rise = self.pieces[piece].rise.filter(|_| below - above > 2.0 * SPREAD)?;
        if self.turns_in(piece, self.along[step][0]) || self.lining.contains(&(piece, step)) {
            return None;
        }
        let ends = |q: &usize| !self.pieces[*q].thin && self.slots[*q][step].is_none();
        let under = (0..self.pieces.len()).filter(ends).filter_map(|q| Some((q, self.slots[q][step - 1]?)));
        let under = under.filter(|(_, slot)| slot[1] < below).max_by(|a, b| a.1[1].total_cmp(&b.1[1]));
        let falls = under.filter(|(q, _)| self.pieces[*q].rise.is_some()).map(|(_, slot)| slot[0]);
        let crest = falls.unwrap_or(below).clamp(above, below);
        let same =
            |out: f64| move |n: &usize| self.slots[piece][*n].is_some() && (self.surface(piece, *n) - out).abs() < 1e-9;
        let last = (step..self.along.len()).take_while(same(above)).last()?;
        let first = (0..step).rev().take_while(same(below)).last()?;
        let at = self.along[step][0];
        let room = [MOST * (at - self.along[first][0]), MOST * (self.along[last][1] - at)];
        Some([ON_TOP - ((below - crest) * rise).min(room[0]), (ON_TOP + (crest - above) * rise).min(room[1])])
    }

    /// The foot of a head flashing: from its back leg out over its top, and down its face.
    fn over_hood(&self, piece: usize, first: usize, points: &mut Vec<(f64, f64)>) {
        let Some([face, fall, out]) = self.pieces[piece].hood else { return };
        let lowest = first == 0 || self.slots[piece][first - 1].is_none();
        let (low, back) = points[0];
        // Under a veneer it turns out over the ledge, and has no foot of its own.
        let on_ledge = self.ledge.is_some_and(|ledge| low < ledge.foot && back >= ledge.outer);
        if !lowest || on_ledge {
            return;
        }
        let top = low + face;
        // Below its top it may pass over a joint; its back leg lies on the wall.
        let leg = reached(points, top + fall);
        let foot = (leg + out).max(back);
        points.retain(|(along, _)| *along > top + fall);
        points.splice(0..0, [(low, foot), (top, foot), (top + fall, leg)]);
    }
}
