//! How far out each piece lies on a section.
//!
//! The datum is the outer face of the substrate. The pieces that make it up lie inboard of it, as thick as they are;
//! what covers it lies outboard, each membrane a step from the next, so that their order can be read. Soft pieces drape
//! over what lies under them, stiff ones stay straight.

use std::ops::Range;

use crate::model::{Detail, Material, MaterialKind, Piece};
use crate::output::drawing::scene::Point;
use crate::output::drawing::section::line::Line;

/// Distance of one membrane to the next, mm of paper.
pub const SPREAD: f64 = 3.0;

/// Limits of what a thick piece is drawn as, mm of paper.
const THINNEST: f64 = 2.4;
const THICKEST: f64 = 20.0;

/// Height over which a draped membrane goes from one distance to another, mm of paper.
const DRAPE: f64 = 2.4;

/// Where the pieces of a line lie: distances from the datum in mm of paper, outboard positive.
#[derive(Clone, Debug)]
pub struct Places {
    /// For each piece and step of the line, its inner and outer face.
    slots: Vec<Vec<Option<[f64; 2]>>>,
    /// Positions along the line of the steps, mm of paper.
    along: Vec<[f64; 2]>,
    pub pieces: Vec<Look>,
    /// The inmost and outmost distance.
    pub reach: [f64; 2],
}

/// How a piece shows in a section.
#[derive(Clone, Copy, Debug)]
pub struct Look {
    /// Drawn as a line.
    pub thin: bool,
    /// Its thickness on paper.
    pub thickness: f64,
    /// It is thicker than it is drawn, or nobody said how thick it is.
    pub cut_off: bool,
    soft: bool,
}

impl Places {
    pub fn new(detail: &Detail, line: &Line, along: Vec<[f64; 2]>, scale: f64) -> Places {
        let pieces: Vec<Look> = detail.pieces.iter().map(|piece| look(detail, piece, scale)).collect();
        let skin = skin(detail, line, &pieces);
        let mut slots = vec![vec![None; line.steps.len()]; pieces.len()];
        let order = order(line, pieces.len());
        for piece in order.iter().rev().copied().filter(|p| !skin[*p]) {
            put(line, &pieces, piece, &mut slots, Way::In);
        }
        for piece in order.iter().copied().filter(|p| skin[*p]) {
            put(line, &pieces, piece, &mut slots, Way::Out);
        }
        settle(line, &mut slots);
        let all = || slots.iter().flatten().flatten();
        let reach = [all().fold(0.0, |low: f64, s| low.min(s[0])), all().fold(0.0, |high: f64, s| high.max(s[1]))];
        Places { slots, along, pieces, reach }
    }

    /// Inner and outer face of a piece in a step.
    pub fn slot(&self, piece: usize, step: usize) -> Option<[f64; 2]> {
        self.slots[piece][step]
    }

    /// The middle of a piece in a step.
    pub fn middle(&self, piece: usize, step: usize) -> f64 {
        self.slots[piece][step].map_or(0.0, |[inner, outer]| (inner + outer) / 2.0)
    }

    /// The face on which water runs: a membrane itself, the outer face of something thick.
    pub fn surface(&self, piece: usize, step: usize) -> f64 {
        let [inner, outer] = self.slots[piece][step].unwrap_or([0.0, 0.0]);
        if self.pieces[piece].thin { (inner + outer) / 2.0 } else { outer }
    }

    /// The course of that face through steps, `out` in front of it: x along the line, y the distance from the datum.
    pub fn course(&self, piece: usize, steps: Range<usize>, out: f64) -> Vec<Point> {
        let distance = |step: usize| self.surface(piece, step) + out;
        let mut points = Vec::new();
        let Some(first) = steps.clone().next() else { return points };
        points.push(Point::new(self.along[first][0], distance(first)));
        for step in steps.clone().skip(1) {
            let (below, above) = (distance(step - 1), distance(step));
            let at = self.along[step][0];
            if (below - above).abs() < 1e-9 {
                continue;
            }
            // It leans in the step in which it lies nearer to the datum: there nothing is in its way.
            let room = |n: usize| ((self.along[n][1] - self.along[n][0]) / 2.0).min(DRAPE);
            if (below - out).abs() < (above - out).abs() {
                points.extend([Point::new(at - room(step - 1), below), Point::new(at, above)]);
            } else {
                points.extend([Point::new(at, below), Point::new(at + room(step), above)]);
            }
        }
        let last = steps.end - 1;
        points.push(Point::new(self.along[last][1], distance(last)));
        points
    }

    /// Where a step lies along the line.
    pub fn along(&self, step: usize) -> [f64; 2] {
        self.along[step]
    }
}

