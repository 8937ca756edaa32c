//! How far the wall or the roof goes on beyond an edge of its insulation, with nothing that insulates.

use crate::facts::face::{Coordinate, Extent, OPEN_HIGH, OPEN_LOW};
use crate::facts::vocabulary::{ABSENT, Dependence, Fact, Field, FieldResult};
use crate::facts::{DetailFacts, holds, is_old, nanometres};
use crate::model::{AssemblyKind, Axis, Control, FoldKind, MaterialKind, Piece};
use crate::quantity::{Dimension, Quantity};

const ABOUT: &str = "of insulation: how far what it covers goes on beyond this edge with nothing that insulates; \
                     unknown for other pieces and where the edge runs off";

pub const FIELDS: &[Field] = &[
    Field::quantity("bare-above", Dimension::Length, ABOUT, |item| bare(item, Way::Up)).depends(Dependence::Always),
    Field::quantity("bare-below", Dimension::Length, ABOUT, |item| bare(item, Way::Down)).depends(Dependence::Always),
    Field::quantity("bare-left", Dimension::Length, ABOUT, |item| bare(item, Way::Left)).depends(Dependence::Always),
    Field::quantity("bare-right", Dimension::Length, ABOUT, |item| bare(item, Way::Right)).depends(Dependence::Always),
    Field::quantity(
        "bare-foot",
        Dimension::Length,
        "how much of that is the foot of a wall above a roof or a floor",
        |item| {
            let Fact::Piece(facts, piece) = item else { return Err(ABSENT) };
            let foot = [Way::Up, Way::Down]
                .into_iter()
                .filter_map(|way| longest(facts, piece, way))
                .map(|bare| bare.foot)
                .max();
            foot.map_or(Err(ABSENT), |foot| Ok(facts.length(Some(piece), foot)))
        },
    )
    .depends(Dependence::Always),
];

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

/// A stretch that nothing insulates, and how much of it stands right above a base.
#[derive(Clone, Copy, Default, PartialEq, Eq, PartialOrd, Ord)]
struct Bare {
    long: Coordinate,
    foot: Coordinate,
}

fn bare(item: Fact<'_>, way: Way) -> FieldResult<'_, Quantity> {
    let Fact::Piece(facts, piece) = item else { return Err(ABSENT) };
    longest(facts, piece, way).map_or(Err(ABSENT), |bare| Ok(facts.length(Some(piece), bare.long)))
}

fn longest(facts: &DetailFacts, piece: usize, way: Way) -> Option<Bare> {
    let rect = facts.rect(piece);
    let end = match way {
        Way::Up => rect.up.high,
        Way::Down => rect.up.low,
        Way::Left => rect.along.low,
        Way::Right => rect.along.high,
    };
    if end == OPEN_LOW || end == OPEN_HIGH || !insulates(facts, piece) {
        return None;
    }
    let block = facts.face.cells.block(piece);
    let lines = if way.sideways() { block.rows.clone() } else { block.columns.clone() };
    lines.map(|line| beyond(facts, piece, way, line)).max()
}

/// From the edge on, cell by cell, as long as something of the building is there and nothing that insulates.
fn beyond(facts: &DetailFacts, piece: usize, way: Way, line: usize) -> Bare {
    let (cells, block) = (&facts.face.cells, facts.face.cells.block(piece));
    let last = match way {
        Way::Up => (line, block.rows.end - 1),
        Way::Down => (line, block.rows.start),
        Way::Left => (block.columns.start, line),
        Way::Right => (block.columns.end - 1, line),
    };
    let (mut bare, mut end) =
        (Bare::default(), if way == Way::Down { cells.row(last.1).low } else { cells.row(last.1).high });
    // Where the piece is cut, this is no edge of it.
    if !cells.has(last.0, last.1, piece) {
        return bare;
    }
    let outward: Vec<(usize, usize)> = match way {
        Way::Up => (block.rows.end..cells.rows()).map(|row| (line, row)).collect(),
        Way::Down => (0..block.rows.start).rev().map(|row| (line, row)).collect(),
        Way::Left => (0..block.columns.start).rev().map(|column| (column, line)).collect(),
        Way::Right => (block.columns.end..cells.columns()).map(|column| (column, line)).collect(),
    };
    for (column, row) in outward {
        let stack = cells.whole(column, row);
        let covered = stack.iter().any(|&p| closes(facts, p as usize));
        if covered || !stack.iter().any(|&p| is_ground(facts, piece, p as usize)) {
            break;
        }
        // To the side a wall may be drawn in outline only: what insulates ends there with its cladding.
        if way.sideways() && !stack.iter().any(|&p| is_outboard(facts, piece, p as usize)) {
            break;
        }
        let extent = if way.sideways() { cells.column(column) } else { cells.row(row) };
        // What runs off the detail is an excerpt, and says nothing of where it ends.
        let Some(step) = extent.length() else { break };
        let behind = if way.sideways() { 0 } else { behind(facts, extent) };
        bare.long += step - behind;
        end = if way == Way::Down { extent.low } else { end };
        // Down to a base, or from there on up.
        if !way.sideways() && base(facts).is_some_and(|base| base <= extent.low) {
            bare.foot += step - behind;
        }
    }
    // A stretch that ends above the base, or begins there, is no foot.
    let reaches = base(facts).is_some_and(|base| end <= base);
    Bare { foot: if reaches { bare.foot } else { 0 }, ..bare }
}

/// The foot of a wall on a roof or on a floor.
fn base(facts: &DetailFacts) -> Option<Coordinate> {
    let fold = facts.detail.folds.iter().find(|fold| fold.kind == FoldKind::Base && fold.axis == Axis::Up)?;
    Some(nanometres(fold.at))
}

/// Of a stretch of wall right above a roof or a floor, how much stands behind the insulation that lies there.
fn behind(facts: &DetailFacts, extent: Extent) -> Coordinate {
    let Some(base) = base(facts) else { return 0 };
    let lies = |kind| matches!(kind, AssemblyKind::Roof | AssemblyKind::Floor);
    let layers =
        facts.detail.joins.iter().filter(|join| lies(join.assembly.kind)).flat_map(|join| &join.assembly.layers);
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
    let instead = matches!(said.material.kind, Some(MaterialKind::Frame | MaterialKind::Unit));
    instead || insulates(facts, piece)
}

/// A board or masonry of the assembly that this piece insulates, or masonry of none that ends in view, such as the edge of a slab. What another assembly leaves bare is told at its
/// own insulation.
fn is_ground(facts: &DetailFacts, insulation: usize, piece: usize) -> bool {
    let (own, said) = (&facts.detail.pieces[insulation], &facts.detail.pieces[piece]);
    let join = |piece: &Piece| piece.layer.map(|layer| layer.join);
    match said.material.kind {
        Some(MaterialKind::Board) => join(said).is_some() && join(said) == join(own),
        Some(MaterialKind::Mass) if join(said).is_none() => {
            facts.rect(piece).up.length().is_some() || facts.rect(piece).along.length().is_some()
        }
        Some(MaterialKind::Mass) => join(said) == join(own) && !is_old(&facts.detail, said),
        _ => false,
    }
}
