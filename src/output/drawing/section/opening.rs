//! Where the line of a section runs into an opening, and which pieces turn into it with the wall.

use std::ops::Range;

use crate::facts::{bend, nanometres};
use crate::model::{Axis, FoldKind, MaterialKind};
use crate::output::drawing::section::bed::{LIP, beds, is_dam};
use crate::output::drawing::section::line::{SectionLine, Step};
use crate::output::drawing::section::place::Places;
use crate::output::drawing::section::spine::Spine;
use crate::output::drawing::subject::Subject;

/// An edge of an opening on the line.
#[derive(Clone, Debug)]
pub struct Opening {
    /// mm of paper along the line.
    pub at: f64,
    /// The opening lies beyond it; else before it.
    pub above: bool,
    /// The line turned into the opening.
    pub spine: Spine,
    /// How much what lines it rises inward, for each mm.
    pub rise: f64,
    /// Steps of the opening.
    pub steps: Range<usize>,
    /// Only this piece turns in: it is tucked into a joint of the wall.
    pub only: Option<usize>,
}

/// The edges of openings that the line meets: a fold for one, and no wall on one of its sides.
pub fn openings(subject: &Subject, line: &SectionLine, places: &Places, spine: &Spine, walls: &[bool]) -> Vec<Opening> {
    let detail = subject.detail;
    let solid = |n: usize| walls[n];
    let mut found = Vec::new();
    for fold in bend::openings(detail, line.axis) {
        let at = nanometres(fold.at);
        let Some(upper) = line.steps.iter().position(|step| step.extent.low == at) else { continue };
        if upper == 0 {
            continue;
        }
        let above = match fold.kind {
            FoldKind::Sill => true,
            FoldKind::Head => false,
            _ => solid(upper - 1),
        };
        // A board that stands a little over the edge is still its edge.
        let lip = |n: usize| {
            let extent = line.steps[n].extent;
            let over = if above { extent.high.saturating_sub(at) } else { at.saturating_sub(extent.low) };
            solid(n) && (0..=LIP).contains(&over)
        };
        let (mut first, mut wall) = if above { (upper, upper - 1) } else { (upper - 1, upper) };
        while lip(first) && if above { first + 1 < line.steps.len() } else { first > 0 } {
            wall = first;
            first = if above { first + 1 } else { first - 1 };
        }
        if solid(first) || !solid(wall) {
            continue;
        }
        let mut steps = first..first + 1;
        while above && steps.end < line.steps.len() && !solid(steps.end) {
            steps.end += 1;
        }
        while !above && steps.start > 0 && !solid(steps.start - 1) {
            steps.start -= 1;
        }
        let place = places.along(first)[usize::from(!above)];
        let rise = bend::rise(detail, fold).filter(|_| above).unwrap_or(0.0);
        let spine = spine.turned_into(place, above, rise.atan().to_degrees());
        found.push(Opening { at: place, above, spine, rise, steps, only: None });
    }
    found.extend(reglets(places, spine));
    found.extend((0..detail.pieces.len()).flat_map(|piece| overhangs(subject, line, places, spine, piece)));
    found
}

/// Of each step of a line, whether the wall is cut in it. Where only what lies on a wall is drawn, the edges of openings say where it ends.
pub fn walls(subject: &Subject, line: &SectionLine, places: &Places) -> Vec<bool> {
    let detail = subject.detail;
    let unit = |p: &usize| detail.pieces[*p].material.kind == Some(MaterialKind::Unit);
    let solid = |p: &usize| !places.pieces[*p].thin && !unit(p) && !places.is_skin(*p) && !is_dam(&detail.pieces[*p]);
    let beds = beds(detail);
    let lies = |p: usize, step: &Step| beds.iter().any(|bed| bed.piece == p && bed.at <= step.extent.low);
    let stands = |step: &Step| step.stack.iter().any(|p| solid(p) && !lies(*p, step));
    let cut: Vec<bool> = line.steps.iter().map(stands).collect();
    let edges: Vec<(i64, FoldKind)> =
        bend::openings(detail, line.axis).map(|fold| (nanometres(fold.at), fold.kind)).collect();
    if cut.contains(&true) || edges.is_empty() || line.axis != Axis::Up {
        return cut;
    }
    let open = |step: &Step| {
        let above_sill = edges.iter().filter(|(at, _)| *at <= step.extent.low).max_by_key(|(at, _)| *at);
        let below_head = edges.iter().filter(|(at, _)| *at >= step.extent.high).min_by_key(|(at, _)| *at);
        let within = above_sill.is_some_and(|(_, kind)| *kind == FoldKind::Sill)
            || below_head.is_some_and(|(_, kind)| *kind == FoldKind::Head);
        let joint = step.extent.length().is_some_and(|length| length <= LIP);
        within && (joint || step.stack.iter().any(&unit))
    };
    line.steps.iter().map(|step| !open(step)).collect()
}

