//! Insulation is notched around what is built into it, as a block that carries a window: beside that it lies on the wall, and is as
//! thick as it is said to be.

use crate::model::{Control, Detail, MaterialKind};
use crate::output::drawing::section::line::SectionLine;
use crate::output::drawing::section::place::Turn;
use crate::output::drawing::section::place::look::Look;
use crate::output::drawing::section::place::on_paper::OnPaper;

/// What lies nearer to what is behind it than this leaves no hollow, mm of paper.
const TIGHT: f64 = 1.0;

/// Insulation over what is built in is at least as thick, mm of paper: what is as deep as the insulation interrupts it.
const LEAST: f64 = 1.5;

/// What is built into insulation and has no stated thickness is drawn no deeper than half of that.
pub(super) fn shallow(detail: &Detail, line: &SectionLine, pieces: &mut [Look]) {
    for piece in line.pieces() {
        if !insulates(detail, pieces, piece) || pieces[piece].cut_off {
            continue;
        }
        let most = pieces[piece].thickness / 2.0;
        for own in built_in(detail, line, pieces, piece) {
            let look = &mut pieces[own];
            look.thickness = if look.cut_off { look.thickness.min(most) } else { look.thickness };
        }
    }
}

/// Brings insulation against the wall beside what is built into it.
pub(super) fn notch(on: OnPaper<'_>, pieces: &[Look], piece: usize, slots: &mut [Vec<Option<[f64; 2]>>]) {
    let OnPaper { detail, line, turns, .. } = on;
    if !insulates(detail, pieces, piece) || pieces[piece].out > 0.0 {
        return;
    }
    let own = built_in(detail, line, pieces, piece);
    for interval in line.intervals(piece).into_iter().filter(|_| !own.is_empty()) {
        let ends = on.reach(&interval);
        let turned = |turn: &Turn| !turn.opening && ends[0] < turn.at - 1e-6 && turn.at + 1e-6 < ends[1];
        if turns.iter().any(turned) {
            continue;
        }
        let steps = || interval.clone().filter(|n| slots[piece][*n].is_some());
        let behind = |n: usize| {
            let under = line.steps[n].stack.iter().take_while(|p| **p != piece);
            under.filter_map(|p| slots[*p][n]).map(|slot| slot[1]).reduce(f64::max)
        };
        let stands = |n: &usize| line.steps[*n].stack.iter().take_while(|p| **p != piece).any(|p| own.contains(p));
        let Some(front) = steps().filter(stands).filter_map(&behind).reduce(f64::max) else { continue };
        // The wall that it is a layer of, and not what stands there beside it.
        let wall = |p: &usize| {
            let join = |p: usize| detail.pieces[p].layer.map(|at| at.join);
            !pieces[*p].thin && detail.pieces[*p].material.kind != Some(MaterialKind::Fill) && join(*p) == join(piece)
        };
        let walled = |n: usize| line.steps[n].stack.iter().take_while(|p| **p != piece).any(wall);
        let hollow = |n: &usize| !stands(n) && walled(*n) && behind(*n) < Some(front - TIGHT);
        let Some(wall) = steps().filter(hollow).filter_map(&behind).reduce(f64::max) else { continue };
        let outer = wall + pieces[piece].thickness;
        let front = steps().filter(|n| !hollow(n)).filter_map(behind).fold(front, f64::max);
        if outer < front + LEAST {
            continue;
        }
        let inner: Vec<(usize, f64)> = steps().map(|n| (n, if hollow(&n) { wall } else { front })).collect();
        inner.into_iter().for_each(|(n, inner)| slots[piece][n] = Some([inner, outer]));
    }
}

fn insulates(detail: &Detail, pieces: &[Look], piece: usize) -> bool {
    let said = &detail.pieces[piece];
    let kind = matches!(said.material.kind, Some(MaterialKind::Board | MaterialKind::Fill));
    kind && said.material.holds.has(Control::Thermal) && said.layer.is_some() && !said.inside && !pieces[piece].soft
}

/// The bodies of no layer that lie under a part of a piece.
fn built_in(detail: &Detail, line: &SectionLine, pieces: &[Look], piece: usize) -> Vec<usize> {
    use MaterialKind::{Board, Frame, Mass};
    let body = |p: &usize| {
        let said = &detail.pieces[*p];
        matches!(said.material.kind, Some(Board | Frame | Mass)) && said.layer.is_none() && !pieces[*p].thin
    };
    let of = || line.steps.iter().filter(|step| step.stack.contains(&piece));
    let under = of().flat_map(|step| step.stack.iter().copied().take_while(|p| *p != piece)).filter(body);
    let mut own: Vec<usize> = under.filter(|p| of().any(|step| !step.stack.contains(p))).collect();
    own.sort_unstable();
    own.dedup();
    own
}
