//! The extents of pieces with an edge elsewhere.

use crate::finding::Edit;
use crate::mend::Context;
use crate::mend::text::replace;
use crate::model::{Extent, Piece};
use crate::quantity::Quantity;

/// One of the two bounds of an extent.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Bound {
    Low,
    High,
}

/// What architects call that edge of a piece.
pub fn edge_name(axis: &str, bound: Bound) -> &'static str {
    match (axis, bound) {
        ("up", Bound::Low) => "foot",
        ("up", Bound::High) => "top",
        (_, Bound::Low) => "left edge",
        (_, Bound::High) => "right edge",
    }
}

/// The extent of a piece, with these bounds elsewhere.
pub fn move_bounds(context: &Context<'_>, piece: &Piece, axis: &str, bounds: &[(Bound, Quantity)]) -> Option<Edit> {
    let extent = if axis == "up" { &piece.up } else { &piece.along };
    Some(replace(context, extent.span?.range(), extent_clause(axis, extent, bounds)?))
}

/// The clause of an extent, with these bounds elsewhere.
pub fn extent_clause(axis: &str, extent: &Extent, bounds: &[(Bound, Quantity)]) -> Option<String> {
    let moved = |wanted: Bound| bounds.iter().find(|(bound, _)| *bound == wanted).map(|(_, at)| *at);
    match (moved(Bound::Low).or(extent.low), moved(Bound::High).or(extent.high)) {
        (Some(low), Some(high)) => Some(format!("{axis} {low} to {high}")),
        (Some(low), None) => Some(format!("{axis} from {low}")),
        (None, Some(high)) => Some(format!("{axis} to {high}")),
        (None, None) => None,
    }
}

/// Do the two overlap? An extent without a bound has no end there.
pub fn overlap(one: &Extent, two: &Extent) -> bool {
    let below =
        |low: Option<Quantity>, high: Option<Quantity>| low.zip(high).is_none_or(|(low, high)| low.si < high.si);
    below(one.low, two.high) && below(two.low, one.high)
}
