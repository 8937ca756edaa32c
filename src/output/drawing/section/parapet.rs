//! The top of a parapet whose body is drawn as one piece: it is as wide as the body is thick, and beyond it the line comes down the
//! outer face. Pieces that go on over the top are stated to their ends, which lie on that face.

use crate::facts::bend::{Bend, Leg, openings};
use crate::facts::face::{Coordinate, Extent, OPEN_HIGH, OPEN_LOW};
use crate::facts::nanometres;
use crate::model::{AssemblyKind, Axis, Detail, FoldKind, MaterialKind, Piece};
use crate::output::drawing::section::place::depth;
use crate::output::drawing::subject::Subject;

/// Where the top of a parapet begins and ends on the line, and the pieces that are its body.
#[derive(Clone, Debug)]
pub struct Top {
    pub from: Coordinate,
    pub to: Coordinate,
    pub bodies: Vec<usize>,
    /// The line comes down over a fold that is stated, with what lies on that side of the body.
    pub lined: bool,
}

/// The line of a detail, with the outer face of its parapet.
pub fn bend(subject: &Subject, axis: Axis) -> (Bend, Option<Top>) {
    let bend = upright(subject.detail, axis, Bend::new(subject.facts, axis));
    match top(subject.detail, axis, &bend) {
        Some(top) if top.lined => (bend, Some(top)),
        Some(top) => (over(bend, &top), Some(top)),
        None => (bend, None),
    }
}

/// A slope that is stated from the sill of an opening on is that of the sill: what stands on it stands.
fn upright(detail: &Detail, axis: Axis, mut bend: Bend) -> Bend {
    let sill =
        |at: Coordinate| openings(detail, axis).any(|fold| fold.kind == FoldKind::Sill && nanometres(fold.at) == at);
    if let [wall, lying] = bend.legs[..]
        && axis == Axis::Up
        && sill(lying.extent.low)
    {
        bend.legs = vec![Leg { extent: Extent { low: wall.extent.low, high: lying.extent.high }, ..wall }];
    }
    bend
}

/// The top of a parapet above the last fold of a line, or the last but one where the line comes down again.
fn top(detail: &Detail, axis: Axis, bend: &Bend) -> Option<Top> {
    let lined = bend.legs.last().is_some_and(|leg| leg.heading == DOWN);
    let legs = &bend.legs[..bend.legs.len() - usize::from(lined)];
    let [.., wall, lying] = legs else { return None };
    let from = lying.extent.low;
    let kind = detail.folds.iter().find(|fold| fold.axis == axis && nanometres(fold.at) == from)?.kind;
    let upright = wall.heading.to_radians().sin() > FLAT && lying.heading.to_radians().cos() < -FLAT;
    if axis != Axis::Up || !upright || !matches!(kind, FoldKind::Sill | FoldKind::OutsideCorner) {
        return None;
    }
    // Where the line comes down again the body may be stated to end with the top.
    let to_end = |piece: &Piece| piece.up.high.map(nanometres).is_none_or(|high| lined && high == lying.extent.high);
    let over = |piece: &Piece| to_end(piece) && piece.up.low.is_none_or(|low| nanometres(low) < from);
    let bodies: Vec<usize> =
        (0..detail.pieces.len()).filter(|p| over(&detail.pieces[*p]) && is_body(detail, &detail.pieces[*p])).collect();
    if lined {
        return (!bodies.is_empty()).then_some(Top { from, to: lying.extent.high, bodies, lined });
    }
    // What stands on the body and ends with the wall, as insulation does, is under the top too.
    let ends = |piece: &Piece| is_body(detail, piece) && piece.up.high.is_some_and(|high| nanometres(high) == from);
    let on = (0..detail.pieces.len()).filter(|p| bodies.iter().all(|body| body < p) && ends(&detail.pieces[*p]));
    let under = bodies.iter().copied().chain(on);
    let wide = under.map(|p| depth(detail, &detail.pieces[p])).sum::<Option<f64>>();
    let to = wide.map_or_else(|| covered(detail, from), |mm| Some(from + (mm * 1e6) as Coordinate))?;
    (!bodies.is_empty()).then_some(Top { from, to, bodies, lined })
}

