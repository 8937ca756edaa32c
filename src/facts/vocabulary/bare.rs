//! How far the wall or the roof goes on, without insulation, beyond an edge of its insulation.

use crate::facts::face::{Coordinate, Extent, OPEN_HIGH, OPEN_LOW, Side};
use crate::facts::vocabulary::{ABSENT, Dependence, Fact, Field, FieldResult};
use crate::facts::{DetailFacts, holds, is_old, nanometres};
use crate::model::{AssemblyKind, Axis, Control, FoldKind, Join, Layer, MaterialKind, Piece};
use crate::quantity::{Dimension, Quantity};

const ABOUT: &str = "of insulation: how far what it covers goes on beyond this edge with nothing that insulates; \
                     unknown for other pieces and where the edge runs off";

pub const FIELDS: &[Field] = &[
    Field::quantity("bare-above", Dimension::Length, ABOUT, |item| bare(item, Side::Top)).depends(Dependence::Always),
    Field::quantity("bare-below", Dimension::Length, ABOUT, |item| bare(item, Side::Bottom))
        .depends(Dependence::Always),
    Field::quantity("bare-left", Dimension::Length, ABOUT, |item| bare(item, Side::Left)).depends(Dependence::Always),
    Field::quantity("bare-right", Dimension::Length, ABOUT, |item| bare(item, Side::Right)).depends(Dependence::Always),
    Field::quantity(
        "bare-foot",
        Dimension::Length,
        "how much of that is the foot of a wall above a roof or a floor",
        |item| {
            let Fact::Piece(facts, piece) = item else { return Err(ABSENT) };
            let foot = [Side::Top, Side::Bottom]
                .into_iter()
                .filter_map(|side| longest(facts, piece, side))
                .map(|bare| bare.foot)
                .max();
            foot.map_or(Err(ABSENT), |foot| Ok(facts.length(Some(piece), foot)))
        },
    )
    .depends(Dependence::Always),
];

/// The length of a stretch without insulation, and how much of it is right above a base.
#[derive(Clone, Copy, Default, PartialEq, Eq, PartialOrd, Ord)]
struct Bare {
    long: Coordinate,
    foot: Coordinate,
}

