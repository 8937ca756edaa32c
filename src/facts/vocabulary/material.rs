//! Fields of a material; a piece and a layer have them too.

use crate::facts::vapor;
use crate::facts::vocabulary::{Family, Field, Item, Kind, Type, Value, WordSet, field_of};
use crate::model::Material;
use crate::quantity::{Dimension, Quantity};

pub const FIELDS: &[Field] = &[
    field_of("named", Type::Word(Family::Open), "the name of the material", |item| {
        with(item, |m| Value::Word(&m.name))
    }),
    field_of("kind", Type::Word(Family::MaterialKind), "what the material is: sheet, tape, flashing, …", |item| {
        with(item, |m| m.kind.map_or(Value::ABSENT, |k| Value::Word(k.word())))
    }),
    field_of("holds", Type::Words(Family::Control), "the controls that the material can provide", |item| {
        with(item, |m| Value::Words(WordSet::Controls(m.holds)))
    }),
    field_of("sensitive", Type::YesNo, "damaged by moisture", |item| with(item, |m| Value::YesNo(m.sensitive))),
    field_of("surface", Type::Word(Family::Surface), "the surface that a bond meets", |item| {
        with(item, |m| m.surface.as_ref().map_or(Value::missing(m, "surface"), |s| Value::Word(s)))
    }),
    field_of(
        "made-of",
        Type::Word(Family::Substance),
        "the substance that adjacent metals and woods react with; unknown when not stated",
        |item| with(item, |m| m.made_of.as_ref().map_or(Value::ABSENT, |s| Value::Word(s))),
    ),
    field_of("adhesive", Type::Word(Family::Adhesive), "its adhesive", |item| {
        with(item, |m| m.adhesive.as_ref().map_or(Value::missing(m, "adhesive"), |s| Value::Word(s)))
    }),
    field_of(
        "applies-above",
        Type::Quantity(Dimension::Temperature),
        "lowest air temperature at which it may be applied",
        |item| with(item, |m| quantity(m, m.applies_above, "applies-above")),
    ),
    field_of("uv-limit", Type::Quantity(Dimension::Duration), "days that it can stay uncovered", |item| {
        with(item, |m| quantity(m, m.uv_limit, "uv-limit"))
    }),
    field_of("thickness", Type::Quantity(Dimension::Length), "thickness of the material as it is sold", |item| {
        with(item, |m| quantity(m, m.thickness, "thickness"))
    }),
    field_of("conductivity", Type::Quantity(Dimension::Conductivity), "thermal conductivity", |item| {
        with(item, |m| quantity(m, m.conductivity, "conductivity"))
    }),
    field_of("density", Type::Quantity(Dimension::Density), "density", |item| {
        with(item, |m| quantity(m, m.density, "density"))
    }),
    field_of("air-permeance", Type::Quantity(Dimension::AirFlow), "air leakage through it at 75 Pa", |item| {
        with(item, |m| quantity(m, m.air_permeance, "air-permeance"))
    }),
    field_of("double-sided", Type::YesNo, "both of its faces are adhesive", |item| {
        with(item, |m| Value::YesNo(m.double_sided))
    }),
    field_of(
        "labelled-r",
        Type::Quantity(Dimension::Resistance),
        "labeled thermal resistance at the thickness in which it is sold",
        |item| with(item, |m| m.labelled(None).map_or(Value::ABSENT, Value::Quantity)),
    ),
    field_of("capped", Type::YesNo, "a fastener with a cap", |item| with(item, |m| Value::YesNo(m.capped))),
    field_of("vented", Type::YesNo, "a gap open to outside air at top and bottom", |item| {
        with(item, |m| Value::YesNo(m.vented))
    }),
    field_of("drained", Type::YesNo, "a gap that drains at its foot", |item| with(item, |m| Value::YesNo(m.drained))),
    field_of("material", Type::Item(Kind::Material), "the material itself", |item| {
        with(item, |m| Value::Item(Item::Material(m)))
    }),
    field_of("permeance", Type::Quantity(Dimension::Permeance), "vapor permeance as it is sold, dry-cup", |item| {
        with(item, |m| permeance(m, |sd| sd.dry))
    }),
    field_of("permeance-wet", Type::Quantity(Dimension::Permeance), "vapor permeance as it is sold, wet-cup", |item| {
        with(item, |m| permeance(m, |sd| sd.wet))
    }),
    field_of(
        "vapor-class",
        Type::Word(Family::VaporClass),
        "vapor retarder class by dry-cup permeance: I, II, III or open",
        |item| {
            with(item, |m| match sold(m) {
                Ok(sd) => Value::Word(vapor::class(vapor::permeance(sd.dry))),
                Err(property) => Value::missing(m, property),
            })
        },
    ),
];

fn with<'a>(item: Item<'a>, value: impl FnOnce(&'a Material) -> Value<'a>) -> Value<'a> {
    item.material().map_or(Value::ABSENT, value)
}

fn quantity<'a>(material: &'a Material, value: Option<Quantity>, property: &'static str) -> Value<'a> {
    value.map_or(Value::missing(material, property), Value::Quantity)
}

/// sd of the material at the thickness in which it is sold.
fn sold(material: &Material) -> Result<vapor::AirLayer, &'static str> {
    vapor::air_layer(material, material.thickness.map(|t| t.si))
}

fn permeance<'a>(material: &'a Material, cup: fn(vapor::AirLayer) -> f64) -> Value<'a> {
    match sold(material) {
        Ok(sd) => Value::Quantity(vapor::shown(vapor::permeance(cup(sd)), material)),
        Err(property) => Value::missing(material, property),
    }
}
