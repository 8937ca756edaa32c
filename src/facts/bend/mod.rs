//! How the face turns on its way along a line: where a wall becomes a roof, a roof a wall, and one wall the next.
//!
//! A face is unfolded flat. Its folds and the assemblies of its pieces say how it stands in the building: how steep each part
//! is, and by what angle it turns at each fold. An angle that is not stated is a right angle.

mod implied;

use std::f64::consts::{FRAC_1_SQRT_2, FRAC_PI_2};

use crate::facts::face::{Coordinate, Extent, OPEN_HIGH, OPEN_LOW};
use crate::facts::lean::lean;
use crate::facts::{DetailFacts, nanometres};
use crate::model::{AssemblyKind, Axis, Detail, Fold, FoldKind, MaterialKind, Piece};
use implied::{all_lies, implied, rakes, starts_at, wall_beyond_valley};

/// The stretches of a line between its folds, from the low end on.
#[derive(Clone, Debug, PartialEq)]
pub struct Bend {
    pub legs: Vec<Leg>,
    /// The line runs along a roof or a floor, so that its outer side faces up.
    pub lies: bool,
}

/// A stretch of the face that is plane.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Leg {
    pub extent: Extent,
    /// The direction in which the line runs, degrees counterclockwise from the right: 90 for a wall in section, 180 for a level
    /// roof whose edge is on the right. The outer side is on the right of the line.
    pub heading: f64,
}

/// Headings of a section, in degrees.
const PLUMB: f64 = 90.0;
pub(in crate::facts) const LEVEL: f64 = 180.0;

/// A wall beyond a valley, such as the back of a chimney, on which water comes down to the roof.
const DOWN: f64 = 270.0;

/// A soffit, whose outer side faces down.
const SOFFIT: f64 = 0.0;

/// A right angle, for folds of which no more is known.
const TURN: f64 = 90.0;

impl Bend {
    /// How a line along `axis` bends. Folds at the edges of an opening do not belong to the wall: see [`openings`] and
    /// [`into_opening`].
    pub fn new(facts: &DetailFacts, axis: Axis) -> Bend {
        let detail = &facts.detail;
        let lies = |piece: &Piece| stands(detail, piece) == Some(false);
        if axis == Axis::Along {
            let layered = || detail.pieces.iter().filter(|p| stands(detail, p).is_some());
            let flat = layered().next().is_some() && layered().all(lies);
            let legs = across_valley(facts).filter(|_| flat).unwrap_or_else(|| along(detail, flat));
            return Bend { legs, lies: flat };
        }
        let mut legs = upward(detail);
        // In a detail of roofs alone, one slope stated for all of it is that of the roof; the fascia is plumb.
        // A section across a side wall cuts the roof along its contour.
        let level = falls_along(detail);
        let edge =
            all_lies(detail) && detail.slopes.iter().all(|slope| slope.up.low.is_none() && slope.up.high.is_none());
        for leg in &mut legs {
            // A wall stands, however steep the roof is that it joins, unless its author says that all of it leans.
            let stands = leg.heading == PLUMB || leg.heading == DOWN;
            let slope = if stands {
                facts.slopes.stated_of_all(leg.extent).filter(|_| !edge)
            } else {
                facts.slopes.said(leg.extent.low, leg.extent.high).filter(|_| !level)
            };
            if let Some(slope) = slope.filter(|slope| slope.si.is_finite()) {
                let level = if leg.heading == SOFFIT { SOFFIT } else { LEVEL };
                leg.heading = level - slope.si.atan().to_degrees();
            }
        }
        let mut bend = Bend { legs, lies: false };
        lean(facts, &mut bend);
        bend
    }

    /// How far the line turns at a place, in radians: positive toward the viewer, as at the base of a wall, negative away from
    /// the viewer, as at an eave. `None` where it does not bend.
    pub fn turn(&self, at: Coordinate) -> Option<f64> {
        let legs = self.legs.windows(2).find(|legs| legs[0].extent.high == at)?;
        Some((legs[0].heading - legs[1].heading).to_radians())
    }
}

