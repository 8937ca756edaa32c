//! How much work a face may cost. A drawn detail has 5 to 30 pieces and a few hundred cells; the bounds only keep a
//! file that is wrong or hostile from taking the whole review with it.

/// Relations between pieces are kept as squares of bits; at this size each takes 32 MB.
pub const MAX_PIECES: usize = 1 << 14;

/// Cells of the face, that is, two thousand edges each way.
pub const MAX_CELLS: usize = 1 << 22;

/// Pieces counted over all cells: 32 MB of stacks.
pub const MAX_STACKED: usize = 1 << 23;

/// Elementary steps of all facts together, a fraction of a second.
pub const MAX_STEPS: usize = 30_000_000;

/// Steps of trails that are kept.
pub const MAX_TRAIL: usize = 1 << 21;

/// The face is beyond the bounds, so nothing was worked out for it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct TooLarge {
    /// What there was too much of.
    pub what: Excess,
    pub limit: usize,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Excess {
    Pieces,
    Cells,
    Stacked,
    Steps,
    Trail,
}

/// What is left to spend.
pub struct Budget {
    steps: usize,
}

impl Budget {
    pub fn new() -> Budget {
        Budget { steps: MAX_STEPS }
    }

    pub fn spend(&mut self, steps: usize) -> Result<(), TooLarge> {
        self.steps = self.steps.checked_sub(steps).ok_or(TooLarge { what: Excess::Steps, limit: MAX_STEPS })?;
        Ok(())
    }
}

/// Refuses a count beyond its limit.
pub fn at_most(count: usize, limit: usize, what: Excess) -> Result<(), TooLarge> {
    if count > limit { Err(TooLarge { what, limit }) } else { Ok(()) }
}
