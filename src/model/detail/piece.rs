//! A piece of a detail, and what its clauses mean.

use std::sync::Arc;

use super::{Extent, Stated};
use crate::model::{Hold, Material, Name};
use crate::quantity::Quantity;
use crate::text::Span;

/// A rectangle of material on the face.
#[derive(Clone, Debug)]
pub struct Piece {
    pub name: Name,
    pub material: Arc<Material>,
    pub layer: Option<LayerRef>,
    pub role: Option<Name>,
    pub role_span: Option<Span>,
    pub up: Extent,
    pub along: Extent,
    pub bonds: Vec<Bond>,
    pub over: Vec<PieceRef>,
    pub behind: Vec<PieceRef>,
    pub drip: bool,
    pub slope: Option<Stated>,
    pub rolled: bool,
    pub primed: bool,
    /// On the inner face: it takes part in air and vapor continuity, not in the water path.
    pub inside: bool,
    /// It is one of a row of equal pieces.
    pub row: Option<PieceRow>,
    /// A clause of it could not be read; what the rules would say of it is left unsaid.
    pub doubtful: bool,
    pub name_span: Span,
    pub material_span: Span,
    pub span: Span,
}

/// The layer that a piece is the end of: `of A`.
#[derive(Clone, Copy, Debug)]
pub struct LayerRef {
    /// Index into the detail's `joins`.
    pub join: usize,
    /// Index into that assembly's `layers`.
    pub layer: usize,
}

/// A name in a list, resolved to a piece of the same detail.
#[derive(Clone, Copy, Debug)]
pub struct PieceRef {
    pub index: usize,
    pub span: Span,
}

/// A name in a `bonds` clause, and what holds the two together.
#[derive(Clone, Copy, Debug)]
pub struct Bond {
    pub index: usize,
    pub hold: Hold,
    pub span: Span,
}

/// What `every` makes of a piece. All laps of a row are alike, so two pieces stand for it: the first as it is written, and
/// the next, which laps the first and runs on to the next fold or off the detail.
#[derive(Clone, Copy, Debug)]
pub struct PieceRow {
    /// From one piece to the next.
    pub every: Quantity,
    /// It stands for all pieces after the first.
    pub next: bool,
    pub span: Span,
}
