//! Fields of transitions, edges and turns: whether a control is continuous.

use crate::facts::face::{Coordinate, Edge, OPEN_HIGH, OPEN_LOW, SealFact, Transition, Turn};
use crate::facts::vocabulary::drainage::{of_detail, piece};
use crate::facts::vocabulary::{Family, Field, Hangs, Item, Kind, Type, Value, field_of};
use crate::facts::{DetailFacts, holds};
use crate::quantity::{Dimension, Quantity, base_unit};

const LENGTH: Type = Type::Quantity(Dimension::Length);

pub const TRANSITION: &[Field] = &[
    field_of(
        "control",
        Type::Word(Family::Control),
        "the control that has to be continuous: water, air, vapor or thermal",
        |i| transition(i, |_, t| Value::Word(t.control.word())),
    ),
    field_of("from", Type::Item(Kind::Assembly), "the first joined assembly", |i| side(i, 0)),
    field_of("to", Type::Item(Kind::Assembly), "the second joined assembly, or the only one", |i| side(i, 1)),
    field_of(
        "continuous",
        Type::YesNo,
        "linked pieces carry it across; for air and vapor, along the whole joint",
        |i| transition(i, |_, t| Value::YesNo(t.continuous)),
    ),
    field_of("partly", Type::YesNo, "for air or vapor: it is carried across at some places and not at others", |i| {
        transition(i, |_, t| Value::YesNo(t.partly))
    }),
    field_of("shown", Type::YesNo, "each side has a piece of its control layer in the detail", |i| {
        transition(i, |_, t| Value::YesNo(t.shown == [true, true]))
    }),
    field_of("missing", Type::Item(Kind::Assembly), "the assembly whose control layer has no piece", |i| {
        transition(i, |_, t| match t.shown {
            [false, _] => side(i, 0),
            [_, false] => side(i, 1),
            _ => Value::ABSENT,
        })
    }),
    field_of("near", Type::Item(Kind::Piece), "the last piece before the break", |i| {
        across(i, |f, _, [near, _]| piece(f, near))
    }),
    field_of("far", Type::Item(Kind::Piece), "the first piece beyond the break", |i| {
        across(i, |f, _, [_, far]| piece(f, far))
    }),
    // An end that cannot hold the control has its own finding (claim-without-hold): no joint to it would be any better.
    field_of("able", Type::YesNo, "near and far both hold the control, so that a joint could carry it across", |i| {
        across(i, |f, t, pair| Value::YesNo(pair.iter().all(|&p| holds(&f.detail, &f.detail.pieces[p]).has(t.control))))
    }),
    field_of(
        "misplaced-bead",
        Type::YesNo,
        "a bead is drawn to join near and far, but lies where they do not meet",
        |i| across(i, |f, _, pair| Value::YesNo(f.face.seals.iter().any(|seal| !seal.touches && joins(f, seal, pair)))),
    ),
    field_of("within", Type::YesNo, "the detail lies within one assembly", |i| {
        transition(i, |f, _| Value::YesNo(f.assemblies.len() == 1))
    }),
    field_of("detail", Type::Item(Kind::Detail), "the detail that it is in", of_detail),
];

pub const EDGE: &[Field] = &[
    field_of("piece", Type::Item(Kind::Piece), "the sheet, board or unit", |i| edge(i, |f, e| piece(f, e.piece))),
    field_of("side", Type::Word(Family::Side), "top, bottom, left or right", |i| {
        edge(i, |_, e| Value::Word(e.side.word()))
    }),
    field_of("free", Type::YesNo, "no other piece of the same layer laps it", |i| edge(i, |_, e| Value::YesNo(e.free)))
        .hangs(Hangs::Always),
    field_of("sealed", Type::YesNo, "something seals it along its length", |i| edge(i, |_, e| Value::YesNo(e.sealed)))
        .hangs(Hangs::Always),
    field_of(
        "flanged",
        Type::YesNo,
        "just inside this edge the piece lies over something that continues past it",
        |i| edge(i, |_, e| Value::YesNo(e.flanged)),
    )
    .hangs(Hangs::Always),
    field_of("unit", Type::Item(Kind::Piece), "the unit that covers it and continues past it, if any", |i| {
        edge(i, |f, e| e.unit.map_or(Value::ABSENT, |unit| piece(f, unit)))
    })
    .hangs(Hangs::Always),
    field_of("open-from", LENGTH, "where its open stretch begins; unknown when that runs off the detail", |i| {
        edge(i, |f, e| end(f, e, e.open.map(|open| open.low)))
    })
    .hangs(Hangs::Always),
    field_of("open-to", LENGTH, "where its open stretch ends; unknown when that runs off the detail", |i| {
        edge(i, |f, e| end(f, e, e.open.map(|open| open.high)))
    })
    .hangs(Hangs::Always),
    field_of("height", LENGTH, "where it lies", |i| edge(i, |f, e| Value::Quantity(f.length(Some(e.piece), e.at)))),
    field_of("detail", Type::Item(Kind::Detail), "the detail that it is in", of_detail),
];

