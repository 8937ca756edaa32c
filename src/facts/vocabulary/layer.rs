//! Fields of a layer of an assembly, besides those of its material.

use crate::facts::AssemblyFacts;
use crate::facts::layer::{Known, Lack};
use crate::facts::vapor::{self, AirLayer};
use crate::facts::vocabulary::{ABSENT, Fact, FactList, Family, Field, FieldResult, Kind, WordSet, unstated};
use crate::model::Control;
use crate::quantity::{Dimension, Quantity, base_unit, unit_named};

const LENGTH: Dimension = Dimension::Length;
const PERMEANCE: Dimension = Dimension::Permeance;

pub const FIELDS: &[Field] = &[
    Field::fact("assembly", Kind::Assembly, "the assembly that it is part of", |i| {
        with(i, |f, _| Ok(Fact::Assembly(f)))
    }),
    Field::words("controls", Family::Control, "what it controls", |i| {
        with(i, |f, n| Ok(WordSet::Controls(f.assembly.layers[n].controls())))
    }),
    Field::quantity("thickness", LENGTH, "its thickness here", |i| {
        with(i, |f, n| match f.assembly.layers[n].thickness {
            Some(thickness) => Ok(thickness),
            None if f.layer_doubtful(n) => Err(ABSENT),
            None => unstated(&f.assembly.layers[n].material, "thickness"),
        })
    }),
    Field::quantity("position", Dimension::Number, "its position, counted from 0 at the outside", |i| {
        with(i, |_, n| Ok(Quantity::of(n as f64, base_unit(Dimension::Number))))
    }),
    Field::quantity("sd", LENGTH, "equivalent air layer, dry-cup", |i| air_layer(i, |sd| sd.dry)),
    Field::quantity("sd-wet", LENGTH, "equivalent air layer, wet-cup", |i| air_layer(i, |sd| sd.wet)),
    Field::quantity("permeance", PERMEANCE, "vapor permeance at its thickness, dry-cup", |i| permeance(i, |sd| sd.dry)),
    Field::quantity(
        "claimed-permeance",
        PERMEANCE,
        "the same, of a layer that is to control vapor; unknown of others",
        |i| {
            with(i, |f, n| claims(f, n, Control::Vapor))?;
            permeance(i, |sd| sd.dry)
        },
    ),
    Field::quantity(
        "claimed-air-permeance",
        Dimension::AirFlow,
        "air leakage of its material at 75 Pa, if it is to control air; unknown of others",
        |i| {
            with(i, |f, n| {
                claims(f, n, Control::Air)?;
                f.assembly.layers[n].material.air_permeance.ok_or(ABSENT)
            })
        },
    ),
    Field::quantity("permeance-wet", PERMEANCE, "vapor permeance at its thickness, wet-cup", |i| {
        permeance(i, |sd| sd.wet)
    }),
    Field::word("vapor-class", Family::VaporClass, "class by its dry-cup permeance: I, II, III or open", |i| {
        with(i, |f, n| match f.class(n) {
            Ok(class) => Ok(class),
            Err(lack) => lacking(f, &lack),
        })
    }),
    Field::quantity(
        "resistance",
        Dimension::Resistance,
        "thermal resistance, between the frames if there are any",
        |i| {
            with(i, |f, n| match &f.layers[n].resistance {
                Ok(r) => Ok(Quantity::in_base_unit(*r, Dimension::Resistance)),
                Err(lack) => lacking(f, lack),
            })
        },
    ),
    Field::quantity(
        "labelled-resistance",
        Dimension::Resistance,
        "labeled thermal resistance, which code tables count",
        |i| with(i, |f, n| labeled(f, f.layers[n].labeled.clone())),
    ),
    Field::quantity(
        "insulation-outboard",
        Dimension::Resistance,
        "labeled resistance of the insulation outboard of it, up to a vented gap",
        |i| with(i, |f, n| labeled(f, f.labeled_outboard(n))),
    ),
    Field::yes_no("airtight", "it lets no air through, as foam does", |i| with(i, |f, n| Ok(f.layers[n].airtight))),
    Field::yes_no("in-cavity", "it insulates between frames, or would if a frame were stated", |i| {
        with(i, |f, n| Ok(f.is_cavity(n)))
    }),
    Field::yes_no("lacks-frame", "a fill with no frame stated", |i| with(i, |f, n| Ok(f.lacks_frame(n)))),
    Field::yes_no("insulating", "it insulates", |i| with(i, |f, n| Ok(f.layers[n].insulating))),
    Field::yes_no("framed", "it lies between frames", |i| with(i, |f, n| Ok(f.layers[n].frame.is_some()))),
    Field::yes_no("interior", "on the warm side of the insulation", |i| with(i, |f, n| Ok(f.inboard().contains(&n)))),
    Field::yes_no("sheltered", "inboard of the cladding's vented gap, where outdoor air does not reach it", |i| {
        with(i, |f, n| Ok(n >= f.first_inner()))
    }),
    Field::facts("outboard", Kind::Layer, "the layers outboard of it, nearest first", |i| {
        with(i, |f, n| Ok(FactList::Outboard(f, n)))
    }),
    Field::facts("inboard", Kind::Layer, "the layers inboard of it, nearest first", |i| {
        with(i, |f, n| Ok(FactList::Inboard(f, n + 1)))
    }),
    Field::quantity(
        "dries-out",
        PERMEANCE,
        "wet-cup permeance from it outward, to the outdoors or a vented gap",
        |i| with(i, |f, n| way(f, f.dries_out(n))),
    ),
    Field::quantity("dries-in", PERMEANCE, "wet-cup permeance from it inward, to the room or a vented gap", |i| {
        with(i, |f, n| way(f, f.dries_in(n)))
    }),
    Field::quantity(
        "drying-months",
        Dimension::Number,
        "months until 1 kg/m2 in its middle has dried; 120 when it never dries",
        |i| {
            with(i, |f, n| match f.drying_months(n) {
                Some(months) => Ok(Quantity::of(f64::from(months), base_unit(Dimension::Number))),
                None => f
                    .lacks
                    .first()
                    .filter(|_| f.assembly.climate.as_ref().is_some_and(|c| c.months.is_some()))
                    .map_or(Err(ABSENT), missing),
            })
        },
    ),
];