/// Whether the roof of a detail falls along the wall that it meets, and not away from it: so it does where flashing steps down with it.
pub fn falls_along(detail: &Detail) -> bool {
    let role = |piece: &Piece| matches!(piece.role.as_deref(), Some("step-flashing" | "kick-out"));
    let roof = detail.joins.iter().any(|join| join.assembly.kind == AssemblyKind::Roof);
    let fold = detail.folds.iter().any(|fold| fold.axis == Axis::Up && fold.kind == FoldKind::Base);
    roof && fold && (&*detail.kind == "side-wall" || detail.pieces.iter().any(role))
}

/// The folds at the edges of an opening: there the face turns into it, and the wall ends.
pub fn openings(detail: &Detail, axis: Axis) -> impl Iterator<Item = &Fold> {
    let kinds: &[FoldKind] = if axis == Axis::Up { &[FoldKind::Sill, FoldKind::Head] } else { &[FoldKind::Jamb] };
    let edges = detail.folds.iter().filter(move |fold| fold.axis == axis && kinds.contains(&fold.kind));
    edges.filter(|fold| is_edge(detail, fold))
}

/// How far the face turns into an opening at its edge, in radians: away from the viewer, by a right angle less the slope of the
/// pan that lies there.
pub fn into_opening(detail: &Detail, fold: &Fold) -> f64 {
    rise(detail, fold).filter(|_| fold.kind == FoldKind::Sill).map_or(0.0, f64::atan) - FRAC_PI_2
}

/// The rise over run, toward the inside, that is stated for a piece that lies on a fold.
pub fn rise(detail: &Detail, fold: &Fold) -> Option<f64> {
    let at = fold.at.si;
    let reaches =
        |piece: &&Piece| piece.up.low.is_none_or(|low| low.si <= at) && piece.up.high.is_none_or(|high| high.si > at);
    detail.pieces.iter().filter(reaches).find_map(|piece| piece.slope).map(|slope| slope.value.si)
}

/// Whether the fold is the edge of an opening. Where no piece could fill an opening, a sill is the top of a parapet or a curb.
fn is_edge(detail: &Detail, fold: &Fold) -> bool {
    let unit = detail.pieces.iter().any(|piece| piece.material.kind == Some(MaterialKind::Unit));
    let opening = detail.joins.iter().any(|join| join.assembly.kind == AssemblyKind::Opening);
    let edge = matches!(fold.kind, FoldKind::Sill | FoldKind::Head | FoldKind::Jamb);
    let head = detail.folds.iter().any(|fold| fold.kind == FoldKind::Head);
    edge && (unit || opening || head || fold.axis == Axis::Along)
}

/// Whether the assembly of a piece stands; `None` for a piece of no assembly and for what fills an opening.
fn stands(detail: &Detail, piece: &Piece) -> Option<bool> {
    match detail.joins[piece.layer?.join].assembly.kind {
        AssemblyKind::Roof | AssemblyKind::Floor | AssemblyKind::Ground => Some(false),
        AssemblyKind::Wall | AssemblyKind::Foundation | AssemblyKind::Existing => Some(true),
        AssemblyKind::Opening => None,
    }
}

