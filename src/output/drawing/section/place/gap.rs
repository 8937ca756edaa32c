//! The gap behind cladding: on paper as deep as in the building, however many membranes lie behind it.

use crate::model::{Control, Detail, LayerRef, MaterialKind};
use crate::output::drawing::section::line::SectionLine;
use crate::output::drawing::section::place::ledge::is_veneer;
use crate::output::drawing::section::place::look::Look;
use crate::output::drawing::section::place::put::Slots;

/// Brings cladding as far out as its gap is deep, from the outmost thing behind it. The cladding of one assembly stays in one plane. What
/// stands within the gap, as a net or an angle does, takes none of that. A veneer of masonry keeps its place over what carries it: the
/// membranes do not close its cavity.
pub(super) fn keep(
    detail: &Detail,
    line: &SectionLine,
    skin: &[bool],
    hanging: &[Vec<usize>],
    slots: &Slots,
    pieces: &mut [Look],
) {
    let clads = |p: &usize| {
        skin[*p] && !is_veneer(&detail.pieces[*p]) && !pieces[*p].thin && pieces[*p].gap > 0.0 && pieces[*p].out > 0.0
    };
    let faces: Vec<(usize, LayerRef, f64)> = line
        .pieces()
        .into_iter()
        .filter(clads)
        .filter_map(|piece| {
            let at = detail.pieces[piece].layer?;
            let behind = |q: &&usize| {
                let under = detail.pieces[**q].layer.is_some_and(|own| own.join == at.join && own.layer > at.layer);
                pieces[**q].thin || under
            };
            let free = (0..line.steps.len()).filter(|n| !hanging[piece].contains(n));
            let reached = free.filter_map(|n| {
                let own = line.steps[n].stack.iter().position(|q| *q == piece)?;
                let under = line.steps[n].stack[..own].iter().filter(|q| skin[**q]).take_while(behind);
                under.filter_map(|q| slots[*q][n]).map(|slot| slot[1]).reduce(f64::max)
            });
            reached.reduce(f64::max).map(|reached| (piece, at, reached + pieces[piece].gap))
        })
        .collect();
    for (piece, at, _) in &faces {
        let plane =
            faces.iter().filter(|(_, own, _)| (own.join, own.layer) == (at.join, at.layer)).map(|(_, _, face)| *face);
        pieces[*piece].out = plane.fold(pieces[*piece].out, f64::max);
    }
}

/// How deep the gap right behind a layer is, mm of the building.
pub(super) fn behind(detail: &Detail, at: LayerRef) -> f64 {
    let layers = detail.joins[at.join].assembly.layers.iter().skip(at.layer + 1);
    let air = layers.take_while(|l| l.material.kind == Some(MaterialKind::Gap) && !l.controls().has(Control::Water));
    1000.0 * air.map(|layer| layer.thickness.or(layer.material.thickness).map_or(0.0, |t| t.si)).sum::<f64>()
}