fn bare(item: Fact<'_>, side: Side) -> FieldResult<'_, Quantity> {
    let Fact::Piece(facts, piece) = item else { return Err(ABSENT) };
    longest(facts, piece, side).map_or(Err(ABSENT), |bare| Ok(facts.length(Some(piece), bare.long)))
}

fn longest(facts: &DetailFacts, piece: usize, side: Side) -> Option<Bare> {
    let end = side.end(facts.rect(piece));
    if end == OPEN_LOW || end == OPEN_HIGH || !insulates(facts, piece) {
        return None;
    }
    let block = facts.face.cells.block(piece);
    let lines = if side.axis() == Axis::Up { block.columns.clone() } else { block.rows.clone() };
    lines.map(|line| beyond(facts, piece, side, line)).max()
}

/// Goes from the edge outward, cell by cell, as long as there is some of the building and no insulation.
fn beyond(facts: &DetailFacts, piece: usize, side: Side, line: usize) -> Bare {
    let (cells, upright, base) = (&facts.face.cells, side.axis() == Axis::Up, base(facts));
    let (inner, outer) = side.across(cells.block(piece), line);
    let mut bare = Bare::default();
    // Where the piece is cut, its edge is elsewhere.
    if !cells.has(inner.0, inner.1, piece) {
        return bare;
    }
    let own = cells.row(inner.1);
    let mut lowest = if side == Side::Bottom { own.low } else { own.high };
    for (column, row) in side.outward(cells, outer) {
        let stack = cells.whole(column, row);
        let covered = stack.iter().any(|&p| closes(facts, p as usize));
        if covered || !stack.iter().any(|&p| is_ground(facts, piece, p as usize)) {
            break;
        }
        // At its sides a wall may be drawn as an outline, where the insulation ends together with the cladding.
        if !upright && !stack.iter().any(|&p| is_outboard(facts, piece, p as usize)) {
            break;
        }
        let extent = if upright { cells.row(row) } else { cells.column(column) };
        // A piece that runs off the detail does not show where it ends.
        let Some(step) = extent.length() else { break };
        let Some(base) = base.filter(|_| upright) else {
            bare.long += step;
            continue;
        };
        let step = step - behind(facts, base, extent);
        bare.long += step;
        lowest = lowest.min(extent.low);
        // Only what lies above the base belongs to the foot of the wall.
        if base <= extent.low {
            bare.foot += step;
        }
    }
    // A stretch that ends above the base does not count as its foot.
    let reaches = base.is_some_and(|base| lowest <= base);
    Bare { foot: if reaches { bare.foot } else { 0 }, ..bare }
}

/// The foot of a wall on a roof or on a floor.
fn base(facts: &DetailFacts) -> Option<Coordinate> {
    let fold = facts.detail.folds.iter().find(|fold| fold.kind == FoldKind::Base && fold.axis == Axis::Up)?;
    Some(nanometres(fold.at))
}

/// How much of a stretch of wall right above a roof or a floor is behind the insulation of that roof or floor.
fn behind(facts: &DetailFacts, base: Coordinate, extent: Extent) -> Coordinate {
    let lies = |kind| matches!(kind, AssemblyKind::Roof | AssemblyKind::Floor);
    let insulation = facts.detail.joins.iter().filter(|join| lies(join.assembly.kind)).flat_map(insulating_layers);
    let thick = insulation.filter_map(|layer| layer.thickness).map(nanometres).max().unwrap_or(0);
    (extent.high.min(base.saturating_add(thick)) - extent.low.max(base)).max(0)
}

/// Whether the other is a piece of the same assembly that is installed later, outboard of this one.
fn is_outboard(facts: &DetailFacts, piece: usize, other: usize) -> bool {
    let join = |p: usize| facts.detail.pieces[p].layer.map(|layer| layer.join);
    other > piece && join(other).is_some() && join(other) == join(piece)
}

fn insulates(facts: &DetailFacts, piece: usize) -> bool {
    let piece = &facts.detail.pieces[piece];
    holds(&facts.detail, piece).has(Control::Thermal) && piece.material.kind != Some(MaterialKind::Unit)
}

/// Whether it insulates, or is timber or a unit, which replace the insulation there.
fn closes(facts: &DetailFacts, piece: usize) -> bool {
    let said = &facts.detail.pieces[piece];
    let instead = matches!(said.material.kind, Some(MaterialKind::Frame | MaterialKind::Unit));
    instead || insulates(facts, piece)
}

/// Whether the piece is something that this insulation should cover: a board or masonry of the assembly that it insulates, or
/// one of no assembly that ends within the detail, such as the edge of a slab or the inner face of a parapet. Where one
/// insulated assembly is drawn alone, a board of no assembly does not count. What another assembly leaves bare is reported at
/// its own insulation.
fn is_ground(facts: &DetailFacts, insulation: usize, piece: usize) -> bool {
    let (own, said) = (&facts.detail.pieces[insulation], &facts.detail.pieces[piece]);
    let join = |piece: &Piece| piece.layer.map(|layer| layer.join);
    match said.material.kind {
        Some(MaterialKind::Mass) if join(said).is_none() => in_view(facts, piece),
        Some(MaterialKind::Board) if join(said).is_none() => {
            in_view(facts, piece)
                && facts.detail.joins.iter().filter(|join| insulating_layers(join).next().is_some()).count() > 1
        }
        Some(MaterialKind::Board) => join(said) == join(own),
        Some(MaterialKind::Mass) => join(said) == join(own) && !is_old(&facts.detail, said),
        _ => false,
    }
}

/// The layers of an assembly that control heat.
fn insulating_layers(join: &Join) -> impl Iterator<Item = &Layer> {
    join.assembly.layers.iter().filter(|layer| layer.controls().has(Control::Thermal))
}

fn in_view(facts: &DetailFacts, piece: usize) -> bool {
    facts.rect(piece).up.length().is_some() || facts.rect(piece).along.length().is_some()
}
