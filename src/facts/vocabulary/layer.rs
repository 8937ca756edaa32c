//! Fields of a layer of an assembly, besides those of its material.

use crate::facts::AssemblyFacts;
use crate::facts::layer::{Known, Lack};
use crate::facts::vapor::{self, AirLayer};
use crate::facts::vocabulary::{Family, Field, Item, Items, Kind, Type, Value, WordSet, field_of};
use crate::quantity::{Dimension, Quantity, base_unit, unit_named};

const LENGTH: Type = Type::Quantity(Dimension::Length);
const PERMEANCE: Type = Type::Quantity(Dimension::Permeance);

pub const FIELDS: &[Field] = &[
    field_of("assembly", Type::Item(Kind::Assembly), "the assembly that it is part of", |i| {
        with(i, |f, _| Value::Item(Item::Assembly(f)))
    }),
    field_of("controls", Type::Words(Family::Control), "what it controls", |i| {
        with(i, |f, n| Value::Words(WordSet::Controls(f.assembly.layers[n].controls())))
    }),
    field_of("thickness", LENGTH, "its thickness here", |i| {
        with(i, |f, n| match f.assembly.layers[n].thickness {
            Some(thickness) => Value::Quantity(thickness),
            None if f.layer_doubtful(n) => Value::ABSENT,
            None => Value::missing(&f.assembly.layers[n].material, "thickness"),
        })
    }),
    field_of("position", Type::Quantity(Dimension::Number), "its position, counted from 0 at the outside", |i| {
        with(i, |_, n| Value::Quantity(Quantity::of(n as f64, base_unit(Dimension::Number))))
    }),
    field_of("sd", LENGTH, "equivalent air layer, dry-cup", |i| air_layer(i, |sd| sd.dry)),
    field_of("sd-wet", LENGTH, "equivalent air layer, wet-cup", |i| air_layer(i, |sd| sd.wet)),
    field_of("permeance", PERMEANCE, "vapor permeance at its thickness, dry-cup", |i| permeance(i, |sd| sd.dry)),
    field_of("permeance-wet", PERMEANCE, "vapor permeance at its thickness, wet-cup", |i| permeance(i, |sd| sd.wet)),
    field_of(
        "vapor-class",
        Type::Word(Family::VaporClass),
        "class by its dry-cup permeance: I, II, III or open",
        |i| {
            with(i, |f, n| match f.class(n) {
                Ok(class) => Value::Word(class),
                Err(lack) => lacking(f, &lack),
            })
        },
    ),
    field_of(
        "resistance",
        Type::Quantity(Dimension::Resistance),
        "thermal resistance, between the frames if there are any",
        |i| {
            with(i, |f, n| match &f.layers[n].resistance {
                Ok(r) => Value::Quantity(Quantity::in_base_unit(*r, Dimension::Resistance)),
                Err(lack) => lacking(f, lack),
            })
        },
    ),
    field_of(
        "labelled-resistance",
        Type::Quantity(Dimension::Resistance),
        "labeled thermal resistance, which code tables count",
        |i| with(i, |f, n| labelled(f, f.layers[n].labelled.clone())),
    ),
    field_of(
        "insulation-outboard",
        Type::Quantity(Dimension::Resistance),
        "labeled resistance of the insulation outboard of it, up to a vented gap",
        |i| with(i, |f, n| labelled(f, f.labelled_outboard(n))),
    ),
    field_of("airtight", Type::YesNo, "it lets no air through, as foam does", |i| {
        with(i, |f, n| Value::YesNo(f.layers[n].airtight))
    }),
    field_of("in-cavity", Type::YesNo, "it insulates between frames, or would if a frame were stated", |i| {
        with(i, |f, n| Value::YesNo(f.is_cavity(n)))
    }),
    field_of("lacks-frame", Type::YesNo, "a fill with no frame stated", |i| {
        with(i, |f, n| Value::YesNo(f.lacks_frame(n)))
    }),
    field_of("insulating", Type::YesNo, "it insulates", |i| with(i, |f, n| Value::YesNo(f.layers[n].insulating))),
    field_of("framed", Type::YesNo, "it lies between frames", |i| {
        with(i, |f, n| Value::YesNo(f.layers[n].frame.is_some()))
    }),
    field_of("interior", Type::YesNo, "on the warm side of the insulation", |i| {
        with(i, |f, n| Value::YesNo(f.inboard().contains(&n)))
    }),
    field_of(
        "sheltered",
        Type::YesNo,
        "inboard of the cladding's vented gap, where outdoor air does not reach it",
        |i| with(i, |f, n| Value::YesNo(n >= f.first_inner())),
    ),
    field_of("outboard", Type::Items(Kind::Layer), "the layers outboard of it, nearest first", |i| {
        with(i, |f, n| Value::Items(Items::Outboard(f, n)))
    }),
    field_of("inboard", Type::Items(Kind::Layer), "the layers inboard of it, nearest first", |i| {
        with(i, |f, n| Value::Items(Items::Inboard(f, n + 1)))
    }),
    field_of("dries-out", PERMEANCE, "wet-cup permeance from it outward, to the outdoors or a vented gap", |i| {
        with(i, |f, n| way(f, f.dries_out(n)))
    }),
    field_of("dries-in", PERMEANCE, "wet-cup permeance from it inward, to the room or a vented gap", |i| {
        with(i, |f, n| way(f, f.dries_in(n)))
    }),
    field_of(
        "drying-months",
        Type::Quantity(Dimension::Number),
        "months until 1 kg/m2 in its middle has dried; 120 when it never dries",
        |i| {
            with(i, |f, n| match f.drying_months(n) {
                Some(months) => Value::Quantity(Quantity::of(f64::from(months), base_unit(Dimension::Number))),
                None => f
                    .lacks
                    .first()
                    .filter(|_| f.assembly.climate.as_ref().is_some_and(|c| c.months.is_some()))
                    .map_or(Value::ABSENT, missing),
            })
        },
    ),
];

