//! One drop on its way down a column.

mod cover;

use crate::facts::face::Coordinate;
use crate::facts::face::budget::{Budget, TooLarge};
use crate::facts::face::drop::event::{DropLog, DropStep, Encounter, End, Event, StepKind};
use crate::facts::face::drop::rain::Rain;
use cover::blocked;

/// A drop lies on the face of a piece; everything outboard of that in the cell is its covers.
pub struct Walker {
    /// For each piece, what is known of it in the cell that the drop is in.
    seats: Vec<Seat>,
    /// Distinguishes this cell from all earlier ones.
    stamp: u64,
    /// How many pieces of this cell lie at the water line or inboard of it.
    depth: usize,
    met: Vec<Encounter>,
    trail: Vec<DropStep>,
}

#[derive(Clone, Copy, Default)]
struct Seat {
    stamp: u64,
    /// Place in the stack.
    at: usize,
    /// Of a cover: the height where the drop passed behind it.
    entry: Coordinate,
    /// Of a cover: the height above which water that backs up behind it gets inward.
    brim: Coordinate,
}

/// Whether a drop is real or hypothetical. A hypothetical drop assumes that the seal of one pair has failed. It does not count
/// as rain and assumes no further failures.
pub struct DropState<'a> {
    pub lost: Option<(usize, usize)>,
    pub open: Option<RealDrop<'a>>,
}

/// What a real drop reads and writes.
pub struct RealDrop<'a> {
    /// Rows that some drop has run over with nothing outboard of it.
    pub exposed: &'a mut [bool],
    pub hypothesis: &'a mut Walker,
    pub log: &'a mut DropLog,
}

/// The outcome of going from one row to the next.
pub enum Next {
    On(usize),
    End(End),
}

impl DropState<'_> {
    /// Whether this is the pair whose seal is assumed to have failed.
    pub fn unseals(&self, a: usize, b: usize) -> bool {
        self.lost == Some((a, b)) || self.lost == Some((b, a))
    }
}

impl Walker {
    pub fn new(pieces: usize) -> Walker {
        Walker { seats: vec![Seat::default(); pieces], stamp: 0, depth: 0, met: Vec::new(), trail: Vec::new() }
    }

    /// A drop that starts on a piece of a row: on the outermost at the water line, or in a pan, behind what stands on it.
    pub fn fall(
        &mut self,
        rain: &Rain,
        row: usize,
        piece: usize,
        open: RealDrop,
        budget: &mut Budget,
    ) -> Result<(), TooLarge> {
        let up = rain.row(row).high;
        self.met.clear();
        self.trail.clear();
        let stack = rain.stack(row);
        let at = stack.iter().position(|&p| p as usize == piece).unwrap_or(0);
        let open_air = rain.in_the_open(row, at);
        self.step(
            if at + 1 < stack.len() {
                StepKind::StartsIn
            } else if open_air {
                StepKind::StartsOn
            } else {
                StepKind::StartsBehind
            },
            piece,
            up,
        );
        (self.stamp, self.depth) = (self.stamp + 1, stack.len());
        self.take_covers(&stack[at + 1..], 0, up);
        let mut state = DropState { lost: None, open: Some(open) };
        let end = if rain.protects(piece, row) {
            self.meet(Event::Bare, [Some(piece), None], up, open_air);
            self.soak(rain, piece, up)
        } else {
            self.run(rain, row, piece, &mut state, budget)?
        };
        self.blame(end);
        match state.open {
            Some(open) => open.log.record(&self.met, end, &self.trail),
            None => Ok(()),
        }
    }

    /// Follows a drop from where it would be if a pair were not sealed. How it ends is how the event ends.
    pub fn suppose(
        &mut self,
        rain: &Rain,
        row: usize,
        piece: usize,
        met: Encounter,
        log: &mut DropLog,
        budget: &mut Budget,
    ) -> Result<(), TooLarge> {
        let lost = met.pieces[0].zip(met.pieces[1]);
        let end = if rain.protects(piece, row) {
            self.soak(rain, piece, met.up)
        } else {
            self.run(rain, row, piece, &mut DropState { lost, open: None }, budget)?
        };
        self.record(met, end, log)
    }

    /// Logs how a hypothetical drop ended.
    pub fn record(&self, met: Encounter, end: End, log: &mut DropLog) -> Result<(), TooLarge> {
        log.record(&[met], end, &self.trail)
    }

