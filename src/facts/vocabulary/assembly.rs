//! Fields of an assembly.

use crate::facts::AssemblyFacts;
use crate::facts::layer::Known;
use crate::facts::section::{Kept, YearFacts};
use crate::facts::vapor;
use crate::facts::vocabulary::layer::{lacking, missing};
use crate::facts::vocabulary::{Family, Field, Item, Items, Kind, Type, Value, WordSet, field_of};
use crate::model::Control;
use crate::quantity::{Dimension, Quantity, base_unit, unit_named};

const MASS: Type = Type::Quantity(Dimension::MassPerArea);
const NUMBER: Type = Type::Quantity(Dimension::Number);
const RESISTANCE: Type = Type::Quantity(Dimension::Resistance);

pub const FIELDS: &[Field] = &[
    field_of(
        "kind",
        Type::Word(Family::AssemblyKind),
        "wall, roof, floor, foundation, existing, ground, opening",
        |i| with(i, |f| Value::Word(f.assembly.kind.word())),
    ),
    field_of("title", Type::Text, "its title", |i| {
        with(i, |f| f.assembly.title.as_deref().map_or(Value::ABSENT, Value::Text))
    }),
    field_of("layers", Type::Items(Kind::Layer), "its layers, outside first", |i| {
        with(i, |f| Value::Items(Items::Inboard(f, 0)))
    }),
    field_of("has-climate", Type::YesNo, "it names a climate", |i| {
        with(i, |f| Value::YesNo(f.assembly.climate.is_some()))
    }),
    field_of(
        "has-year",
        Type::YesNo,
        "its climate gives twelve months and an indoor climate, and every value is known",
        |i| with(i, |f| Value::YesNo(years(f).next().is_some())),
    ),
    field_of("room", Type::Text, "temperature and humidity indoors, as its climate states them", |i| {
        with(i, |f| f.room.as_deref().map_or(Value::ABSENT, Value::Text))
    }),
    field_of("climate", Type::Text, "the name of its climate", |i| {
        with(i, |f| f.assembly.climate.as_ref().map_or(Value::ABSENT, |climate| Value::Text(&climate.name)))
    }),
    field_of(
        "indoor-pressure",
        Type::Quantity(Dimension::Pressure),
        "vapor pressure indoors, where its climate fixes it",
        |i| {
            with(i, |f| {
                f.indoor_pressure()
                    .map_or(Value::ABSENT, |p| Value::Quantity(Quantity::in_base_unit(p, Dimension::Pressure)))
            })
        },
    ),
    field_of("zone", Type::Word(Family::Open), "climate zone, such as 4A", |i| {
        with(i, |f| zone(f).map_or(Value::ABSENT, Value::Word))
    }),
    field_of("zone-number", NUMBER, "the number of the climate zone", |i| {
        with(i, |f| {
            let digits = zone(f).map(|z| z.trim_end_matches(|c: char| !c.is_ascii_digit()));
            digits.and_then(|d| d.parse().ok()).map_or(Value::ABSENT, number)
        })
    }),
    field_of("marine", Type::YesNo, "a marine zone (C)", |i| {
        with(i, |f| zone(f).map_or(Value::ABSENT, |z| Value::YesNo(z.ends_with('C'))))
    }),
    field_of("r-value", RESISTANCE, "thermal resistance, air to air, frames included", |i| {
        with(i, |f| match &f.thermal {
            Ok(Some(r)) => Value::Quantity(Quantity::in_base_unit(r.mean, Dimension::Resistance)),
            Ok(None) => Value::ABSENT,
            Err(lack) => missing(lack),
        })
    }),
    field_of("insulated", Type::YesNo, "some layer insulates", |i| with(i, |f| Value::YesNo(f.insulated()))),
    field_of("slope", Type::Quantity(Dimension::Slope), "its slope, where it states one", |i| {
        with(i, |f| f.assembly.slope.map_or(Value::ABSENT, |slope| Value::Quantity(slope.value)))
    }),
    field_of("framed", Type::YesNo, "some layer lies between frames", |i| {
        with(i, |f| Value::YesNo(f.layers.iter().any(|l| l.frame.is_some())))
    }),
    field_of(
        "cavity",
        Type::YesNo,
        "insulation fills its cavities: between frames, or a fill that no frame is stated for",
        |i| with(i, |f| Value::YesNo((0..f.layers.len()).any(|layer| f.is_cavity(layer)))),
    ),
    field_of("metal-framed", Type::YesNo, "some layer lies between metal frames", |i| {
        with(i, |f| Value::YesNo(f.layers.iter().any(|l| l.frame.as_ref().is_some_and(|frame| frame.metal))))
    }),
    field_of(
        "continuous-insulation",
        RESISTANCE,
        "labeled resistance of what keeps the sheathing warm: insulation outboard of the cavities, and foam in them against the sheathing",
        |i| {
            with(i, |f| match f.continuous_insulation() {
                Ok(r) => Value::Quantity(Quantity::from_si(r, unit_named("R").expect("in the table"))),
                Err(lack) => lacking(f, &lack),
            })
        },
    ),
    field_of("frame-depth", Type::Quantity(Dimension::Length), "depth of the cavities", |i| {
        with(i, |f| f.frame_depth().map_or(Value::ABSENT, |d| Value::Quantity(Quantity::from_si(d, f.length_unit))))
    }),
    field_of("retarder", Type::Item(Kind::Layer), "the tightest layer on the warm side of the insulation", |i| {
        with(i, |f| layer_of(f, f.tightest(f.inboard())))
    }),
    field_of("retarder-class", Type::Word(Family::VaporClass), "its class: I, II, III or open", |i| {
        with(i, |f| class_of(f, f.tightest(f.inboard())))
    }),
    field_of("responsive", Type::YesNo, "the retarder is class I or II dry and over 1 perm wet", |i| {
        with(i, |f| match f.tightest(f.inboard()) {
            Some(Ok(layer)) => match (&f.layers[layer].sd, f.class(layer)) {
                (Ok(sd), Ok(class)) => Value::YesNo(matches!(class, "I" | "II") && vapor::over_one_perm(sd.wet)),
                (Err(lack), _) => lacking(f, lack),
                (_, Err(lack)) => lacking(f, &lack),
            },
            Some(Err(lack)) => lacking(f, &lack),
            None => Value::ABSENT,
        })
    }),
    field_of("outer", Type::Item(Kind::Layer), "the tightest layer on the cold side of the insulation", |i| {
        with(i, |f| layer_of(f, f.tightest(f.outboard())))
    }),
    field_of("outer-class", Type::Word(Family::VaporClass), "its class: I, II, III or open", |i| {
        with(i, |f| class_of(f, f.tightest(f.outboard())))
    }),
    field_of(
        "vented-cladding",
        Type::YesNo,
        "a vented gap behind the cladding, the air space of a veneer, or vinyl siding",
        |i| with(i, |f| Value::YesNo(f.vented_cladding())),
    ),
    field_of("sheathing", Type::Item(Kind::Layer), "the board that sheathes the frame", |i| {
        with(i, |f| f.sheathing().map_or(Value::ABSENT, |n| Value::Item(Item::Layer(f, n))))
    }),
    field_of("undeclared", Type::Words(Family::Control), "controls that its kind needs and no layer provides", |i| {
        with(i, |f| Value::Words(WordSet::Controls(f.undeclared())))
    }),
    field_of("water-declared", Type::YesNo, "some layer controls water", |i| declares(i, Control::Water)),
    field_of("air-declared", Type::YesNo, "some layer controls air", |i| declares(i, Control::Air)),
    field_of("vapor-declared", Type::YesNo, "some layer controls vapor", |i| declares(i, Control::Vapor)),
    field_of("thermal-declared", Type::YesNo, "some layer controls thermal", |i| declares(i, Control::Thermal)),
    field_of(
        "condensation-peak",
        MASS,
        "the most water held at the end of a month, besides what runs off in a drained gap",
        |i| year(i, |y| y.kept.peak),
    ),
    field_of("condensation-residue", MASS, "of that, water left after twelve months", |i| year(i, |y| y.kept.residue)),
    field_of("f-rsi", NUMBER, "temperature factor of the inner surface", |i| least(i, |y| y.surface.reached)),
    field_of("f-rsi-needed", NUMBER, "temperature factor that the worst month needs", |i| {
        with(i, |f| worst(f, |y| y.surface.needed).map_or_else(|| unknown(f), number))
    }),
    field_of(
        "design-condensate",
        MASS,
        "water that the design condition leaves, besides what runs off in a drained gap",
        |i| design(i, |kept| kept.peak),
    ),
    field_of("design-residue", MASS, "of that, water left after the drying period", |i| design(i, |kept| kept.residue)),
];

