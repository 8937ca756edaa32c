//! How far out each piece lies on a section.
//!
//! The datum is the outer face of the substrate, one plane for a whole wall. What makes it up lies inboard of it, as thick as it is. What
//! covers it lies outboard: each membrane a little off the next, so that their order can be read, and what is rigid as far out as its
//! assembly has it. Soft pieces drape over what lies under them, stiff ones stay straight.

mod carried;
mod folded;
mod ledge;
mod look;
mod order;
mod put;
mod sill;

pub use ledge::is_angle;
pub use look::{Look, depth, is_flat, scale_of_thickest};
pub use sill::is_sill;

use std::ops::Range;

use crate::model::Axis;
use crate::output::drawing::section::line::Line;
use crate::output::drawing::subject::Subject;
use carried::{battens, cants, ended};
use folded::{bends, hung};
use ledge::ledge;
use look::{THINNEST, hoods, limits, look};
use order::{order, skin};
use put::{Way, fill, lay, put, settle};

/// How far out a course lies at a place along it.
fn reached(course: &[(f64, f64)], at: f64) -> f64 {
    let ahead = course.windows(2).find(|pair| pair[0].0 <= at && at < pair[1].0);
    let last = course.last().map_or(0.0, |(_, out)| *out);
    ahead.map_or(last, |pair| {
        let [(a, out_a), (b, out_b)] = [pair[0], pair[1]];
        out_a + (at - a) / (b - a) * (out_b - out_a)
    })
}

/// Height over which a draped membrane goes from one distance to another, mm of paper.
const DRAPE: f64 = 1.6;

/// Where the pieces of a line lie: distances from the datum in mm of paper, outboard positive.
#[derive(Clone, Debug)]
pub struct Places {
    /// For each piece and step of the line, its inner and outer face.
    slots: Vec<Vec<Option<[f64; 2]>>>,
    /// Positions along the line of the steps, mm of paper.
    along: Vec<[f64; 2]>,
    pub pieces: Vec<Look>,
    /// What lies outboard of the datum.
    skin: Vec<bool>,
    /// Where the line turns: there nothing leans.
    folds: Vec<f64>,
    /// The edges of openings: formed metal is bent there.
    edges: Vec<f64>,
    /// The foot of a veneer, along the line, and its outer face.
    pub ledge: Option<[f64; 2]>,
}

/// Where a line turns, mm of paper along it.
pub struct Turn {
    pub at: f64,
    /// The outer side lies open, as over an eave.
    pub opens: bool,
    /// Not the wall turns but what lines an opening.
    pub opening: bool,
    /// An edge over which things hang: what lies is above it on the line, or below it.
    pub lies_above: Option<bool>,
}

/// The top of a parapet, mm of paper along the line, and the pieces that end under it.
pub struct Crest {
    pub along: [f64; 2],
    pub bodies: Vec<usize>,
    /// On the far side something lies on the body.
    pub lined: bool,
}

impl Crest {
    /// A body of which nobody says how thick it is reaches to the outer face, which lies below the end of the top.
    fn fill(&self, slots: &mut [Option<[f64; 2]>]) {
        let outer = self.along[0] - self.along[1];
        slots.iter_mut().flatten().for_each(|slot| slot[0] = outer.min(slot[1]));
    }

    /// What lies on the far side of the body has the room that the body leaves of the top.
    fn line(&self, along: &[[f64; 2]], pieces: &[Look], skin: &[bool], slots: &mut [Vec<Option<[f64; 2]>>]) {
        let deep = self.bodies.iter().flat_map(|p| slots[*p].iter().flatten()).fold(0.0, |deep: f64, s| deep.max(-s[0]));
        let room = self.along[1] - self.along[0] - deep;
        if room < THINNEST {
            return;
        }
        for piece in (0..pieces.len()).filter(|p| !skin[*p]) {
            for slot in slots[piece].iter_mut().zip(along).filter(|(_, at)| at[0] > self.along[1] - 1e-6).map(|(s, _)| s) {
                let kept = slot.map(|slot| slot.map(|out| out.max(-room)));
                *slot = kept.filter(|[inner, outer]| pieces[piece].thin || outer - inner > 1e-6);
            }
        }
    }
}

