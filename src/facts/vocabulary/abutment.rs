//! Fields of abutments: lengths of one thing that meet, or leave a gap, and do not lap.

use crate::facts::DetailFacts;
use crate::facts::face::Abutment;
use crate::facts::vocabulary::drainage::{of_detail, piece};
use crate::facts::vocabulary::{Family, Field, Hangs, Item, Kind, Type, Value, field_of};
use crate::quantity::Dimension;

pub const FIELDS: &[Field] = &[
    field_of("first", Type::Item(Kind::Piece), "the left or the lower of the two", |i| {
        with(i, |f, a| piece(f, a.first))
    }),
    field_of("second", Type::Item(Kind::Piece), "the right or the upper one", |i| with(i, |f, a| piece(f, a.second))),
    field_of("run", Type::Word(Family::Run), "side for an upright joint, head for a level one", |i| {
        with(i, |_, a| Value::Word(a.run.word()))
    }),
    field_of("width", Type::Quantity(Dimension::Length), "how far apart they are; zero where they meet", |i| {
        with(i, |f, a| Value::Quantity(f.length(Some(a.second), a.width)))
    })
    .hangs(Hangs::Always),
    field_of("sealed", Type::YesNo, "one is adhered to the other, or a bead joins them", |i| {
        with(i, |_, a| Value::YesNo(a.sealed))
    })
    .hangs(Hangs::Always),
    field_of("bridge", Type::Item(Kind::Piece), "a third piece across the joint that is sealed to both", |i| {
        third(i, |a| a.bridge)
    })
    .hangs(Hangs::Always),
    field_of("cover", Type::Item(Kind::Piece), "the piece that covers the whole joint outboard of both", |i| {
        third(i, |a| a.cover)
    })
    .hangs(Hangs::Always),
    field_of(
        "backing",
        Type::Item(Kind::Piece),
        "the piece that continues across the whole joint inboard of both",
        |i| third(i, |a| a.backing),
    )
    .hangs(Hangs::Always),
    field_of("folded", Type::YesNo, "the face turns at the joint", |i| with(i, |_, a| Value::YesNo(a.folded))),
    field_of("detail", Type::Item(Kind::Detail), "the detail that it is in", of_detail),
];

fn third(item: Item<'_>, which: fn(&Abutment) -> Option<usize>) -> Value<'_> {
    with(item, |f, a| which(a).map_or(Value::ABSENT, |third| piece(f, third)))
}

fn with<'a>(item: Item<'a>, value: impl FnOnce(&'a DetailFacts, &'a Abutment) -> Value<'a>) -> Value<'a> {
    match item {
        Item::Abutment(facts, index) => value(facts, &facts.face.abutments[index]),
        _ => Value::ABSENT,
    }
}
