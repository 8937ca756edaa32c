//! Fields of a detail.

use crate::facts::DetailFacts;
use crate::facts::detail::{nanometres, rect};
use crate::facts::slope::is_pitched;
use crate::facts::vocabulary::{Family, Field, Hangs, Item, Items, Kind, Type, Value, field_of};
use crate::model::{AssemblyKind, Axis, Band, Detail, FoldKind, Stated};
use crate::quantity::{Dimension, Quantity};
use crate::text::Span;

pub const FIELDS: &[Field] = &[
    field_of("kind", Type::Word(Family::DetailKind), "the kind of interface", |i| {
        with(i, |f| Value::Word(&f.detail.kind))
    }),
    field_of("title", Type::Text, "its title", |i| {
        with(i, |f| f.detail.title.as_deref().map_or(Value::ABSENT, Value::Text))
    }),
    field_of("sheet", Type::Text, "detail and sheet number of the drawing", |i| {
        with(i, |f| f.detail.sheet.as_deref().map_or(Value::ABSENT, Value::Text))
    }),
    field_of("pieces", Type::Items(Kind::Piece), "its pieces, in installation order", |i| {
        with(i, |f| Value::Items(f.items(Kind::Piece)))
    }).hangs(Hangs::Always),
    field_of("laps", Type::Items(Kind::Lap), "its laps", |i| with(i, |f| Value::Items(f.items(Kind::Lap)))).hangs(Hangs::Always),
    field_of("turns", Type::Items(Kind::Turn), "its folds", |i| with(i, |f| Value::Items(f.items(Kind::Turn)))).hangs(Hangs::Always),
    field_of("drops", Type::Items(Kind::Drop), "what happens to drops on it", |i| {
        with(i, |f| Value::Items(f.items(Kind::Drop)))
    }).hangs(Hangs::Always),
    field_of("transitions", Type::Items(Kind::Transition), "whether each control is continuous across it", |i| {
        with(i, |f| Value::Items(f.items(Kind::Transition)))
    }).hangs(Hangs::Always),
    field_of("seals", Type::Items(Kind::Seal), "its beads", |i| with(i, |f| Value::Items(f.items(Kind::Seal)))).hangs(Hangs::Always),
    field_of("bonds", Type::Items(Kind::Bond), "its bonds", |i| with(i, |f| Value::Items(f.items(Kind::Bond)))).hangs(Hangs::Always),
    field_of("meetings", Type::Items(Kind::Meeting), "the pairs of its pieces that touch", |i| {
        with(i, |f| Value::Items(f.items(Kind::Meeting)))
    }).hangs(Hangs::Always),
    field_of("touches", Type::Items(Kind::Touch), "the pairs of its pieces that meet edge to edge", |i| {
        with(i, |f| Value::Items(f.items(Kind::Touch)))
    }).hangs(Hangs::Always),
    field_of("fastenings", Type::Items(Kind::Fastening), "its fields of fasteners", |i| {
        with(i, |f| Value::Items(f.items(Kind::Fastening)))
    }).hangs(Hangs::Always),
    field_of("assemblies", Type::Items(Kind::Assembly), "the assemblies that it joins", |i| {
        with(i, |f| Value::Items(Items::Assemblies(&f.assemblies)))
    }),
    field_of("weeps", Type::YesNo, "it has weeps", |i| with(i, |f| Value::YesNo(!f.detail.weeps.is_empty()))).hangs(Hangs::Always),
    field_of("weep-spacing", Type::Quantity(Dimension::Length), "the widest spacing of its weeps", |i| {
        with(i, |f| {
            let widest = f.detail.weeps.iter().map(|w| w.every).max_by(|a, b| a.si.total_cmp(&b.si));
            widest.map_or(Value::ABSENT, Value::Quantity)
        })
    }).hangs(Hangs::Always),
    field_of("grade", Type::Quantity(Dimension::Length), "height of finished grade", |i| {
        with(i, |f| stated(f.detail.grade))
    }),
    field_of("paved", Type::YesNo, "paving covers the finished grade", |i| with(i, |f| Value::YesNo(f.detail.paved))),
    field_of(
        "slope",
        Type::Quantity(Dimension::Slope),
        "slope of its roof or balcony floor, or the least that is stated of a part of its face",
        |i| with(i, slope),
    ).hangs(Hangs::Always),
    field_of(
        "top-slope",
        Type::Quantity(Dimension::Slope),
        "slope that is stated of its top, above a sill or the first outside corner; negative where it falls to the roof",
        |i| with(i, |f| top_slope(f).map_or(Value::ABSENT, Value::Quantity)),
    ).hangs(Hangs::Always),
    field_of(
        "wall-line",
        Type::Quantity(Dimension::Length),
        "height of the warm side of the wall, as the detail or its roof states it",
        |i| {
            with(i, |f| {
                let roofs = f.detail.joins.iter().filter_map(|join| join.assembly.wall_line);
                stated(f.detail.wall_line.into_iter().chain(roofs).next())
            })
        },
    ),
    field_of("valley", Type::YesNo, "it has a line that water runs to from both sides, such as a valley", |i| {
        with(i, |f| Value::YesNo(!f.detail.valleys.is_empty()))
    }),
    field_of("exposed", Type::Quantity(Dimension::Duration), "days that it stays uncovered", |i| {
        with(i, |f| stated(f.detail.exposed))
    }),
    field_of("installed-at", Type::Quantity(Dimension::Temperature), "air temperature at installation", |i| {
        with(i, |f| stated(f.detail.installed_at))
    }),
    field_of("weather", Type::YesNo, "rain reaches this kind of detail", |i| with(i, |f| Value::YesNo(f.weather))),
];

