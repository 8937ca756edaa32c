//! A wall, roof, floor: layers from outside to inside.

use std::sync::Arc;

use crate::model::{Climate, Control, Controls, Material, Name, Stated, Waiver};
use crate::quantity::Quantity;
use crate::text::Span;

#[derive(Clone, Debug)]
pub struct Assembly {
    pub name: Name,
    pub kind: AssemblyKind,
    pub title: Option<String>,
    pub climate: Option<Arc<Climate>>,
    /// Surface resistances inside and outside, m2 K/W, when the author sets them.
    pub surfaces: Option<(f64, f64)>,
    /// How steep it is, if its author says so: level is zero, upright infinite.
    pub slope: Option<Stated>,
    /// Height of the warm side of the wall below a roof, on the face of its details.
    pub wall_line: Option<Stated>,
    /// Outside first, whichever way the author wrote them.
    pub layers: Vec<Layer>,
    pub waivers: Vec<Waiver>,
    /// Some line of it could not be read, so what it lacks proves nothing.
    pub doubtful: bool,
    /// It has more layers than are worked out, and only the first of them are here.
    pub too_large: bool,
    pub name_span: Span,
    pub kind_span: Span,
    pub span: Span,
}

#[derive(Clone, Debug)]
pub struct Layer {
    /// The name given with `as`, or the material's.
    pub name: Name,
    pub material: Arc<Material>,
    /// Written here, or the material's own.
    pub thickness: Option<Quantity>,
    pub controls: Vec<(Control, Span)>,
    /// The layer lies between frames, as insulation between studs does.
    pub between: Option<Frame>,
    /// A clause of it could not be read; what the rules would say of it is left unsaid.
    pub doubtful: bool,
    pub material_span: Span,
    pub span: Span,
}

#[derive(Clone, Debug)]
pub struct Frame {
    pub material: Arc<Material>,
    pub width: Quantity,
    pub spacing: Quantity,
    pub span: Span,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum AssemblyKind {
    Wall,
    Roof,
    Floor,
    Foundation,
    Existing,
    Ground,
    Opening,
}

impl AssemblyKind {
    pub const ALL: [AssemblyKind; 7] = [
        AssemblyKind::Wall,
        AssemblyKind::Roof,
        AssemblyKind::Floor,
        AssemblyKind::Foundation,
        AssemblyKind::Existing,
        AssemblyKind::Ground,
        AssemblyKind::Opening,
    ];

    pub fn word(self) -> &'static str {
        match self {
            AssemblyKind::Wall => "wall",
            AssemblyKind::Roof => "roof",
            AssemblyKind::Floor => "floor",
            AssemblyKind::Foundation => "foundation",
            AssemblyKind::Existing => "existing",
            AssemblyKind::Ground => "ground",
            AssemblyKind::Opening => "opening",
        }
    }
}

impl Layer {
    pub fn controls(&self) -> Controls {
        self.controls.iter().map(|(control, _)| *control).collect()
    }
}