/// The line with the outer face beyond the top.
fn over(bend: Bend, top: &Top) -> Bend {
    let Bend { mut legs, lies } = bend;
    if let Some(last) = legs.last_mut() {
        last.extent.high = top.to;
    }
    legs.push(Leg { extent: Extent { low: top.to, high: OPEN_HIGH }, heading: DOWN });
    Bend { legs, lies }
}

/// Where the top of a parapet lies between walls that stand on both sides of it.
pub fn level_top(bend: &Bend) -> Option<[Coordinate; 2]> {
    let [.., wall, lying, down] = &bend.legs[..] else { return None };
    let stands = wall.heading.to_radians().sin() > FLAT && down.heading == DOWN;
    stands.then_some([lying.extent.low, lying.extent.high])
}

/// Where a line that stands on both sides of a top ends at least: it is cut off at one height.
pub fn level_ends(detail: &Detail, bend: &Bend, edges: &[Coordinate]) -> Option<[Coordinate; 2]> {
    let [wall, lying, down] = &bend.legs[..] else { return None };
    let [from, to] = [lying.extent.low, lying.extent.high];
    let stands = wall.heading.to_radians().sin() > FLAT && down.heading == DOWN;
    let stated = || edges.iter().copied().filter(|at| *at != OPEN_LOW && *at != OPEN_HIGH);
    let deep = (from - stated().min()?).max(stated().max()? - to).max(under_top(detail, [from, to]));
    stands.then_some([from - deep, to + deep])
}

/// So far down that the walls are seen below the thickest that lies on top of them.
fn under_top(detail: &Detail, [from, to]: [Coordinate; 2]) -> Coordinate {
    use MaterialKind::{Board, Fill, Frame, Mass};
    let lies = |piece: &&Piece| {
        let [low, high] = [piece.up.low, piece.up.high].map(|end| end.map(nanometres));
        let body = matches!(piece.material.kind, Some(Board | Fill | Frame | Mass));
        body && low.is_some_and(|low| low >= from && low < to) && high.is_none_or(|high| high > from)
    };
    let thickest = detail.pieces.iter().filter(lies).filter_map(|piece| depth(detail, piece)).fold(0.0, f64::max);
    ((thickest + if thickest > 0.0 { SEEN } else { 0.0 }) * 1e6) as Coordinate
}

/// How much of a wall is seen below its top, mm of the building.
const SEEN: f64 = 80.0;

/// The line comes down.
const DOWN: f64 = 270.0;

/// Nearer to plumb, or to level, than to the other.
const FLAT: f64 = 0.7072;

/// What stands up as the parapet: no membrane, no cladding, and no part of the roof.
fn is_body(detail: &Detail, piece: &Piece) -> bool {
    use MaterialKind::{Board, Frame, Mass};
    let stands = piece.layer.is_none_or(|at| {
        let kind = detail.joins[at.join].assembly.kind;
        matches!(kind, AssemblyKind::Wall | AssemblyKind::Foundation | AssemblyKind::Existing)
    });
    stands && !piece.inside && matches!(piece.material.kind, Some(Board | Frame | Mass))
}

/// Of a body whose thickness nobody states: as far as the sheets reach that cover its top.
fn covered(detail: &Detail, from: Coordinate) -> Option<Coordinate> {
    use MaterialKind::{Coat, Sheet, Tape};
    let sheets = detail.pieces.iter().filter(|piece| {
        matches!(piece.material.kind, Some(Sheet | Tape | Coat))
            && piece.up.low.is_none_or(|low| nanometres(low) < from)
    });
    sheets.filter_map(|piece| piece.up.high).map(nanometres).filter(|high| *high > from).max()
}