fn with<'a>(item: Item<'a>, value: impl FnOnce(&'a AssemblyFacts) -> Value<'a>) -> Value<'a> {
    match item {
        Item::Assembly(facts) => value(facts),
        _ => Value::ABSENT,
    }
}

fn declares(item: Item<'_>, control: Control) -> Value<'_> {
    with(item, |f| Value::YesNo(f.declares(control)))
}

fn zone(facts: &AssemblyFacts) -> Option<&str> {
    facts.assembly.climate.as_ref()?.zone.as_deref()
}

fn years(facts: &AssemblyFacts) -> impl Iterator<Item = &YearFacts> {
    facts.sections.iter().filter_map(|s| s.year.as_ref())
}

/// The worst section decides.
fn worst(facts: &AssemblyFacts, of: fn(&YearFacts) -> f64) -> Option<f64> {
    years(facts).map(of).max_by(f64::total_cmp)
}

fn year(item: Item<'_>, of: fn(&YearFacts) -> f64) -> Value<'_> {
    with(item, |f| match worst(f, of) {
        Some(mass) => Value::Quantity(Quantity::in_base_unit(mass, Dimension::MassPerArea)),
        None => unknown(f),
    })
}

fn least(item: Item<'_>, of: fn(&YearFacts) -> f64) -> Value<'_> {
    with(item, |f| years(f).map(of).min_by(f64::total_cmp).map_or_else(|| unknown(f), number))
}

fn design<'a>(item: Item<'a>, of: fn(Kept) -> f64) -> Value<'a> {
    with(item, |f| match f.sections.iter().filter_map(|s| s.design_kept).map(of).max_by(f64::total_cmp) {
        Some(mass) => Value::Quantity(Quantity::in_base_unit(mass, Dimension::MassPerArea)),
        None if f.assembly.climate.as_ref().is_some_and(|c| c.design.is_some()) => unknown(f),
        None => Value::ABSENT,
    })
}

/// No number: a property is missing if there is a climate; otherwise none was needed.
fn unknown(facts: &AssemblyFacts) -> Value<'_> {
    match facts.lacks.first() {
        Some(lack) if facts.assembly.climate.is_some() => missing(lack),
        _ => Value::ABSENT,
    }
}

fn number<'a>(value: f64) -> Value<'a> {
    Value::Quantity(Quantity::of(value, base_unit(Dimension::Number)))
}

fn layer_of(facts: &AssemblyFacts, layer: Option<Known<usize>>) -> Value<'_> {
    match layer {
        Some(Ok(layer)) => Value::Item(Item::Layer(facts, layer)),
        Some(Err(lack)) => lacking(facts, &lack),
        None => Value::ABSENT,
    }
}

fn class_of(facts: &AssemblyFacts, layer: Option<Known<usize>>) -> Value<'_> {
    match layer {
        Some(Ok(layer)) => match facts.class(layer) {
            Ok(class) => Value::Word(class),
            Err(lack) => lacking(facts, &lack),
        },
        Some(Err(lack)) => lacking(facts, &lack),
        // Nothing at all on that side is as open as can be.
        None if facts.insulated() => Value::Word("open"),
        None => Value::ABSENT,
    }
}
