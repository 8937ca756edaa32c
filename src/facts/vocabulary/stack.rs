//! Fields of stacks: which pieces cannot lie as drawn, and why.

use crate::facts::DetailFacts;
use crate::facts::face::{Coordinate, ImpossibleStack, Knot, OPEN_LOW, Tangle, Third};
use crate::facts::vocabulary::drainage::{of_detail, piece};
use crate::facts::vocabulary::{ABSENT, Fact, Field, FieldResult, Kind};
use crate::model::{Axis, MaterialKind};
use crate::quantity::{Dimension, Quantity};

const LENGTH: Dimension = Dimension::Length;
const PIECE: Kind = Kind::Piece;

pub const STACK: &[Field] = &[
    Field::facts("pieces", Kind::Piece, "the pieces that are tangled up", |i| Ok(i.pieces())),
    Field::fact("piece", PIECE, "of two that cannot lie as drawn, the one installed later", |i| {
        stack(i, |f, s| piece(f, s.pair[1]))
    }),
    Field::fact("other", PIECE, "the one installed earlier", |i| stack(i, |f, s| piece(f, s.pair[0]))),
    Field::text("why", "in words, why it cannot lie so", |i| {
        stack(i, |_, s| {
            Ok(match s.why {
                Tangle::Untrue => "the text puts it on both sides there",
                Tangle::ChangesSides => "over it on one side of a line, and behind it on the other",
            })
        })
    }),
    Field::quantity(
        "over-above",
        LENGTH,
        "the piece lies over the other above this height, and behind it below",
        |i| line(i, Axis::Up, true),
    ),
    Field::quantity(
        "behind-above",
        LENGTH,
        "the piece lies behind the other above this height, and over it below",
        |i| line(i, Axis::Up, false),
    ),
    Field::quantity(
        "over-right",
        LENGTH,
        "the piece lies over the other right of this place, and behind it left",
        |i| line(i, Axis::Along, true),
    ),
    Field::quantity(
        "behind-right",
        LENGTH,
        "the piece lies behind the other right of this place, and over it left",
        |i| line(i, Axis::Along, false),
    ),
    Field::fact("outer", PIECE, "the text lays it over the inner, and so it cannot lie", |i| {
        circle(i, |_, c| Some(c.0))
    }),
    Field::fact("inner", PIECE, "the text lays the outer over it", |i| circle(i, |_, c| Some(c.1))),
    Field::fact("cover", PIECE, "what the text puts the outer behind, where the inner lies over that", |i| {
        circle(i, |_, c| match c.2 {
            Third::Cover(third) => Some(third),
            _ => None,
        })
    }),
    Field::fact("base", PIECE, "what the text lays the inner over, where that lies over the outer", |i| {
        circle(i, |_, c| match c.2 {
            Third::Base(third) => Some(third),
            _ => None,
        })
    }),
    Field::fact("slit", PIECE, "which of two that change sides can be slit where they do: a unit cannot", |i| {
        stack(i, |f, s| match s.knot {
            Knot::Line { .. } => s.pair.into_iter().find(|&p| !rigid(f, p)).map_or(Err(ABSENT), |p| piece(f, p)),
            Knot::Circle { .. } => Err(ABSENT),
        })
    }),
    Field::quantity("slit-at", LENGTH, "the place of that slit", |i| {
        stack(i, |f, s| match s.knot {
            Knot::Line { at, .. } => length(f, s, at),
            Knot::Circle { .. } => Err(ABSENT),
        })
    }),
    Field::fact("unnamed", PIECE, "of two that change sides the earlier, where the later names it nowhere", |i| {
        stack(i, |f, s| {
            let [other, own] = s.pair;
            let own = &f.detail.pieces[own];
            let named = own.over.iter().chain(&own.behind).any(|said| said.index == other);
            let free = matches!(s.knot, Knot::Line { .. }) && !named && !rigid(f, other);
            if free { piece(f, other) } else { Err(ABSENT) }
        })
    }),
    Field::fact("hide", PIECE, "the piece that would have to lie behind another", |i| {
        stack(i, |f, s| tucked(s).map_or(Err(ABSENT), |[hide, _]| piece(f, hide)))
    }),
    Field::fact("hide-behind", PIECE, "that other", |i| {
        stack(i, |f, s| tucked(s).map_or(Err(ABSENT), |[_, behind]| piece(f, behind)))
    }),
    Field::fact("cut", PIECE, "that other, where it can be slit", |i| {
        stack(i, |f, s| match tucked(s) {
            Some([_, behind]) if !rigid(f, behind) => piece(f, behind),
            _ => Err(ABSENT),
        })
    }),
    Field::fact("twice", PIECE, "the earlier of two that nothing but their own places can untangle", |i| {
        stack(i, |f, s| {
            let slit = matches!(s.knot, Knot::Line { .. }) && s.pair.iter().any(|&p| !rigid(f, p));
            if slit || tucked(s).is_some() { Err(ABSENT) } else { piece(f, s.pair[0]) }
        })
    }),
    Field::quantity("along", LENGTH, "the left end of a place where it is so", |i| {
        stack(i, |f, s| match s.at.along.low {
            OPEN_LOW => Err(ABSENT),
            along => length(f, s, along),
        })
    }),
    Field::quantity("height", LENGTH, "the foot of a place where it is so", |i| {
        stack(i, |f, s| match s.at.up.low {
            OPEN_LOW => Err(ABSENT),
            up => length(f, s, up),
        })
    }),
    Field::fact("detail", Kind::Detail, "the detail that it is in", of_detail),
];

fn stack<'a, T>(
    item: Fact<'a>,
    value: impl FnOnce(&'a DetailFacts, &'a ImpossibleStack) -> FieldResult<'a, T>,
) -> FieldResult<'a, T> {
    match item {
        Fact::Stack(facts, stack) => value(facts, &facts.face.impossible[stack]),
        _ => Err(ABSENT),
    }
}

fn length<'a>(facts: &DetailFacts, stack: &ImpossibleStack, at: Coordinate) -> FieldResult<'a, Quantity> {
    Ok(facts.length(Some(stack.pair[1]), at))
}

/// The line at which a pair changes sides, if it runs in that direction.
fn line(item: Fact<'_>, along: Axis, over: bool) -> FieldResult<'_, Quantity> {
    stack(item, |f, s| match s.knot {
        Knot::Line { axis, at, over_beyond } if axis == along && over_beyond == over => length(f, s, at),
        _ => Err(ABSENT),
    })
}

/// A piece of a circular order.
fn circle<'a>(
    item: Fact<'a>,
    which: impl FnOnce(&DetailFacts, (usize, usize, Third)) -> Option<usize>,
) -> FieldResult<'a, Fact<'a>> {
    stack(item, |f, s| match s.knot {
        Knot::Circle { outer, inner, third } => which(f, (outer, inner, third)).map_or(Err(ABSENT), |p| piece(f, p)),
        Knot::Line { .. } => Err(ABSENT),
    })
}

/// A piece and the one that it would have to go behind, so that all pieces can lie as stated.
fn tucked(stack: &ImpossibleStack) -> Option<[usize; 2]> {
    match stack.knot {
        Knot::Circle { inner, third: Third::Cover(cover), .. } => Some([inner, cover]),
        Knot::Circle { outer, third: Third::Base(base), .. } => Some([base, outer]),
        _ => None,
    }
}

/// Whether it cannot be slit.
fn rigid(facts: &DetailFacts, piece: usize) -> bool {
    matches!(facts.detail.pieces[piece].material.kind, Some(MaterialKind::Unit | MaterialKind::Mass))
}
