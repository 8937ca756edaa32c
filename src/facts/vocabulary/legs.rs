//! How far a piece reaches on each side of a fold, and past the edge of a deck.

use crate::facts::DetailFacts;
use crate::facts::detail::{level_corners, nanometres};
use crate::facts::face::{Coordinate, Extent, OPEN_HIGH, OPEN_LOW, Rect};
use crate::facts::vocabulary::piece::behind_water;
use crate::facts::vocabulary::{ABSENT, Dependence, Fact, Field, FieldResult};
use crate::model::{AssemblyKind, Axis, Control, Fold, FoldKind, MaterialKind};
use crate::quantity::{Dimension, Quantity};

const LENGTH: Dimension = Dimension::Length;

pub const FIELDS: &[Field] = &[
    Field::quantity("above-base", LENGTH,
        "how far it rises above the base fold that it reaches; unknown without one, and when it runs off the detail",
        |item| base(item, |reach| (reach.reaches(0) && reach.high != OPEN_HIGH).then_some(reach.high)),
    ),
    Field::quantity("below-base", LENGTH, "how far it runs down below the base fold that it reaches", |item| {
        base(item, |reach| (reach.reaches(0) && reach.low != OPEN_LOW).then(|| -reach.low))
    }),
    Field::quantity("clear-of-base", LENGTH,
        "from the base fold up to its lower edge, as siding clears a roof; negative when it runs past the fold",
        |item| base(item, |reach| (reach.low != OPEN_LOW).then_some(reach.low)),
    ),
    Field::yes_no("crosses-base",
        "it continues across the base fold; unknown without one",
        |item| match item {
            Fact::Piece(facts, piece) => {
                let mut bases = bases(facts).peekable();
                let known = bases.peek().is_some();
                let crosses = bases.any(|base| {
                    let reach = base.reach(facts.rect(piece));
                    reach.low < 0 && 0 < reach.high
                });
                if known { Ok(crosses) } else { Err(ABSENT) }
            }
            _ => Err(ABSENT),
        },
    ),
    Field::yes_no("tops-upturn",
        "of the sheets, coats and flashings that hold water and turn up at the base fold, it reaches highest; unknown without a fold",
        |item| match item {
            Fact::Piece(facts, piece) => tops_upturn(facts, piece).ok_or(ABSENT),
            _ => Err(ABSENT),
        },
    ).depends(Dependence::Always),
    Field::quantity("past-sill", LENGTH,
        "how far it comes down outboard of the sill, as the outer leg of a pan does; negative when it stops short",
        |item| match item {
            Fact::Piece(facts, piece) => {
                let low = facts.rect(piece).up.low;
                // Of several sills, one above the other, the nearest.
                let sills = folds(facts, FoldKind::Sill).filter(|_| low != OPEN_LOW);
                let sill = sills.min_by_key(|sill| (sill - low).abs());
                sill.map_or(Err(ABSENT), |sill| Ok(facts.length(Some(piece), sill - low)))
            }
            _ => Err(ABSENT),
        },
    ),
    Field::quantity("past-deck", LENGTH,
        "how far its lower edge hangs past the eave, or past the lowest board of a roof; negative when it stops short",
        |item| match item {
            Fact::Piece(facts, piece) => {
                let low = facts.rect(piece).up.low;
                let deck = deck(facts).filter(|_| low != OPEN_LOW);
                deck.map_or(Err(ABSENT), |deck| Ok(facts.length(Some(piece), deck - low)))
            }
            _ => Err(ABSENT),
        },
    ),
    Field::yes_no("crosses-valley", "it continues across a valley line; unknown without one", |item| {
        valley(item, |at, on| Some(Ok(on.low < at && at < on.high)))
    }),
    Field::quantity("past-valley", LENGTH,
        "how far it reaches on the shorter side of the valley line that it crosses; unknown when it ends on neither",
        |item| {
            let Fact::Piece(facts, piece) = item else { return Err(ABSENT) };
            valley(item, |at, on| {
                let sides = [(on.low != OPEN_LOW).then(|| at - on.low), (on.high != OPEN_HIGH).then(|| on.high - at)];
                let shorter = sides.into_iter().flatten().min()?;
                (on.low < at && at < on.high).then(|| Ok(facts.length(Some(piece), shorter)))
            })
        },
    ),
    Field::quantity("leg", LENGTH, "how far it comes down below the lowest level corner, as a coping does", |item| {
        corners(item, |low, _, up| (up.low != OPEN_LOW).then(|| low - up.low))
    }),
    Field::quantity("far-leg", LENGTH, "how far it comes down beyond the other corner of a parapet's top", |item| {
        corners(item, |low, high, up| (low < high && up.high != OPEN_HIGH).then(|| up.high - high))
    }),
];

/// The line where a roof meets what rises above it.
#[derive(Clone, Copy)]
struct Base {
    axis: Axis,
    at: Coordinate,
    /// The roof lies beyond the line (to its right), as it may in a plan.
    mirrored: bool,
}

