//! How high and how deep a frame is, as far as its seals say it: a bead lies on the frame and not in front of the glass, and a dam behind
//! the frame is sealed to its back.

use crate::facts::nanometres;
use crate::model::{Axis, MaterialKind, Seal};
use crate::output::drawing::section::cut::Cut;
use crate::output::drawing::section::unit;

/// No frame is drawn higher or deeper than this on account of a seal, mm of the building.
const MOST: [f64; 2] = [150.0, 200.0];

/// How far a frame goes on beyond the middle of a bead, mm of paper.
const PAST: f64 = 1.2;

/// The least height and depth, mm of paper.
pub(super) fn sealed(cut: &Cut) -> [f64; 2] {
    let found = cut.subject.detail.seals.iter().filter_map(|seal| of(cut, seal));
    found.fold([0.0; 2], |most, one| [0, 1].map(|n| f64::max(most[n], one[n])))
}

fn of(cut: &Cut, seal: &Seal) -> Option<[f64; 2]> {
    let is_unit = |p: usize| cut.subject.detail.pieces[p].material.kind == Some(MaterialKind::Unit);
    let (_, at) = seal.at.filter(|(axis, _)| *axis == cut.line.axis && *axis == Axis::Up)?;
    let [unit, other] = match [seal.first.index, seal.second.index] {
        [unit, other] if is_unit(unit) && !is_unit(other) => [unit, other],
        [other, unit] if is_unit(unit) && !is_unit(other) => [unit, other],
        _ => return None,
    };
    let at = nanometres(at);
    let step = cut.line.step_at(at);
    let stack = &cut.line.steps[step].stack;
    let place = |piece: usize| stack.iter().position(|p| *p == piece);
    let (frame, sealed) = (place(unit)?, place(other)?);
    let edge = cut.openings.iter().find(|edge| edge.only.is_none() && edge.steps.contains(&step))?;
    let far = (cut.ruler.at(at) - edge.at).abs();
    let turns = edge.takes(cut.subject, cut.line, &cut.places, other, &cut.interval(other, step));
    let least = |most: f64, from: f64| if from + far <= most / cut.scale { from + far + PAST } else { 0.0 };
    let hole = unit::free(cut, &cut.interval(unit, step));
    let face = hole.contains(&step).then(|| unit::face(cut, unit, &hole))?;
    match turns {
        true => Some([0.0, least(MOST[1], face)]),
        false if sealed > frame && cut.places.pieces[other].thin => Some([least(MOST[0], 0.0), 0.0]),
        false => None,
    }
}
