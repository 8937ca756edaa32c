//! The bodies of roofs and floors lie straight: they go on under a curb that stands on them, and end at their edge, however far their
//! text follows the face.

use crate::facts::nanometres;
use crate::model::{AssemblyKind, Axis, Detail, MaterialKind, Piece};
use crate::output::drawing::section::place::Turn;
use crate::output::drawing::section::place::look::Look;
use crate::output::drawing::section::place::on_paper::OnPaper;

/// What of a body is not drawn where its text has it, and how much farther it lies instead.
#[derive(Clone, Debug, Default)]
pub(super) struct Straight {
    pub(super) ended: Vec<usize>,
    pub(super) under: Vec<Under>,
}

/// A body goes on straight under a curb, mm of paper.
#[derive(Clone, Copy, Debug)]
pub struct Under {
    /// Where the face turns up.
    pub at: f64,
    /// The curb lies above that on the line, or else below.
    pub above: bool,
    /// How much farther the body lies.
    pub more: f64,
}

/// An edge of a body is hardly higher than the body is thick.
const EDGE: f64 = 1.2;

/// How a body lies that the text takes around folds.
pub(super) fn straight(on: OnPaper<'_>, pieces: &[Look], piece: usize) -> Straight {
    let OnPaper { detail, line, along, turns } = on;
    let mut straight = Straight::default();
    if !lies(detail, &detail.pieces[piece]) {
        return straight;
    }
    for interval in line.intervals(piece) {
        let reach = on.reach(&interval);
        let within = |at: f64| reach[0] < at - 1e-6 && at + 1e-6 < reach[1];
        let beyond = |at: f64, above: bool| {
            interval.clone().filter(move |n| if above { along[*n][0] > at - 1e-6 } else { along[*n][1] < at + 1e-6 })
        };
        match line.axis {
            Axis::Along => {
                let Some(under) = under_curb(detail, turns, reach, piece, pieces[piece].thickness) else { continue };
                straight.ended.extend(beyond(under.at, under.above));
                straight.under.push(under);
            }
            Axis::Up => {
                for (at, above) in turns.iter().filter_map(|turn| Some((turn.at, turn.lies_above?))) {
                    let hangs = if above { at - reach[0] } else { reach[1] - at };
                    if within(at) && !pieces[piece].cut_off && hangs < EDGE * pieces[piece].thickness {
                        straight.ended.extend(beyond(at, !above));
                    }
                }
            }
        }
    }
    straight
}

/// How a body lies under a curb that it meets: the face of the curb, which stands, takes no length of it.
fn under_curb(detail: &Detail, turns: &[Turn], reach: [f64; 2], piece: usize, thickness: f64) -> Option<Under> {
    let mut turns: Vec<&Turn> = turns.iter().filter(|turn| !turn.opening).collect();
    turns.sort_by(|a, b| a.at.total_cmp(&b.at));
    let of = |foot: &Turn, top: Option<&&Turn>, far: Option<&&Turn>, above: bool| {
        let top =
            top.filter(|top| top.opens && !foot.opens && reach[0] < foot.at - 1e-6 && foot.at + 1e-6 < reach[1])?;
        let end = if above { reach[1] } else { reach[0] };
        let sign = if above { 1.0 } else { -1.0 };
        let short = far.is_none_or(|far| sign * (far.at - end) > -1e-6);
        let more = (sign * (end - top.at)).max(0.0);
        // A curb that is narrower than the body is thick has no room for it.
        let narrow = more > 1e-6 && more < thickness - 1e-6;
        (short && (narrow || carried(detail, piece))).then_some(Under { at: foot.at, above, more })
    };
    let up = (0..turns.len()).find_map(|n| of(turns[n], turns.get(n + 1), turns.get(n + 2), true));
    let before = |n: usize, by: usize| n.checked_sub(by).and_then(|n| turns.get(n));
    up.or_else(|| (0..turns.len()).find_map(|n| of(turns[n], before(n, 1), before(n, 2), false)))
}

/// Something else makes up the curb: a body of its own, or what lies on this one.
fn carried(detail: &Detail, piece: usize) -> bool {
    let own = &detail.pieces[piece];
    let folds = || detail.folds.iter().filter(|fold| fold.axis == Axis::Along).map(|fold| nanometres(fold.at));
    let curb = |other: &Piece| {
        let ends = [other.along.low, other.along.high].map(|end| end.map(nanometres));
        other.layer.is_none() && is_body(other) && ends.iter().all(|end| end.is_some_and(|at| folds().any(|f| f == at)))
    };
    let over = |other: &Piece| {
        let at = |piece: &Piece| piece.layer.map(|at| (at.join, at.layer));
        let (Some((join, layer)), Some((own_join, own_layer))) = (at(other), at(own)) else { return false };
        join == own_join && layer < own_layer && is_body(other)
    };
    detail.pieces.iter().any(|other| curb(other) || over(other))
}

fn is_body(piece: &Piece) -> bool {
    use MaterialKind::{Board, Frame, Mass};
    matches!(piece.material.kind, Some(Board | Frame | Mass)) && !piece.inside
}

/// A body of a roof or a floor.
fn lies(detail: &Detail, piece: &Piece) -> bool {
    let kind = piece.layer.map(|at| detail.joins[at.join].assembly.kind);
    is_body(piece) && matches!(kind, Some(AssemblyKind::Roof | AssemblyKind::Floor))
}
