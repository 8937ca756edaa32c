//! The geometry of an unfolded drainage face: laps, drops, continuity and the rest, by index of piece.
//!
//! It knows nothing of names, of the text or of good practice. `up` is height against the flow of water, `along` runs left to
//! right seen from outside; pieces are rectangles less their cuts, in order of installation.

mod abutment;
mod bond;
mod breach;
mod budget;
mod cap;
mod cells;
mod continuity;
mod drop;
mod edge;
mod exposure;
mod extent;
mod fastening;
mod input;
mod joint;
mod lap;
mod pairs;
mod stack;
mod touch;
mod tuck;
mod turn;
mod water;
mod wide;

pub use abutment::Abutment;
pub use bond::Bond;
pub use budget::{Excess, TooLarge};
pub use cells::{Block, Cells};
pub use continuity::Transition;
pub use drop::{DropEnd, DropEvent, DropStep, Drops, End, Event, Fall, StepKind};
pub use edge::{Edge, Side};
pub use extent::{Coordinate, Extent, MILLIMETRE, OPEN_HIGH, OPEN_LOW, Rect, apart, turned};
pub use fastening::Fastening;
pub use input::{BondKind, Bonding, Cut, Face, Fasten, Fold, Joined, LayerEnd, Limits, Piece, Seal, Slope};
pub use joint::{Joints, SealFact};
pub use lap::{Lap, Run};
pub use pairs::Pairs;
pub use stack::{ImpossibleStack, Knot, Order, Tangle, Third};
pub use touch::Touch;
pub use tuck::Tuck;
pub use turn::Turn;
use water::WaterLine;

use budget::Budget;
use lap::CellLine;

/// Everything that is worked out for one face.
#[derive(Clone, Debug)]
pub struct FaceFacts {
    pub cells: Cells,
    pub impossible: Vec<ImpossibleStack>,
    pub laps: Vec<Lap>,
    pub drops: Drops,
    pub transitions: Vec<Transition>,
    pub bonds: Vec<Bond>,
    pub seals: Vec<SealFact>,
    pub fastenings: Vec<Fastening>,
    pub edges: Vec<Edge>,
    pub turns: Vec<Turn>,
    pub abutments: Vec<Abutment>,
    pub tucks: Vec<Tuck>,
    pub touches: Vec<Touch>,
    /// For each piece, whether it stays uncovered somewhere until the cladding comes.
    pub uncovered: Vec<bool>,
    /// For each piece, whether it is cladding and rain falls on its upper edge.
    pub open_above: Vec<bool>,
    /// For each piece, whether rain falls on it first at the top.
    pub caps: Vec<bool>,
    /// For each piece, whether at some place a single jointed thing, such as a flashing, is all that keeps rain off it.
    pub under_joints: Vec<bool>,
    /// For each piece, whether cladding outboard of it goes on below its lower edge, all along that edge.
    pub hidden_foot: Vec<bool>,
    /// All pairs that are neighbors in some stack, the earlier piece first.
    pub contacts: Vec<(usize, usize)>,
}

/// Works out all facts of a face. It fails only where the face exceeds one of the limits that `TooLarge` names.
pub fn derive(face: &Face) -> Result<FaceFacts, TooLarge> {
    budget::at_most(face.pieces.len(), budget::MAX_PIECES, Excess::Pieces)?;
    let closed = wide::closed(face);
    let face = &*closed;
    let mut budget = Budget::new();
    let mut cells = Cells::new(face, &mut budget)?;
    let order = stack::order(face, &mut cells, &mut budget)?;
    let joints = Joints::new(face, &cells, &mut budget)?;
    let water = WaterLine::new(face, &cells, &joints, &mut budget)?;
    let lines: Vec<CellLine<'_>> = CellLine::all(&cells).collect();
    let laps = lap::laps(face, &lines, &order, &joints, &mut budget)?;
    let seals = joint::seals(face, &cells, &joints, &mut budget)?;
    Ok(FaceFacts {
        drops: drop::drops(face, &cells, &lines, &joints, &water, &mut budget)?,
        transitions: continuity::transitions(face, &cells, &lines, &joints, &laps, &seals, &mut budget)?,
        bonds: bond::bonds(face, &cells, &joints, &mut budget)?,
        fastenings: fastening::fastenings(face, &cells, &mut budget)?,
        edges: edge::edges(face, &cells, &joints, &mut budget)?,
        turns: turn::turns(face, &cells, &joints, &mut budget)?,
        abutments: abutment::abutments(face, &cells, &joints, &mut budget)?,
        tucks: tuck::tucks(face, &cells, &joints, &mut budget)?,
        touches: touch::touches(face, &cells, &joints, &mut budget)?,
        uncovered: exposure::uncovered(face, &cells, &mut budget)?,
        open_above: exposure::open_above(face, &cells, &mut budget)?,
        caps: cap::caps(face, &cells, &mut budget)?,
        under_joints: cap::under_joints(face, &cells, &mut budget)?,
        hidden_foot: cap::hidden_foot(face, &cells, &mut budget)?,
        contacts: joints.contact.iter().collect(),
        impossible: order.impossible,
        laps,
        seals,
        cells,
    })
}

/// Every drop that falls in one column of a face that [`derive`] has worked out; none where the face exceeds the limits.
pub fn falls(face: &Face, cells: &Cells, column: usize) -> Vec<Fall> {
    let mut budget = Budget::new();
    let mut falls = || {
        let joints = Joints::new(face, cells, &mut budget)?;
        let water = WaterLine::new(face, cells, &joints, &mut budget)?;
        drop::falls(face, cells, &joints, &water, column, &mut budget)
    };
    falls().unwrap_or_default()
}
