//! Fields of a material; a piece and a layer have them too.

use crate::facts::vapor;
use crate::facts::vocabulary::{ABSENT, Fact, Family, Field, FieldResult, Kind, WordSet, unstated};
use crate::model::Material;
use crate::quantity::{Dimension, Quantity};

pub const FIELDS: &[Field] = &[
    Field::word("named", Family::Open, "the name of the material", |item| with(item, |m| Ok(&*m.name))),
    Field::word("kind", Family::MaterialKind, "what the material is: sheet, tape, flashing, …", |item| {
        with(item, |m| m.kind.map_or(Err(ABSENT), |k| Ok(k.word())))
    }),
    Field::words("holds", Family::Control, "the controls that the material can provide", |item| {
        with(item, |m| Ok(WordSet::Controls(m.holds)))
    }),
    Field::yes_no("sensitive", "damaged by moisture", |item| with(item, |m| Ok(m.sensitive))),
    Field::word("surface", Family::Surface, "the surface that a bond meets", |item| {
        with(item, |m| m.surface.as_ref().map_or(unstated(m, "surface"), |s| Ok(&**s)))
    }),
    Field::word(
        "made-of",
        Family::Substance,
        "the substance that adjacent metals and woods react with; unknown when not stated",
        |item| with(item, |m| m.made_of.as_deref().ok_or(ABSENT)),
    ),
    Field::word("adhesive", Family::Adhesive, "its adhesive", |item| {
        with(item, |m| m.adhesive.as_ref().map_or(unstated(m, "adhesive"), |s| Ok(&**s)))
    }),
    Field::quantity(
        "applies-above",
        Dimension::Temperature,
        "lowest air temperature at which it may be applied",
        |item| with(item, |m| quantity(m, m.applies_above, "applies-above")),
    ),
    Field::quantity("uv-limit", Dimension::Duration, "days that it can stay uncovered", |item| {
        with(item, |m| quantity(m, m.uv_limit, "uv-limit"))
    }),
    Field::quantity("thickness", Dimension::Length, "thickness of the material as it is sold", |item| {
        with(item, |m| quantity(m, m.thickness, "thickness"))
    }),
    Field::quantity("conductivity", Dimension::Conductivity, "thermal conductivity", |item| {
        with(item, |m| quantity(m, m.conductivity, "conductivity"))
    }),
    Field::quantity("density", Dimension::Density, "density", |item| with(item, |m| quantity(m, m.density, "density"))),
    Field::quantity("air-permeance", Dimension::AirFlow, "air leakage through it at 75 Pa", |item| {
        with(item, |m| quantity(m, m.air_permeance, "air-permeance"))
    }),
    Field::yes_no("double-sided", "both of its faces are adhesive", |item| with(item, |m| Ok(m.double_sided))),
    Field::quantity(
        "labelled-r",
        Dimension::Resistance,
        "labeled thermal resistance at the thickness in which it is sold",
        |item| with(item, |m| m.labeled(None).ok_or(ABSENT)),
    ),
    Field::yes_no("capped", "a fastener with a cap", |item| with(item, |m| Ok(m.capped))),
    Field::yes_no("vented", "a gap open to outside air at top and bottom", |item| with(item, |m| Ok(m.vented))),
    Field::yes_no("drained", "a gap that drains at its foot", |item| with(item, |m| Ok(m.drained))),
    Field::fact("material", Kind::Material, "the material itself", |item| with(item, |m| Ok(Fact::Material(m)))),
    Field::quantity("permeance", Dimension::Permeance, "vapor permeance as it is sold, dry-cup", |item| {
        with(item, |m| permeance(m, |sd| sd.dry))
    }),
    Field::quantity("permeance-wet", Dimension::Permeance, "vapor permeance as it is sold, wet-cup", |item| {
        with(item, |m| permeance(m, |sd| sd.wet))
    }),
    Field::word(
        "vapor-class",
        Family::VaporClass,
        "vapor retarder class by dry-cup permeance: I, II, III or open",
        |item| {
            with(item, |m| match sold(m) {
                Ok(sd) => Ok(vapor::class(vapor::permeance(sd.dry))),
                Err(property) => unstated(m, property),
            })
        },
    ),
];

fn with<'a, T>(item: Fact<'a>, value: impl FnOnce(&'a Material) -> FieldResult<'a, T>) -> FieldResult<'a, T> {
    item.material().map_or(Err(ABSENT), value)
}

fn quantity<'a>(material: &'a Material, value: Option<Quantity>, property: &'static str) -> FieldResult<'a, Quantity> {
    value.map_or(unstated(material, property), Ok)
}

/// sd of the material at the thickness in which it is sold.
fn sold(material: &Material) -> Result<vapor::AirLayer, &'static str> {
    vapor::air_layer(material, material.thickness.map(|t| t.si))
}

fn permeance<'a>(material: &'a Material, cup: fn(vapor::AirLayer) -> f64) -> FieldResult<'a, Quantity> {
    match sold(material) {
        Ok(sd) => Ok(vapor::shown(vapor::permeance(cup(sd)), material)),
        Err(property) => unstated(material, property),
    }
}
