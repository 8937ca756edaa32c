//! Fields of transitions, edges and turns: whether a control is continuous.

use crate::facts::face::{Coordinate, Edge, OPEN_HIGH, OPEN_LOW, SealFact, Transition, Turn};
use crate::facts::vocabulary::drainage::{of_detail, piece};
use crate::facts::vocabulary::{ABSENT, Dependence, Fact, Family, Field, FieldResult, Kind};
use crate::facts::{DetailFacts, holds};
use crate::quantity::{Dimension, Quantity, base_unit};

const LENGTH: Dimension = Dimension::Length;

pub const TRANSITION: &[Field] = &[
    Field::word(
        "control",
        Family::Control,
        "the control that has to be continuous: water, air, vapor or thermal",
        |i| transition(i, |_, t| Ok(t.control.word())),
    ),
    Field::fact("from", Kind::Assembly, "the first joined assembly", |i| side(i, 0)),
    Field::fact("to", Kind::Assembly, "the second joined assembly, or the only one", |i| side(i, 1)),
    Field::yes_no("continuous", "linked pieces carry it across; for air and vapor, along the whole joint", |i| {
        transition(i, |_, t| Ok(t.continuous))
    }),
    Field::yes_no("partly", "for air or vapor: it is carried across at some places and not at others", |i| {
        transition(i, |_, t| Ok(t.partly))
    }),
    Field::yes_no("shown", "each side has a piece of its control layer in the detail", |i| {
        transition(i, |_, t| Ok(t.shown == [true, true]))
    }),
    Field::fact("missing", Kind::Assembly, "the assembly whose control layer has no piece", |i| {
        transition(i, |_, t| match t.shown {
            [false, _] => side(i, 0),
            [_, false] => side(i, 1),
            _ => Err(ABSENT),
        })
    }),
    Field::fact("near", Kind::Piece, "the last piece before the break", |i| {
        across(i, |f, _, [near, _]| piece(f, near))
    }),
    Field::fact("far", Kind::Piece, "the first piece beyond the break", |i| across(i, |f, _, [_, far]| piece(f, far))),
    // An end that cannot hold the control has its own finding (claim-without-hold): no joint to it would be any better.
    Field::yes_no("able", "near and far both hold the control, so that a joint could carry it across", |i| {
        across(i, |f, t, pair| Ok(pair.iter().all(|&p| holds(&f.detail, &f.detail.pieces[p]).has(t.control))))
    }),
    Field::yes_no("misplaced-bead", "a bead is drawn to join near and far, but lies where they do not meet", |i| {
        across(i, |f, _, pair| Ok(f.face.seals.iter().any(|seal| !seal.touches && joins(f, seal, pair))))
    }),
    Field::yes_no("within", "the detail lies within one assembly", |i| {
        transition(i, |f, _| Ok(f.assemblies.len() == 1))
    }),
    Field::fact("detail", Kind::Detail, "the detail that it is in", of_detail),
];

pub const EDGE: &[Field] = &[
    Field::fact("piece", Kind::Piece, "the sheet, board or unit", |i| edge(i, |f, e| piece(f, e.piece))),
    Field::word("side", Family::Side, "top, bottom, left or right", |i| edge(i, |_, e| Ok(e.side.word()))),
    Field::yes_no("free", "no other piece of the same layer laps it", |i| edge(i, |_, e| Ok(e.free)))
        .depends(Dependence::Always),
    Field::yes_no("sealed", "something seals it along its length", |i| edge(i, |_, e| Ok(e.sealed)))
        .depends(Dependence::Always),
    Field::yes_no("flanged", "just inside this edge the piece lies over something that continues past it", |i| {
        edge(i, |_, e| Ok(e.flanged))
    })
    .depends(Dependence::Always),
    Field::fact("unit", Kind::Piece, "the unit that covers it and continues past it, if any", |i| {
        edge(i, |f, e| e.unit.map_or(Err(ABSENT), |unit| piece(f, unit)))
    })
    .depends(Dependence::Always),
    Field::quantity("open-from", LENGTH, "where its open stretch begins; unknown when that runs off the detail", |i| {
        edge(i, |f, e| end(f, e, e.open.map(|open| open.low)))
    })
    .depends(Dependence::Always),
    Field::quantity("open-to", LENGTH, "where its open stretch ends; unknown when that runs off the detail", |i| {
        edge(i, |f, e| end(f, e, e.open.map(|open| open.high)))
    })
    .depends(Dependence::Always),
    Field::quantity("height", LENGTH, "where it lies", |i| edge(i, |f, e| Ok(f.length(Some(e.piece), e.at)))),
    Field::fact("detail", Kind::Detail, "the detail that it is in", of_detail),
];

