//! The geometry of an unfolded drainage face: laps, drops, continuity and the rest, by index of piece.
//!
//! It knows neither names nor texts, nor what is good practice. `up` is height against the flow of water, `along` runs left
//! to right seen from outside; pieces are rectangles less their cuts, in order of installation.

mod budget;
mod cells;
mod drop;
mod extent;
mod input;
mod joint;
mod lap;
mod pairs;
mod stack;

pub use budget::{Excess, TooLarge};
pub use cells::{Block, Cells};
pub use drop::{DropEnd, DropEvent, Drops, End, Event, Step, StepKind};
pub use extent::{Coordinate, Extent, MILLIMETRE, OPEN_HIGH, OPEN_LOW, Rect, apart};
pub use input::{Cut, Face, Fasten, Fold, LayerEnd, Piece, Seal};
pub use joint::{BEAD_REACH, Joints, SealFact};
pub use lap::{Lap, Run};
pub use pairs::Pairs;
pub use stack::{ImpossibleStack, Order};

use budget::Budget;

/// Everything that is worked out for one face.
#[derive(Clone, Debug)]
pub struct FaceFacts {
    pub cells: Cells,
    pub impossible: Vec<ImpossibleStack>,
    pub laps: Vec<Lap>,
    pub drops: Drops,
    pub seals: Vec<SealFact>,
    /// All pairs that are neighbours in some stack, the earlier piece first.
    pub contacts: Vec<(usize, usize)>,
}

/// Works out all facts of a face; the only failure is a face beyond the bounds that `TooLarge` names.
pub fn derive(face: &Face) -> Result<FaceFacts, TooLarge> {
    budget::at_most(face.pieces.len(), budget::MAX_PIECES, Excess::Pieces)?;
    let mut budget = Budget::new();
    let mut cells = Cells::new(face, &mut budget)?;
    let order = stack::order(face, &mut cells, &mut budget)?;
    let joints = Joints::new(face, &cells, &mut budget)?;
    let laps = lap::laps(face, &cells, &order, &joints, &mut budget)?;
    let drops = drop::drops(face, &cells, &joints, &mut budget)?;
    let seals = joint::seals(face, &cells, &mut budget)?;
    let contacts = joints.contact.iter().collect();
    Ok(FaceFacts { cells, impossible: order.impossible, laps, drops, seals, contacts })
}
