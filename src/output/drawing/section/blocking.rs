//! What carries a coping beyond the nailer under it, over the insulation and the cladding of its wall: nobody states it, and metal does
//! not span from a nailer to a veneer.

use crate::model::{Axis, MaterialKind};
use crate::output::drawing::paper::BEYOND;
use crate::output::drawing::scene::{Dash, Ink, Pen, Role, Shape};
use crate::output::drawing::section::cut::Cut;

/// Metal spans less than this, mm of the building.
const SPAN: f64 = 40.0;

/// Less room than this is left to shims, mm of paper.
const LOW: f64 = 2.0;

/// A dashed block, crossed as blocking is, under each side of a coping of metal that stands off the body below.
pub fn blocking(cut: &Cut) -> Vec<Shape> {
    let coping = |p: &usize| {
        cut.subject.detail.pieces[*p].role.as_deref() == Some("coping")
            && cut.places.pieces[*p].thin
            && cut.places.is_skin(*p)
    };
    let Some(piece) = cut.line.pieces().into_iter().find(coping).filter(|_| cut.line.axis == Axis::Up) else {
        return Vec::new();
    };
    let folds = 0..cut.spine.legs() - 1;
    let edges = folds.filter(|fold| cut.spine.opens(*fold) && cut.spine.lies(*fold) != cut.spine.lies(*fold + 1));
    edges.filter_map(|fold| block(cut, piece, fold)).collect()
}

fn block(cut: &Cut, piece: usize, fold: usize) -> Option<Shape> {
    let at = cut.spine.span(fold)[1];
    let [below, above] = cut.around(at).map(|n| n.filter(|n| cut.places.slot(piece, *n).is_some()));
    let wall_below = !cut.spine.lies(fold);
    let [wall, top] = if wall_below { [fold, fold + 1] } else { [fold + 1, fold] };
    let (on_wall, on_top) = if wall_below { (below?, above?) } else { (above?, below?) };
    let (hangs, lies) = (cut.places.slot(piece, on_wall)?[0], cut.places.slot(piece, on_top)?[0]);
    // What stands on the wall under the leg of the coping, and how far from its top it ends.
    let count = cut.line.steps.len();
    let near = |n: &usize| {
        let [low, high] = cut.places.along(*n);
        cut.spine.leg_from((low + high) / 2.0, 1.0) == wall
    };
    let body = |p: &usize| {
        use MaterialKind::{Board, Cladding, Fill, Mass};
        let kind = cut.subject.detail.pieces[*p].material.kind;
        cut.places.is_skin(*p) && matches!(kind, Some(Board | Cladding | Fill | Mass))
    };
    let steps: Vec<usize> = (0..count).filter(near).collect();
    let stands = |n: usize| {
        let under = cut.line.steps[n].stack.iter().filter(|p| body(p)).filter_map(move |p| cut.places.slot(*p, n));
        under.filter(|slot| slot[0] < hangs - 1e-6).map(move |slot| (slot, n))
    };
    let bodies: Vec<([f64; 2], usize)> = steps.into_iter().flat_map(stands).collect();
    // From the membranes of the wall on.
    let first = bodies.iter().map(|(slot, _)| slot[0]).reduce(f64::min)?;
    let thin = |p: &&usize| cut.places.pieces[**p].thin && cut.places.is_skin(**p) && **p != piece;
    let membranes = cut.line.steps[on_wall].stack.iter().filter(thin).filter_map(|p| cut.places.slot(*p, on_wall));
    let inner = membranes.map(|slot| slot[1]).filter(|out| *out <= first + 1e-6).fold(0.0, f64::max);
    let off = |n: usize| {
        let [low, high] = cut.places.along(n);
        if wall_below { at - high } else { low - at }
    };
    let down = bodies.iter().map(|(_, n)| off(*n)).fold(f64::MAX, f64::min);
    let outer = hangs - BEYOND;
    if (outer - inner) * cut.scale < SPAN || down + lies < LOW {
        return None;
    }
    let foot = if wall_below { at - down } else { at + down };
    let corners = vec![
        cut.spine.raw(wall, foot, inner),
        cut.spine.raw(wall, foot, outer),
        cut.spine.corner([wall, top], [outer, lies - BEYOND]),
        cut.spine.corner([wall, top], [inner, lies - BEYOND]),
    ];
    let pen = Pen::solid(BEYOND, Ink::Dark).dashed(Dash::Dashed);
    Some(Shape::group(Role::Covered, "blocking, not given", Shape::crossed(corners, pen).into()))
}
