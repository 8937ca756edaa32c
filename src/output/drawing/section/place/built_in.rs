//! What is built into something else: it takes the place of that where it stands, and pushes nothing aside.

use crate::model::{Axis, Control, Detail, MaterialKind};
use crate::output::drawing::section::line::SectionLine;
use crate::output::drawing::section::place::look::{Look, depth};
use crate::output::drawing::section::place::on_paper::OnPaper;
use crate::output::drawing::section::place::put::Slots;
use crate::output::drawing::section::place::{Turn, Under};

/// What is built in, and what it is built into.
pub(super) struct BuiltIn {
    pub(super) piece: usize,
    pub(super) into: usize,
    /// Where it ends though its text goes on around a fold.
    pub(super) end: Option<Under>,
}

impl BuiltIn {
    /// Lies where the other does.
    pub(super) fn place(&self, line: &SectionLine, slots: &mut [Vec<Option<[f64; 2]>>]) {
        for (n, step) in line.steps.iter().enumerate().filter(|(_, step)| step.stack.contains(&self.piece)) {
            slots[self.piece][n] = slots[self.into][n].filter(|_| step.stack.contains(&self.into));
        }
    }
}

/// The thermal breaks in slabs: as long on the face as they are thick, with a slab under them from end to end.
pub(super) fn breaks(on: OnPaper<'_>, scale: f64) -> Vec<BuiltIn> {
    let OnPaper { detail, line, turns, .. } = on;
    let pieces = line.pieces().into_iter();
    let of = |piece: usize| {
        let said = &detail.pieces[piece];
        let insulates = said.material.kind == Some(MaterialKind::Board) && said.material.holds.has(Control::Thermal);
        let thick = depth(detail, said).filter(|_| insulates && said.layer.is_none() && line.axis == Axis::Up)?;
        let interval = line.intervals(piece).into_iter().next()?;
        let [low, high] = on.reach(&interval);
        let meets = |turn: &Turn| {
            let near = [low, high].map(|end| (end - turn.at).abs() < NEAR / scale);
            (!turn.opening && near != [false; 2]).then_some(Under { at: turn.at, above: near[1], more: 0.0 })
        };
        let as_long = ((high - low) * scale - thick).abs() < NEAR;
        let under = |n: usize| line.steps[n].stack.iter().copied().take_while(|p| *p != piece).collect::<Vec<usize>>();
        let slab = |p: &usize| detail.pieces[*p].material.kind == Some(MaterialKind::Mass);
        let middle = (interval.start + interval.end - 1) / 2;
        let into = under(middle).into_iter().rev().find(slab)?;
        let end = turns.iter().find_map(meets).filter(|_| as_long)?;
        Some(BuiltIn { piece, into, end: Some(end) })
    };
    pieces.filter_map(of).collect()
}

/// The vents in the head joints of a veneer.
pub(super) fn vents(detail: &Detail, line: &SectionLine, pieces: &[Look], slots: &Slots) -> Vec<BuiltIn> {
    let called = |p: &usize| detail.pieces[*p].role.as_deref() == Some("weep-vent") && !pieces[*p].thin;
    let of = |piece: usize| {
        let first = line.intervals(piece).into_iter().next()?.start;
        let under = line.steps[first].stack.iter().copied().take_while(|p| *p != piece);
        let clads =
            |p: &usize| detail.pieces[*p].material.kind == Some(MaterialKind::Cladding) && slots[*p][first].is_some();
        under.filter(clads).last().map(|into| BuiltIn { piece, into, end: None })
    };
    line.pieces().into_iter().filter(called).filter_map(of).collect()
}

/// Lengths that are the same but for what a joint takes, mm of the building.
const NEAR: f64 = 5.0;
