//! What carries a nailer that is thinner than the insulation beside it, or slates where no battens are drawn: nobody states it, and
//! nothing on a roof hangs in the air.

use crate::model::MaterialKind;
use crate::output::drawing::paper::BEYOND;
use crate::output::drawing::scene::{Dash, Ink, Pen, Role, Shape};
use crate::output::drawing::section::battens;
use crate::output::drawing::section::cut::Cut;

/// A piece lies on what is under it if no more room is left between them, mm of paper.
const TIGHT: f64 = 1.0;

/// How much the outer side of a roof looks up at least: the sine of its angle.
const ROOF: f64 = 0.4;

/// A dashed block, crossed as blocking is, under each nailer on a roof that lies on nothing; battens under slates and tiles.
pub fn packing(cut: &Cut) -> Vec<Shape> {
    let kind = |piece: usize| cut.subject.detail.pieces[piece].material.kind;
    let carried = |piece: usize| match kind(piece) {
        Some(MaterialKind::Frame) if !cut.places.is_skin(piece) => blocks(cut, piece, true),
        Some(MaterialKind::Cladding) if cut.places.is_skin(piece) && cut.places.stands_off(piece) => {
            blocks(cut, piece, false)
        }
        _ => Vec::new(),
    };
    cut.line.pieces().into_iter().flat_map(carried).collect()
}

fn blocks(cut: &Cut, piece: usize, nailer: bool) -> Vec<Shape> {
    let kind = |piece: usize| cut.subject.detail.pieces[piece].material.kind;
    let mut blocks: Vec<([f64; 2], [f64; 2])> = Vec::new();
    for n in cut.line.intervals(piece).into_iter().flatten() {
        let along = cut.real(piece, &(n..n + 1));
        // A screen closes the gap and carries nothing.
        let below = cut.line.steps[n].stack.iter().take_while(|p| **p != piece);
        let below = below.filter(|p| kind(**p) != Some(MaterialKind::Gap));
        let carries = below.filter_map(|p| cut.places.slot(*p, n)).map(|slot| slot[1]).reduce(f64::max);
        let (Some([inner, _]), Some(top)) = (cut.places.slot(piece, n), carries) else { continue };
        // Of a roof the outer side is up.
        let up = -cut.spine.outward(cut.spine.leg_from((along[0] + along[1]) / 2.0, 1.0)).y;
        if up < ROOF || inner - top < TIGHT {
            continue;
        }
        match blocks.last_mut() {
            Some((last, out)) if *out == [top, inner] && (last[1] - along[0]).abs() < 1e-6 => last[1] = along[1],
            // Battens lie level on whatever is under them.
            Some((last, out)) if !nailer && (last[1] - along[0]).abs() < 1e-6 => {
                (last[1], out[0]) = (along[1], out[0].max(top));
            }
            _ => blocks.push((along, [top, inner])),
        }
    }
    let pen = Pen::solid(BEYOND, Ink::Dark).dashed(Dash::Dashed);
    let block = |(along, out): ([f64; 2], [f64; 2])| {
        if !nailer {
            return battens::battens(cut, along, out);
        }
        let leg = cut.spine.leg_from((along[0] + along[1]) / 2.0, 1.0);
        let corners = cut.spine.rectangle(leg, along, out, [false, false]);
        Shape::group(Role::Covered, "packing, not given", Shape::crossed(corners, pen).into())
    };
    blocks.into_iter().map(block).collect()
}
