//! What the groups of a drawing stand for.

use crate::output::drawing::hatch::Hatch;

/// What a group stands for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Role {
    /// A piece, by index.
    Piece(usize),
    /// A piece's name beside the drawing.
    Label(usize),
    /// The name of a bead of sealant beside the drawing.
    BeadName,
    /// A remark beside the drawing on something in it that nobody gave.
    Remark,
    /// A finding, by the number that its mark shows.
    Mark(usize),
    /// The point that a mark points at.
    Anchor(usize),
    /// A water path.
    Drop,
    Dimension,
    /// The dimension of one length: the last run of its first shape is its line.
    Length,
    /// A hatch, behind the outline of what it fills.
    Hatch(Hatch),
    /// The seen edges of a piece.
    Outline(usize),
    /// Edges that something covers.
    Covered,
    Fold,
    Bond,
    Bead,
    Fastening,
    Weep,
    Ground,
    /// Where the drawing is cut off.
    Break,
    /// A sign that the legend of a sheet explains.
    Symbol(Symbol),
    Other,
}

/// What a legend explains, in the order in which it does.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Symbol {
    /// A piece, by the step in which it is installed.
    Note,
    Error,
    Warning,
    Remark,
    /// A finding that is waived or known.
    Settled,
    /// A step of a water path.
    Step,
    Water,
    /// Water that shares its fate with one that is drawn in full.
    Quiet,
    Wrong,
    Ring,
    TurnsIn,
    Drips,
    Held,
    Wets,
    Sheet,
    Tape,
    SelfAdhered,
    Metal,
    Liquid,
    Adhered,
    Bead,
    Fastener,
    Weep,
    Ledge,
    Hidden,
    Fold,
    CutOff,
    CutHere,
    Enlarged,
    Failing,
}
