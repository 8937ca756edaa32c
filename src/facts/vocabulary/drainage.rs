//! Fields of laps and drops: what water meets on the face.

use crate::facts::DetailFacts;
use crate::facts::face::{DropEvent, Lap, OPEN_HIGH, OPEN_LOW};
use crate::facts::vocabulary::piece::steep;
use crate::facts::vocabulary::{Family, Field, Hangs, Item, Kind, Type, Value, WordSet, field_of};
use crate::quantity::Dimension;

pub const LAP: &[Field] = &[
    field_of("over", Type::Item(Kind::Piece), "the outboard piece", |i| lap(i, |f, l| piece(f, l.over))),
    field_of("under", Type::Item(Kind::Piece), "the inboard piece", |i| lap(i, |f, l| piece(f, l.under))),
    field_of("run", Type::Word(Family::Run), "head (one above the other) or side (one beside the other)", |i| {
        lap(i, |_, l| Value::Word(l.run.word()))
    }),
    field_of("length", Type::Quantity(Dimension::Length), "how far they overlap", |i| {
        lap(i, |f, l| Value::Quantity(f.length(Some(l.over), l.length)))
    }),
    field_of("shingled", Type::YesNo, "the upper of the two lies outboard, as shingles do", |i| {
        lap(i, |_, l| Value::YesNo(l.shingled))
    }),
    field_of("sealed", Type::YesNo, "one is adhered to the other, or a bead joins them", |i| {
        lap(i, |_, l| Value::YesNo(l.sealed))
    })
    .hangs(Hangs::Always),
    field_of("contact", Type::YesNo, "nothing lies between them somewhere", |i| lap(i, |_, l| Value::YesNo(l.contact)))
        .hangs(Hangs::Always),
    field_of("bridged", Type::YesNo, "a third piece is sealed to both, as a tape over a seam is", |i| {
        lap(i, |_, l| Value::YesNo(l.bridged.is_some()))
    })
    .hangs(Hangs::Always),
    field_of("bridge", Type::Item(Kind::Piece), "that third piece; a watertight one comes before others", |i| {
        lap(i, |f, l| l.bridged.map_or(Value::ABSENT, |third| piece(f, third)))
    })
    .hangs(Hangs::Always),
    field_of("joined", Type::YesNo, "sealed or bridged", |i| {
        lap(i, |_, l| Value::YesNo(l.sealed || l.bridged.is_some()))
    })
    .hangs(Hangs::Always),
    field_of("led-out", Type::YesNo, "a flashing between the two drips outboard of the lower", |i| {
        lap(i, |_, l| Value::YesNo(l.led_out))
    })
    .hangs(Hangs::Always),
    field_of(
        "weep-rise",
        Type::Quantity(Dimension::Length),
        "height of the lowest weeps that drain the lower piece, above the foot of the upper",
        |i| {
            lap(i, |f, l| {
                f.weeps_above(l).map_or(Value::ABSENT, |(_, rise)| Value::Quantity(f.length(Some(l.over), rise)))
            })
        },
    )
    .hangs(Hangs::Always),
    field_of(
        "slope",
        Type::Quantity(Dimension::Slope),
        "slope of the face where they overlap: 0 level, infinite plumb",
        |i| lap(i, |f, l| steep(f, f.overlap(l))),
    ),
    field_of(
        "seam-watertight",
        Type::YesNo,
        "it keeps water out: sealed, or on a slope that sheds and shingled, or beside each other with nothing between",
        |i| lap(i, |_, l| Value::YesNo(l.watertight())),
    )
    .hangs(Hangs::Always),
    field_of("weep-height", Type::Quantity(Dimension::Length), "height of those weeps on the face", |i| {
        lap(i, |f, l| match (f.weeps_above(l), l.foot) {
            (Some((_, rise)), Some(foot)) => Value::Quantity(f.length(Some(l.over), foot + rise)),
            _ => Value::ABSENT,
        })
    })
    .hangs(Hangs::Always),
    field_of("detail", Type::Item(Kind::Detail), "the detail that it is in", of_detail),
];

pub const DROP: &[Field] = &[
    field_of("event", Type::Word(Family::Event), "what happens to the drop", |i| {
        drop(i, |_, d| Value::Word(d.event.word()))
    })
    .hangs(Hangs::For(&["joint", "relies", "bare", "wets", "enters", "gap", "pools", "behind", "held"])),
    field_of("piece", Type::Item(Kind::Piece), "the piece that it happens at", |i| {
        drop(i, |f, d| d.pieces[0].map_or(Value::ABSENT, |p| piece(f, p)))
    }),
    field_of("other", Type::Item(Kind::Piece), "the other piece, where there is one", |i| {
        drop(i, |f, d| d.pieces[1].map_or(Value::ABSENT, |p| piece(f, p)))
    }),
    field_of("ends", Type::Words(Family::End), "how such drops end", |i| {
        drop(i, |_, d| Value::Words(WordSet::Ends(&d.ends)))
    }),
    field_of("damage", Type::YesNo, "some end is damage: behind, wets, enters, pools or gap", |i| {
        drop(i, |_, d| Value::YesNo(d.damages()))
    }),
    field_of("height", Type::Quantity(Dimension::Length), "where it happens", |i| {
        drop(i, |f, d| match d.ends.first().map(|end| end.up) {
            Some(up) if up != OPEN_HIGH && up != OPEN_LOW => Value::Quantity(f.length(d.pieces[0], up)),
            _ => Value::ABSENT,
        })
    }),
    field_of("detail", Type::Item(Kind::Detail), "the detail that it is in", of_detail),
];

pub fn of_detail(item: Item<'_>) -> Value<'_> {
    item.detail().map_or(Value::ABSENT, |facts| Value::Item(Item::Detail(facts)))
}

pub fn piece(facts: &DetailFacts, piece: usize) -> Value<'_> {
    Value::Item(Item::Piece(facts, piece))
}

fn lap<'a>(item: Item<'a>, value: impl FnOnce(&'a DetailFacts, &'a Lap) -> Value<'a>) -> Value<'a> {
    match item {
        Item::Lap(facts, lap) => value(facts, &facts.face.laps[lap]),
        _ => Value::ABSENT,
    }
}

fn drop<'a>(item: Item<'a>, value: impl FnOnce(&'a DetailFacts, &'a DropEvent) -> Value<'a>) -> Value<'a> {
    match item {
        Item::Drop(facts, drop) => value(facts, &facts.face.drops.events[drop]),
        _ => Value::ABSENT,
    }
}
