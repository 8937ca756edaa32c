//! Folds that the author did not write, inferred from where solid pieces end and what hangs over their edge.

use super::{TURN, openings, stands};
use crate::facts::face::{Coordinate, Extent, OPEN_HIGH, OPEN_LOW};
use crate::facts::nanometres;
use crate::model::{Axis, Detail, FoldKind, MaterialKind, Piece};

/// All assemblies in the detail are roofs or floors.
pub(super) fn all_lies(detail: &Detail) -> bool {
    let mut layered = detail.pieces.iter().filter_map(|piece| stands(detail, piece)).peekable();
    layered.peek().is_some() && layered.all(|stands| !stands)
}

/// The valley line that separates a wall from a roof: no fold is drawn, all of the wall lies below the line, and all of the
/// roof above it.
pub(super) fn wall_beyond_valley(detail: &Detail) -> Option<Coordinate> {
    let at = detail.valleys.iter().find(|valley| valley.axis == Axis::Up).map(|valley| nanometres(valley.at))?;
    let of = |wanted: bool| detail.pieces.iter().filter(move |p| is_solid(p) && stands(detail, p) == Some(wanted));
    let walls = of(true).next().is_some() && of(true).all(|p| p.up.high.is_some_and(|high| nanometres(high) <= at));
    let roofs = of(false).next().is_some() && of(false).all(|p| p.up.low.is_some_and(|low| nanometres(low) >= at));
    (walls && roofs).then_some(at)
}

fn is_solid(piece: &Piece) -> bool {
    use MaterialKind::{Board, Fill, Frame, Mass};
    matches!(piece.material.kind, Some(Board | Fill | Frame | Mass))
}

/// Where no fold is drawn and solid pieces of a wall meet those of a roof, or the solid pieces of a roof end and something hangs
/// over their edge.
pub(super) fn implied(detail: &Detail) -> Option<(Coordinate, FoldKind)> {
    // A sloped band with one open end meets a wall at its other end.
    let band = detail.slopes.iter().find(|slope| slope.up.low.is_some() != slope.up.high.is_some());
    if let Some(up) = band.map(|slope| slope.up) {
        let (at, kind) = up.low.map_or((up.high, FoldKind::Base), |low| (Some(low), FoldKind::Eave));
        return at.map(|at| (nanometres(at), kind));
    }
    let of = |wanted: bool| {
        let pieces = detail.pieces.iter().filter(move |piece| is_solid(piece) && stands(detail, piece) == Some(wanted));
        pieces.map(|piece| Extent {
            low: piece.up.low.map_or(OPEN_LOW, nanometres),
            high: piece.up.high.map_or(OPEN_HIGH, nanometres),
        })
    };
    let lowest = |wanted| of(wanted).map(|e| e.low).min();
    let highest = |wanted| of(wanted).map(|e| e.high).max();
    let (roof_low, roof_high) = (lowest(false)?, highest(false)?);
    match (lowest(true), highest(true)) {
        (Some(_), Some(top)) if top <= roof_low => Some((roof_low, FoldKind::Eave)),
        // Where grade is below the floor, the face is the edge of the floor and not its top.
        (Some(foot), Some(_)) if foot >= roof_high && detail.grade.is_none_or(|g| nanometres(g.value) >= roof_high) => {
            Some((roof_high, FoldKind::Base))
        }
        // A window lies in its roof: a piece that reaches past the edge of its opening turns into the opening and does not
        // hang.
        (None, None) if openings(detail, Axis::Up).next().is_none() => {
            let hangs = |piece: &Piece| piece.up.low.is_some_and(|q| nanometres(q) < roof_low);
            (roof_low != OPEN_LOW && detail.pieces.iter().any(hangs)).then_some((roof_low, FoldKind::Eave))
        }
        _ => None,
    }
}

/// The side edges of a roof (rakes): all of its solid pieces end there, and something hangs over them.
pub(super) fn rakes(detail: &Detail) -> Vec<(Coordinate, f64)> {
    let solid = |piece: &&Piece| {
        matches!(piece.material.kind, Some(MaterialKind::Board | MaterialKind::Frame | MaterialKind::Mass))
    };
    let ends =
        |piece: &Piece| [piece.along.low.map_or(OPEN_LOW, nanometres), piece.along.high.map_or(OPEN_HIGH, nanometres)];
    // A rake board hangs from the roof and is not part of it.
    let of = |layered: bool| {
        let pieces = detail.pieces.iter().filter(solid).filter(|p| p.layer.is_some() || !layered);
        pieces.map(ends).reduce(|a, b| [a[0].min(b[0]), a[1].max(b[1])])
    };
    let Some([low, high]) = of(true).or_else(|| of(false)) else { return Vec::new() };
    let mut pieces = detail.pieces.iter().map(ends);
    let starts = low != OPEN_LOW && pieces.clone().any(|[start, _]| start != OPEN_LOW && start < low);
    let stops = high != OPEN_HIGH && pieces.any(|[_, end]| end != OPEN_HIGH && end > high);
    [(low, starts), (high, stops)].into_iter().filter(|(_, is)| *is).map(|(at, _)| (at, TURN)).collect()
}

pub(super) fn starts_at(detail: &Detail, at: Coordinate) -> bool {
    detail.pieces.iter().any(|piece| {
        matches!(piece.material.kind, Some(MaterialKind::Board | MaterialKind::Frame | MaterialKind::Mass))
            && piece.along.low.is_some_and(|q| nanometres(q) == at)
    })
}
