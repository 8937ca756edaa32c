//! What stands at the foot of a wall and is thick, as insulation outside of the sheathing is.
//!
//! The unfolded face knows no thickness. A membrane that turns up on such insulation has its corner there, and whoever says how far it
//! lies on the roof counts from that corner. So the roof ends on paper before what stands there, and whatever lies under it goes on to
//! the wall.

use crate::output::drawing::scene::Point;
use crate::output::drawing::section::cut::Cut;
use crate::output::drawing::section::line::SectionLine;
use crate::output::drawing::section::place::Places;
use crate::output::drawing::section::spine::Spine;

/// The outer face of what stands at a fold.
pub struct Foot {
    pub fold: usize,
    /// The leg that stands.
    pub wall: usize,
    /// Where its inner and its outer face lie on the wall, mm of paper.
    inner: f64,
    pub out: f64,
    /// The first of its pieces.
    piece: usize,
}

/// What begins at most this far above the roof stands on it, mm of the building.
const STANDS: f64 = 30.0;

/// What stands at each fold.
pub(super) fn feet(line: &SectionLine, places: &Places, spine: &Spine, scale: f64) -> Vec<Foot> {
    let folds = 0..spine.legs() - 1;
    folds.filter_map(|fold| foot(line, places, spine, fold, scale)).collect()
}

fn foot(line: &SectionLine, places: &Places, spine: &Spine, fold: usize, scale: f64) -> Option<Foot> {
    let [below, roof_above] = [fold, fold + 1].map(|leg| spine.lies(leg) && spine.outward(leg).y < 0.0);
    if spine.opens(fold) || below == roof_above {
        return None;
    }
    let (wall, at) = (if roof_above { fold } else { fold + 1 }, spine.span(fold)[1]);
    // How far a step lies on the wall from the fold; below zero on the roof.
    let off = |n: &usize| if roof_above { at - places.along(*n)[1] } else { places.along(*n)[0] - at };
    let on_roof =
        |n: &usize| if roof_above { places.along(*n)[0] >= at - 1e-6 } else { places.along(*n)[1] <= at + 1e-6 };
    let steps = 0..line.steps.len();
    let roof = if roof_above { steps.clone().find(on_roof)? } else { steps.clone().rev().find(on_roof)? };
    let near: Vec<usize> = steps.filter(|n| (-1e-6..=STANDS / scale).contains(&off(n))).collect();
    let turned_up = |piece: usize, n: usize| {
        let stack = &line.steps[n].stack;
        let over = stack.iter().skip_while(move |p| **p != piece).skip(1);
        let membrane = |q: &usize| places.pieces[*q].thin && places.is_skin(*q);
        let mut on_roof = line.steps[roof].stack.iter().filter(|q| membrane(q));
        on_roof.any(|q| over.clone().any(|p| p == q) || *q > piece && !stack.contains(q))
    };
    let stands = |piece: usize, n: usize| {
        let look = &places.pieces[piece];
        let body = places.is_skin(piece) && !look.thin && !look.cant;
        body && !line.steps[roof].stack.contains(&piece) && turned_up(piece, n)
    };
    let standing = near.into_iter().flat_map(|n| {
        let pieces = line.steps[n].stack.iter().copied().filter(move |piece| stands(*piece, n));
        pieces.filter_map(move |piece| places.slot(piece, n).map(|[inner, out]| Foot { fold, wall, inner, out, piece }))
    });
    standing.reduce(|a, b| Foot {
        inner: a.inner.min(b.inner),
        out: a.out.max(b.out),
        piece: a.piece.min(b.piece),
        ..a
    })
}

/// What stands on the neighbor of a leg that lies, at its lower or its upper end.
pub(super) fn of<'a>(cut: &'a Cut, leg: usize, end: usize) -> Option<&'a Foot> {
    let fold = if end == 0 { leg.checked_sub(1)? } else { leg };
    cut.feet.iter().find(|foot| foot.fold == fold && foot.wall != leg)
}

/// A membrane that ends at the wall and lies under what stands there goes on to the wall.
pub(super) fn go_under(cut: &Cut, piece: usize, line: &[(f64, f64)], points: &mut Vec<Point>) {
    for foot in &cut.feet {
        let roof_above = foot.wall == foot.fold;
        let roof = if roof_above { foot.fold + 1 } else { foot.fold };
        let end = if roof_above { line.first() } else { line.last() };
        let Some((along, out)) = end.copied() else { continue };
        let skin = cut.places.is_skin(piece);
        if (along - cut.spine.span(foot.fold)[1]).abs() > 1e-6 || line.len() < 2 || skin && piece > foot.piece {
            continue;
        }
        let legs = [roof, foot.wall];
        let at = cut.spine.corner(legs, [out, if skin { foot.inner } else { 0.0 }]);
        if roof_above { points.insert(0, at) } else { points.push(at) }
    }
}
