//! Where a veneer stands, and what lies on its ledge.

use std::ops::Range;

use crate::facts::face::OPEN_LOW;
use crate::model::{Axis, Detail, MaterialKind, Piece};
use crate::output::drawing::paper::SPREAD;
use crate::output::drawing::section::line::SectionLine;
use crate::output::drawing::section::place::crest::joints;
use crate::output::drawing::section::place::look::Look;
use crate::output::drawing::section::place::sill::is_sill;
use crate::output::drawing::subject::Subject;

/// A veneer stands on a ledge: what passes behind its foot and ends a little lower lies on the ledge and hangs over its edge. The step
/// in which the veneer begins, and how far out it reaches.
pub(super) fn ledge(
    detail: &Detail,
    line: &SectionLine,
    skin: &[bool],
    slots: &mut [Vec<Option<[f64; 2]>>],
) -> Option<(usize, f64)> {
    let heavy = |p: &usize| {
        let piece = &detail.pieces[*p];
        // Under a sill lies the wall.
        is_veneer(piece) && skin[*p] && !is_sill(detail, piece)
    };
    let stands = |p: usize| Some((p, line.intervals(p).first()?.start)).filter(|(_, foot)| *foot > 0);
    let (piece, foot) = line.pieces().into_iter().filter(heavy).find_map(stands).filter(|_| line.axis == Axis::Up)?;
    let outer = slots[piece][foot]?[1];
    let over = |p: &usize| {
        let starts = line.intervals(*p).into_iter().find(|i| i.contains(&(foot - 1)) && i.contains(&foot));
        starts.filter(|i| line.steps[i.start].extent.low != OPEN_LOW)
    };
    let flashings: Vec<usize> = line.steps[foot]
        .stack
        .iter()
        .copied()
        .filter(|p| skin[*p] && *p != piece && slots[*p][foot].is_some() && !is_angle(&detail.pieces[*p]))
        .collect();
    for p in flashings {
        let thin = slots[p][foot].is_some() && is_thin(slots[p][foot]);
        let Some(interval) = over(&p).filter(|_| thin) else { continue };
        // Bent metal may hang over the edge of the bricks below already.
        let hanging =
            slots[p][interval.start..foot].iter().flatten().copied().find(|[inner, _]| *inner >= outer - 1e-6);
        for (n, step) in line.steps.iter().enumerate().take(foot).skip(interval.start) {
            // It hangs in front of the ledge, however far out that is on which it lay.
            let below = step.stack.iter().take_while(|q| **q != p).filter(|q| !is_thin(slots[**q][n]));
            let on = below.filter_map(|q| slots[*q][n]).map(|slot| slot[1]).fold(0.0, f64::max);
            let by = outer - on;
            slots[p][n] = slots[p][n].map(|[a, b]| hanging.unwrap_or([a + by, b + by]));
        }
    }
    Some((foot, outer))
}

/// The steps of an angle below its upright leg: there it comes over the end of what it carries off the wall, and reaches only as a bead does.
pub(super) fn toe(subject: &Subject, line: &SectionLine, pieces: &[Look], skin: &[bool], piece: usize) -> Vec<usize> {
    if line.axis != Axis::Up || pieces[piece].soft || !is_angle(&subject.detail.pieces[piece]) {
        return Vec::new();
    }
    let ends_here = |n: usize, interval: &Range<usize>| {
        let behind = line.steps[n].stack.iter().take_while(|p| **p != piece);
        behind.filter(|p| skin[**p] && !pieces[**p].soft).any(|p| !line.steps[interval.end - 1].stack.contains(p))
    };
    let below = |interval: Range<usize>| {
        let whole = interval.clone();
        interval.filter(move |n| ends_here(*n, &whole))
    };
    let mut steps: Vec<usize> = line.intervals(piece).into_iter().flat_map(below).collect();
    steps.extend(joints(subject, line, piece));
    steps
}

/// No thicker than a membrane is drawn.
fn is_thin(slot: Option<[f64; 2]>) -> bool {
    slot.is_none_or(|[inner, outer]| outer - inner <= SPREAD)
}

/// The angle that carries a veneer: metal that is called so, or has the role of one.
pub fn is_angle(piece: &Piece) -> bool {
    let named = |text: &str| text.to_lowercase().split(|c: char| !c.is_alphanumeric()).any(|word| word == "angle");
    let called = named(&piece.material.name) || piece.material.title.as_deref().is_some_and(named);
    let metal =
        piece.material.surface.as_deref().is_some_and(|surface| surface.contains("metal") || surface.contains("steel"));
    let kind = matches!(piece.material.kind, Some(MaterialKind::Frame | MaterialKind::Flashing));
    kind && (piece.role.as_deref() == Some("shelf-angle") || called && metal)
}

/// Masonry in front of a cavity.
pub(super) fn is_veneer(piece: &Piece) -> bool {
    let masonry = piece.material.surface.as_deref() == Some("masonry");
    masonry
        && piece.material.kind == Some(MaterialKind::Cladding)
        && piece.material.thickness.is_none_or(|t| t.si > 0.05)
}
