//! The pure geometry of a detail, as the face is derived from it: pieces by their numbers, lengths in nanometres.

use std::sync::Arc;

use super::doubtful;
use crate::facts::Assumed;
use crate::facts::face::{self, BondKind, Coordinate, Face, OPEN_HIGH, OPEN_LOW, Rect};
use crate::facts::shown::shown;
use crate::facts::slope::Slopes;
use crate::model::{
    Assembly, AssemblyKind, Axis, Bond, Control, Controls, Detail, Extent, FoldKind, Hold, Join, MaterialKind, Piece,
};
use crate::quantity::Quantity;
use crate::text::Span;

pub(super) fn face_of(detail: &Detail, slopes: &Slopes, weather: bool, assumed: &Assumed) -> Face {
    // A ground cover has to keep vapor down, so its open edges are judged for vapor; everywhere else open edges are judged for
    // air.
    let ground = detail.joins.iter().any(|join| join.assembly.kind == AssemblyKind::Ground);
    let roof = detail.joins.iter().any(|join| join.assembly.kind == AssemblyKind::Roof);
    let place = |(axis, at)| (axis, nanometres(at));
    let upturns = upturns(detail, assumed);
    let mut face = Face {
        pieces: detail.pieces.iter().map(|piece| face_piece(detail, piece, assumed, &upturns)).collect(),
        cuts: detail.cuts.iter().map(|c| face::Cut { piece: c.piece.index, rect: rect(&c.up, &c.along) }).collect(),
        seals: detail
            .seals
            .iter()
            .map(|s| face::Seal {
                first: s.first.index,
                second: s.second.index,
                at: s.at.map(place),
                width: s.width.map_or(0, nanometres),
            })
            .collect(),
        fasten: detail
            .fastenings
            .iter()
            .map(|f| face::Fasten { piece: f.piece.index, rect: rect(&f.up, &f.along), after: before(detail, f.span) })
            .collect(),
        folds: detail.folds.iter().map(|f| face::Fold { axis: f.axis, at: nanometres(f.at), kind: f.kind }).collect(),
        slopes: slopes.rises(),
        steepness: (!roof).then_some(f64::INFINITY),
        valleys: detail.valleys.iter().filter(|v| v.axis == Axis::Up).map(|v| nanometres(v.at)).collect(),
        crest: crest(detail),
        weather,
        sheltered: detail.sheltered.iter().map(extent).collect(),
        shown: shown(detail),
        grade: detail.grade.map(|grade| nanometres(grade.value)),
        joins: detail.joins.iter().map(|join| joined(&join.assembly)).collect(),
        edges: if ground { Control::Vapor } else { Control::Air },
        limits: assumed.limits,
    };
    // Beyond the top of a parapet, water runs the other way, to the roof.
    face.crest = face.crest.or_else(|| beyond(&face));
    face
}

/// Where water divides on the top of a parapet: at its outer corner where the top falls to the roof, else at its inner one.
fn beyond(face: &Face) -> Option<Coordinate> {
    let top = face.top()?;
    let back = face.slopes.iter().any(|slope| slope.up.low <= top.low && top.low < slope.up.high && slope.rise < 0.0);
    Some(if back { top.low } else { top.high })
}

/// The one level corner between two slopes of a roof. Where walls are joined too, a corner is that of a parapet or a curb.
fn crest(detail: &Detail) -> Option<Coordinate> {
    let mut corners = detail.folds.iter().filter(|f| f.axis == Axis::Up);
    let only = corners.next().filter(|f| f.kind == FoldKind::OutsideCorner && corners.next().is_none());
    only.filter(|_| detail.joins.iter().all(|join| join.assembly.kind == AssemblyKind::Roof)).map(|f| nanometres(f.at))
}

/// The lowest and the highest level corner of the face. A sill counts as the lowest where the face turns down again beyond it.
pub fn level_corners(detail: &Detail) -> Option<[Coordinate; 2]> {
    let level = |kind: FoldKind| {
        let folds = detail.folds.iter().filter(move |fold| fold.axis == Axis::Up && fold.kind == kind);
        folds.map(|fold| nanometres(fold.at))
    };
    let high = level(FoldKind::OutsideCorner).max()?;
    let low = level(FoldKind::OutsideCorner).chain(level(FoldKind::Sill)).min()?;
    Some([low, high])
}

/// The controls that a piece holds. An existing assembly is taken to do what its author says: an old wall of solid brick stops
/// rain although its material does not hold water.
pub fn holds(detail: &Detail, piece: &Piece) -> Controls {
    let claimed = if is_old(detail, piece) { detail.controls(piece) } else { Controls::default() };
    Control::ALL.into_iter().filter(|&c| piece.material.holds.has(c) || claimed.has(c)).collect()
}