fn with<'a>(item: Item<'a>, value: impl FnOnce(&'a AssemblyFacts, usize) -> Value<'a>) -> Value<'a> {
    match item {
        Item::Layer(facts, layer) => value(facts, layer),
        _ => Value::ABSENT,
    }
}

/// What a number would need, unless what its layer says of it was told to be unreadable.
pub fn missing(lack: &Lack) -> Value<'_> {
    if lack.told { Value::ABSENT } else { Value::missing(&lack.material, lack.property) }
}

/// The same lack, told of the material where it lives on in the facts.
pub fn lacking<'a>(facts: &'a AssemblyFacts, lack: &Lack) -> Value<'a> {
    let same = facts
        .assembly
        .layers
        .iter()
        .flat_map(|l| [Some(&l.material), l.between.as_ref().map(|f| &f.material)].into_iter().flatten());
    same.into_iter()
        .find(|material| material.name == lack.material.name && !lack.told)
        .map_or(Value::ABSENT, |material| Value::missing(material, lack.property))
}

fn air_layer<'a>(item: Item<'a>, cup: fn(&AirLayer) -> f64) -> Value<'a> {
    with(item, |f, n| match &f.layers[n].sd {
        Ok(sd) => Value::Quantity(Quantity::in_base_unit(cup(sd), Dimension::Length)),
        Err(lack) => lacking(f, lack),
    })
}

fn labelled(facts: &AssemblyFacts, resistance: Known<f64>) -> Value<'_> {
    match resistance {
        Ok(r) => Value::Quantity(Quantity::from_si(r, unit_named("R").expect("in the table"))),
        Err(lack) => lacking(facts, &lack),
    }
}

fn permeance<'a>(item: Item<'a>, cup: fn(&AirLayer) -> f64) -> Value<'a> {
    with(item, |f, n| match &f.layers[n].sd {
        Ok(sd) => Value::Quantity(vapor::shown(vapor::permeance(cup(sd)), &f.assembly.layers[n].material)),
        Err(lack) => lacking(f, lack),
    })
}

fn way(facts: &AssemblyFacts, permeance: Known<f64>) -> Value<'_> {
    match permeance {
        Ok(permeance) => Value::Quantity(Quantity::in_base_unit(permeance, Dimension::Permeance)),
        Err(lack) => lacking(facts, &lack),
    }
}