impl Base {
    /// What a rectangle covers, measured from the line: negative on the roof, positive on the wall.
    fn reach(self, rect: Rect) -> Extent {
        let on = if self.axis == Axis::Up { rect.up } else { rect.along };
        let from = |at: Coordinate| if at == OPEN_LOW || at == OPEN_HIGH { at } else { at - self.at };
        let reach = Extent { low: from(on.low), high: from(on.high) };
        if self.mirrored { reach.turned() } else { reach }
    }
}

/// The base folds; without one, the inside corners of a section across the slope, where a roof lies on one side.
fn bases(facts: &DetailFacts) -> impl Iterator<Item = Base> + '_ {
    let level = folds(facts, FoldKind::Base).map(|at| Base { axis: Axis::Up, at, mirrored: false });
    let upright = |fold: &&Fold| fold.kind == FoldKind::InsideCorner && fold.axis == Axis::Along;
    let across = facts.detail.folds.iter().filter(upright).filter_map(|fold| {
        let at = nanometres(fold.at);
        let mut roof = of_roof(facts).map(|piece| facts.rect(piece).along);
        roof.clone()
            .any(|along| along.high <= at)
            .then_some(false)
            .or_else(|| roof.any(|a| a.low >= at).then_some(true))
            .map(|mirrored| Base { axis: Axis::Along, at, mirrored })
    });
    let none = folds(facts, FoldKind::Base).next().is_none();
    level.chain(across.filter(move |_| none))
}

/// A length measured from the base fold that lies nearest to the piece.
fn base<'a>(item: Fact<'a>, measure: fn(Extent) -> Option<Coordinate>) -> FieldResult<'a, Quantity> {
    let Fact::Piece(facts, piece) = item else { return Err(ABSENT) };
    let reaches = bases(facts).map(|base| base.reach(facts.rect(piece)));
    let nearest = reaches.min_by_key(|reach| reach.distance(Extent { low: 0, high: 0 }));
    let length = nearest.and_then(measure);
    length.map_or(Err(ABSENT), |length| Ok(facts.length(Some(piece), length)))
}

/// A length measured from the level corners of the face.
fn corners<'a>(
    item: Fact<'a>,
    measure: fn(Coordinate, Coordinate, Extent) -> Option<Coordinate>,
) -> FieldResult<'a, Quantity> {
    let Fact::Piece(facts, piece) = item else { return Err(ABSENT) };
    let length = level_corners(&facts.detail).and_then(|[low, high]| measure(low, high, facts.rect(piece).up));
    length.map_or(Err(ABSENT), |length| Ok(facts.length(Some(piece), length)))
}

/// A value of a piece with respect to the nearest valley line, on the axis across that line.
fn valley<'a, T>(
    item: Fact<'a>,
    value: impl Fn(Coordinate, Extent) -> Option<FieldResult<'a, T>>,
) -> FieldResult<'a, T> {
    let Fact::Piece(facts, piece) = item else { return Err(ABSENT) };
    let rect = facts.rect(piece);
    let lines = facts.detail.valleys.iter().map(|valley| {
        let on = if valley.axis == Axis::Up { rect.up } else { rect.along };
        (nanometres(valley.at), on)
    });
    let nearest = lines.min_by_key(|&(at, on)| on.distance(Extent { low: at, high: at }));
    nearest.and_then(|(at, on)| value(at, on)).unwrap_or(Err(ABSENT))
}

fn folds(facts: &DetailFacts, kind: FoldKind) -> impl Iterator<Item = Coordinate> + '_ {
    let level = facts.detail.folds.iter().filter(move |fold| fold.kind == kind && fold.axis == Axis::Up);
    level.map(|fold| nanometres(fold.at))
}

fn tops_upturn(facts: &DetailFacts, piece: usize) -> Option<bool> {
    let base = bases(facts).next()?;
    let rises = |piece: usize| {
        let reach = base.reach(facts.rect(piece));
        let material = &facts.detail.pieces[piece].material;
        let kind = matches!(material.kind, Some(MaterialKind::Sheet | MaterialKind::Coat | MaterialKind::Flashing));
        let behind = facts.detail.pieces[piece].layer.is_some_and(|at| behind_water(facts, at.join, at.layer));
        (kind && !behind && reach.low < 0 && reach.high >= 0 && material.holds.has(Control::Water))
            .then_some(reach.high)
    };
    let highest = (0..facts.detail.pieces.len()).filter_map(rises).max();
    Some(highest.is_some() && rises(piece) == highest)
}

/// The pieces that belong to a roof.
fn of_roof(facts: &DetailFacts) -> impl Iterator<Item = usize> + Clone + '_ {
    let roof = |join: usize| facts.detail.joins[join].assembly.kind == AssemblyKind::Roof;
    let pieces = facts.detail.pieces.iter().enumerate();
    pieces.filter(move |(_, piece)| piece.layer.is_some_and(|at| roof(at.join))).map(|(piece, _)| piece)
}

/// The edge of a roof: the eave that the face bends at, else the lower edge of the lowest board.
fn deck(facts: &DetailFacts) -> Option<Coordinate> {
    let boards = of_roof(facts).filter(|&p| facts.detail.pieces[p].material.kind == Some(MaterialKind::Board));
    let lowest = || boards.map(|piece| facts.rect(piece).up.low).filter(|&low| low != OPEN_LOW).min();
    folds(facts, FoldKind::Eave).min().or_else(lowest)
}
