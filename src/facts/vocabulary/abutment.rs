//! Fields of abutments: lengths of one material that meet, or leave a gap, without a lap.

use crate::facts::DetailFacts;
use crate::facts::face::Abutment;
use crate::facts::vocabulary::drainage::{of_detail, piece};
use crate::facts::vocabulary::{ABSENT, Dependence, Fact, Family, Field, FieldResult, Kind};
use crate::quantity::Dimension;

pub const FIELDS: &[Field] = &[
    Field::fact("first", Kind::Piece, "the left or the lower of the two", |i| with(i, |f, a| piece(f, a.first))),
    Field::fact("second", Kind::Piece, "the right or the upper one", |i| with(i, |f, a| piece(f, a.second))),
    Field::word("run", Family::Run, "side for an upright joint, head for a level one", |i| {
        with(i, |_, a| Ok(a.run.word()))
    }),
    Field::quantity("width", Dimension::Length, "how far apart they are; zero where they meet", |i| {
        with(i, |f, a| Ok(f.length(Some(a.second), a.width)))
    })
    .depends(Dependence::Always),
    Field::yes_no("sealed", "one is adhered to the other, or a bead joins them", |i| with(i, |_, a| Ok(a.sealed)))
        .depends(Dependence::Always),
    Field::fact("bridge", Kind::Piece, "a third piece across the joint that is sealed to both", |i| {
        third(i, |a| a.bridge)
    })
    .depends(Dependence::Always),
    Field::fact("cover", Kind::Piece, "the piece that covers the whole joint outboard of both", |i| {
        third(i, |a| a.cover)
    })
    .depends(Dependence::Always),
    Field::fact("backing", Kind::Piece, "the piece that continues across the whole joint inboard of both", |i| {
        third(i, |a| a.backing)
    })
    .depends(Dependence::Always),
    Field::yes_no("folded", "the face turns at the joint", |i| with(i, |_, a| Ok(a.folded))),
    Field::fact("detail", Kind::Detail, "the detail that it is in", of_detail),
];

fn third(item: Fact<'_>, which: fn(&Abutment) -> Option<usize>) -> FieldResult<'_, Fact<'_>> {
    with(item, |f, a| which(a).map_or(Err(ABSENT), |third| piece(f, third)))
}

fn with<'a, T>(
    item: Fact<'a>,
    value: impl FnOnce(&'a DetailFacts, &'a Abutment) -> FieldResult<'a, T>,
) -> FieldResult<'a, T> {
    match item {
        Fact::Abutment(facts, index) => value(facts, &facts.face.abutments[index]),
        _ => Err(ABSENT),
    }
}
