//! What masonry has of its own on a section: sills of stone and of bricks on edge, and what carries a veneer.

use crate::model::{Axis, MaterialKind};
use crate::output::drawing::hatch::{Hatch, hatch_of};
use crate::output::drawing::page;
use crate::output::drawing::paper::{BEYOND, CUT, MEDIUM};
use crate::output::drawing::scene::{Dash, Ink, Pen, Point, Role, Shape};
use crate::output::drawing::section::cut::Cut;
use crate::output::drawing::section::part::Part;
use crate::output::drawing::section::place::{Ledge, is_angle, is_sill};
use crate::output::drawing::section::solid::hatched;

/// A sill of bricks on edge: one brick long, without the courses of a wall.
pub(super) fn is_rowlock(cut: &Cut, piece: usize) -> bool {
    let said = &cut.subject.detail.pieces[piece];
    is_sill(cut.subject.detail, said)
        && said.material.kind == Some(MaterialKind::Cladding)
        && said.layer.is_some()
        && hatch_of(&said.material) == Hatch::Masonry
}

/// The mortar under bricks that are laid with a fall.
pub(super) fn bed_of(cut: &Cut, part: &Part, fall: f64) -> Vec<Shape> {
    let [low, inner, outer] = [part.along[0], part.out[0], part.out[1]];
    let at = |along: f64, out: f64| cut.spine.raw(part.leg, along, out);
    let wedge = vec![at(low, inner), at(low + fall, inner), at(low, outer)];
    let mut filled = vec![Shape::polygon(wedge.clone(), Some(Pen::solid(BEYOND, Ink::Black)), Some(Ink::White))];
    filled.extend(hatched(&cut.spine, part.leg, &wedge, Hatch::Render, cut.scale));
    vec![Shape::group(Role::Hatch(Hatch::Render), "", filled)]
}

/// How far the throat of a drip lies from the edge, how wide it is and how deep, mm of paper.
const THROAT: [f64; 3] = [1.6, 1.0, 0.9];

/// The groove under the outer edge of a sill or a coping of stone that is said to drip.
pub(super) fn throat(cut: &Cut, piece: usize, part: &Part) -> Vec<Shape> {
    let said = &cut.subject.detail.pieces[piece];
    let stone = matches!(said.material.kind, Some(MaterialKind::Mass | MaterialKind::Cladding));
    let [off, wide, deep] = THROAT;
    let hangs = cut.openings.iter().any(|over| over.only == Some(piece) && !over.above);
    let least = [part.along[1] - part.along[0], part.out[1] - part.out[0]].into_iter().fold(f64::MAX, f64::min);
    if !said.drip || !stone || part.open[0] || cut.line.axis != Axis::Up || least < 2.0 * (off + wide) {
        return Vec::new();
    }
    let p = |aside: f64, up: f64| match cut.spine.lies(part.leg) {
        true => cut.spine.raw(part.leg, part.along[0] + off + aside, part.out[0] + up),
        false => cut.spine.raw(part.leg, part.along[0] + up, part.out[1] - off - aside),
    };
    if cut.spine.lies(part.leg) && !hangs {
        return Vec::new();
    }
    let mouth = vec![p(0.0, -CUT), p(0.0, deep), p(wide, deep), p(wide, -CUT)];
    let groove = vec![p(0.0, 0.0), p(0.0, deep), p(wide, deep), p(wide, 0.0)];
    vec![Shape::polygon(mouth, None, Some(Ink::White)), Shape::line(groove, Pen::solid(MEDIUM, Ink::Black))]
}

/// The ledge that a veneer stands on: nobody draws it, and it is not taken for granted.
pub fn ledges(cut: &Cut) -> Vec<Shape> {
    let pen = Pen::solid(BEYOND, Ink::Dark).dashed(Dash::Dashed);
    let drawn = ledge(cut).map(|line| Shape::line(line.to_vec(), pen));
    drawn.into_iter().map(|line| Shape::group(Role::Covered, "ledge, support not given", vec![line])).collect()
}

/// Where it is said that nobody gave it: on its face, in the lower part of that.
pub fn unstated(cut: &Cut) -> impl Iterator<Item = Point> {
    ledge(cut).into_iter().map(|[_, top, foot, _]| {
        let part = |from: f64, to: f64| from + 0.7 * (to - from);
        Point::new(part(top.x, foot.x), part(top.y, foot.y))
    })
}

/// The line around a ledge: its top, its face and its underside.
fn ledge(cut: &Cut) -> Option<[Point; 4]> {
    let Ledge { foot, outer, low, grounded } = cut.places.ledge?;
    let leg = cut.spine.leg_from(foot, -1.0);
    let p = |along: f64, out: f64| cut.spine.raw(leg, along, out);
    if toe(cut).is_some() {
        return None;
    }
    let grade = cut.subject.detail.grade.filter(|_| grounded).map(|grade| cut.ruler.at_mm(grade.value.si * 1000.0));
    let low = (low - OVER).min(foot - HIGH).min(grade.unwrap_or(foot));
    Some([p(foot - 1.6, 0.0), p(foot - 1.6, outer), p(low, outer), p(low, 0.0)])
}

/// The least height of a ledge, and how much farther it goes than what hangs in front of it, mm of paper.
const HIGH: f64 = 16.0;
const OVER: f64 = 3.0;

/// How far under the foot of a veneer the leg that carries it lies, for the flashing between them, mm of paper.
const TOE: f64 = 1.6;

/// How far back from the face of the veneer that leg ends, mm of the building (practice: half an inch).
const SHORT: f64 = 13.0;

/// Thickness of that leg on paper: at least and at most.
const LEG: [f64; 2] = [0.9, 3.0];

/// An angle whose foot is no farther from that of a veneer carries it, mm of the building.
const UNDER: f64 = 60.0;

/// The leg of an angle that reaches out under a veneer.
pub fn toe(cut: &Cut) -> Option<Shape> {
    let Ledge { foot, outer, .. } = cut.places.ledge?;
    let leg = cut.spine.leg_from(foot, -1.0);
    let upright = |piece: &usize| {
        let step = cut.line.intervals(*piece).first()?.start;
        let low = cut.real(*piece, &(step..step + 1))[0];
        let carries = is_angle(&cut.subject.detail.pieces[*piece]) && (low - foot).abs() * cut.scale < UNDER;
        cut.places.slot(*piece, step).filter(|_| carries).map(|slot| (*piece, low, slot))
    };
    let (piece, low, [inner, face]) = cut.line.pieces().iter().find_map(upright)?;
    let (top, end) = (foot - TOE, outer - SHORT / cut.scale);
    let under = top - (face - inner).clamp(LEG[0], LEG[1]);
    let thin = cut.places.pieces[piece].thin;
    let face = if thin { inner + LEG[0] } else { face };
    let mut parts = vec![([under, top], [inner, end])];
    parts.extend((low > top).then_some(([top, low], [inner, face])));
    let mut shapes = Vec::new();
    for (along, out) in parts {
        let polygon = cut.spine.rectangle(leg, along, out, [false, false]);
        let mut filled = vec![Shape::polygon(polygon.clone(), None, Some(Ink::White))];
        filled.extend(hatched(&cut.spine, leg, &polygon, Hatch::Metal, cut.scale));
        shapes.push(Shape::group(Role::Hatch(Hatch::Metal), "", filled));
        shapes.push(Shape::polygon(polygon, Some(Pen::solid(BEYOND, Ink::Black)), None));
    }
    Some(Shape::group(Role::Piece(piece), page::accessible_name(cut.subject, piece), shapes))
}
