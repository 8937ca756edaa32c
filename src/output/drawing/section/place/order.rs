//! What lies outboard of the datum, and in which order pieces lie on each other.

use crate::model::{AssemblyKind, Axis, Control, Detail, Layer, MaterialKind, Piece};
use crate::output::drawing::section::line::{SectionLine, Step};
use crate::output::drawing::section::place::look::{Look, juts, outboard};

/// What lies outboard of the datum: every membrane of the outer face and all that somewhere lies on one.
pub(super) fn skin(detail: &Detail, line: &SectionLine, pieces: &[Look]) -> Vec<bool> {
    let flat = |p: usize| pieces[p].thin || detail.pieces[p].material.kind == Some(MaterialKind::Unit);
    let own = |p: usize| {
        let piece = &detail.pieces[p];
        !piece.inside && (flat(p) || outboard(detail, piece).is_some() || abuts(detail, line, p))
    };
    let wall: Vec<bool> = (0..pieces.len()).map(|p| !flat(p) && is_wall(detail, &detail.pieces[p])).collect();
    // Blocking behind a part of the wall is of no layer, and belongs to it.
    let backs = |p: usize| {
        let piece = &detail.pieces[p];
        piece.layer.is_none()
            && !piece.inside
            && matches!(piece.material.kind, Some(MaterialKind::Board | MaterialKind::Frame | MaterialKind::Mass))
    };
    // A membrane with a part of the wall on either side of it lies within the wall.
    let within = |p: usize| {
        line.steps.iter().any(|step| {
            let at = step.stack.iter().position(|q| *q == p);
            let parts = at.map(|at| (&step.stack[..at], &step.stack[at + 1..]));
            parts.is_some_and(|(inner, outer)| {
                inner.iter().any(|q| wall[*q] || backs(*q)) && outer.iter().any(|q| wall[*q])
            })
        })
    };
    let mut skin: Vec<bool> = (0..pieces.len()).map(|p| own(p) && !within(p)).collect();
    loop {
        let before = skin.clone();
        for step in &line.steps {
            let mut covered = false;
            for piece in &step.stack[step.inner..] {
                covered |= skin[*piece];
                skin[*piece] |= covered && !wall[*piece];
            }
        }
        if before == skin {
            return skin;
        }
    }
}

/// A slab against a wall of masonry lies in front of it: the wall goes on behind it as thick as it is.
fn abuts(detail: &Detail, line: &SectionLine, piece: usize) -> bool {
    let masonry =
        |p: &usize| detail.pieces[*p].material.kind == Some(MaterialKind::Mass) && detail.pieces[*p].layer.is_some();
    let on_masonry = |step: &Step| {
        let at = step.stack.iter().position(|p| *p == piece);
        at.is_some_and(|at| step.stack[step.inner.min(at)..at].iter().any(masonry))
    };
    line.axis == Axis::Up && juts(detail, &detail.pieces[piece]) && line.steps.iter().any(on_masonry)
}

/// The pieces from the inmost out, as far as the stacks agree; a piece of a circle comes in order of installation.
pub(super) fn order(line: &SectionLine, count: usize) -> Vec<usize> {
    let mut above: Vec<Vec<usize>> = vec![Vec::new(); count];
    let mut under = vec![0usize; count];
    for pair in line.steps.iter().flat_map(|step| step.stack.windows(2)) {
        if !above[pair[0]].contains(&pair[1]) {
            above[pair[0]].push(pair[1]);
            under[pair[1]] += 1;
        }
    }
    let mut waiting: Vec<bool> = vec![true; count];
    let mut order = Vec::with_capacity(count);
    while order.len() < count {
        let free = (0..count).find(|p| waiting[*p] && under[*p] == 0);
        let Some(next) = free.or_else(|| waiting.iter().position(|w| *w)) else { break };
        waiting[next] = false;
        order.push(next);
        for piece in &above[next] {
            under[*piece] = under[*piece].saturating_sub(1);
        }
    }
    order
}

/// Part of the wall itself: at or inboard of the layer that controls water, whatever is tucked behind it.
fn is_wall(detail: &Detail, piece: &Piece) -> bool {
    let solid = matches!(piece.material.kind, Some(MaterialKind::Mass | MaterialKind::Board | MaterialKind::Frame));
    let controlled =
        |join: usize| detail.joins[join].assembly.layers.iter().any(|layer| layer.controls().has(Control::Water));
    let layered = piece.layer.is_some_and(|at| controlled(at.join));
    solid && layered && outboard(detail, piece).is_none() && !clads(detail, piece)
}

/// Set on the outside of a masonry wall, as insulation under a render is: what comes between them lies on the masonry.
fn clads(detail: &Detail, piece: &Piece) -> bool {
    piece.layer.is_some_and(|at| {
        let assembly = &detail.joins[at.join].assembly;
        let wall = matches!(assembly.kind, AssemblyKind::Wall | AssemblyKind::Foundation | AssemblyKind::Existing);
        let thick = |layer: &Layer| layer.thickness.or(layer.material.thickness).is_some_and(|t| t.si > MASONRY);
        let mass = |layer: &Layer| layer.material.kind == Some(MaterialKind::Mass) && thick(layer);
        wall && assembly.layers.iter().skip(at.layer + 1).any(mass)
    })
}

/// A layer of plaster is no masonry, m.
const MASONRY: f64 = 0.07;
