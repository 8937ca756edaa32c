//! The step from one row to the next below: on the same piece where that goes on, onto another piece where it ends.

use crate::facts::face::budget::{Budget, TooLarge};
use crate::facts::face::drop::event::{Encounter, End, Event, StepKind};
use crate::facts::face::drop::rain::Rain;
use crate::facts::face::drop::walk::{DropState, Next, RealDrop, Walker};
use crate::facts::face::{Coordinate, apart};
use crate::model::Control;

impl Walker {
    /// The piece goes on below, at `place` in the stack there.
    pub fn go_on(
        &mut self,
        rain: &Rain,
        row: usize,
        piece: usize,
        place: usize,
        state: &mut DropState,
        budget: &mut Budget,
    ) -> Result<Next, TooLarge> {
        let y = rain.row(row).low;
        let below = rain.stack(row - 1);
        let from = self.place(piece).unwrap_or(0);
        let exposed = rain.in_the_open(row, from);
        let (mut on, mut on_at) = (piece, place);
        for at in place + 1..below.len() {
            let edge = below[at] as usize;
            match self.place(edge) {
                Some(was) if was > from => break,
                // In a stack that cannot be built a piece may change sides; it has no edge here.
                Some(_) => continue,
                None => {}
            }
            // Water goes through a piece that does not hold water, whether or not it ends here.
            if rain.lets_through(edge, row - 1) {
                continue;
            }
            if state.unseals(edge, on) || !top_sealed(rain, edge, on, on_at + 1 == at, y) {
                self.meet(Event::Reverse, [Some(edge), Some(on)], y, exposed);
                self.step(StepKind::PassesBehind, edge, y);
                break;
            }
            if let Some(RealDrop { hypothesis, log, .. }) = &mut state.open {
                let met = Encounter { event: Event::Relies, pieces: [Some(edge), Some(on)], up: y, exposed };
                hypothesis.take_over(self, &below[on_at + 1..], from, y);
                hypothesis.step(StepKind::SealLost, edge, y);
                hypothesis.suppose(rain, row - 1, on, met, log, budget)?;
            }
            self.step(StepKind::MovesOnto, edge, y);
            (on, on_at) = (edge, at);
        }
        self.take_covers(&below[on_at + 1..], from, y);
        Ok(Next::On(on))
    }

    /// The piece ends here: the drop falls off it, lands on what is inboard of it, or gets in between the two.
    pub fn leave(
        &mut self,
        rain: &Rain,
        row: usize,
        piece: usize,
        state: &mut DropState,
        budget: &mut Budget,
    ) -> Result<Next, TooLarge> {
        let y = rain.row(row).low;
        let below = rain.stack(row - 1);
        let from = self.place(piece).unwrap_or(0);
        let exposed = rain.in_the_open(row, from);
        if rain.whole(row - 1).contains(&(piece as u32)) {
            return Ok(self.end(End::Drains, StepKind::LedOff, piece, y));
        }
        // A piece that was outboard of the water line and belongs to the line below is outboard of the drop there too.
        let outboard = |p: u32| self.place(p as usize).is_some_and(|at| at > from);
        let ceiling = below.iter().position(|&p| outboard(p)).unwrap_or(below.len());
        let covered = below[ceiling..].iter().any(|&p| self.is_cover(p as usize, from));
        if rain.face.pieces[piece].drip && !covered {
            return Ok(Next::End(self.run_off(rain, row, piece, StepKind::Drains)));
        }
        let Some(at) = ceiling.checked_sub(1) else {
            return self.fall_off(rain, row, piece, covered, budget);
        };
        let landing = below[at] as usize;
        let joined = rain.joints.sealed.has(piece, landing) || glued(rain, row, piece, landing);
        let sealed = joined && !state.unseals(piece, landing);
        if self.place(landing).is_some() && (sealed || rain.sheds(row, [piece, landing])) {
            return self.land(rain, row, piece, at, state, budget);
        }
        // A butt joint, or a lap that is too flat to shed. If it is open, the drop gets through to the piece that goes on
        // behind both.
        let behind = below[..at].iter().rposition(|&p| self.place(p as usize).is_some());
        if state.unseals(landing, piece) || !joint_sealed(rain, landing, piece, y) {
            self.meet(Event::Joint, [Some(piece), Some(landing)], y, exposed);
            self.step(StepKind::PassesBehind, landing, y);
            let Some(behind) = behind else {
                return Ok(self.end(End::Enters, StepKind::Enters, piece, y));
            };
            return self.land(rain, row, piece, behind, state, budget);
        }
        if let Some(RealDrop { hypothesis, log, .. }) = &mut state.open {
            let met = Encounter { event: Event::Relies, pieces: [Some(landing), Some(piece)], up: y, exposed };
            let outboard = &below[behind.map_or(0, |b| b + 1)..];
            hypothesis.take_over(self, outboard, from, y);
            hypothesis.step(StepKind::SealLost, landing, y);
            match behind.map(|b| below[b] as usize) {
                None => {
                    hypothesis.end(End::Enters, StepKind::Enters, piece, y);
                    hypothesis.record(met, End::Enters, log)?;
                }
                Some(next) => {
                    hypothesis.step(StepKind::LandsOn, next, y);
                    let only = DropState { lost: Some((landing, piece)), open: None };
                    if let Some(top) = brim(rain, row, piece, next, &only, budget)? {
                        hypothesis.lower_brims(outboard, top);
                    }
                    hypothesis.suppose(rain, row - 1, next, met, log, budget)?;
                }
            }
        }
        self.step(StepKind::MovesOnto, landing, y);
        self.take_covers(&below[at + 1..], from, y);
        Ok(Next::On(landing))
    }

