//! Drawings of details and assemblies: a scene in millimetres, then SVG.

mod assembly;
mod dimension;
mod front;
mod hatch;
pub mod lettering;
mod mark;
mod page;
mod ruler;
mod scene;
mod section;
mod spread;
mod subject;
mod svg;

pub use assembly::assembly;
pub use front::front;
pub use mark::{Mark, belongs, lit, pieces};
pub use scene::{Anchor, Area, Dash, Ink, Pen, Point, Role, Scene, Shape};
pub use section::{Line, axis, section};
pub use subject::Subject;
pub use svg::{element, fragment, svg};

use crate::facts::DetailFacts;

/// More cells than this are no drawing any more; a large detail has a few thousand.
const MOST_CELLS: usize = 40_000;

/// The detail was worked out, and has few enough edges to be drawn.
pub fn drawable(facts: &DetailFacts) -> bool {
    let cells = &facts.face.cells;
    facts.too_large.is_none() && cells.rows().saturating_mul(cells.columns()) <= MOST_CELLS
}
