//! How far the wall or the roof goes on beyond an edge of its insulation, with nothing that insulates.

use crate::facts::face::{Coordinate, Extent, OPEN_HIGH, OPEN_LOW};
use crate::facts::vocabulary::{ABSENT, Field, Got, Hangs, Item};
use crate::facts::{DetailFacts, holds, is_old, nanometres};
use crate::model::{AssemblyKind, Axis, Control, FoldKind, MaterialKind, Piece};
use crate::quantity::{Dimension, Quantity};

const ABOUT: &str = "of insulation: how far what it covers goes on beyond this edge with nothing that insulates; \
                     unknown for other pieces and where the edge runs off";

pub const FIELDS: &[Field] = &[
    Field::quantity("bare-above", Dimension::Length, ABOUT, |item| bare(item, Way::Up)).hangs(Hangs::Always),
    Field::quantity("bare-below", Dimension::Length, ABOUT, |item| bare(item, Way::Down)).hangs(Hangs::Always),
    Field::quantity("bare-left", Dimension::Length, ABOUT, |item| bare(item, Way::Left)).hangs(Hangs::Always),
    Field::quantity("bare-right", Dimension::Length, ABOUT, |item| bare(item, Way::Right)).hangs(Hangs::Always),
];

/// What runs off the detail is bare for this long at least: a storey.
const STOREY: Coordinate = 3_000_000_000;

#[derive(Clone, Copy, PartialEq)]
enum Way {
    Up,
    Down,
    Left,
    Right,
}

impl Way {
    fn sideways(self) -> bool {
        matches!(self, Way::Left | Way::Right)
    }
}

fn bare(item: Item<'_>, way: Way) -> Got<'_, Quantity> {
    let Item::Piece(facts, piece) = item else { return Err(ABSENT) };
    let rect = facts.rect(piece);
    let end = match way {
        Way::Up => rect.up.high,
        Way::Down => rect.up.low,
        Way::Left => rect.along.low,
        Way::Right => rect.along.high,
    };
    if end == OPEN_LOW || end == OPEN_HIGH || !insulates(facts, piece) {
        return Err(ABSENT);
    }
    let block = facts.face.cells.block(piece);
    let lines = match way {
        Way::Up | Way::Down => block.columns.clone(),
        Way::Left | Way::Right => block.rows.clone(),
    };
    let longest = lines.map(|line| beyond(facts, piece, way, line)).max();
    longest.map_or(Err(ABSENT), |long| Ok(facts.length(Some(piece), long)))
}

/// From the edge on, cell by cell, as long as something of the building is there and nothing that insulates.
fn beyond(facts: &DetailFacts, piece: usize, way: Way, line: usize) -> Coordinate {
    let (cells, block) = (&facts.face.cells, facts.face.cells.block(piece));
    let last = match way {
        Way::Up => (line, block.rows.end - 1),
        Way::Down => (line, block.rows.start),
        Way::Left => (block.columns.start, line),
        Way::Right => (block.columns.end - 1, line),
    };
    // Where the piece is cut, this is no edge of it.
    if !cells.has(last.0, last.1, piece) {
        return 0;
    }
    let outward: Vec<(usize, usize)> = match way {
        Way::Up => (block.rows.end..cells.rows()).map(|row| (line, row)).collect(),
        Way::Down => (0..block.rows.start).rev().map(|row| (line, row)).collect(),
        Way::Left => (0..block.columns.start).rev().map(|column| (column, line)).collect(),
        Way::Right => (block.columns.end..cells.columns()).map(|column| (column, line)).collect(),
    };
    let mut long = 0;
    for (column, row) in outward {
        let stack = cells.whole(column, row);
        let covered = stack.iter().any(|&p| closes(facts, p as usize));
        if covered || !stack.iter().any(|&p| is_ground(facts, p as usize)) {
            break;
        }
        let extent = if way.sideways() { cells.column(column) } else { cells.row(row) };
        // To the side a wall may be drawn in outline only: what insulates ends there with its cladding.
        if way.sideways() && !stack.iter().any(|&p| is_outboard(facts, piece, p as usize)) {
            break;
        }
        let Some(step) = extent.length() else { return STOREY };
        long += step - behind(facts, way, extent);
    }
    long
}

/// Of a stretch of wall right above a roof or a floor, how much stands behind the insulation that lies there.
fn behind(facts: &DetailFacts, way: Way, extent: Extent) -> Coordinate {
    let base = facts.detail.folds.iter().find(|fold| fold.kind == FoldKind::Base && fold.axis == Axis::Up);
    let Some(base) = base.filter(|_| !way.sideways()).map(|fold| nanometres(fold.at)) else { return 0 };
    let lies = |kind| matches!(kind, AssemblyKind::Roof | AssemblyKind::Floor);
    let layers = facts.detail.joins.iter().filter(|join| lies(join.assembly.kind)).flat_map(|join| &join.assembly.layers);
    let insulation = layers.filter(|layer| layer.controls.iter().any(|(control, _)| *control == Control::Thermal));
    let thick = insulation.filter_map(|layer| layer.thickness).map(nanometres).max().unwrap_or(0);
    (extent.high.min(base.saturating_add(thick)) - extent.low.max(base)).max(0)
}

/// A piece of the same assembly that goes on after this one, outboard of it.
fn is_outboard(facts: &DetailFacts, piece: usize, other: usize) -> bool {
    let join = |p: usize| facts.detail.pieces[p].layer.map(|layer| layer.join);
    other > piece && join(other).is_some() && join(other) == join(piece)
}

fn insulates(facts: &DetailFacts, piece: usize) -> bool {
    let piece = &facts.detail.pieces[piece];
    holds(&facts.detail, piece).has(Control::Thermal) && piece.material.kind != Some(MaterialKind::Unit)
}

/// It insulates, or is timber or a unit, which take the place of insulation.
fn closes(facts: &DetailFacts, piece: usize) -> bool {
    let said = &facts.detail.pieces[piece];
    let instead = matches!(said.material.kind, Some(MaterialKind::Frame | MaterialKind::Unit | MaterialKind::Fill));
    instead || insulates(facts, piece)
}

/// A board, masonry, or a membrane on it, of an assembly whose insulation this detail draws, or of none.
fn is_ground(facts: &DetailFacts, piece: usize) -> bool {
    let said = &facts.detail.pieces[piece];
    let body = matches!(said.material.kind, Some(MaterialKind::Board | MaterialKind::Mass));
    if !body || is_old(&facts.detail, said) {
        return false;
    }
    let Some(of) = said.layer else { return said.material.kind == Some(MaterialKind::Mass) };
    let drawn = |other: &Piece| {
        other.layer.is_some_and(|layer| layer.join == of.join) && holds(&facts.detail, other).has(Control::Thermal)
    };
    facts.detail.pieces.iter().any(drawn)
}
