//! Which drops of a column are drawn: those that the facts tell apart.

use crate::facts::face::{self, Cells, Coordinate, DropStep, Fall, OPEN_LOW, StepKind};
use crate::facts::nanometres;
use crate::output::drawing::subject::Subject;

/// The drops that fall in a column, without what says nothing of its own: where the rain above has left the wall, the facts let a drop in
/// behind what covers the next piece below. As long as it does no harm it is the same water again, and is drawn only where it runs in the open.
pub fn drawn(subject: &Subject, cells: &Cells, column: usize, wrong: &dyn Fn(&Fall) -> bool) -> Vec<Fall> {
    let falls = face::falls(&subject.shape, cells, column);
    let again = |fall: &Fall| {
        let harmless = !fall.end.is_damage() && fall.lost.is_none() && !wrong(fall);
        harmless && starts_behind(fall) && falls.iter().any(|other| other.lost.is_none() && is_above(other, fall))
    };
    let grade = subject.detail.grade.map_or(OPEN_LOW, |grade| nanometres(grade.value));
    let above_grade = |fall: &Fall| fall.trail.first().is_some_and(|step| step.up > grade);
    let open = |fall: &Fall| match again(fall) {
        true => in_the_open(fall, cells, column).filter(above_grade),
        false => Some(fall.clone()),
    };
    falls.iter().filter_map(open).collect()
}

fn starts_behind(fall: &Fall) -> bool {
    fall.trail.first().is_some_and(|step| step.kind == StepKind::StartsBehind)
}

/// The other drop starts above on the same side of a crest, and ends alike, or worse.
fn is_above(other: &Fall, fall: &Fall) -> bool {
    let ends = |fall: &Fall| Some([fall.trail.first()?.up, fall.trail.last()?.up]);
    let (Some([other_start, other_end]), Some([start, end])) = (ends(other), ends(fall)) else { return false };
    let above = if end > start { other_end > other_start && other_start < start } else { other_start > start };
    above && other.end >= fall.end
}

/// The last part of a drop, from where nothing covers it any more.
fn in_the_open(fall: &Fall, cells: &Cells, column: usize) -> Option<Fall> {
    let mut from: Option<(usize, Coordinate)> = None;
    'way: for (piece, [high, low]) in stretches(fall).into_iter().rev() {
        for row in 0..cells.rows() {
            let extent = cells.row(row);
            if extent.low < low || extent.high > high {
                continue;
            }
            if cells.stack(column, row).last().is_none_or(|&outermost| outermost as usize != piece) {
                break 'way;
            }
            from = Some((piece, extent.high));
        }
    }
    let (piece, up) = from?;
    let start = DropStep { kind: StepKind::StartsOn, piece, up };
    let rest = fall.trail.iter().filter(|step| step.up < up).copied();
    Some(Fall { trail: std::iter::once(start).chain(rest).collect(), ..fall.clone() })
}

/// On which pieces a drop runs down, and from where to where.
fn stretches(fall: &Fall) -> Vec<(usize, [Coordinate; 2])> {
    let mut found = Vec::new();
    let mut on: Option<(usize, Coordinate)> = None;
    for step in &fall.trail {
        found.extend(on.filter(|(_, from)| *from > step.up).map(|(piece, from)| (piece, [from, step.up])));
        let lands = matches!(step.kind, StepKind::StartsBehind | StepKind::MovesOnto | StepKind::LandsOn);
        on = if lands { Some((step.piece, step.up)) } else { on.map(|(piece, _)| (piece, step.up)) };
    }
    found
}
