//! Fields of an assembly.

use crate::facts::AssemblyFacts;
use crate::facts::layer::Known;
use crate::facts::section::{Retained, YearFacts};
use crate::facts::vapor;
use crate::facts::vocabulary::layer::{lacking, missing};
use crate::facts::vocabulary::{ABSENT, Fact, FactList, Family, Field, FieldResult, Kind, WordSet};
use crate::model::Control;
use crate::quantity::{Dimension, Quantity, base_unit, unit_named};

const MASS: Dimension = Dimension::MassPerArea;
const NUMBER: Dimension = Dimension::Number;
const RESISTANCE: Dimension = Dimension::Resistance;

pub const FIELDS: &[Field] = &[
    Field::word("kind", Family::AssemblyKind, "wall, roof, floor, foundation, existing, ground, opening", |i| {
        with(i, |f| Ok(f.assembly.kind.word()))
    }),
    Field::text("title", "its title", |i| with(i, |f| f.assembly.title.as_deref().ok_or(ABSENT))),
    Field::facts("layers", Kind::Layer, "its layers, outside first", |i| with(i, |f| Ok(FactList::Inboard(f, 0)))),
    Field::yes_no("has-climate", "it names a climate", |i| with(i, |f| Ok(f.assembly.climate.is_some()))),
    Field::yes_no("has-year", "its climate gives twelve months and an indoor climate, and every value is known", |i| {
        with(i, |f| Ok(years(f).next().is_some()))
    }),
    Field::text("room", "temperature and humidity indoors, as its climate states them", |i| {
        with(i, |f| f.room.as_deref().ok_or(ABSENT))
    }),
    Field::text("climate", "the name of its climate", |i| {
        with(i, |f| f.assembly.climate.as_ref().map_or(Err(ABSENT), |climate| Ok(&*climate.name)))
    }),
    Field::quantity(
        "indoor-pressure",
        Dimension::Pressure,
        "vapor pressure indoors, where its climate fixes it",
        |i| {
            with(i, |f| f.indoor_pressure().map_or(Err(ABSENT), |p| Ok(Quantity::in_base_unit(p, Dimension::Pressure))))
        },
    ),
    Field::word("zone", Family::Open, "climate zone, such as 4A", |i| with(i, |f| zone(f).ok_or(ABSENT))),
    Field::quantity("zone-number", NUMBER, "the number of the climate zone", |i| {
        with(i, |f| {
            let digits = zone(f).map(|z| z.trim_end_matches(|c: char| !c.is_ascii_digit()));
            digits.and_then(|d| d.parse().ok()).map_or(Err(ABSENT), number)
        })
    }),
    Field::yes_no("marine", "a marine zone (C)", |i| {
        with(i, |f| zone(f).map_or(Err(ABSENT), |z| Ok(z.ends_with('C'))))
    }),
    Field::quantity("r-value", RESISTANCE, "thermal resistance, air to air, frames included", |i| {
        with(i, |f| match &f.thermal {
            Ok(Some(r)) => Ok(Quantity::in_base_unit(r.mean, Dimension::Resistance)),
            Ok(None) => Err(ABSENT),
            Err(lack) => missing(lack),
        })
    }),
    Field::yes_no("insulated", "some layer insulates", |i| with(i, |f| Ok(f.insulated()))),
    Field::quantity("slope", Dimension::Slope, "its slope, where it states one", |i| {
        with(i, |f| f.assembly.slope.map_or(Err(ABSENT), |slope| Ok(slope.value)))
    }),
    Field::yes_no("framed", "some layer lies between frames", |i| {
        with(i, |f| Ok(f.layers.iter().any(|l| l.frame.is_some())))
    }),
    Field::yes_no(
        "cavity",
        "insulation fills its cavities: between frames, or a fill that no frame is stated for",
        |i| with(i, |f| Ok((0..f.layers.len()).any(|layer| f.is_cavity(layer)))),
    ),
    Field::yes_no("metal-framed", "some layer lies between metal frames", |i| {
        with(i, |f| Ok(f.layers.iter().any(|l| l.frame.as_ref().is_some_and(|frame| frame.metal))))
    }),
    Field::quantity(
        "continuous-insulation",
        RESISTANCE,
        "labeled resistance of what keeps the sheathing warm: insulation outboard of the cavities, and foam in them against the sheathing",
        |i| {
            with(i, |f| match f.continuous_insulation() {
                Ok(r) => Ok(Quantity::from_si(r, unit_named("R").expect("in the table"))),
                Err(lack) => lacking(f, &lack),
            })
        },
    ),
    Field::quantity("frame-depth", Dimension::Length, "depth of the cavities", |i| {
        with(i, |f| f.frame_depth().map_or(Err(ABSENT), |d| Ok(Quantity::from_si(d, f.length_unit))))
    }),
    Field::fact("retarder", Kind::Layer, "the tightest layer on the warm side of the insulation", |i| {
        with(i, |f| layer_of(f, f.tightest(f.inboard())))
    }),
    Field::word("retarder-class", Family::VaporClass, "its class: I, II, III or open", |i| {
        with(i, |f| class_of(f, f.tightest(f.inboard())))
    }),
    Field::yes_no("responsive", "the retarder is class I or II dry and over 1 perm wet", |i| {
        with(i, |f| match f.tightest(f.inboard()) {
            Some(Ok(layer)) => match (&f.layers[layer].sd, f.class(layer)) {
                (Ok(sd), Ok(class)) => Ok(matches!(class, "I" | "II") && vapor::over_one_perm(sd.wet)),
                (Err(lack), _) => lacking(f, lack),
                (_, Err(lack)) => lacking(f, &lack),
            },
            Some(Err(lack)) => lacking(f, &lack),
            None => Err(ABSENT),
        })
    }),
    Field::fact("outer", Kind::Layer, "the tightest layer on the cold side of the insulation", |i| {
        with(i, |f| layer_of(f, f.tightest(f.outboard())))
    }),
    Field::word("outer-class", Family::VaporClass, "its class: I, II, III or open", |i| {
        with(i, |f| class_of(f, f.tightest(f.outboard())))
    }),
    Field::yes_no(
        "vented-cladding",
        "a vented gap behind the cladding, the air space of a veneer, or vinyl siding",
        |i| with(i, |f| Ok(f.vented_cladding())),
    ),
    Field::fact("sheathing", Kind::Layer, "the board that sheathes the frame", |i| {
        with(i, |f| f.sheathing().map_or(Err(ABSENT), |n| Ok(Fact::Layer(f, n))))
    }),
    Field::words("undeclared", Family::Control, "controls that its kind needs and no layer provides", |i| {
        with(i, |f| Ok(WordSet::Controls(f.undeclared())))
    }),
    Field::yes_no("water-declared", "some layer controls water", |i| declares(i, Control::Water)),
    Field::yes_no("air-declared", "some layer controls air", |i| declares(i, Control::Air)),
    Field::yes_no("vapor-declared", "some layer controls vapor", |i| declares(i, Control::Vapor)),
    Field::yes_no("thermal-declared", "some layer controls thermal", |i| declares(i, Control::Thermal)),
    Field::quantity(
        "condensation-peak",
        MASS,
        "the most water held at the end of a month, besides what runs off in a drained gap",
        |i| year(i, |y| y.retained.peak),
    ),
    Field::quantity("condensation-residue", MASS, "of that, water left after twelve months", |i| {
        year(i, |y| y.retained.residue)
    }),
    Field::quantity("f-rsi", NUMBER, "temperature factor of the inner surface", |i| least(i, |y| y.surface.reached)),
    Field::quantity("f-rsi-needed", NUMBER, "temperature factor that the worst month needs", |i| {
        with(i, |f| worst(f, |y| y.surface.needed).map_or_else(|| unknown(f), number))
    }),
    Field::quantity(
        "design-condensate",
        MASS,
        "water that the design condition leaves, besides what runs off in a drained gap",
        |i| design(i, |retained| retained.peak),
    ),
    Field::quantity("design-residue", MASS, "of that, water left after the drying period", |i| {
        design(i, |retained| retained.residue)
    }),
];