    /// Nothing inboard of the piece goes on right below it. A drop that is `covered` cannot get out. Any other drop falls, and
    /// it falls past a gap if some piece farther down would have caught it.
    fn fall_off(
        &mut self,
        rain: &Rain,
        row: usize,
        piece: usize,
        covered: bool,
        budget: &mut Budget,
    ) -> Result<Next, TooLarge> {
        let y = rain.row(row).low;
        let from = self.place(piece).unwrap_or(0);
        if covered {
            return Ok(self.end(End::Enters, StepKind::Enters, piece, y));
        }
        for lower in (0..row).rev().map(|lower| rain.whole(lower)) {
            budget.spend(1 + lower.len())?;
            if lower.iter().any(|&p| self.place(p as usize).is_none_or(|at| at <= from)) {
                return Ok(self.end(End::Gap, StepKind::FallsOff, piece, y));
            }
        }
        Ok(Next::End(self.run_off(rain, row, piece, StepKind::Drains)))
    }

    /// The drop lands on the piece at `at` of the stack below. The pieces outboard of that one are its covers there.
    fn land(
        &mut self,
        rain: &Rain,
        row: usize,
        piece: usize,
        at: usize,
        state: &DropState,
        budget: &mut Budget,
    ) -> Result<Next, TooLarge> {
        let (y, below) = (rain.row(row).low, rain.stack(row - 1));
        let from = self.place(piece).unwrap_or(0);
        let landing = below[at] as usize;
        self.step(StepKind::LandsOn, landing, y);
        self.take_covers(&below[at + 1..], from, y);
        if let Some(top) = brim(rain, row, piece, landing, state, budget)? {
            self.lower_brims(&below[at + 1..], top);
        }
        Ok(Next::On(landing))
    }

    fn end(&mut self, end: End, kind: StepKind, piece: usize, up: Coordinate) -> Next {
        self.step(kind, piece, up);
        Next::End(end)
    }
}

/// Whether the top edge of a piece, at height `y`, is sealed to the piece that the drop is on.
fn top_sealed(rain: &Rain, edge: usize, on: usize, neighbours: bool, y: Coordinate) -> bool {
    let (joints, limits) = (rain.joints, rain.face.limits);
    let near = |at: Coordinate| at <= y.saturating_add(limits.fillet) && apart(at, y) <= limits.bead_reach;
    joints.sealed.has(edge, on)
        && (neighbours && joints.bonded.has(edge, on)
            || joints.sealed_throughout(edge, on)
            || rain.beads(edge, on).any(near))
}

/// Whether a seal joins the two edges that meet at height `y`. A bead that its author places elsewhere is not in this joint.
fn joint_sealed(rain: &Rain, lower: usize, upper: usize, y: Coordinate) -> bool {
    rain.joints.sealed.has(lower, upper)
        && (rain.joints.sealed_throughout(lower, upper)
            || rain.beads(lower, upper).any(|at| apart(at, y) <= rain.face.limits.bead_reach))
}

/// Whether a piece that holds water lies between the two and is bonded to both, as a double-sided tape is in the seam of two
/// sheets. It may begin no farther from the foot of the upper one in this row than a bead reaches.
fn glued(rain: &Rain, row: usize, upper: usize, lower: usize) -> bool {
    let y = rain.row(row).low;
    let near = |at: &usize| apart(rain.row(*at).low, y) <= rain.face.limits.bead_reach;
    let between = |tape: usize, at: usize| {
        let place = |piece: usize| rain.whole(at).iter().position(|&p| p as usize == piece);
        let places = place(lower).zip(place(tape)).zip(place(upper));
        places.is_some_and(|((lower, tape), upper)| lower < tape && tape < upper)
    };
    let tapes = rain.joints.bonded.of_both(upper, lower);
    let mut tapes = tapes.filter(|&tape| rain.face.pieces[tape].holds.has(Control::Water));
    tapes.any(|tape| (row..rain.rows()).take_while(near).any(|at| between(tape, at)))
}

/// How high water must rise where the drop left a piece for one that goes on behind it: up to the top of the latter. `None`
/// when they are sealed to each other. That the piece was left through an open joint makes no difference to this.
fn brim(
    rain: &Rain,
    row: usize,
    piece: usize,
    landing: usize,
    state: &DropState,
    budget: &mut Budget,
) -> Result<Option<Coordinate>, TooLarge> {
    let sealed = rain.joints.sealed.has(piece, landing) || glued(rain, row, piece, landing);
    if sealed && !state.unseals(piece, landing) {
        return Ok(None);
    }
    let mut top = row;
    while top + 1 < rain.rows() && rain.whole(top + 1).contains(&(landing as u32)) {
        top += 1;
        budget.spend(rain.whole(top).len())?;
    }
    Ok(Some(rain.row(top).high))
}
