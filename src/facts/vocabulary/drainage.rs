//! Fields of laps and drops: what water meets on the face.

use crate::facts::DetailFacts;
use crate::facts::face::{DropEvent, Lap, OPEN_HIGH, OPEN_LOW};
use crate::facts::vocabulary::piece::steep;
use crate::facts::vocabulary::{ABSENT, Dependence, Fact, Family, Field, FieldResult, Kind, WordSet};
use crate::quantity::Dimension;

pub const LAP: &[Field] = &[
    Field::fact("over", Kind::Piece, "the outboard piece", |i| lap(i, |f, l| piece(f, l.over))),
    Field::fact("under", Kind::Piece, "the inboard piece", |i| lap(i, |f, l| piece(f, l.under))),
    Field::word("run", Family::Run, "head (one above the other) or side (one beside the other)", |i| {
        lap(i, |_, l| Ok(l.run.word()))
    }),
    Field::quantity("length", Dimension::Length, "how far they overlap", |i| {
        lap(i, |f, l| Ok(f.length(Some(l.over), l.length)))
    }),
    Field::yes_no("shingled", "the upper of the two lies outboard, as shingles do", |i| lap(i, |_, l| Ok(l.shingled))),
    Field::yes_no("sealed", "one is adhered to the other, or a bead joins them", |i| lap(i, |_, l| Ok(l.sealed)))
        .depends(Dependence::Always),
    Field::yes_no("contact", "nothing lies between them somewhere", |i| lap(i, |_, l| Ok(l.contact)))
        .depends(Dependence::Always),
    Field::yes_no("bridged", "a third piece is sealed to both, as a tape over a seam is", |i| {
        lap(i, |_, l| Ok(l.bridged.is_some()))
    })
    .depends(Dependence::Always),
    Field::fact("bridge", Kind::Piece, "that third piece; a watertight one comes before others", |i| {
        lap(i, |f, l| l.bridged.map_or(Err(ABSENT), |third| piece(f, third)))
    })
    .depends(Dependence::Always),
    Field::yes_no("joined", "sealed or bridged", |i| lap(i, |_, l| Ok(l.sealed || l.bridged.is_some())))
        .depends(Dependence::Always),
    Field::yes_no("led-out", "a flashing between the two drips outboard of the lower", |i| {
        lap(i, |_, l| Ok(l.led_out))
    })
    .depends(Dependence::Always),
    Field::quantity(
        "weep-rise",
        Dimension::Length,
        "height of the lowest weeps that drain the lower piece, above the foot of the upper",
        |i| lap(i, |f, l| f.weeps_above(l).map_or(Err(ABSENT), |(_, rise)| Ok(f.length(Some(l.over), rise)))),
    )
    .depends(Dependence::Always),
    Field::quantity("slope", Dimension::Slope, "slope of the face where they overlap: 0 level, infinite plumb", |i| {
        lap(i, |f, l| steep(f, f.overlap(l)))
    }),
    Field::yes_no(
        "seam-watertight",
        "it keeps water out: sealed, or on a slope that sheds and shingled, or beside each other with nothing between",
        |i| lap(i, |_, l| Ok(l.watertight())),
    )
    .depends(Dependence::Always),
    Field::quantity("weep-height", Dimension::Length, "height of those weeps on the face", |i| {
        lap(i, |f, l| match (f.weeps_above(l), l.foot) {
            (Some((_, rise)), Some(foot)) => Ok(f.length(Some(l.over), foot + rise)),
            _ => Err(ABSENT),
        })
    })
    .depends(Dependence::Always),
    Field::fact("detail", Kind::Detail, "the detail that it is in", of_detail),
];

pub const DROP: &[Field] = &[
    Field::word("event", Family::Event, "what happens to the drop", |i| drop(i, |_, d| Ok(d.event.word())))
        .depends(Dependence::For(&["joint", "relies", "bare", "wets", "enters", "gap", "pools", "behind", "held"])),
    Field::fact("piece", Kind::Piece, "the piece that it happens at", |i| {
        drop(i, |f, d| d.pieces[0].map_or(Err(ABSENT), |p| piece(f, p)))
    }),
    Field::fact("other", Kind::Piece, "the other piece, where there is one", |i| {
        drop(i, |f, d| d.pieces[1].map_or(Err(ABSENT), |p| piece(f, p)))
    }),
    Field::words("ends", Family::End, "how such drops end", |i| drop(i, |_, d| Ok(WordSet::Ends(&d.ends)))),
    Field::yes_no("damage", "some end is damage: behind, wets, enters, pools or gap", |i| {
        drop(i, |_, d| Ok(d.damages()))
    }),
    Field::quantity("height", Dimension::Length, "where it happens", |i| {
        drop(i, |f, d| match d.ends.first().map(|end| end.up) {
            Some(up) if up != OPEN_HIGH && up != OPEN_LOW => Ok(f.length(d.pieces[0], up)),
            _ => Err(ABSENT),
        })
    }),
    Field::fact("detail", Kind::Detail, "the detail that it is in", of_detail),
];

pub fn of_detail(item: Fact<'_>) -> FieldResult<'_, Fact<'_>> {
    item.detail().map_or(Err(ABSENT), |facts| Ok(Fact::Detail(facts)))
}

pub fn piece(facts: &DetailFacts, piece: usize) -> FieldResult<'_, Fact<'_>> {
    Ok(Fact::Piece(facts, piece))
}

fn lap<'a, T>(
    item: Fact<'a>,
    value: impl FnOnce(&'a DetailFacts, &'a Lap) -> FieldResult<'a, T>,
) -> FieldResult<'a, T> {
    match item {
        Fact::Lap(facts, lap) => value(facts, &facts.face.laps[lap]),
        _ => Err(ABSENT),
    }
}

fn drop<'a, T>(
    item: Fact<'a>,
    value: impl FnOnce(&'a DetailFacts, &'a DropEvent) -> FieldResult<'a, T>,
) -> FieldResult<'a, T> {
    match item {
        Fact::Drop(facts, drop) => value(facts, &facts.face.drops.events[drop]),
        _ => Err(ABSENT),
    }
}