pub const TURN: &[Field] = &[
    field_of("fold", Type::Word(Family::FoldKind), "the kind of fold", |i| {
        turn(i, |f, t| Value::Word(f.detail.folds[t.fold].kind.word()))
    }),
    field_of(
        "piece",
        Type::Item(Kind::Piece),
        "the sheet that runs farthest past the fold; at the base, where that is least",
        |i| turn(i, |f, t| t.piece.map_or(Value::ABSENT, |p| piece(f, p))),
    )
    .hangs(Hangs::Always),
    field_of("reached", Type::YesNo, "a sheet reaches the fold; at the base, everywhere", |i| {
        turn(i, |_, t| Value::YesNo(t.piece.is_some()))
    })
    .hangs(Hangs::Always),
    field_of(
        "past",
        Type::Quantity(Dimension::Length),
        "how far that sheet runs past it; unknown when open-ended",
        |i| turn(i, |f, t| t.past.map_or(Value::ABSENT, |past| Value::Quantity(f.length(t.piece, past)))),
    )
    .hangs(Hangs::Always),
    field_of("spanned", Type::YesNo, "a piece sealed on both sides spans the fold", |i| {
        turn(i, |_, t| Value::YesNo(t.spanned))
    })
    .hangs(Hangs::Always),
    field_of(
        "angle",
        Type::Quantity(Dimension::Number),
        "degrees by which the face turns there; negative toward the building, as at an eave",
        |i| {
            turn(i, |f, t| {
                f.fold_angle(t.fold).map_or(Value::ABSENT, |angle| {
                    Value::Quantity(Quantity::of(angle.to_degrees(), base_unit(Dimension::Number)))
                })
            })
        },
    ),
    field_of("detail", Type::Item(Kind::Detail), "the detail that it is in", of_detail),
];

fn transition<'a>(item: Item<'a>, value: impl FnOnce(&'a DetailFacts, &'a Transition) -> Value<'a>) -> Value<'a> {
    match item {
        Item::Transition(facts, index) => value(facts, &facts.face.transitions[index]),
        _ => Value::ABSENT,
    }
}

/// What is asked of the pieces on both sides of a break.
fn across<'a>(
    item: Item<'a>,
    value: impl FnOnce(&'a DetailFacts, &'a Transition, [usize; 2]) -> Value<'a>,
) -> Value<'a> {
    transition(item, |f, t| t.nearest.map_or(Value::ABSENT, |(near, far)| value(f, t, [near, far])))
}

fn joins(facts: &DetailFacts, seal: &SealFact, [a, b]: [usize; 2]) -> bool {
    let seal = &facts.detail.seals[seal.seal];
    let joined = (seal.first.index, seal.second.index);
    joined == (a, b) || joined == (b, a)
}

fn side(item: Item<'_>, which: usize) -> Value<'_> {
    transition(item, |f, t| f.assemblies.get(t.sides[which]).map_or(Value::ABSENT, |a| Value::Item(Item::Assembly(a))))
}

fn edge<'a>(item: Item<'a>, value: impl FnOnce(&'a DetailFacts, &'a Edge) -> Value<'a>) -> Value<'a> {
    match item {
        Item::Edge(facts, index) => value(facts, &facts.face.edges[index]),
        _ => Value::ABSENT,
    }
}

fn end<'a>(facts: &DetailFacts, edge: &Edge, at: Option<Coordinate>) -> Value<'a> {
    match at {
        None | Some(OPEN_LOW | OPEN_HIGH) => Value::ABSENT,
        Some(at) => Value::Quantity(facts.length(Some(edge.piece), at)),
    }
}

fn turn<'a>(item: Item<'a>, value: impl FnOnce(&'a DetailFacts, &'a Turn) -> Value<'a>) -> Value<'a> {
    match item {
        Item::Turn(facts, index) => value(facts, &facts.face.turns[index]),
        _ => Value::ABSENT,
    }
}