fn with<'a, T>(item: Fact<'a>, value: impl FnOnce(&'a AssemblyFacts) -> FieldResult<'a, T>) -> FieldResult<'a, T> {
    match item {
        Fact::Assembly(facts) => value(facts),
        _ => Err(ABSENT),
    }
}

fn declares(item: Fact<'_>, control: Control) -> FieldResult<'_, bool> {
    with(item, |f| Ok(f.declares(control)))
}

fn zone(facts: &AssemblyFacts) -> Option<&str> {
    facts.assembly.climate.as_ref()?.zone.as_deref()
}

fn years(facts: &AssemblyFacts) -> impl Iterator<Item = &YearFacts> {
    facts.sections().iter().filter_map(|s| s.year.as_ref())
}

/// The worst section decides.
fn worst(facts: &AssemblyFacts, of: fn(&YearFacts) -> f64) -> Option<f64> {
    years(facts).map(of).max_by(f64::total_cmp)
}

fn year(item: Fact<'_>, of: fn(&YearFacts) -> f64) -> FieldResult<'_, Quantity> {
    with(item, |f| match worst(f, of) {
        Some(mass) => Ok(Quantity::in_base_unit(mass, Dimension::MassPerArea)),
        None => unknown(f),
    })
}

fn least(item: Fact<'_>, of: fn(&YearFacts) -> f64) -> FieldResult<'_, Quantity> {
    with(item, |f| years(f).map(of).min_by(f64::total_cmp).map_or_else(|| unknown(f), number))
}

fn design<'a>(item: Fact<'a>, of: fn(Retained) -> f64) -> FieldResult<'a, Quantity> {
    with(item, |f| match f.sections().iter().filter_map(|s| s.design_retained).map(of).max_by(f64::total_cmp) {
        Some(mass) => Ok(Quantity::in_base_unit(mass, Dimension::MassPerArea)),
        None if f.assembly.climate.as_ref().is_some_and(|c| c.design.is_some()) => unknown(f),
        None => Err(ABSENT),
    })
}

/// Why there is no number: with a climate, a property is missing; without one, nothing was computed.
fn unknown<T>(facts: &AssemblyFacts) -> FieldResult<'_, T> {
    match facts.lacks.first() {
        Some(lack) if facts.assembly.climate.is_some() => missing(lack),
        _ => Err(ABSENT),
    }
}

fn number<'a>(value: f64) -> FieldResult<'a, Quantity> {
    Ok(Quantity::of(value, base_unit(Dimension::Number)))
}

fn layer_of(facts: &AssemblyFacts, layer: Option<Known<usize>>) -> FieldResult<'_, Fact<'_>> {
    match layer {
        Some(Ok(layer)) => Ok(Fact::Layer(facts, layer)),
        Some(Err(lack)) => lacking(facts, &lack),
        None => Err(ABSENT),
    }
}

fn class_of(facts: &AssemblyFacts, layer: Option<Known<usize>>) -> FieldResult<'_, &str> {
    match layer {
        Some(Ok(layer)) => match facts.class(layer) {
            Ok(class) => Ok(class),
            Err(lack) => lacking(facts, &lack),
        },
        Some(Err(lack)) => lacking(facts, &lack),
        // With no layer on that side, nothing retards vapor there.
        None if facts.insulated() => Ok("open"),
        None => Err(ABSENT),
    }
}
