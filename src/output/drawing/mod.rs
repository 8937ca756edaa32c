//! Drawings of details and assemblies: a scene in millimetres, then SVG, PDF or DXF.

mod assembly;
mod clip;
mod cloud;
mod dimension;
mod dxf;
mod elevation;
mod free;
mod hatch;
mod joint;
mod key;
mod legend;
pub mod lettering;
mod mark;
mod note;
mod page;
mod paper;
mod pdf;
mod rain;
mod ruler;
mod scale;
mod scene;
mod section;
mod sheet;
mod spread;
mod subject;
mod svg;
mod title;
mod valley;
mod water;

pub use assembly::{assembly, layer_clouds, layers};
pub use cloud::{Changed, clouds};
pub use dxf::{LAYERS, Names, dxf};
pub use elevation::{bare_elevation, elevation};
pub use mark::{Mark, alone, belongs, highlight, pieces};
pub use note::cross;
pub use page::{View, core};
pub use pdf::pdf;
pub use scale::Scales;
pub use scene::{Anchor, Area, Dash, Ink, Pen, Point, Role, Scene, Shape, Symbol};
pub use section::{SectionLine, axis, bare_section, joint, plain_section, section};
pub use sheet::{IndexEntry, Paper, index, sheet};
pub use subject::Subject;
pub use svg::{GRID, classes, element, fragment, svg};
pub use title::{BAR, Title, bar};

use crate::facts::DetailFacts;

/// More cells than this are no drawing any more; a large detail has a few thousand.
const MOST_CELLS: usize = 40_000;

/// The detail was worked out, and has few enough edges to be drawn.
pub fn drawable(facts: &DetailFacts) -> bool {
    let cells = &facts.face.cells;
    facts.too_large.is_none() && cells.rows().saturating_mul(cells.columns()) <= MOST_CELLS
}
