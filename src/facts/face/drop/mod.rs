//! Drops of rain: where they start, what they meet, how they end.

mod event;
mod walk;
mod way;

pub use event::{DropEnd, DropEvent, Drops, End, Event, Step, StepKind};

use crate::facts::face::budget::{Budget, TooLarge};
use crate::facts::face::{Cells, Face, Joints};
use event::Log;
use walk::{Open, Rain, Walker};

/// Lets drops fall in every column in which something is different.
pub fn drops(face: &Face, cells: &Cells, joints: &Joints, budget: &mut Budget) -> Result<Drops, TooLarge> {
    let mut log = Log::default();
    if !face.weather {
        return Ok(log.drops());
    }
    let mut drop = Walker::new(face.pieces.len());
    let mut hypothesis = Walker::new(face.pieces.len());
    let mut exposed = vec![false; cells.rows()];
    for columns in cells.alike_columns() {
        let foot = (0..cells.rows()).find(|&row| !cells.stack(columns.start, row).is_empty()).unwrap_or(0);
        let rain = Rain { face, cells, joints, columns, foot };
        exposed.fill(false);
        for row in (0..cells.rows()).rev() {
            let extent = cells.row(row);
            let sheltered = face.sheltered.is_some_and(|above| extent.low >= above);
            let Some(&outermost) = rain.stack(row).last() else { continue };
            if !sheltered && !exposed[row] {
                let open = Open { exposed: &mut exposed, hypothesis: &mut hypothesis, log: &mut log };
                drop.fall(&rain, row, outermost as usize, open, budget)?;
            }
        }
    }
    Ok(log.drops())
}
