//! Where a veneer stands, and what lies on its ledge.

use std::ops::Range;

use crate::facts::face::OPEN_LOW;
use crate::facts::nanometres;
use crate::model::{Axis, Detail, MaterialKind, Piece};
use crate::output::drawing::paper::SPREAD;
use crate::output::drawing::section::line::SectionLine;
use crate::output::drawing::section::place::crest::joints;
use crate::output::drawing::section::place::look::Look;
use crate::output::drawing::section::place::on_paper::OnPaper;
use crate::output::drawing::section::place::sill::is_sill;
use crate::output::drawing::subject::Subject;

/// What a veneer stands on: places along the line, and how far out it reaches, mm of paper.
#[derive(Clone, Copy, Debug)]
pub struct Ledge {
    pub foot: f64,
    pub outer: f64,
    /// So far down something hangs in front of it.
    pub low: f64,
    /// It stands on the ground: it is the face of the wall below the veneer.
    pub grounded: bool,
}

/// A veneer stands on a ledge: what passes behind its foot and ends a little lower lies on the ledge and hangs over its edge, and what
/// that laps over hangs there with it.
pub(super) fn ledge(
    on: OnPaper<'_>,
    skin: &[bool],
    hanging: &[Vec<usize>],
    slots: &mut [Vec<Option<[f64; 2]>>],
) -> Option<Ledge> {
    let OnPaper { detail, line, along, turns } = on;
    let heavy = |p: &usize| {
        let piece = &detail.pieces[*p];
        // Under a sill lies the wall.
        is_veneer(piece) && skin[*p] && !is_sill(detail, piece)
    };
    // What hangs over the edge of what it lies on has no foot.
    let stands = |p: usize| {
        Some((p, line.intervals(p).first()?.start)).filter(|(p, foot)| *foot > 0 && !hanging[*p].contains(foot))
    };
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
    let hung: Vec<(usize, Range<usize>)> = flashings
        .into_iter()
        .filter(|p| is_thin(slots[*p][foot]) && is_flashing(&detail.pieces[*p]))
        .filter(|p| !goes_behind(detail, line, skin, slots, *p, foot - 1))
        .filter_map(|p| over(&p).map(|interval| (p, interval.start..foot)))
        // What turns below the foot lies on the roof there.
        .filter(|(_, steps)| {
            let [low, high] = [along[steps.start][0], along[foot][0]];
            !turns.iter().any(|turn| !turn.opening && low < turn.at - 1e-6 && turn.at < high + 1e-6)
        })
        .collect();
    // How far out that lies on which they lay.
    let on = |p: usize, n: usize, slots: &[Vec<Option<[f64; 2]>>]| {
        let below = line.steps[n].stack.iter().take_while(|q| **q != p).filter(|q| !is_thin(slots[**q][n]));
        below.filter_map(|q| slots[*q][n]).map(|slot| slot[1]).fold(0.0, f64::max)
    };
    let off = hung.iter().flat_map(|(p, steps)| steps.clone().map(|n| (*p, n)));
    let off = off.filter_map(|(p, n)| Some(slots[p][n]?[0] - on(p, n, slots)));
    let nearest = off.reduce(f64::min).unwrap_or(0.0).max(0.0);
    let mut low = along[foot][0];
    let mut grounded = !hung.is_empty() && stands_on_ground(detail, line, skin, slots, foot);
    for (p, steps) in hung {
        let under = lapped(line, skin, slots, p, steps.clone());
        // Bent metal may hang over the edge of the bricks below already.
        let hanging = slots[p][steps.clone()].iter().flatten().copied().find(|[inner, _]| *inner >= outer - 1e-6);
        for n in steps {
            let by = outer - nearest - on(p, n, slots);
            slots[p][n] = slots[p][n].map(|[a, b]| hanging.unwrap_or([a + by, b + by]));
            low = low.min(along[n][0]);
        }
        for (q, steps) in under.into_iter().filter(|_| hanging.is_none()) {
            low = low.min(along[steps.start][0]);
            grounded = true;
            steps.for_each(|n| slots[q][n] = slots[q][n].map(|slot| slot.map(|out| out + outer - nearest)));
        }
    }
    Some(Ledge { foot: along[foot][0], outer, low, grounded })
}

/// Below the veneer lies nothing but membranes on the wall, down to finished ground.
fn stands_on_ground(
    detail: &Detail,
    line: &SectionLine,
    skin: &[bool],
    slots: &[Vec<Option<[f64; 2]>>],
    foot: usize,
) -> bool {
    let thin = |n: usize| line.steps[n].stack.iter().all(|p| !skin[*p] || is_thin(slots[*p][n]));
    detail.grade.is_some_and(|grade| nanometres(grade.value) < line.steps[foot].extent.low) && (0..foot).all(thin)
}

/// It goes on behind something stiff, as what is stuck to a wall does behind its insulation, and stays on the wall.
fn goes_behind(
    detail: &Detail,
    line: &SectionLine,
    skin: &[bool],
    slots: &[Vec<Option<[f64; 2]>>],
    piece: usize,
    step: usize,
) -> bool {
    let mut over = line.steps[step].stack.iter().skip_while(|q| **q != piece);
    let bent = detail.pieces[piece].material.adhesive.is_none();
    !bent && over.any(|q| skin[*q] && !is_thin(slots[*q][step]) && !is_veneer(&detail.pieces[*q]))
}

/// Bent metal, or what is stuck or spread on as a flashing: the membrane of a wall goes on behind the ledge.
fn is_flashing(piece: &Piece) -> bool {
    piece.material.kind == Some(MaterialKind::Flashing)
        || piece.material.kind == Some(MaterialKind::Coat) && piece.layer.is_none()
        || piece.role.as_deref().is_some_and(|role| role.ends_with("flashing"))
}

/// What lies on the wall under a flashing that will hang in front of the ledge, as the edge of metal does over which that laps.
fn lapped(
    line: &SectionLine,
    skin: &[bool],
    slots: &[Vec<Option<[f64; 2]>>],
    over: usize,
    hangs: Range<usize>,
) -> Vec<(usize, Range<usize>)> {
    let on_wall = |p: usize, n: usize| {
        let before = line.steps[n].stack.iter().take_while(|q| **q != p);
        let after = line.steps[n].stack.iter().skip_while(|q| **q != p);
        is_thin(slots[p][n]) && before.chain(after).all(|q| !skin[*q] || is_thin(slots[*q][n]))
    };
    let of = |p: usize| {
        let under = |n: usize| line.steps[n].stack.iter().take_while(|q| **q != over).any(|q| *q == p);
        let ends = |steps: &Range<usize>| {
            steps.end <= hangs.end
                && steps.clone().any(|n| hangs.contains(&n) && under(n))
                && steps.clone().all(|n| on_wall(p, n))
        };
        line.intervals(p).into_iter().find(ends).map(|steps| (p, steps))
    };
    line.pieces().into_iter().filter(|p| skin[*p] && *p != over).filter_map(of).collect()
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
