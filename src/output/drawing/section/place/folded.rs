//! What folds and edges do to the pieces that come over them: formed metal is straight from bend to bend, and a slate hangs.

use std::ops::Range;

use crate::model::MaterialKind;
use crate::output::drawing::section::place::look::is_formed;
use crate::output::drawing::section::place::on_paper::OnPaper;

/// The runs of steps in which formed metal is straight: from bend to bend, and over each thing that it lies on. What comes over an open
/// edge hangs from it in one plane.
pub(super) fn bends(on: OnPaper<'_>, slots: &[Vec<Option<[f64; 2]>>], piece: usize) -> Vec<Range<usize>> {
    let OnPaper { detail, line, along, turns } = on;
    let rigid = |p: &usize| {
        use MaterialKind::{Board, Cladding, Frame, Mass};
        matches!(detail.pieces[*p].material.kind, Some(Board | Cladding | Frame | Mass))
    };
    let support = |n: usize| {
        let under = line.steps[n].stack.iter().take_while(|p| **p != piece).filter(|p| rigid(p));
        under.filter_map(|p| slots[*p][n]).map(|slot| slot[1]).fold(0.0, f64::max)
    };
    let turn = |n: usize| turns.iter().find(|turn| (turn.at - along[n][0]).abs() < 1e-6);
    let mut runs: Vec<Range<usize>> = Vec::new();
    for interval in line.intervals(piece) {
        let mut start = interval.start;
        for n in interval.start + 1..=interval.end {
            let hangs = || (n..interval.end).find_map(turn).is_some_and(|turn| turn.opens && !turn.opening);
            if n == interval.end || turn(n).is_some() || (support(n) - support(n - 1)).abs() > 1e-6 && !hangs() {
                runs.push(start..n);
                start = n;
            }
        }
    }
    runs
}

/// The steps in which a slate or a coping only hangs over the edge that it lies on: there nothing carries it.
pub(super) fn hung(on: OnPaper<'_>, piece: usize) -> Vec<usize> {
    let OnPaper { detail, line, along, turns } = on;
    if detail.pieces[piece].material.kind != Some(MaterialKind::Cladding) || is_formed(&detail.pieces[piece]) {
        return Vec::new();
    }
    let mut hung = Vec::new();
    for interval in line.intervals(piece) {
        let [low, high] = on.reach(&interval);
        for (at, above) in turns.iter().filter_map(|turn| Some((turn.at, turn.lies_above?))) {
            let (lies, hangs) = if above { (high - at, at - low) } else { (at - low, high - at) };
            if low < at - 1e-6 && at + 1e-6 < high && hangs < lies {
                hung.extend(interval.clone().filter(|n| (along[*n][0] < at - 1e-6) == above));
            }
        }
    }
    hung
}
