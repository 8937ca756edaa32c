//! An open valley: metal along the line between two roofs, and the roofing of either that laps over it.

use crate::facts::face::Coordinate;
use crate::facts::nanometres;
use crate::model::{Axis, Detail, MaterialKind, Piece};

/// Metal in a valley, and where it ends to the left and to the right.
pub struct OpenValley {
    pub at: Coordinate,
    pub metal: [Coordinate; 2],
    /// The roofing on either side and where it ends, if that is over the metal.
    pub roofing: [Option<(usize, Coordinate)>; 2],
}

/// The first metal that lies across a valley which runs up the roof.
pub fn open(detail: &Detail) -> Option<OpenValley> {
    let at = detail.valleys.iter().find(|valley| valley.axis == Axis::Along).map(|valley| nanometres(valley.at))?;
    let metal = |piece: &Piece| piece.material.kind == Some(MaterialKind::Flashing) && !piece.inside;
    let crossing = |piece: &Piece| ends(piece).filter(|[low, high]| *low < at && at < *high);
    let first = detail.pieces.iter().enumerate().filter(|(_, piece)| metal(piece));
    let (index, metal) = first.filter_map(|(index, piece)| Some((index, crossing(piece)?))).next()?;
    // What is installed last lies outside.
    let over = || detail.pieces.iter().enumerate().skip(index + 1).rev().filter(|(_, piece)| !piece.inside);
    let left = over().find_map(|(n, piece)| {
        let high = nanometres(piece.along.high?);
        (high > metal[0] && high < at && low(piece) < metal[0]).then_some((n, high))
    });
    let right = over().find_map(|(n, piece)| {
        let low = nanometres(piece.along.low?);
        (low < metal[1] && low > at && high(piece) > metal[1]).then_some((n, low))
    });
    Some(OpenValley { at, metal, roofing: [left, right] })
}

/// Where whatever lies across the valley ends, from left to right.
pub fn across(detail: &Detail, valley: &OpenValley) -> Vec<Coordinate> {
    let pieces = detail.pieces.iter().filter(|piece| !piece.inside).filter_map(ends);
    let mut all: Vec<Coordinate> =
        pieces.filter(|[low, high]| *low < valley.at && valley.at < *high).flatten().collect();
    all.sort_unstable();
    all.dedup();
    all
}

fn ends(piece: &Piece) -> Option<[Coordinate; 2]> {
    Some([nanometres(piece.along.low?), nanometres(piece.along.high?)])
}

fn low(piece: &Piece) -> Coordinate {
    piece.along.low.map_or(Coordinate::MIN, nanometres)
}

fn high(piece: &Piece) -> Coordinate {
    piece.along.high.map_or(Coordinate::MAX, nanometres)
}
