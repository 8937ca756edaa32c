//! Which indication a material has.

use crate::model::{Material, MaterialKind};
use crate::output::drawing::hatch::Hatch;

/// Conductivity up to which a board insulates, W/(m K) (memory: scope of the EN 13162 to EN 13171 product standards).
const INSULATES: f64 = 0.06;

pub fn insulates(material: &Material) -> bool {
    material.conductivity.is_some_and(|c| c.si <= INSULATES)
}

pub fn hatch_of(material: &Material) -> Hatch {
    use MaterialKind::{Board, Cladding, Fill, Frame, Gap, Mass, Unit};
    let surface = material.surface.as_deref().unwrap_or("");
    let insulates = insulates(material);
    // What it is called is all that tells gravel from earth, or beads from extruded foam.
    let called = |word: &str| {
        let named = |text: &str| text.to_lowercase().split(|c: char| !c.is_alphanumeric()).any(|part| part == word);
        named(&material.name) || material.title.as_deref().is_some_and(named)
    };
    match (material.kind, surface) {
        (Some(Gap), _) => Hatch::Air,
        (Some(Unit), _) => Hatch::Unit,
        (Some(Fill), "foam") => Hatch::Rigid,
        (Some(Fill), _) => Hatch::Batt,
        (Some(Board), _) if insulates && (called("eps") || called("expanded")) => Hatch::Eps,
        (Some(Board), _) if insulates && called("wool") => Hatch::Wool,
        (Some(Board), _) if insulates => Hatch::Rigid,
        (_, "metal") => Hatch::Metal,
        (Some(Mass | Board | Cladding), _) if ["stucco", "render", "plaster"].into_iter().any(called) => Hatch::Render,
        (Some(Mass | Board | Cladding), _)
            if ["stone", "limestone", "granite", "sandstone"].into_iter().any(called) =>
        {
            Hatch::Stone
        }
        (Some(Frame), _) if called("blocking") => Hatch::Blocking,
        (Some(Frame), _) => Hatch::Lumber,
        (Some(Cladding), _) if ["slate", "slates", "shingles"].into_iter().any(called) => Hatch::Slate,
        (Some(Mass | Board | Cladding), "concrete" | "masonry")
            if ["block", "blocks", "cmu"].into_iter().any(called) =>
        {
            Hatch::Block
        }
        (Some(Mass | Board | Cladding), "concrete") => Hatch::Concrete,
        (Some(Mass | Board | Cladding), "masonry") => Hatch::Masonry,
        (Some(Board), "wood") if called("plywood") => Hatch::Plywood,
        (Some(Mass | Board | Cladding), "osb") => Hatch::Osb,
        (Some(Mass | Board | Cladding), "wood") => Hatch::Board,
        (Some(Mass), "") if called("gravel") => Hatch::Gravel,
        (Some(Mass), "") => Hatch::Earth,
        (Some(Board), "fiber-gypsum" | "coated" | "") => Hatch::Gypsum,
        _ => Hatch::Other,
    }
}
