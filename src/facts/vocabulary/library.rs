//! Fields of what a drawing set needs, and of waivers.

use crate::facts::vocabulary::{Family, Field, Item, Items, Kind, Type, Value, field_of};
use crate::facts::{NeedFact, WaiverFact};

pub const NEED: &[Field] = &[
    field_of("kind", Type::Word(Family::DetailKind), "the kind of detail that the set needs", |i| {
        need(i, |n| Value::Word(&n.kind))
    }),
    field_of("assemblies", Type::Items(Kind::Assembly), "the assemblies that it has to join", |i| {
        need(i, |n| Value::Items(Items::Assemblies(&n.assemblies)))
    }),
    field_of("found", Type::YesNo, "some file in the run has such a detail", |i| need(i, |n| Value::YesNo(n.found))),
];

pub const WAIVER: &[Field] = &[
    field_of("rule", Type::Text, "the rule that it waives", |i| waiver(i, |w| Value::Text(&w.waiver.rule))),
    field_of("on", Type::Text, "the name that it is limited to", |i| {
        waiver(i, |w| w.waiver.on.as_ref().map_or(Value::ABSENT, |(name, _)| Value::Text(name)))
    }),
    field_of("because", Type::Text, "its reason", |i| waiver(i, |w| Value::Text(&w.waiver.because))),
    field_of("expired", Type::YesNo, "its last day is past", |i| waiver(i, |w| Value::YesNo(w.expired))),
    field_of("until", Type::Text, "its last day", |i| {
        waiver(i, |w| w.until.as_deref().map_or(Value::ABSENT, Value::Text))
    }),
    field_of("matched", Type::YesNo, "it covers some finding", |i| waiver(i, |w| Value::YesNo(w.matched))),
];

fn need<'a>(item: Item<'a>, value: impl FnOnce(&'a NeedFact) -> Value<'a>) -> Value<'a> {
    match item {
        Item::Need(need) => value(need),
        _ => Value::ABSENT,
    }
}

fn waiver<'a>(item: Item<'a>, value: impl FnOnce(&'a WaiverFact) -> Value<'a>) -> Value<'a> {
    match item {
        Item::Waiver(waiver) => value(waiver),
        _ => Value::ABSENT,
    }
}