#[derive(Clone, Copy, PartialEq, Eq)]
enum Way {
    In,
    Out,
}

fn look(detail: &Detail, piece: &Piece, scale: f64) -> Look {
    use MaterialKind::{Coat, Fastener, Fill, Flashing, Gap, Sealant, Sheet, Tape};
    let material: &Material = &piece.material;
    let kind = material.kind;
    let thin = matches!(kind, Some(Sheet | Tape | Coat | Flashing | Sealant | Fastener));
    // A formed flashing without adhesive keeps its shape.
    let soft = matches!(kind, Some(Sheet | Tape | Coat | Sealant | Fastener | Fill | Gap))
        || kind == Some(Flashing) && material.adhesive.is_some();
    let thickness = piece.layer.and_then(|at| detail.layer(at).thickness).or(material.thickness);
    let paper = thickness.map(|t| t.si * 1000.0 / scale);
    Look {
        thin,
        thickness: if thin { SPREAD } else { paper.unwrap_or(THICKEST * 0.6).clamp(THINNEST, THICKEST) },
        cut_off: !thin && paper.is_none_or(|p| p > THICKEST),
        soft,
    }
}

/// What lies outboard of the datum: every membrane of the outer face and all that somewhere lies on one.
fn skin(detail: &Detail, line: &Line, pieces: &[Look]) -> Vec<bool> {
    let mut skin: Vec<bool> = (0..pieces.len()).map(|p| pieces[p].thin && !detail.pieces[p].inside).collect();
    loop {
        let before = skin.clone();
        for step in &line.steps {
            let mut covered = false;
            for piece in &step.stack[step.inner..] {
                covered |= skin[*piece];
                skin[*piece] |= covered;
            }
        }
        if before == skin {
            return skin;
        }
    }
}

/// The pieces from the inmost out, as far as the stacks agree; a piece of a circle comes in order of installation.
fn order(line: &Line, count: usize) -> Vec<usize> {
    let mut above: Vec<Vec<usize>> = vec![Vec::new(); count];
    let mut under = vec![0usize; count];
    for pair in line.steps.iter().flat_map(|step| step.stack.windows(2)) {
        if !above[pair[0]].contains(&pair[1]) {
            above[pair[0]].push(pair[1]);
            under[pair[1]] += 1;
        }
    }
    let mut waiting: Vec<bool> = vec![true; count];
    let mut order = Vec::with_capacity(count);
    while order.len() < count {
        let free = (0..count).find(|p| waiting[*p] && under[*p] == 0);
        let Some(next) = free.or_else(|| waiting.iter().position(|w| *w)) else { break };
        waiting[next] = false;
        order.push(next);
        for piece in &above[next] {
            under[*piece] = under[*piece].saturating_sub(1);
        }
    }
    order
}

/// Puts a piece against what lies next to it on the side of the datum.
fn put(line: &Line, pieces: &[Look], piece: usize, slots: &mut [Vec<Option<[f64; 2]>>], way: Way) {
    let mut faces: Vec<(usize, f64)> = Vec::new();
    for (n, step) in line.steps.iter().enumerate() {
        let Some(at) = step.stack.iter().position(|p| *p == piece) else { continue };
        let taken = |p: &usize| slots[*p][n];
        let face = match way {
            Way::Out => step.stack[..at].iter().filter_map(taken).map(|s| s[1]).fold(0.0, f64::max),
            Way::In => step.stack[at + 1..].iter().filter_map(taken).map(|s| s[0]).fold(0.0, f64::min),
        };
        faces.push((n, face));
    }
    if !pieces[piece].soft {
        let farthest = match way {
            Way::Out => faces.iter().fold(0.0, |far: f64, f| far.max(f.1)),
            Way::In => faces.iter().fold(0.0, |far: f64, f| far.min(f.1)),
        };
        faces.iter_mut().for_each(|f| f.1 = farthest);
    }
    let thickness = pieces[piece].thickness;
    for (n, face) in faces {
        slots[piece][n] = Some(match way {
            Way::Out => [face, face + thickness],
            Way::In => [face - thickness, face],
        });
    }
}

/// In stacks that contradict each other a piece may have come to lie in another; there order goes before straightness.
fn settle(line: &Line, slots: &mut [Vec<Option<[f64; 2]>>]) {
    for (n, step) in line.steps.iter().enumerate() {
        let mut reached: Option<f64> = None;
        for piece in &step.stack {
            let Some([inner, outer]) = slots[*piece][n] else { continue };
            let shift = reached.map_or(0.0, |r| (r - inner).max(0.0));
            slots[*piece][n] = Some([inner + shift, outer + shift]);
            reached = Some(outer + shift);
        }
    }
}
