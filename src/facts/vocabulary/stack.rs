//! Fields of stacks: which pieces cannot lie as drawn, and why.

use crate::facts::DetailFacts;
use crate::facts::face::{Coordinate, ImpossibleStack, Knot, OPEN_LOW, Tangle, Third};
use crate::facts::vocabulary::drainage::{of_detail, piece};
use crate::facts::vocabulary::{Field, Item, Kind, Type, Value, field_of};
use crate::model::{Axis, MaterialKind};
use crate::quantity::Dimension;

const LENGTH: Type = Type::Quantity(Dimension::Length);
const PIECE: Type = Type::Item(Kind::Piece);

pub const STACK: &[Field] = &[
    field_of("pieces", Type::Items(Kind::Piece), "the pieces that are tangled up", |i| Value::Items(i.pieces())),
    field_of("piece", PIECE, "of two that cannot lie as drawn, the one installed later", |i| {
        stack(i, |f, s| piece(f, s.pair[1]))
    }),
    field_of("other", PIECE, "the one installed earlier", |i| stack(i, |f, s| piece(f, s.pair[0]))),
    field_of("why", Type::Text, "in words, why it cannot lie so", |i| {
        stack(i, |_, s| {
            Value::Text(match s.why {
                Tangle::Untrue => "the text puts it on both sides there",
                Tangle::ChangesSides => "over it on one side of a line, and behind it on the other",
            })
        })
    }),
    field_of("over-above", LENGTH, "the piece lies over the other above this height, and behind it below", |i| {
        line(i, Axis::Up, true)
    }),
    field_of("behind-above", LENGTH, "the piece lies behind the other above this height, and over it below", |i| {
        line(i, Axis::Up, false)
    }),
    field_of("over-right", LENGTH, "the piece lies over the other right of this place, and behind it left", |i| {
        line(i, Axis::Along, true)
    }),
    field_of("behind-right", LENGTH, "the piece lies behind the other right of this place, and over it left", |i| {
        line(i, Axis::Along, false)
    }),
    field_of("outer", PIECE, "the text lays it over the inner, and so it cannot lie", |i| circle(i, |_, c| Some(c.0))),
    field_of("inner", PIECE, "the text lays the outer over it", |i| circle(i, |_, c| Some(c.1))),
    field_of("cover", PIECE, "what the text puts the outer behind, where the inner lies over that", |i| {
        circle(i, |_, c| match c.2 {
            Third::Cover(third) => Some(third),
            _ => None,
        })
    }),
    field_of("base", PIECE, "what the text lays the inner over, where that lies over the outer", |i| {
        circle(i, |_, c| match c.2 {
            Third::Base(third) => Some(third),
            _ => None,
        })
    }),
    field_of("slit", PIECE, "which of two that change sides can be slit where they do: a unit cannot", |i| {
        stack(i, |f, s| match (s.knot, tucked(f, s)) {
            (Knot::Line { .. }, None) => {
                s.pair.into_iter().find(|&p| !rigid(f, p)).map_or(Value::ABSENT, |p| piece(f, p))
            }
            _ => Value::ABSENT,
        })
    }),
    field_of("slit-at", LENGTH, "the place of that slit", |i| {
        stack(i, |f, s| match s.knot {
            Knot::Line { at, .. } => length(f, s, at),
            Knot::Circle { .. } => Value::ABSENT,
        })
    }),
    field_of("unnamed", PIECE, "of two that change sides the earlier, where the later names it nowhere", |i| {
        stack(i, |f, s| {
            let [other, own] = s.pair;
            let own = &f.detail.pieces[own];
            let named = own.over.iter().chain(&own.behind).any(|said| said.index == other);
            let free = matches!(s.knot, Knot::Line { .. }) && !named && !rigid(f, other);
            if free { piece(f, other) } else { Value::ABSENT }
        })
    }),
    field_of("hide", PIECE, "the piece that would have to lie behind another", |i| {
        stack(i, |f, s| tucked(f, s).map_or(Value::ABSENT, |[hide, _]| piece(f, hide)))
    }),
    field_of("hide-behind", PIECE, "that other", |i| {
        stack(i, |f, s| tucked(f, s).map_or(Value::ABSENT, |[_, behind]| piece(f, behind)))
    }),
    field_of("cut", PIECE, "that other, where it can be slit", |i| {
        stack(i, |f, s| match tucked(f, s) {
            Some([_, behind]) if !rigid(f, behind) => piece(f, behind),
            _ => Value::ABSENT,
        })
    }),
    field_of("twice", PIECE, "the earlier of two that nothing but their own places can untangle", |i| {
        stack(i, |f, s| {
            let slit = matches!(s.knot, Knot::Line { .. }) && s.pair.iter().any(|&p| !rigid(f, p));
            if slit || tucked(f, s).is_some() { Value::ABSENT } else { piece(f, s.pair[0]) }
        })
    }),
    field_of("along", LENGTH, "the left end of a place where it is so", |i| {
        stack(i, |f, s| match s.at.along.low {
            OPEN_LOW => Value::ABSENT,
            along => length(f, s, along),
        })
    }),
    field_of("height", LENGTH, "the foot of a place where it is so", |i| {
        stack(i, |f, s| match s.at.up.low {
            OPEN_LOW => Value::ABSENT,
            up => length(f, s, up),
        })
    }),
    field_of("detail", Type::Item(Kind::Detail), "the detail that it is in", of_detail),
];

fn stack<'a>(item: Item<'a>, value: impl FnOnce(&'a DetailFacts, &'a ImpossibleStack) -> Value<'a>) -> Value<'a> {
    match item {
        Item::Stack(facts, stack) => value(facts, &facts.face.impossible[stack]),
        _ => Value::ABSENT,
    }
}

fn length<'a>(facts: &DetailFacts, stack: &ImpossibleStack, at: Coordinate) -> Value<'a> {
    Value::Quantity(facts.length(Some(stack.pair[1]), at))
}

/// The line at which a pair changes sides, if it runs so.
fn line(item: Item<'_>, along: Axis, over: bool) -> Value<'_> {
    stack(item, |f, s| match s.knot {
        Knot::Line { axis, at, over_beyond, .. } if axis == along && over_beyond == over => length(f, s, at),
        _ => Value::ABSENT,
    })
}

/// A piece of a circle.
fn circle<'a>(item: Item<'a>, which: impl FnOnce(&DetailFacts, (usize, usize, Third)) -> Option<usize>) -> Value<'a> {
    stack(item, |f, s| match s.knot {
        Knot::Circle { outer, inner, third } => which(f, (outer, inner, third)).map_or(Value::ABSENT, |p| piece(f, p)),
        Knot::Line { .. } => Value::ABSENT,
    })
}

/// A piece and the one that it would have to lie behind, so that all can lie as they are said to.
fn tucked(facts: &DetailFacts, stack: &ImpossibleStack) -> Option<[usize; 2]> {
    match stack.knot {
        Knot::Circle { inner, third: Third::Cover(cover), .. } => Some([inner, cover]),
        Knot::Circle { outer, third: Third::Base(base), .. } => Some([base, outer]),
        Knot::Line { cover: Some(cover), .. } if rigid(facts, stack.pair[0]) => Some([stack.pair[0], cover]),
        _ => None,
    }
}

/// It cannot be slit.
fn rigid(facts: &DetailFacts, piece: usize) -> bool {
    matches!(facts.detail.pieces[piece].material.kind, Some(MaterialKind::Unit | MaterialKind::Mass))
}
