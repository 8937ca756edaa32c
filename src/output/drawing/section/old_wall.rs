//! The face of an old wall goes on within what is built against it: there a tape of the inner face lies in the corner that the new wall
//! makes with it, and not on the back of the old one.

use crate::model::{AssemblyKind, Axis};
use crate::output::drawing::paper::SPREAD;
use crate::output::drawing::scene::Point;
use crate::output::drawing::section::cut::Cut;

/// How far an old wall is drawn beyond what lies on it in such a corner, mm of paper.
const PAST: f64 = 6.0;

/// A corner of a new wall with the old one.
#[derive(Clone, Copy)]
struct Corner {
    at: f64,
    old: usize,
    new: usize,
    /// How deep the new wall is.
    deep: f64,
}

/// The leg of the old wall at a fold where a new one meets its face.
pub(super) fn old_leg(cut: &Cut, fold: usize) -> Option<usize> {
    if cut.line.axis != Axis::Along || cut.spine.opens(fold) {
        return None;
    }
    let detail = cut.subject.detail;
    let of = |p: &usize| detail.pieces[*p].layer.map(|at| detail.joins[at.join].assembly.kind);
    let bodies = |n: usize| cut.line.steps[n].stack.iter().filter(|p| !cut.places.pieces[**p].thin).filter_map(of);
    // The bead of its joint may take the old wall on by as much as that is wide.
    let old = |n: usize| bodies(n).count() > 0 && bodies(n).all(|kind| kind == AssemblyKind::Existing);
    match cut.around(cut.spine.span(fold)[1]).map(|n| n.is_some_and(old)) {
        [true, false] => Some(fold),
        [false, true] => Some(fold + 1),
        _ => None,
    }
}

/// How much farther the old wall is drawn for what lies in its corner.
pub(super) fn further(cut: &Cut, fold: usize) -> f64 {
    let at = cut.spine.span(fold)[1];
    let lies = |piece: usize| {
        let corner = corner(cut, piece)?;
        let [low, high] = cut.real(piece, &cut.interval(piece, cut.around(at)[0]?));
        (corner.at == at).then_some(if corner.old == fold { at - low } else { high - at })
    };
    let far = cut.line.pieces().into_iter().filter_map(lies).reduce(f64::max);
    far.map_or(0.0, |far| far + PAST)
}

/// The way of a piece through such a corner.
pub(super) fn trace(cut: &Cut, piece: usize, line: &[(f64, f64)]) -> Option<Vec<Point>> {
    let corner = corner(cut, piece)?;
    let mut points: Vec<Point> = Vec::new();
    for pair in line.windows(2) {
        points.push(corner.place(cut, pair[0].0));
        let (low, high) = (pair[0].0.min(pair[1].0), pair[0].0.max(pair[1].0));
        if low < corner.at && corner.at < high {
            points.push(corner.place(cut, corner.at));
        }
    }
    points.extend(line.last().map(|last| corner.place(cut, last.0)));
    points.dedup_by(|p, q| (p.x - q.x).hypot(p.y - q.y) < 1e-9);
    Some(points)
}

/// A place on such a piece.
pub(super) fn place(cut: &Cut, piece: usize, along: f64) -> Option<Point> {
    corner(cut, piece).map(|corner| corner.place(cut, along))
}

impl Corner {
    fn place(self, cut: &Cut, along: f64) -> Point {
        let on_old = if self.old < self.new { along < self.at } else { along > self.at };
        if !on_old {
            let off = SPREAD / 2.0;
            let along = if self.old < self.new { along.max(self.at + off) } else { along.min(self.at - off) };
            return cut.spine.raw(self.new, along, -self.deep - off);
        }
        let off = self.deep + SPREAD / 2.0 + (along - self.at).abs();
        let along = if self.old < self.new { self.at + off } else { self.at - off };
        cut.spine.raw(self.old, along, SPREAD / 2.0)
    }
}

/// The corner through which a membrane of the inner face goes.
fn corner(cut: &Cut, piece: usize) -> Option<Corner> {
    if !cut.subject.detail.pieces[piece].inside || !cut.places.pieces[piece].thin {
        return None;
    }
    let through = |fold: usize| {
        let at = cut.spine.span(fold)[1];
        let old = old_leg(cut, fold)?;
        let [below, above] = cut.around(at).map(|n| n.filter(|n| cut.line.steps[*n].stack.contains(&piece)));
        let (below, above) = (below?, above?);
        let (new, step) = if old == fold { (fold + 1, above) } else { (fold, below) };
        // What lies on the inner face before the piece is a part of the new wall.
        let solid = |p: &&usize| **p != piece && !cut.places.pieces[**p].thin && !cut.places.is_skin(**p);
        let slots = cut.line.steps[step].stack.iter().filter(solid).filter_map(|p| cut.places.slot(*p, step));
        Some(Corner { at, old, new, deep: -slots.fold(0.0, |deep: f64, slot| deep.min(slot[0])) })
    };
    (0..cut.spine.legs().saturating_sub(1)).find_map(through)
}