pub const TURN: &[Field] = &[
    Field::word("fold", Family::FoldKind, "the kind of fold", |i| {
        turn(i, |f, t| Ok(f.detail.folds[t.fold].kind.word()))
    }),
    Field::fact(
        "piece",
        Kind::Piece,
        "the sheet that runs farthest past the fold; at the base, where that is least",
        |i| turn(i, |f, t| t.piece.map_or(Err(ABSENT), |p| piece(f, p))),
    )
    .depends(Dependence::Always),
    Field::yes_no("reached", "a sheet reaches the fold; at the base, everywhere", |i| {
        turn(i, |_, t| Ok(t.piece.is_some()))
    })
    .depends(Dependence::Always),
    Field::quantity("past", Dimension::Length, "how far that sheet runs past it; unknown when open-ended", |i| {
        turn(i, |f, t| t.past.map_or(Err(ABSENT), |past| Ok(f.length(t.piece, past))))
    })
    .depends(Dependence::Always),
    Field::yes_no("spanned", "a piece sealed on both sides spans the fold", |i| turn(i, |_, t| Ok(t.spanned)))
        .depends(Dependence::Always),
    Field::quantity(
        "angle",
        Dimension::Number,
        "degrees by which the face turns there; negative toward the building, as at an eave",
        |i| {
            turn(i, |f, t| {
                f.fold_angle(t.fold)
                    .map_or(Err(ABSENT), |angle| Ok(Quantity::of(angle.to_degrees(), base_unit(Dimension::Number))))
            })
        },
    ),
    Field::fact("detail", Kind::Detail, "the detail that it is in", of_detail),
];

fn transition<'a, T>(
    item: Fact<'a>,
    value: impl FnOnce(&'a DetailFacts, &'a Transition) -> FieldResult<'a, T>,
) -> FieldResult<'a, T> {
    match item {
        Fact::Transition(facts, index) => value(facts, &facts.face.transitions[index]),
        _ => Err(ABSENT),
    }
}

/// A value from the two pieces on both sides of a break.
fn across<'a, T>(
    item: Fact<'a>,
    value: impl FnOnce(&'a DetailFacts, &'a Transition, [usize; 2]) -> FieldResult<'a, T>,
) -> FieldResult<'a, T> {
    transition(item, |f, t| t.nearest.map_or(Err(ABSENT), |(near, far)| value(f, t, [near, far])))
}

fn joins(facts: &DetailFacts, seal: &SealFact, [a, b]: [usize; 2]) -> bool {
    let seal = &facts.detail.seals[seal.seal];
    let joined = (seal.first.index, seal.second.index);
    joined == (a, b) || joined == (b, a)
}

fn side(item: Fact<'_>, which: usize) -> FieldResult<'_, Fact<'_>> {
    transition(item, |f, t| f.assemblies.get(t.sides[which]).map_or(Err(ABSENT), |a| Ok(Fact::Assembly(a))))
}

fn edge<'a, T>(
    item: Fact<'a>,
    value: impl FnOnce(&'a DetailFacts, &'a Edge) -> FieldResult<'a, T>,
) -> FieldResult<'a, T> {
    match item {
        Fact::Edge(facts, index) => value(facts, &facts.face.edges[index]),
        _ => Err(ABSENT),
    }
}

fn end<'a>(facts: &DetailFacts, edge: &Edge, at: Option<Coordinate>) -> FieldResult<'a, Quantity> {
    match at {
        None | Some(OPEN_LOW | OPEN_HIGH) => Err(ABSENT),
        Some(at) => Ok(facts.length(Some(edge.piece), at)),
    }
}

fn turn<'a, T>(
    item: Fact<'a>,
    value: impl FnOnce(&'a DetailFacts, &'a Turn) -> FieldResult<'a, T>,
) -> FieldResult<'a, T> {
    match item {
        Fact::Turn(facts, index) => value(facts, &facts.face.turns[index]),
        _ => Err(ABSENT),
    }
}
