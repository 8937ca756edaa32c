//! Layers, named by what they hold.

use std::collections::BTreeMap;

use crate::model::{Detail, MaterialKind};
use crate::output::drawing::scene::Role;

/// What stands on one layer.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Layer {
    Structure,
    Boards,
    Insulation,
    Cavities,
    Cladding,
    Membranes,
    Tapes,
    Flashings,
    Coatings,
    Sealants,
    Fasteners,
    Openings,
    Bonds,
    Weeps,
    Hatches,
    Tones,
    Covered,
    Folds,
    Ground,
    Breaks,
    Water,
    WaterBehind,
    Dimensions,
    Words,
    Findings,
}

/// Each layer with its name, its color (an index of the format's palette) and the weight of its lines (1/100 mm).
pub const LAYERS: [(Layer, &str, u8, u8); 25] = [
    (Layer::Structure, "structure", 7, 50),
    (Layer::Boards, "boards", 7, 50),
    (Layer::Insulation, "insulation", 7, 50),
    (Layer::Cavities, "cavities", 8, 25),
    (Layer::Cladding, "cladding", 7, 50),
    (Layer::Membranes, "membranes", 7, 70),
    (Layer::Tapes, "tapes", 7, 70),
    (Layer::Flashings, "flashings", 7, 70),
    (Layer::Coatings, "coatings", 7, 70),
    (Layer::Sealants, "sealants", 8, 25),
    (Layer::Fasteners, "fasteners", 7, 35),
    (Layer::Openings, "openings", 7, 50),
    (Layer::Bonds, "bonds", 8, 18),
    (Layer::Weeps, "weeps", 7, 25),
    (Layer::Hatches, "hatches", 8, 13),
    (Layer::Tones, "tones", 9, 13),
    (Layer::Covered, "covered", 8, 25),
    (Layer::Folds, "folds", 8, 18),
    (Layer::Ground, "ground", 7, 100),
    (Layer::Breaks, "breaks", 8, 18),
    (Layer::Water, "water", 5, 70),
    (Layer::WaterBehind, "water-behind", 30, 70),
    (Layer::Dimensions, "dimensions", 7, 18),
    (Layer::Words, "words", 7, 18),
    (Layer::Findings, "findings", 30, 35),
];

/// What the settings of a library call layers.
#[derive(Clone, Debug, Default)]
pub struct Names(pub BTreeMap<String, String>);

impl Names {
    pub fn of(&self, layer: Layer) -> &str {
        let own = LAYERS.iter().find(|(of, ..)| *of == layer).map_or("0", |(_, name, ..)| name);
        self.0.get(own).map_or(own, String::as_str)
    }
}

impl Layer {
    /// The layer of what is in a group, if the group says so.
    pub fn of(role: Role, detail: &Detail) -> Option<Layer> {
        Some(match role {
            Role::Piece(piece) | Role::Outline(piece) => Layer::of_kind(detail.pieces.get(piece)?.material.kind),
            Role::Label(_) | Role::BeadName | Role::Remark => Layer::Words,
            Role::Mark(_) | Role::Anchor(_) => Layer::Findings,
            Role::Drop => Layer::Water,
            Role::Dimension | Role::Length => Layer::Dimensions,
            Role::Hatch(_) => Layer::Hatches,
            Role::Covered => Layer::Covered,
            Role::Fold => Layer::Folds,
            Role::Bond => Layer::Bonds,
            Role::Bead => Layer::Sealants,
            Role::Fastening => Layer::Fasteners,
            Role::Weep => Layer::Weeps,
            Role::Ground => Layer::Ground,
            Role::Break => Layer::Breaks,
            Role::Symbol(_) | Role::Other => return None,
        })
    }

    /// A part of the building, and no sign on it.
    pub fn is_built(self) -> bool {
        self <= Layer::Coatings || matches!(self, Layer::Openings | Layer::Hatches | Layer::Tones)
    }

    fn of_kind(kind: Option<MaterialKind>) -> Layer {
        match kind {
            Some(MaterialKind::Sheet) => Layer::Membranes,
            Some(MaterialKind::Tape) => Layer::Tapes,
            Some(MaterialKind::Flashing) => Layer::Flashings,
            Some(MaterialKind::Coat) => Layer::Coatings,
            Some(MaterialKind::Sealant) => Layer::Sealants,
            Some(MaterialKind::Fastener) => Layer::Fasteners,
            Some(MaterialKind::Board) => Layer::Boards,
            Some(MaterialKind::Fill) => Layer::Insulation,
            Some(MaterialKind::Gap) => Layer::Cavities,
            Some(MaterialKind::Cladding) => Layer::Cladding,
            Some(MaterialKind::Unit) => Layer::Openings,
            Some(MaterialKind::Mass | MaterialKind::Frame) | None => Layer::Structure,
        }
    }
}