/// Roofing lies straight on over the edge of its roof: of slates and shingles none is bent. Nothing where more of it hangs than lies.
fn overhangs(subject: &Subject, line: &SectionLine, places: &Places, spine: &Spine, piece: usize) -> Vec<Opening> {
    let cladding = subject.detail.pieces[piece].material.kind == Some(MaterialKind::Cladding);
    if !cladding || places.pieces[piece].thin {
        return Vec::new();
    }
    let mut found = Vec::new();
    for interval in line.intervals(piece) {
        let (low, high) = (places.along(interval.start)[0], places.along(interval.end - 1)[1]);
        for fold in 0..spine.legs() - 1 {
            let at = spine.span(fold)[1];
            let Some(roof) = spine.edge_of(fold).filter(|_| low < at - 1e-6 && at + 1e-6 < high) else { continue };
            let (lies, hangs) = if roof > fold { (high - at, at - low) } else { (at - low, high - at) };
            if hangs < lies {
                let spine = spine.straightened(fold, roof);
                let steps = interval.clone();
                found.push(Opening { at, above: roof < fold + 1, spine, rise: 0.0, steps, only: Some(piece) });
            }
        }
    }
    found
}

/// The joints of the wall into which a membrane turns.
fn reglets<'a>(places: &'a Places, spine: &'a Spine) -> impl Iterator<Item = Opening> + 'a {
    places.tucked.iter().map(|own| {
        let spine = spine.turned_into(own.at, own.above, 0.0);
        Opening { at: own.at, above: own.above, spine, rise: 0.0, steps: own.steps.clone(), only: Some(own.piece) }
    })
}

impl Opening {
    /// The piece turns into the opening: a membrane at its edge that lies on nothing that fills the opening.
    pub fn takes(
        &self,
        subject: &Subject,
        line: &SectionLine,
        places: &Places,
        piece: usize,
        interval: &Range<usize>,
    ) -> bool {
        let unit = |p: &usize| subject.detail.pieces[*p].material.kind == Some(MaterialKind::Unit);
        if let Some(only) = self.only {
            return only == piece && interval.contains(&self.steps.start);
        }
        let within = interval.start.max(self.steps.start)..interval.end.min(self.steps.end);
        let at_edge = if self.above { within.start == self.steps.start } else { within.end == self.steps.end };
        let whole = within == self.steps;
        let lies_on_unit = within.clone().any(|n| {
            let stack = &line.steps[n].stack;
            stack.iter().position(unit).is_some_and(|at| stack.iter().position(|p| *p == piece) > Some(at))
        });
        // A dam at the back of a pan begins beyond the edge, behind what fills the opening.
        let behind_unit = within == *interval
            && within.clone().any(|n| {
                let stack = &line.steps[n].stack;
                stack.iter().position(unit) > stack.iter().position(|p| *p == piece)
            });
        let lies = || beds(subject.detail).iter().any(|bed| bed.piece == piece && bed.lies);
        if self.above && at_edge && !places.pieces[piece].thin && lies() {
            return true;
        }
        places.pieces[piece].thin
            && !subject.detail.pieces[piece].inside
            && !within.is_empty()
            && (at_edge || behind_unit)
            && !whole
            && !lies_on_unit
    }
}