fn with<'a, T>(
    item: Fact<'a>,
    value: impl FnOnce(&'a AssemblyFacts, usize) -> FieldResult<'a, T>,
) -> FieldResult<'a, T> {
    match item {
        Fact::Layer(facts, layer) => value(facts, layer),
        _ => Err(ABSENT),
    }
}

/// The missing property of a number, unless its layer has a clause that was reported as unreadable.
pub fn missing<T>(lack: &Lack) -> FieldResult<'_, T> {
    if lack.reported { Err(ABSENT) } else { unstated(&lack.material, lack.property) }
}

/// The same, with the material as the facts hold it.
pub fn lacking<'a, T>(facts: &'a AssemblyFacts, lack: &Lack) -> FieldResult<'a, T> {
    let same = facts
        .assembly
        .layers
        .iter()
        .flat_map(|l| [Some(&l.material), l.between.as_ref().map(|f| &f.material)].into_iter().flatten());
    same.into_iter()
        .find(|material| material.name == lack.material.name && !lack.reported)
        .map_or(Err(ABSENT), |material| unstated(material, lack.property))
}

fn air_layer<'a>(item: Fact<'a>, cup: fn(&AirLayer) -> f64) -> FieldResult<'a, Quantity> {
    with(item, |f, n| match &f.layers[n].sd {
        Ok(sd) => Ok(Quantity::in_base_unit(cup(sd), Dimension::Length)),
        Err(lack) => lacking(f, lack),
    })
}

fn labeled(facts: &AssemblyFacts, resistance: Known<f64>) -> FieldResult<'_, Quantity> {
    match resistance {
        Ok(r) => Ok(Quantity::from_si(r, unit_named("R").expect("in the table"))),
        Err(lack) => lacking(facts, &lack),
    }
}

/// Known only where the layer has to provide the control.
fn claims(facts: &AssemblyFacts, layer: usize, control: Control) -> FieldResult<'_, ()> {
    if facts.assembly.layers[layer].controls().has(control) { Ok(()) } else { Err(ABSENT) }
}

fn permeance<'a>(item: Fact<'a>, cup: fn(&AirLayer) -> f64) -> FieldResult<'a, Quantity> {
    with(item, |f, n| match &f.layers[n].sd {
        Ok(sd) => Ok(vapor::shown(vapor::permeance(cup(sd)), &f.assembly.layers[n].material)),
        Err(lack) => lacking(f, lack),
    })
}

fn way(facts: &AssemblyFacts, permeance: Known<f64>) -> FieldResult<'_, Quantity> {
    match permeance {
        Ok(permeance) => Ok(Quantity::in_base_unit(permeance, Dimension::Permeance)),
        Err(lack) => lacking(facts, &lack),
    }
}
