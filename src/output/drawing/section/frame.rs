//! How high and how deep a frame is. Nobody states its profile, but its seals say something of it: a bead lies on the frame and not in
//! front of the glass, and a dam behind the frame is sealed to its back.

use std::ops::Range;

use crate::facts::nanometres;
use crate::model::{Axis, MaterialKind, Seal};
use crate::output::drawing::section::bed::is_dam;
use crate::output::drawing::section::cut::Cut;
use crate::output::drawing::section::unit;

/// Face width and depth of a frame, and how far in from its face the pane lies, mm of the building.
const RAIL: f64 = 45.0;
const DEPTH: f64 = 65.0;
const PANE: f64 = 30.0;

/// The least that they are drawn as, mm of paper.
const LEAST: [f64; 3] = [4.5, 6.5, 3.0];

/// Width and depth of a frame, and how far in the pane lies, mm of paper. It is as high and as deep as what it is sealed to.
pub(super) fn profile(cut: &Cut) -> [f64; 3] {
    let [rail, deep, pane] = [RAIL, DEPTH, PANE].map(|mm| mm / cut.scale);
    let [sealed, behind] = sealed(cut);
    [rail.max(LEAST[0]).max(sealed), deep.max(LEAST[1]).max(behind), pane.max(LEAST[2])]
}

/// How deep a frame is drawn whose outer face lies there: it ends before the dam that is stated to stand behind it.
pub(super) fn depth(cut: &Cut, hole: &Range<usize>, face: f64) -> f64 {
    let [_, deep, pane] = profile(cut);
    let sills = cut.openings.iter().filter(|o| o.only.is_none() && o.above && o.steps.contains(&hole.start));
    let behind = sills.flat_map(|sill| {
        let dams = cut.line.pieces().into_iter().filter(|p| is_dam(&cut.subject.detail.pieces[*p]));
        let runs = dams.flat_map(|dam| cut.line.intervals(dam));
        runs.map(|run| cut.places.along(run.start)[0] - sill.at).filter(|at| *at > 1e-6)
    });
    behind.map(|at| face + at - BEFORE).fold(deep, f64::min).max(pane + BEFORE)
}

/// Free space between a frame and the dam behind it, mm of paper.
const BEFORE: f64 = 1.0;

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
