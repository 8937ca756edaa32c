//! Fields of what a drawing set needs, and of waivers.

use crate::facts::vocabulary::{ABSENT, Fact, FactList, Family, Field, FieldResult, Kind};
use crate::facts::{NeedFact, WaiverFact};

pub const NEED: &[Field] = &[
    Field::word("kind", Family::DetailKind, "the kind of detail that the set needs", |i| need(i, |n| Ok(&*n.kind))),
    Field::facts("assemblies", Kind::Assembly, "the assemblies that it has to join", |i| {
        need(i, |n| Ok(FactList::Assemblies(&n.assemblies)))
    }),
    Field::yes_no("found", "some file in the run has such a detail", |i| need(i, |n| Ok(n.found))),
];

pub const WAIVER: &[Field] = &[
    Field::text("rule", "the rule that it waives", |i| waiver(i, |w| Ok(&*w.waiver.rule))),
    Field::text("on", "the name that it is limited to", |i| {
        waiver(i, |w| w.waiver.on.as_ref().map_or(Err(ABSENT), |(name, _)| Ok(&**name)))
    }),
    Field::text("because", "its reason", |i| waiver(i, |w| Ok(&*w.waiver.because))),
    Field::yes_no("expired", "its last day is past", |i| waiver(i, |w| Ok(w.expired))),
    Field::text("until", "its last day", |i| waiver(i, |w| w.until.as_deref().ok_or(ABSENT))),
    Field::yes_no("matched", "it covers some finding", |i| waiver(i, |w| Ok(w.matched))),
];

fn need<'a, T>(item: Fact<'a>, value: impl FnOnce(&'a NeedFact) -> FieldResult<'a, T>) -> FieldResult<'a, T> {
    match item {
        Fact::Need(need) => value(need),
        _ => Err(ABSENT),
    }
}

fn waiver<'a, T>(item: Fact<'a>, value: impl FnOnce(&'a WaiverFact) -> FieldResult<'a, T>) -> FieldResult<'a, T> {
    match item {
        Fact::Waiver(waiver) => value(waiver),
        _ => Err(ABSENT),
    }
}
