//! What a frame stands on: a body under a sill is stated as if it went on up the face, and lies where the face turns in.

use crate::facts::face::Coordinate;
use crate::facts::{bend, nanometres};
use crate::model::{Axis, Detail, FoldKind, MaterialKind, Piece};
use crate::output::drawing::hatch::hatch_of;
use crate::output::drawing::paper::CUT;
use crate::output::drawing::scene::{Ink, Pen, Role, Shape};
use crate::output::drawing::section::cut::Cut;
use crate::output::drawing::section::solid::hatched;

/// How far what is drawn around an opening may stand into it, and how wide the joint around a frame is at most, nm.
pub const LIP: i64 = 30_000_000;

/// A piece whose top is the edge of an opening, beyond which it goes on under the frame.
#[derive(Clone, Copy, Debug)]
pub struct Bed {
    pub piece: usize,
    /// The edge, and how far the piece reaches inward from it.
    pub at: Coordinate,
    pub deep: Coordinate,
    /// It begins at the edge: none of it is in the wall below.
    pub lies: bool,
}

/// The beds of the frames that stand on the sills of a detail.
pub fn beds(detail: &Detail) -> Vec<Bed> {
    let sills = bend::openings(detail, Axis::Up).filter(|fold| fold.kind == FoldKind::Sill);
    let sills: Vec<Coordinate> = sills.map(|fold| nanometres(fold.at)).collect();
    let frames = detail.pieces.iter().filter(|piece| piece.material.kind == Some(MaterialKind::Unit));
    let foot = frames.filter_map(|frame| frame.up.low).map(nanometres).max();
    let bed = |(piece, own): (usize, &Piece)| {
        let high = nanometres(own.up.high?);
        let low = own.up.low.map_or(Coordinate::MIN, nanometres);
        let at = sills.iter().copied().find(|at| low <= *at && at + LIP < high)?;
        // What ends below the frame is a board at the edge.
        let under = is_body(own) && foot.is_some_and(|foot| foot.max(at) + LIP < high);
        under.then_some(Bed { piece, at, deep: high - at, lies: low == at })
    };
    detail.pieces.iter().enumerate().filter_map(bed).collect()
}

fn is_body(piece: &Piece) -> bool {
    use MaterialKind::{Board, Frame, Mass};
    matches!(piece.material.kind, Some(Board | Frame | Mass)) && !piece.inside && !is_dam(piece)
}

/// What stands up at the back or the end of a pan: no part of the wall.
pub fn is_dam(piece: &Piece) -> bool {
    matches!(piece.role.as_deref(), Some("back-dam" | "end-dam"))
}

/// A bed that begins at the edge, under the pan.
pub fn draw(cut: &Cut, piece: usize) -> Option<Vec<Shape>> {
    let (interval, subject) = (cut.line.intervals(piece).into_iter().next()?, cut.subject);
    let mut openings = cut.openings.iter().filter(|opening| opening.only.is_none());
    let opening = openings.find(|opening| opening.takes(subject, cut.line, &cut.places, piece, &interval))?;
    let (along, out) = (cut.real(piece, &interval), cut.places.slot(piece, interval.start)?);
    let leg = opening.spine.leg_from(along[0], 1.0);
    let outline = opening.spine.rectangle(leg, along, out, [false, false]);
    let kind = hatch_of(&subject.detail.pieces[piece].material);
    let mut filled = vec![Shape::polygon(outline.clone(), None, Some(Ink::White))];
    filled.extend(hatched(&opening.spine, leg, &outline, kind, cut.scale));
    let rim = Shape::polygon(outline, Some(Pen::solid(CUT, Ink::Black)), None);
    Some(vec![Shape::group(Role::Hatch(kind), "", filled), rim])
}
