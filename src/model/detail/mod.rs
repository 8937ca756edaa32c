//! One interface on one drainage face: pieces in the order of installation, and what else is stated of it.

mod piece;

use std::sync::Arc;

use crate::model::{Assembly, Controls, Material, Name, Waiver};
use crate::quantity::Quantity;
use crate::text::Span;
pub use piece::{Bond, LayerRef, Piece, PieceRef, PieceRow};

#[derive(Clone, Debug)]
pub struct Detail {
    pub name: Name,
    /// A word of the kind table.
    pub kind: Name,
    pub title: Option<String>,
    /// The joined assemblies: one for a condition within an assembly, two or more for an interface.
    /// Empty when none of the names is known (which was said).
    pub joins: Vec<Join>,
    /// In order of installation.
    pub pieces: Vec<Piece>,
    pub cuts: Vec<Cut>,
    pub seals: Vec<Seal>,
    pub fastenings: Vec<Fastening>,
    pub weeps: Vec<Weeps>,
    pub folds: Vec<Fold>,
    /// How steep parts of the face are.
    pub slopes: Vec<Band>,
    pub valleys: Vec<Valley>,
    pub grade: Option<Stated>,
    /// Paving lies on the finished ground.
    pub paved: bool,
    /// Height of the warm side of the wall, from which the reach of an ice barrier is measured.
    pub wall_line: Option<Stated>,
    /// The heights that no rain reaches.
    pub sheltered: Option<Extent>,
    /// Days that the pieces stay uncovered.
    pub exposed: Option<Stated>,
    pub installed_at: Option<Stated>,
    pub sheet: Option<String>,
    pub notes: Vec<String>,
    pub waivers: Vec<Waiver>,
    /// Some line of it could not be read, so what it lacks proves nothing.
    pub doubtful: bool,
    pub name_span: Span,
    pub kind_span: Span,
    /// Its first line.
    pub span: Span,
    /// From its keyword to its closing brace.
    pub whole: Span,
}

#[derive(Clone, Debug)]
pub struct Join {
    pub assembly: Arc<Assembly>,
    pub span: Span,
}

/// A quantity that a statement gives, with the statement's place.
#[derive(Clone, Copy, Debug)]
pub struct Stated {
    pub value: Quantity,
    pub span: Span,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Axis {
    Up,
    Along,
}

/// `up A to B`, each end written or open.
#[derive(Clone, Copy, Debug, Default)]
pub struct Extent {
    pub low: Option<Quantity>,
    pub high: Option<Quantity>,
    /// The clause; `None` when the author wrote none and the piece runs through.
    pub span: Option<Span>,
}

#[derive(Clone, Debug)]
pub struct Cut {
    pub piece: PieceRef,
    pub up: Extent,
    pub along: Extent,
    pub span: Span,
}

#[derive(Clone, Debug)]
pub struct Seal {
    pub first: PieceRef,
    pub second: PieceRef,
    pub sealant: Arc<Material>,
    pub at: Option<(Axis, Quantity)>,
    /// How far the edges of the joint stand apart.
    pub width: Option<Quantity>,
    pub depth: Option<Quantity>,
    /// What the sealant is tooled against, such as a backer rod.
    pub backer: Option<(Arc<Material>, Span)>,
    pub sealant_span: Span,
    pub span: Span,
}

#[derive(Clone, Debug)]
pub struct Fastening {
    pub piece: PieceRef,
    pub fastener: Arc<Material>,
    pub every: Quantity,
    pub up: Extent,
    pub along: Extent,
    pub fastener_span: Span,
    pub every_span: Span,
    pub span: Span,
}

#[derive(Clone, Copy, Debug)]
pub struct Weeps {
    pub every: Quantity,
    pub up: Option<Quantity>,
    pub span: Span,
}

#[derive(Clone, Copy, Debug)]
pub struct Fold {
    pub axis: Axis,
    pub at: Quantity,
    pub kind: FoldKind,
    pub span: Span,
}

/// A part of the face and how steep it is. Slopes fall to the outside; one below zero falls back to the building, and
/// that of an upright face is infinite.
#[derive(Clone, Copy, Debug)]
pub struct Band {
    pub slope: Quantity,
    pub up: Extent,
    pub along: Extent,
    pub span: Span,
}

/// A line that water runs to from both sides.
#[derive(Clone, Copy, Debug)]
pub struct Valley {
    pub axis: Axis,
    pub at: Quantity,
    pub span: Span,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum FoldKind {
    OutsideCorner,
    InsideCorner,
    Sill,
    Head,
    Jamb,
    Base,
    Eave,
}

impl FoldKind {
    pub const ALL: [FoldKind; 7] = [
        FoldKind::OutsideCorner,
        FoldKind::InsideCorner,
        FoldKind::Sill,
        FoldKind::Head,
        FoldKind::Jamb,
        FoldKind::Base,
        FoldKind::Eave,
    ];

    pub fn word(self) -> &'static str {
        match self {
            FoldKind::OutsideCorner => "outside-corner",
            FoldKind::InsideCorner => "inside-corner",
            FoldKind::Sill => "sill",
            FoldKind::Head => "head",
            FoldKind::Jamb => "jamb",
            FoldKind::Base => "base",
            FoldKind::Eave => "eave",
        }
    }
}

impl Detail {
    pub fn layer(&self, at: LayerRef) -> &crate::model::Layer {
        &self.joins[at.join].assembly.layers[at.layer]
    }

    /// The controls of the layer that a piece is the end of.
    pub fn controls(&self, piece: &Piece) -> Controls {
        piece.layer.map_or(Controls::NONE, |at| self.layer(at).controls())
    }
}
