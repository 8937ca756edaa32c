//! Drops of rain: where they start, what they meet, how they end.

mod event;
mod rain;
mod walk;
mod way;

pub use event::{DropEnd, DropEvent, DropStep, Drops, End, Event, Fall, StepKind};

use crate::facts::face::budget::{Budget, TooLarge};
use crate::facts::face::lap::CellLine;
use crate::facts::face::{Cells, Face, Joints, Run, WaterLine};
use event::DropLog;
use rain::{Rain, Watershed};
use walk::{RealDrop, Walker};

/// Lets drops fall in every column of these lines.
pub fn drops(
    face: &Face,
    cells: &Cells,
    lines: &[CellLine<'_>],
    joints: &Joints,
    water: &WaterLine,
    budget: &mut Budget,
) -> Result<Drops, TooLarge> {
    let mut log = DropLog::default();
    if face.weather {
        let columns: Vec<usize> = lines.iter().filter(|line| line.run == Run::Head).map(|line| line.index).collect();
        let columns: Vec<usize> = columns.into_iter().filter(|&c| cells.column(c).overlaps(face.shown)).collect();
        rain(face, cells, joints, water, &columns, &mut log, budget)?;
    }
    Ok(log.drops())
}

/// Every drop that falls in one column, whatever becomes of it.
pub fn falls(
    face: &Face,
    cells: &Cells,
    joints: &Joints,
    water: &WaterLine,
    column: usize,
    budget: &mut Budget,
) -> Result<Vec<Fall>, TooLarge> {
    let mut log = DropLog::of_falls();
    if face.weather {
        rain(face, cells, joints, water, &[column], &mut log, budget)?;
    }
    Ok(log.into_falls())
}

/// Drops fall on the water line and in every pan.
fn rain(
    face: &Face,
    cells: &Cells,
    joints: &Joints,
    water: &WaterLine,
    columns: &[usize],
    log: &mut DropLog,
    budget: &mut Budget,
) -> Result<(), TooLarge> {
    let mut column_drops = ColumnDrops::new(face, cells);
    for side in Watershed::all(face, cells) {
        log.turn(side.turned());
        for &column in columns {
            let rain = Rain { face, cells, joints, water, column, side: &side };
            column_drops.fall_on_rows(&rain, log, budget)?;
            log.catch(true);
            column_drops.fall_in_pans(&rain, log, budget)?;
            log.catch(false);
        }
    }
    Ok(())
}

/// Buffers that are reused from column to column.
struct ColumnDrops {
    drop: Walker,
    hypothesis: Walker,
    exposed: Vec<bool>,
    pans: Vec<usize>,
}

impl ColumnDrops {
    fn new(face: &Face, cells: &Cells) -> ColumnDrops {
        let walker = || Walker::new(face.pieces.len());
        let pans = (0..face.pieces.len()).filter(|&p| face.pieces[p].catches).collect();
        ColumnDrops { drop: walker(), hypothesis: walker(), exposed: vec![false; cells.rows()], pans }
    }

    /// Lets drops fall on each row that no exposed drop has run over yet, from the top down.
    fn fall_on_rows(&mut self, rain: &Rain, log: &mut DropLog, budget: &mut Budget) -> Result<(), TooLarge> {
        self.exposed.fill(false);
        for row in (0..rain.rows()).rev() {
            let sheltered = rain.sheltered(row);
            let Some(&outermost) = rain.stack(row).last() else { continue };
            if !sheltered && !self.exposed[row] {
                let open = RealDrop { exposed: &mut self.exposed, hypothesis: &mut self.hypothesis, log };
                self.drop.fall(rain, row, outermost as usize, open, budget)?;
            }
        }
        Ok(())
    }

    /// Lets a drop start at the top of every pan that something stands on.
    fn fall_in_pans(&mut self, rain: &Rain, log: &mut DropLog, budget: &mut Budget) -> Result<(), TooLarge> {
        for &pan in &self.pans {
            let block = rain.cells.block(pan);
            let rows = if block.columns.contains(&rain.column) { rain.within(&block.rows) } else { 0..0 };
            budget.spend(1 + rows.len())?;
            let Some(row) = rows.rev().find(|&row| rain.stack(row).contains(&(pan as u32))) else { continue };
            let open = RealDrop { exposed: &mut self.exposed, hypothesis: &mut self.hypothesis, log };
            self.drop.fall(rain, row, pan, open, budget)?;
        }
        Ok(())
    }
}
