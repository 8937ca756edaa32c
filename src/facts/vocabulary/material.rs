//! Fields of a material; a piece and a layer have them too.

use crate::facts::vocabulary::{Family, Field, Item, Type, Value, WordSet};
use crate::model::{Material, VaporUnit};
use crate::quantity::{Dimension, Quantity};

pub const FIELDS: &[Field] = &[
    Field {
        name: "kind",
        of: Type::Word(Family::MaterialKind),
        about: "what the material is: sheet, tape, flashing, …",
        get: |item| with(item, |m| m.kind.map_or(Value::ABSENT, |k| Value::Word(k.word()))),
    },
    Field {
        name: "holds",
        of: Type::Words(Family::Control),
        about: "the controls that the material can serve",
        get: |item| with(item, |m| Value::Words(WordSet::Controls(m.holds))),
    },
    Field {
        name: "sensitive",
        of: Type::YesNo,
        about: "damaged by moisture",
        get: |item| with(item, |m| Value::YesNo(m.sensitive)),
    },
    Field {
        name: "surface",
        of: Type::Word(Family::Surface),
        about: "the surface that a bond meets",
        get: |item| with(item, |m| m.surface.as_ref().map_or(Value::missing(m, "surface"), |s| Value::Word(s))),
    },
    Field {
        name: "adhesive",
        of: Type::Word(Family::Adhesive),
        about: "what it sticks with",
        get: |item| with(item, |m| m.adhesive.as_ref().map_or(Value::missing(m, "adhesive"), |s| Value::Word(s))),
    },
    Field {
        name: "applies-above",
        of: Type::Quantity(Dimension::Temperature),
        about: "lowest air temperature at which it may be applied",
        get: |item| with(item, |m| quantity(m, m.applies_above, "applies-above")),
    },
    Field {
        name: "uv-limit",
        of: Type::Quantity(Dimension::Duration),
        about: "days that it may stay uncovered",
        get: |item| with(item, |m| quantity(m, m.uv_limit, "uv-limit")),
    },
    Field {
        name: "thickness",
        of: Type::Quantity(Dimension::Length),
        about: "thickness of the material as it is sold",
        get: |item| with(item, |m| quantity(m, m.thickness, "thickness")),
    },
    Field {
        name: "conductivity",
        of: Type::Quantity(Dimension::Conductivity),
        about: "thermal conductivity",
        get: |item| with(item, |m| quantity(m, m.conductivity, "conductivity")),
    },
    Field {
        name: "density",
        of: Type::Quantity(Dimension::Density),
        about: "density",
        get: |item| with(item, |m| quantity(m, m.density, "density")),
    },
    Field {
        name: "air-permeance",
        of: Type::Quantity(Dimension::AirFlow),
        about: "air that passes it at 75 Pa",
        get: |item| with(item, |m| quantity(m, m.air_permeance, "air-permeance")),
    },
    Field {
        name: "capped",
        of: Type::YesNo,
        about: "a fastener with a cap",
        get: |item| with(item, |m| Value::YesNo(m.capped)),
    },
    Field {
        name: "vented",
        of: Type::YesNo,
        about: "a gap open to outside air at top and bottom",
        get: |item| with(item, |m| Value::YesNo(m.vented)),
    },
    Field {
        name: "drained",
        of: Type::YesNo,
        about: "a gap that lets water out at its foot",
        get: |item| with(item, |m| Value::YesNo(m.drained)),
    },
    Field {
        name: "material",
        of: Type::Item(crate::facts::vocabulary::Kind::Material),
        about: "the material itself",
        get: |item| with(item, |m| Value::Item(Item::Material(m))),
    },
    Field {
        name: "gives-permeance",
        of: Type::YesNo,
        about: "its author gave a vapor permeance rather than another measure",
        get: |item| with(item, |m| Value::YesNo(m.vapor.is_some_and(|v| v.unit == VaporUnit::Permeance))),
    },
];

fn with<'a>(item: Item<'a>, value: impl FnOnce(&'a Material) -> Value<'a>) -> Value<'a> {
    item.material().map_or(Value::ABSENT, value)
}

fn quantity<'a>(material: &'a Material, value: Option<Quantity>, property: &'static str) -> Value<'a> {
    value.map_or(Value::missing(material, property), Value::Quantity)
}
