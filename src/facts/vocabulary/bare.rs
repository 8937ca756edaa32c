//! How far the wall or the roof goes on beyond an edge of its insulation, with nothing that insulates.

use crate::facts::face::{Coordinate, Extent, OPEN_HIGH, OPEN_LOW, Side};
use crate::facts::vocabulary::{ABSENT, Dependence, Fact, Field, FieldResult};
use crate::facts::{DetailFacts, holds, is_old, nanometres};
use crate::model::{AssemblyKind, Axis, Control, FoldKind, Join, MaterialKind, Piece};
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

/// A stretch that nothing insulates, and how much of it stands right above a base.
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

/// From the edge on, cell by cell, as long as something of the building is there and nothing that insulates.
fn beyond(facts: &DetailFacts, piece: usize, side: Side, line: usize) -> Bare {
    let (cells, upright, base) = (&facts.face.cells, side.axis() == Axis::Up, base(facts));
    let (inner, outer) = side.across(cells.block(piece), line);
    let mut bare = Bare::default();
    // Where the piece is cut, this is no edge of it.
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
        // To the side a wall may be drawn in outline only: what insulates ends there with its cladding.
        if !upright && !stack.iter().any(|&p| is_outboard(facts, piece, p as usize)) {
            break;
        }
        let extent = if upright { cells.row(row) } else { cells.column(column) };
        // What runs off the detail is an excerpt, and says nothing of where it ends.
        let Some(step) = extent.length() else { break };
        let Some(base) = base.filter(|_| upright) else {
            bare.long += step;
            continue;
        };
        let step = step - behind(facts, base, extent);
        bare.long += step;
        lowest = lowest.min(extent.low);
        // Down to a base, or from there on up.
        if base <= extent.low {
            bare.foot += step;
        }
    }
    // A stretch that ends above the base, or begins there, is no foot.
    let reaches = base.is_some_and(|base| lowest <= base);
    Bare { foot: if reaches { bare.foot } else { 0 }, ..bare }
}

/// The foot of a wall on a roof or on a floor.
fn base(facts: &DetailFacts) -> Option<Coordinate> {
    let fold = facts.detail.folds.iter().find(|fold| fold.kind == FoldKind::Base && fold.axis == Axis::Up)?;
    Some(nanometres(fold.at))
}

/// Of a stretch of wall right above a roof or a floor, how much stands behind the insulation that lies there.
fn behind(facts: &DetailFacts, base: Coordinate, extent: Extent) -> Coordinate {
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

/// A board or masonry of the assembly that this piece insulates, or one of none that ends in view, such as the edge of a slab or the
/// inner face of a parapet. A board of none says nothing where one insulated assembly is drawn alone. What
/// another assembly leaves bare is reported at its own insulation.
fn is_ground(facts: &DetailFacts, insulation: usize, piece: usize) -> bool {
    let (own, said) = (&facts.detail.pieces[insulation], &facts.detail.pieces[piece]);
    let join = |piece: &Piece| piece.layer.map(|layer| layer.join);
    match said.material.kind {
        Some(MaterialKind::Mass) if join(said).is_none() => in_view(facts, piece),
        Some(MaterialKind::Board) if join(said).is_none() => {
            in_view(facts, piece) && facts.detail.joins.iter().filter(|join| is_insulated(join)).count() > 1
        }
        Some(MaterialKind::Board) => join(said) == join(own),
        Some(MaterialKind::Mass) => join(said) == join(own) && !is_old(&facts.detail, said),
        _ => false,
    }
}

fn is_insulated(join: &Join) -> bool {
    join.assembly.layers.iter().any(|layer| layer.controls.iter().any(|(control, _)| *control == Control::Thermal))
}

fn in_view(facts: &DetailFacts, piece: usize) -> bool {
    facts.rect(piece).up.length().is_some() || facts.rect(piece).along.length().is_some()
}
