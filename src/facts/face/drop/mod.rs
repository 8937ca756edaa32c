//! Drops of rain: where they start, what they meet, how they end.

mod cladding;
mod event;
mod walk;
mod way;

pub use event::{DropEnd, DropEvent, Drops, End, Event, Fall, Step, StepKind};

use crate::facts::face::budget::{Budget, TooLarge};
use crate::facts::face::lap::Line;
use crate::facts::face::{Cells, Face, Joints, Run};
use event::Log;
use walk::{Open, Rain, Walker};

/// Lets drops fall in every column of these lines, and behind the cladding where there is any.
pub fn drops(
    face: &Face,
    cells: &Cells,
    lines: &[Line<'_>],
    joints: &Joints,
    budget: &mut Budget,
) -> Result<Drops, TooLarge> {
    let mut log = Log::default();
    if face.weather {
        let columns: Vec<usize> = lines.iter().filter(|line| line.run == Run::Head).map(|line| line.index).collect();
        rain(face, cells, joints, &columns, &mut log, budget)?;
    }
    Ok(log.drops())
}

/// Every drop that falls in one column, whatever becomes of it.
pub fn falls(
    face: &Face,
    cells: &Cells,
    joints: &Joints,
    column: usize,
    budget: &mut Budget,
) -> Result<Vec<Fall>, TooLarge> {
    let mut log = Log::of_falls();
    if face.weather {
        rain(face, cells, joints, &[column], &mut log, budget)?;
    }
    Ok(log.into_falls())
}

/// First on the face as it stands, then on what the cladding hides.
fn rain(
    face: &Face,
    cells: &Cells,
    joints: &Joints,
    columns: &[usize],
    log: &mut Log,
    budget: &mut Budget,
) -> Result<(), TooLarge> {
    let mut clouds = Clouds::new(face, cells);
    for &column in columns {
        clouds.burst(&Rain::new(face, cells, joints, column), log, budget)?;
    }
    if let Some(bare) = cladding::without(face, cells, joints, budget)? {
        for &column in columns {
            clouds.burst(&Rain::behind(face, cells, &bare, joints, column), log, budget)?;
        }
    }
    Ok(())
}

/// What is needed again for each column.
struct Clouds {
    drop: Walker,
    hypothesis: Walker,
    exposed: Vec<bool>,
}

impl Clouds {
    fn new(face: &Face, cells: &Cells) -> Clouds {
        let walker = || Walker::new(face.pieces.len());
        Clouds { drop: walker(), hypothesis: walker(), exposed: vec![false; cells.rows()] }
    }

    /// Lets drops fall on each row that no exposed drop has run over yet, from the top down.
    fn burst(&mut self, rain: &Rain, log: &mut Log, budget: &mut Budget) -> Result<(), TooLarge> {
        self.exposed.fill(false);
        for row in (0..rain.cells.rows()).rev() {
            let sheltered = rain.face.is_sheltered(rain.cells.row(row));
            let Some(&outermost) = rain.stack(row).last() else { continue };
            if !sheltered && !self.exposed[row] && rain.starts(row) {
                let open = Open { exposed: &mut self.exposed, hypothesis: &mut self.hypothesis, log };
                self.drop.fall(rain, row, outermost as usize, open, budget)?;
            }
        }
        Ok(())
    }
}