/// Whether the piece is part of an existing assembly that the detail joins to a new one. Where the detail joins no new
/// construction, or only an opening, the existing assembly is itself the work under review.
pub fn is_old(detail: &Detail, piece: &Piece) -> bool {
    let old = |join: &Join| join.assembly.kind == AssemblyKind::Existing;
    let new = |join: &Join| !old(join) && join.assembly.kind != AssemblyKind::Opening;
    piece.layer.and_then(|at| detail.joins.get(at.join)).is_some_and(old) && detail.joins.iter().any(new)
}

fn face_piece(detail: &Detail, piece: &Piece, assumed: &Assumed, upturns: &[&Piece]) -> face::Piece {
    let refs = |list: &[crate::model::PieceRef]| list.iter().map(|r| r.index).collect();
    let unknown = doubtful(piece);
    face::Piece {
        rect: rect(&piece.up, &piece.along),
        // A piece that could not be read is assumed to do its job, so that one slip does not cause a series of findings.
        holds: if unknown { Control::ALL.into_iter().collect() } else { holds(detail, piece) },
        material: detail.pieces.iter().position(|p| Arc::ptr_eq(&p.material, &piece.material)).unwrap_or_default(),
        layer: piece.layer.map(|at| face::LayerEnd { assembly: at.join, layer: at.layer }),
        controls: detail.controls(piece),
        kind: piece.material.kind,
        flashing: piece.role.as_deref().is_some_and(|role| assumed.is_flashing(role)),
        sensitive: piece.material.sensitive && !unknown,
        drip: piece.drip,
        inside: piece.inside,
        fills: piece.role.as_deref().is_some_and(|role| assumed.fills(role)) || is_upstand(piece, upturns),
        catches: piece.role.as_deref().is_some_and(|role| assumed.catches(role)),
        double_sided: piece.material.double_sided,
        bonds: piece.bonds.iter().filter(|bond| !elsewhere(detail, piece, bond.index)).map(bonding).collect(),
        over: refs(&piece.over),
        behind: refs(&piece.behind),
    }
}

/// Membranes that turn up, by their role.
fn upturns<'d>(detail: &'d Detail, assumed: &Assumed) -> Vec<&'d Piece> {
    let turns_up = |piece: &&Piece| piece.role.as_deref().is_some_and(|role| assumed.turns_up(role));
    detail.pieces.iter().filter(turns_up).collect()
}

/// A board, a nailer or insulation that belongs to no layer and that a membrane later turns up on. The membrane is not taken to
/// stand clear of the wall because of it.
fn is_upstand(piece: &Piece, upturns: &[&Piece]) -> bool {
    use crate::model::MaterialKind::{Board, Fill, Frame};
    let place = rect(&piece.up, &piece.along);
    let over =
        |upturn: &&Piece| upturn.span.start > piece.span.start && place.overlaps(rect(&upturn.up, &upturn.along));
    piece.layer.is_none() && matches!(piece.material.kind, Some(Board | Fill | Frame)) && upturns.iter().any(over)
}

/// A piece that is adhered to a row of pieces need not reach every piece of the row, and a piece of the row need not reach
/// everything that the row is adhered to.
fn elsewhere(detail: &Detail, piece: &Piece, onto: usize) -> bool {
    let other = &detail.pieces[onto];
    (piece.row.is_some() || other.row.is_some())
        && !rect(&piece.up, &piece.along).overlaps(rect(&other.up, &other.along))
        && piece.bonds.len() > 1
}

/// How many pieces were installed before a statement: the order of the lines is the order of the work.
fn before(detail: &Detail, statement: Span) -> usize {
    detail.pieces.iter().filter(|piece| piece.span.start < statement.start).count()
}

fn joined(assembly: &Assembly) -> face::Joined {
    let layers = assembly.layers.iter().enumerate();
    let water = layers.filter(|(_, layer)| layer.controls().has(Control::Water));
    let (clad, sheds): (Vec<_>, Vec<_>) =
        water.partition(|(_, layer)| layer.material.kind == Some(MaterialKind::Cladding));
    let counted = if sheds.is_empty() { clad } else { sheds };
    face::Joined {
        carries: assembly.layers.iter().flat_map(|layer| layer.controls().iter()).collect(),
        water: counted.first().zip(counted.last()).map(|(outer, inner)| [outer.0, inner.0]),
        foundation: assembly.kind == AssemblyKind::Foundation,
    }
}

fn bonding(bond: &Bond) -> face::Bonding {
    let by = match bond.hold {
        Hold::Adhesive => BondKind::Adhered,
        Hold::Weld => BondKind::Welded,
        Hold::Clamp => BondKind::Clamped,
    };
    face::Bonding { onto: bond.index, by }
}

/// Where a piece, a cut or a field lies.
pub fn rect(up: &Extent, along: &Extent) -> Rect {
    Rect { up: extent(up), along: extent(along) }
}

fn extent(extent: &Extent) -> face::Extent {
    face::Extent { low: extent.low.map_or(OPEN_LOW, nanometres), high: extent.high.map_or(OPEN_HIGH, nanometres) }
}

/// The length fits: lengths were limited when they were read.
pub fn nanometres(length: Quantity) -> Coordinate {
    (length.si * 1e9).round() as Coordinate
}