impl Places {
    pub fn new(
        subject: &Subject,
        line: &Line,
        along: Vec<[f64; 2]>,
        turns: Vec<Turn>,
        crest: Option<Crest>,
        scale: f64,
    ) -> Places {
        let detail = subject.detail;
        let drawn = limits(subject.whole);
        let mut pieces: Vec<Look> = detail.pieces.iter().map(|piece| look(detail, piece, scale, drawn)).collect();
        if line.axis == Axis::Up {
            hoods(detail, line, &along, scale, &mut pieces);
        }
        let skin = skin(detail, line, &pieces);
        battens(detail, line, &skin, &mut pieces);
        cants(detail, line, &along, &turns, &mut pieces);
        let end = |piece: usize, slots: &mut [Vec<Option<[f64; 2]>>]| {
            ended(detail, line, &along, &turns, crest.as_ref(), piece).iter().for_each(|n| slots[piece][*n] = None);
        };
        let mut slots = vec![vec![None; line.steps.len()]; pieces.len()];
        let order = order(line, pieces.len());
        for piece in order.iter().rev().copied().filter(|p| !skin[*p]) {
            put(line, &pieces, piece, &mut slots, Way::In, &|_| Vec::new(), &[]);
            if let Some(crest) = crest.as_ref().filter(|crest| crest.bodies == [piece] && pieces[piece].cut_off) {
                crest.fill(&mut slots[piece]);
                pieces[piece].cut_off = false;
            }
            end(piece, &mut slots);
        }
        if let Some(crest) = crest.as_ref().filter(|crest| crest.lined) {
            crest.line(&along, &pieces, &skin, &mut slots);
        }
        lay(detail, line, &pieces, &skin, &mut slots);
        fill(line, &skin, &mut pieces, &mut slots);
        let mut hanging = vec![Vec::new(); pieces.len()];
        for piece in order.iter().copied().filter(|p| skin[*p]) {
            let bends = |slots: &[Vec<Option<[f64; 2]>>]| bends(detail, line, &along, &turns, slots, piece);
            hanging[piece] = hung(detail, line, &along, &turns, piece);
            put(line, &pieces, piece, &mut slots, Way::Out, &bends, &hanging[piece]);
            end(piece, &mut slots);
        }
        settle(line, &skin, &hanging, &mut slots);
        if line.axis == Axis::Up {
            sill::reach(detail, line, &skin, scale, &mut slots);
        }
        let ledge = ledge(detail, line, &skin, &mut slots);
        let ledge = ledge.map(|(step, outer)| [along[step][0], outer]);
        let of = |opening: bool| turns.iter().filter(|turn| turn.opening == opening).map(|turn| turn.at).collect();
        let (folds, edges) = (of(false), of(true));
        Places { slots, along, pieces, skin, folds, edges, ledge }
    }

    /// Inner and outer face of a piece in a step.
    pub fn slot(&self, piece: usize, step: usize) -> Option<[f64; 2]> {
        self.slots[piece][step]
    }

    /// The middle of a piece in a step.
    pub fn middle(&self, piece: usize, step: usize) -> f64 {
        self.slots[piece][step].map_or(0.0, |[inner, outer]| (inner + outer) / 2.0)
    }

    /// It lies outboard of the datum.
    pub fn is_skin(&self, piece: usize) -> bool {
        self.skin[piece]
    }

    /// Its assembly has a gap under it.
    pub fn stands_off(&self, piece: usize) -> bool {
        self.pieces[piece].out > 0.0
    }

    /// What lines an opening lies on its edge, one on the other, and not on what stands in front of the wall there.
    pub fn line_opening(&mut self, step: usize, stack: &[usize], lining: &[usize]) {
        let (mut reached, mut in_front) = (0.0, false);
        for piece in stack.iter().copied().filter(|piece| self.skin[*piece]) {
            let Some([inner, outer]) = self.slots[piece][step] else { continue };
            in_front |= !self.pieces[piece].soft;
            if lining.contains(&piece) {
                let slot = if in_front { [reached, reached + outer - inner] } else { [inner, outer] };
                self.slots[piece][step] = Some(slot);
                reached = slot[1];
            }
        }
    }

    /// The inmost and outmost distance in a step.
    pub fn reach(&self, step: usize) -> [f64; 2] {
        let slots = || self.slots.iter().filter_map(|slots| slots[step]);
        [slots().fold(0.0, |low: f64, s| low.min(s[0])), slots().fold(0.0, |high: f64, s| high.max(s[1]))]
    }

    /// The face on which water runs: a membrane itself, the outer face of something thick.
    pub fn surface(&self, piece: usize, step: usize) -> f64 {
        let [inner, outer] = self.slots[piece][step].unwrap_or([0.0, 0.0]);
        if self.pieces[piece].thin { (inner + outer) / 2.0 } else { outer }
    }

    /// The course of that face through steps, `ahead` in front of it: along the line, and out from the datum.
    pub fn course(&self, piece: usize, steps: Range<usize>, ahead: f64) -> Vec<(f64, f64)> {
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

    /// Where a step lies along the line.
    pub fn along(&self, step: usize) -> [f64; 2] {
        self.along[step]
    }
}
