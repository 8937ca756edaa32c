//! The joints of a wall that membranes and flashings are tucked into.

use std::ops::Range;

use crate::output::drawing::paper::SPREAD;
use crate::output::drawing::section::line::SectionLine;
use crate::output::drawing::section::place::look::Look;

/// A piece turns into a joint of the wall.
#[derive(Clone, Debug)]
pub struct Tucked {
    pub piece: usize,
    /// Where the joint is, mm of paper along the line.
    pub at: f64,
    /// What is in the joint lies above it on the line; else below it.
    pub above: bool,
    pub steps: Range<usize>,
}

/// All of them: there a part of the wall lies in front of what lies on the wall beside it. Where the wall itself turns there is no joint:
/// what is tucked goes on behind what lies there.
pub(super) fn tucked(
    line: &SectionLine,
    along: &[[f64; 2]],
    folds: &[f64],
    pieces: &[Look],
    skin: &[bool],
) -> Vec<Tucked> {
    let wall = |p: usize| !pieces[p].thin && !skin[p];
    let in_wall = |piece: usize, n: usize| {
        let stack = &line.steps[n].stack;
        stack.iter().position(|p| *p == piece).is_some_and(|at| stack[at + 1..].iter().any(|p| wall(*p)))
    };
    let mut found = Vec::new();
    for piece in (0..pieces.len()).filter(|p| skin[*p] && pieces[*p].thin) {
        for interval in line.intervals(piece) {
            for n in interval.clone().skip(1).filter(|n| in_wall(piece, *n) != in_wall(piece, n - 1)) {
                let above = in_wall(piece, n);
                let steps = if above { n..interval.end } else { interval.start..n };
                let at = along[n][0];
                if !folds.iter().any(|fold| (fold - at).abs() < 1e-6) {
                    found.push(Tucked { piece, at, above, steps });
                }
            }
        }
    }
    found
}

/// In its joint a piece lies on neither side of it, however far it stands off the wall.
pub(super) fn lay_in_joints(tucked: &[Tucked], slots: &mut [Vec<Option<[f64; 2]>>]) {
    for own in tucked {
        for slot in slots[own.piece][own.steps.clone()].iter_mut().flatten() {
            *slot = [-SPREAD / 2.0, SPREAD / 2.0];
        }
    }
}
