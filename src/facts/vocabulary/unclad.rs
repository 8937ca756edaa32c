//! How wide a strip of a wall its cladding leaves uncovered.

use crate::facts::DetailFacts;
use crate::facts::face::{Cells, Coordinate, Extent};
use crate::facts::vocabulary::{ABSENT, Dependence, Fact, Field};
use crate::model::MaterialKind;
use crate::quantity::Dimension;

pub const FIELDS: &[Field] = &[Field::quantity(
    "unclad",
    Dimension::Length,
    "the widest strip of it that nothing covers, where cladding of its assembly is drawn; unknown where that strip runs off the detail",
    |item| {
        let Fact::Piece(facts, piece) = item else { return Err(ABSENT) };
        widest(facts, piece).map_or(Err(ABSENT), |strip| Ok(facts.length(Some(piece), strip)))
    },
)
.depends(Dependence::Always)];

/// The largest rectangle of uncovered cells, by its shorter side. Row by row from the bottom up, it counts how far down from
/// this row each column is uncovered, and finds for each such height the widest run of columns that reach it.
fn widest(facts: &DetailFacts, piece: usize) -> Option<Coordinate> {
    if !(piece + 1..facts.detail.pieces.len()).any(|other| clads(facts, piece, other)) {
        return None;
    }
    let (cells, block) = (&facts.face.cells, facts.face.cells.block(piece));
    if block.size() == 0 {
        return None;
    }
    let mut heights = vec![0; block.columns.len()];
    let mut widest = 0;
    for row in block.rows.clone() {
        for (height, column) in heights.iter_mut().zip(block.columns.clone()) {
            let open = is_open(facts, cells, piece, column, row);
            *height = if open { measure(cells.row(row)).saturating_add(*height) } else { 0 };
        }
        widest = widest.max(widest_under(&heights, |column| measure(cells.column(block.columns.start + column))));
    }
    (widest < UNBOUNDED).then_some(widest)
}

const UNBOUNDED: Coordinate = Coordinate::MAX / 4;

fn measure(extent: Extent) -> Coordinate {
    extent.length().unwrap_or(UNBOUNDED)
}

/// The largest of the shorter sides of all rectangles under a skyline of column heights.
fn widest_under(heights: &[Coordinate], width: impl Fn(usize) -> Coordinate) -> Coordinate {
    // Heights that the columns so far still reach, each with the place where the run of columns of that height begins.
    let mut rising: Vec<(Coordinate, Coordinate)> = Vec::new();
    let (mut place, mut widest) = (0, 0);
    for column in 0..=heights.len() {
        let height = heights.get(column).copied().unwrap_or(0);
        let mut start = place;
        while let Some((high, from)) = rising.pop_if(|(high, _)| *high >= height) {
            widest = widest.max(high.min(place - from));
            start = from;
        }
        rising.push((height, start));
        if column < heights.len() {
            place = place.saturating_add(width(column));
        }
    }
    widest
}

/// Whether the other is cladding of the assembly that the piece belongs to.
fn clads(facts: &DetailFacts, piece: usize, other: usize) -> bool {
    let (own, other) = (&facts.detail.pieces[piece], &facts.detail.pieces[other]);
    let join = own.layer.map(|layer| layer.join);
    join.is_some() && other.layer.map(|layer| layer.join) == join && other.material.kind == Some(MaterialKind::Cladding)
}

/// Whether nothing covers the piece in a cell. Tape, a screen or the air of a gap does not count as cover.
fn is_open(facts: &DetailFacts, cells: &Cells, piece: usize, column: usize, row: usize) -> bool {
    let thin = |other: u32| {
        matches!(facts.detail.pieces[other as usize].material.kind, Some(MaterialKind::Gap | MaterialKind::Tape))
    };
    let mut outboard =
        cells.whole(column, row).iter().rev().copied().skip_while(|&other| other as usize != piece && thin(other));
    outboard.next() == Some(piece as u32)
}
