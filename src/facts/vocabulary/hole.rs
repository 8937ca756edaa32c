//! How closely the holes in a piece fit whatever goes through them.

use crate::facts::DetailFacts;
use crate::facts::detail::rect;
use crate::facts::face::{Coordinate, Extent, OPEN_HIGH, OPEN_LOW, Rect};
use crate::facts::vocabulary::{ABSENT, Fact, Field};
use crate::model::MaterialKind;
use crate::quantity::Dimension;

pub const FIELDS: &[Field] = &[
    Field::quantity(
        "hole-gap",
        Dimension::Length,
        "the widest space between the edge of a hole in it and what goes through; unknown where nothing does",
        |item| {
            let Fact::Piece(facts, piece) = item else { return Err(ABSENT) };
            let gap = cuts(facts, piece).filter_map(|hole| widest(facts, piece, hole)).max();
            gap.map_or(Err(ABSENT), |gap| Ok(facts.length(Some(piece), gap)))
        },
    ),
    Field::yes_no("slotted", "a cut runs across it from side to side, as a slot at a ridge does", |item| {
        let Fact::Piece(facts, piece) = item else { return Err(ABSENT) };
        let across = facts.rect(piece).along;
        let slot = |hole: Rect| hole.along.low <= across.low && hole.along.high >= across.high;
        Ok(cuts(facts, piece).any(slot))
    }),
];

pub(super) fn cuts(facts: &DetailFacts, piece: usize) -> impl Iterator<Item = Rect> + '_ {
    let own = facts.detail.cuts.iter().filter(move |cut| cut.piece.index == piece);
    own.map(|cut| rect(&cut.up, &cut.along))
}

/// The widest gap around the piece that fills a hole best: a foam collar around a pipe leaves no gap.
fn widest(facts: &DetailFacts, cut: usize, hole: Rect) -> Option<Coordinate> {
    let through = (0..facts.detail.pieces.len()).filter(|&piece| piece != cut && fills(facts, piece));
    let places = through.map(|piece| facts.rect(piece)).filter(|place| ends(*place) && place.overlaps(hole));
    places.map(|place| space(hole.up, place.up).max(space(hole.along, place.along))).min()
}

/// Whether the piece can fill a hole. Sheets, coats and metal lie in front of a hole or behind it.
fn fills(facts: &DetailFacts, piece: usize) -> bool {
    use MaterialKind::{Board, Fill, Frame, Mass, Unit};
    matches!(facts.detail.pieces[piece].material.kind, Some(Board | Fill | Frame | Mass | Unit))
}

/// Whether a place has an end both up and along. A piece that runs off the detail at both ends of one axis goes past the hole
/// and not through it.
fn ends(place: Rect) -> bool {
    [place.up, place.along].iter().all(|on| on.low != OPEN_LOW || on.high != OPEN_HIGH)
}

fn space(hole: Extent, place: Extent) -> Coordinate {
    let low = if hole.low == OPEN_LOW { 0 } else { place.low.saturating_sub(hole.low) };
    let high = if hole.high == OPEN_HIGH { 0 } else { hole.high.saturating_sub(place.high) };
    low.max(high).max(0)
}