    /// Runs until the drop ends.
    fn run(
        &mut self,
        rain: &Rain,
        mut row: usize,
        mut piece: usize,
        state: &mut DropState,
        budget: &mut Budget,
    ) -> Result<End, TooLarge> {
        // Water that gets into a pan gets in below the bead at its back.
        let back = self.trail.last().filter(|step| step.kind == StepKind::StartsIn).map(|step| step.up);
        let mut starts = back.is_some();
        loop {
            let stack = rain.stack(row);
            budget.spend(1 + stack.len())?;
            let at = stack.iter().position(|&p| p as usize == piece).unwrap_or(0);
            if let Some(&cover) = stack.get(at + 1) {
                let cover = cover as usize;
                if let Some(up) = blocked(rain, row, piece, cover, back, state).filter(|_| !starts) {
                    return Ok(self.back_up(rain, row, piece, cover, up));
                }
            } else if let Some(open) = &mut state.open {
                open.exposed[row] = true;
            }
            starts = false;
            if row == 0 {
                // The foot of the detail.
                return Ok(self.run_off(rain, row, piece, rain.last_step()));
            }
            let (whole, below) = (rain.whole(row), rain.whole(row - 1));
            if below != whole || rain.stack(row - 1).len() != stack.len() {
                budget.spend(whole.len() + 2 * below.len())?;
                self.look_around(whole, stack.len());
                let next = match rain.stack(row - 1).iter().position(|&p| p as usize == piece) {
                    Some(place) => self.go_on(rain, row, piece, place, state, budget)?,
                    None => self.leave(rain, row, piece, state, budget)?,
                };
                match next {
                    Next::End(end) => return Ok(end),
                    Next::On(landed) if landed != piece && rain.protects(landed, row - 1) => {
                        return Ok(self.soak(rain, landed, rain.row(row).low));
                    }
                    Next::On(landed) => piece = landed,
                }
            }
            row -= 1;
        }
    }

    /// The way down is blocked: water rises behind the cover until it finds a way out.
    fn back_up(&mut self, rain: &Rain, row: usize, piece: usize, cover: usize, up: Coordinate) -> End {
        let Seat { entry, brim, .. } = self.seats[cover];
        self.step(StepKind::BacksUp, cover, up);
        if brim < entry {
            self.step(StepKind::Overtops, piece, brim);
            End::Pools
        } else if rain.is_behind(row, piece) {
            self.step(StepKind::Behind, piece, up);
            End::Behind
        } else {
            self.step(StepKind::RunsOut, cover, entry);
            End::Held
        }
    }

    /// The drop leaves the piece, or the detail, at the foot of this row; behind the water control layer it should never have been.
    pub fn run_off(&mut self, rain: &Rain, row: usize, piece: usize, kind: StepKind) -> End {
        let behind = rain.is_behind(row, piece);
        self.step(if behind { StepKind::Behind } else { kind }, piece, rain.row(row).low);
        if behind { End::Behind } else { End::Drains }
    }

    /// The drop is on a piece that has to stay dry.
    fn soak(&mut self, rain: &Rain, piece: usize, up: Coordinate) -> End {
        let suffers = rain.face.pieces[piece].suffers();
        self.step(if suffers { StepKind::Wets } else { StepKind::Behind }, piece, up);
        if suffers { End::Wets } else { End::Behind }
    }

    /// Damage by a drop that met nothing is an event of its own. Where it met something, that explains the damage.
    fn blame(&mut self, end: End) {
        let (true, Some(last)) = (self.met.is_empty(), self.trail.last().copied()) else { return };
        let piece = Some(last.piece);
        let (event, pieces) = match end {
            End::Wets => (Event::Wets, [piece, None]),
            End::Enters => (Event::Enters, [piece, None]),
            End::Gap => (Event::Gap, [piece, None]),
            End::Behind => (Event::Behind, [piece, None]),
            End::Pools => (Event::Pools, [self.trail.iter().rev().nth(1).map(|s| s.piece), piece]),
            End::Drains | End::Held => return,
        };
        let open_start = self.trail.first().is_some_and(|step| step.kind == StepKind::StartsOn);
        let exposed = open_start && matches!(end, End::Wets | End::Gap);
        self.meet(event, pieces, last.up, exposed);
    }

    pub fn meet(&mut self, event: Event, pieces: [Option<usize>; 2], up: Coordinate, exposed: bool) {
        self.met.push(Encounter { event, pieces, up, exposed });
    }

    pub fn step(&mut self, kind: StepKind, piece: usize, up: Coordinate) {
        self.trail.push(DropStep { kind, piece, up });
    }
}