/// The words that state how steep the least steep part of the face is: of the detail, else of its roof or balcony floor in
/// the same file.
pub fn slope_span(facts: &DetailFacts) -> Option<Span> {
    let own = least_steep(facts).or(facts.detail.slopes.first()).map(|band| band.span);
    let pitch = || pitches(&facts.detail).min_by(|a, b| a.value.si.total_cmp(&b.value.si)).map(|slope| slope.span);
    own.or_else(|| pitch().filter(|span| span.file == facts.detail.span.file))
}

/// What the roofs and balcony floors of a detail state of their slope.
fn pitches(detail: &Detail) -> impl Iterator<Item = Stated> {
    detail.joins.iter().filter(|join| is_pitched(&join.assembly)).filter_map(|join| join.assembly.slope)
}

/// The band of the face that is stated to be the least steep.
fn least_steep(facts: &DetailFacts) -> Option<&Band> {
    let stated = facts.detail.slopes.iter().filter(|band| band.slope.si.is_finite());
    let fall = |band: &Band| facts.slopes.fall(band).si;
    stated.min_by(|a, b| fall(a).total_cmp(&fall(b)))
}

fn top_slope(facts: &DetailFacts) -> Option<Quantity> {
    let level = facts.detail.folds.iter().filter(|fold| fold.axis == Axis::Up);
    let turns = level.filter(|fold| matches!(fold.kind, FoldKind::Sill | FoldKind::OutsideCorner));
    let from = nanometres(turns.map(|fold| fold.at).min_by(|a, b| a.si.total_cmp(&b.si))?);
    let covers = |band: &&Band| {
        let up = rect(&band.up, &band.along).up;
        up.low <= from && from < up.high
    };
    facts.detail.slopes.iter().find(covers).map(|band| band.slope)
}

fn slope(facts: &DetailFacts) -> Value<'_> {
    let roof = facts.detail.joins.iter().find(|join| join.assembly.kind == AssemblyKind::Roof);
    let bands = facts.detail.slopes.iter().map(|band| facts.slopes.fall(band));
    let stated = bands.chain(pitches(&facts.detail).map(|slope| slope.value));
    let least = stated.filter(|slope| slope.si.is_finite()).min_by(|a, b| a.si.total_cmp(&b.si));
    match (least, roof) {
        (Some(slope), _) => Value::Quantity(slope),
        (None, Some(roof)) => Value::missing_slope(&roof.assembly),
        (None, None) => Value::ABSENT,
    }
}

fn stated(value: Option<Stated>) -> Value<'static> {
    value.map_or(Value::ABSENT, |s| Value::Quantity(s.value))
}

fn with<'a>(item: Item<'a>, value: impl FnOnce(&'a DetailFacts) -> Value<'a>) -> Value<'a> {
    match item {
        Item::Detail(facts) => value(facts),
        _ => Value::ABSENT,
    }
}