fn upward(detail: &Detail) -> Vec<Leg> {
    let mut folds: Vec<(Coordinate, FoldKind)> = detail
        .folds
        .iter()
        .filter(|fold| fold.axis == Axis::Up && !is_edge(detail, fold))
        .map(|fold| (nanometres(fold.at), fold.kind))
        .collect();
    folds.sort_by_key(|fold| fold.0);
    // A fold that is drawn on the valley says the same.
    if let Some(at) = wall_beyond_valley(detail)
        && folds.iter().all(|fold| *fold == (at, FoldKind::InsideCorner))
    {
        let leg = |low, high, heading| Leg { extent: Extent { low, high }, heading };
        return vec![leg(OPEN_LOW, at, DOWN), leg(at, OPEN_HIGH, LEVEL)];
    }
    if folds.is_empty() {
        folds.extend(implied(detail));
    }
    if folds.is_empty() {
        return vec![Leg { extent: Extent::OPEN, heading: if all_lies(detail) { LEVEL } else { PLUMB } }];
    }
    // The face bends at a valley as the slopes stated on both sides of it require.
    let lines = detail.valleys.iter().filter(|valley| valley.axis == Axis::Up && !detail.slopes.is_empty());
    let mut valleys: Vec<Coordinate> = lines.map(|valley| nanometres(valley.at)).collect();
    // Two roofs that meet in a corner meet in a valley; at any other fold, the fold is more specific than the valley line.
    let between_roofs = |&(at, kind): &(Coordinate, FoldKind)| {
        kind == FoldKind::InsideCorner && valleys.contains(&at) && all_lies(detail)
    };
    folds.retain(|fold| !between_roofs(fold));
    valleys.retain(|valley| folds.iter().all(|fold| fold.0 != *valley));
    let beyond = |at: Coordinate| valleys.iter().any(|&valley| at < valley);
    let mut heading = match folds.first() {
        Some(&(at, FoldKind::Base | FoldKind::InsideCorner)) if beyond(at) => DOWN,
        Some((_, FoldKind::Base)) | None => LEVEL,
        Some(_) => PLUMB,
    };
    let mut turns: Vec<(Coordinate, Option<FoldKind>)> = folds.iter().map(|&(at, kind)| (at, Some(kind))).collect();
    turns.extend(valleys.iter().map(|&at| (at, None)));
    turns.sort_by_key(|turn| turn.0);
    let mut legs = Vec::with_capacity(turns.len() + 1);
    let mut low = OPEN_LOW;
    for (at, kind) in turns {
        legs.push(Leg { extent: Extent { low, high: at }, heading });
        heading = match kind {
            // Above a soffit the wall goes on.
            Some(FoldKind::Eave) if heading == SOFFIT => PLUMB,
            None | Some(FoldKind::Eave) => LEVEL,
            Some(FoldKind::Base | FoldKind::InsideCorner) if beyond(at) => LEVEL,
            Some(FoldKind::Base) => PLUMB,
            Some(FoldKind::InsideCorner) => heading - TURN,
            Some(_) => heading + TURN,
        };
        low = at;
    }
    legs.push(Leg { extent: Extent { low, high: OPEN_HIGH }, heading });
    legs
}

fn along(detail: &Detail, flat: bool) -> Vec<Leg> {
    let corner = |kind| match kind {
        FoldKind::OutsideCorner => Some(TURN),
        FoldKind::InsideCorner | FoldKind::Base => Some(-TURN),
        _ => None,
    };
    let folds = detail.folds.iter().filter(|fold| fold.axis == Axis::Along);
    let mut turns: Vec<(Coordinate, f64)> =
        folds.filter_map(|fold| Some((nanometres(fold.at), corner(fold.kind)?))).collect();
    if turns.is_empty() && flat {
        turns.extend(rakes(detail));
    }
    turns.sort_by_key(|turn| turn.0);
    let mut legs = Vec::with_capacity(turns.len() + 1);
    // At the left edge of a roof the line comes up from below.
    let rises = flat && turns.first().is_some_and(|(at, turn)| *turn > 0.0 && starts_at(detail, *at));
    let (mut low, mut heading) = (OPEN_LOW, if rises { -TURN } else { 0.0 });
    for (at, turn) in turns {
        legs.push(Leg { extent: Extent { low, high: at }, heading });
        heading += turn;
        low = at;
    }
    legs.push(Leg { extent: Extent { low, high: OPEN_HIGH }, heading });
    legs
}

/// A line across a valley falls to it from both sides. The two roofs meet at a right angle in plan, so the line is less steep
/// than they are.
fn across_valley(facts: &DetailFacts) -> Option<Vec<Leg>> {
    let valley = facts.detail.valleys.iter().find(|valley| valley.axis == Axis::Along)?;
    let slope = facts.slopes.said(OPEN_LOW, OPEN_HIGH).filter(|slope| slope.si.is_finite())?;
    let (at, fall) = (nanometres(valley.at), (slope.si.abs() * FRAC_1_SQRT_2).atan().to_degrees());
    Some(vec![
        Leg { extent: Extent { low: OPEN_LOW, high: at }, heading: fall },
        Leg { extent: Extent { low: at, high: OPEN_HIGH }, heading: -fall },
    ])
}
