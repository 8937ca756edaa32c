//! Masonry that a roof meets, as a chimney: it goes on below the roof, and wood stays clear of it.

use crate::facts::nanometres;
use crate::model::{Axis, MaterialKind};
use crate::output::drawing::dimension::Dimension;
use crate::output::drawing::scene::Point;
use crate::output::drawing::section::cut::Cut;

/// How far masonry is drawn below a roof at least, mm of paper.
const BELOW: f64 = 4.0;

/// Wood that ends so far from masonry stays clear of it (codes ask for 2 in), mm of the building. Less is a joint, more is no clearance.
const CLEAR: [f64; 2] = [20.0, 110.0];

/// How deep below the face of a roof masonry goes on that ends there in the text, as the leg of the roof counts: below all that the roof is
/// made of, however far that begins from the masonry. `None` of what may stand on a roof.
pub(super) fn goes_on(cut: &Cut, piece: usize, roof: usize) -> Option<f64> {
    let mass = cut.subject.detail.pieces[piece].material.kind == Some(MaterialKind::Mass);
    let meets = mass && cut.line.axis == Axis::Up && is_roof(cut, roof);
    let depth = || steps(cut, roof).into_iter().map(|n| cut.depth_without(n, piece)).fold(-BELOW, f64::min);
    meets.then(depth)
}

/// How far the wood of a roof stays clear of the masonry beside it, measured below the roof.
pub(super) fn clearances(cut: &Cut) -> Vec<Dimension> {
    let folds = 0..cut.spine.legs().saturating_sub(1);
    let closed = folds.filter(|fold| cut.line.axis == Axis::Up && !cut.spine.opens(*fold));
    closed.filter_map(|fold| clearance(cut, fold)).collect()
}

fn clearance(cut: &Cut, fold: usize) -> Option<Dimension> {
    let above = match [fold, fold + 1].map(|leg| is_roof(cut, leg)) {
        [true, false] => false,
        [false, true] => true,
        _ => return None,
    };
    let pieces = &cut.subject.detail.pieces;
    let roof = if above { fold + 1 } else { fold };
    let at = cut.spine.span(fold)[1];
    let body = |p: &usize, n: usize| !cut.places.is_skin(*p) && cut.places.slot(*p, n).is_some();
    let [below, beyond] = cut.around(at);
    let beside = if above { below } else { beyond }?;
    let mass = |p: &usize| pieces[*p].material.kind == Some(MaterialKind::Mass) && body(p, beside);
    cut.line.steps[beside].stack.iter().find(|p| mass(p))?;
    // The first thing of wood on the roof, from the wall on.
    let mut steps = steps(cut, roof);
    if !above {
        steps.reverse();
    }
    let wood = |p: &usize, n: usize| {
        let kind = pieces[*p].material.kind;
        matches!(kind, Some(MaterialKind::Board | MaterialKind::Frame)) && body(p, n)
    };
    let found = steps.into_iter().find_map(|n| Some((n, *cut.line.steps[n].stack.iter().find(|p| wood(p, n))?)));
    let (step, piece) = found?;
    let end = if above { pieces[piece].up.low } else { pieces[piece].up.high }.map(nanometres)?;
    let detail = cut.subject.detail;
    let folds = detail.folds.iter().map(|fold| fold.at).chain(detail.valleys.iter().map(|valley| valley.at));
    let from = folds.map(nanometres).find(|fold| (cut.ruler.at(*fold) - at).abs() < 1e-6)?;
    let gap = (end - from).abs() as f64 * 1e-6;
    let out = cut.places.slot(piece, step)?[0];
    let ends = [at, cut.ruler.at(end)].map(|along| cut.spine.raw(roof, along, out));
    let n = cut.spine.outward(roof);
    let dimension = Dimension { ends, side: Point::new(-n.x, -n.y), words: cut.subject.plain(gap), failing: None };
    (CLEAR[0]..=CLEAR[1]).contains(&gap).then_some(dimension)
}

/// A leg that lies with its outer side up.
fn is_roof(cut: &Cut, leg: usize) -> bool {
    cut.spine.lies(leg) && cut.spine.outward(leg).y < 0.0
}

/// The steps that lie on a leg, from the low end on.
fn steps(cut: &Cut, leg: usize) -> Vec<usize> {
    let [from, to] = cut.spine.span(leg);
    let on = |n: &usize| {
        let [low, high] = cut.places.along(*n);
        (from..to).contains(&((low + high) / 2.0))
    };
    (0..cut.line.steps.len()).filter(on).collect()
}
