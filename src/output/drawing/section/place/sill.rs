//! Sills of stone, or of bricks on edge, in a veneer: from the window out over the face of the bricks below.

use crate::model::{Axis, Detail, FoldKind, MaterialKind, Piece};
use crate::output::drawing::hatch::{Hatch, hatch_of};
use crate::output::drawing::section::line::SectionLine;
use crate::output::drawing::section::place::ledge::is_veneer;
use crate::output::drawing::section::place::put::Slots;

/// How far such a sill stands out of its wall where nobody says so, mm of the building (practice: an inch).
const OVERHANG: f64 = 25.0;

/// Its top lies no farther than this from the edge of its opening, m.
const NEAR: f64 = 0.1;

/// Stone or bricks with a fall, or in the role of a sill, that end below the edge of an opening.
pub fn is_sill(detail: &Detail, piece: &Piece) -> bool {
    let solid = matches!(piece.material.kind, Some(MaterialKind::Cladding | MaterialKind::Mass))
        && matches!(hatch_of(&piece.material), Hatch::Masonry | Hatch::Block | Hatch::Stone | Hatch::Concrete);
    let named = piece.slope.is_some() || piece.role.as_deref() == Some("sill");
    let below = |top: f64| {
        let mut sills = detail.folds.iter().filter(|fold| fold.axis == Axis::Up && fold.kind == FoldKind::Sill);
        sills.any(|fold| (fold.at.si - top).abs() <= NEAR)
    };
    let ends = piece.up.low.is_some() && piece.up.high.is_some_and(|top| below(top.si));
    solid && named && ends && detail.pieces.iter().any(|p| p.material.kind == Some(MaterialKind::Unit))
}

/// Brings each sill from what is behind it to beyond the face of the veneer.
pub(super) fn reach(
    detail: &Detail,
    line: &SectionLine,
    skin: &[bool],
    scale: f64,
    slots: &mut [Vec<Option<[f64; 2]>>],
) {
    let pieces = line.pieces();
    let wall = |p: &usize| skin[*p] && is_veneer(&detail.pieces[*p]) && !is_sill(detail, &detail.pieces[*p]);
    let faces = pieces.iter().filter(|p| wall(p)).flat_map(|p| slots[*p].iter().flatten()).map(|slot| slot[1]);
    let Some(face) = faces.reduce(f64::max) else { return };
    for piece in pieces.iter().copied().filter(|p| skin[*p] && is_sill(detail, &detail.pieces[*p])) {
        let steps: Vec<usize> = line.intervals(piece).into_iter().flatten().collect();
        let behind = steps.iter().flat_map(|n| {
            let slots: &Slots = slots;
            line.steps[*n].stack.iter().take_while(|p| **p != piece).filter_map(move |p| slots[*p][*n])
        });
        let inner = behind.map(|slot| slot[1]).fold(0.0, f64::max);
        let outer = face + OVERHANG / scale;
        for n in steps.into_iter().filter(|_| inner < outer) {
            slots[piece][n] = Some([inner, outer]);
        }
    }
}
