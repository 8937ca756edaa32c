//! Fields of a detail.

use crate::facts::DetailFacts;
use crate::facts::detail::{nanometres, rect};
use crate::facts::slope::is_pitched;
use crate::facts::vocabulary::{ABSENT, Dependence, Fact, FactList, Family, Field, FieldResult, Kind, unstated_slope};
use crate::model::{AssemblyKind, Axis, Band, Detail, FoldKind, Stated};
use crate::quantity::{Dimension, Quantity};
use crate::text::Span;

pub const FIELDS: &[Field] = &[
    Field::word("kind", Family::DetailKind, "the kind of interface", |i| {
        with(i, |f| Ok(&*f.detail.kind))
    }),
    Field::text("title", "its title", |i| {
        with(i, |f| f.detail.title.as_deref().ok_or(ABSENT))
    }),
    Field::text("sheet", "detail and sheet number of the drawing", |i| {
        with(i, |f| f.detail.sheet.as_deref().ok_or(ABSENT))
    }),
    Field::facts("pieces", Kind::Piece, "its pieces, in installation order", |i| {
        with(i, |f| Ok(f.items(Kind::Piece)))
    }).depends(Dependence::Always),
    Field::facts("laps", Kind::Lap, "its laps", |i| with(i, |f| Ok(f.items(Kind::Lap)))).depends(Dependence::Always),
    Field::facts("turns", Kind::Turn, "its folds at corners and at the base", |i| with(i, |f| Ok(f.items(Kind::Turn)))).depends(Dependence::Always),
    Field::facts("drops", Kind::Drop, "what happens to drops on it", |i| {
        with(i, |f| Ok(f.items(Kind::Drop)))
    }).depends(Dependence::Always),
    Field::facts("transitions", Kind::Transition, "whether each control is continuous across it", |i| {
        with(i, |f| Ok(f.items(Kind::Transition)))
    }).depends(Dependence::Always),
    Field::facts("seals", Kind::Seal, "its beads", |i| with(i, |f| Ok(f.items(Kind::Seal)))).depends(Dependence::Always),
    Field::facts("bonds", Kind::Bond, "its bonds", |i| with(i, |f| Ok(f.items(Kind::Bond)))).depends(Dependence::Always),
    Field::facts("meetings", Kind::Meeting, "the pairs of its pieces that touch", |i| {
        with(i, |f| Ok(f.items(Kind::Meeting)))
    }).depends(Dependence::Always),
    Field::facts("touches", Kind::Touch, "the pairs of its pieces that meet edge to edge", |i| {
        with(i, |f| Ok(f.items(Kind::Touch)))
    }).depends(Dependence::Always),
    Field::facts("fastenings", Kind::Fastening, "its fields of fasteners", |i| {
        with(i, |f| Ok(f.items(Kind::Fastening)))
    }).depends(Dependence::Always),
    Field::facts("assemblies", Kind::Assembly, "the assemblies that it joins", |i| {
        with(i, |f| Ok(FactList::Assemblies(&f.assemblies)))
    }),
    Field::yes_no("weeps", "it has weeps", |i| with(i, |f| Ok(!f.detail.weeps.is_empty()))).depends(Dependence::Always),
    Field::quantity("weep-spacing", Dimension::Length, "the widest spacing of its weeps", |i| {
        with(i, |f| {
            let widest = f.detail.weeps.iter().map(|w| w.every).max_by(|a, b| a.si.total_cmp(&b.si));
            widest.ok_or(ABSENT)
        })
    }).depends(Dependence::Always),
    Field::quantity("weep-height", Dimension::Length, "height of its lowest weeps; unknown when one of them states none", |i| {
        with(i, |f| {
            let heights: Option<Vec<Quantity>> = f.detail.weeps.iter().map(|weeps| weeps.up).collect();
            heights.and_then(|all| all.into_iter().min_by(|a, b| a.si.total_cmp(&b.si))).ok_or(ABSENT)
        })
    }).depends(Dependence::Always),
    Field::quantity("grade", Dimension::Length, "height of finished grade", |i| {
        with(i, |f| stated(f.detail.grade))
    }),
    Field::yes_no("paved", "paving covers the finished grade", |i| with(i, |f| Ok(f.detail.paved))),
    Field::quantity("slope", Dimension::Slope,
        "slope of its roof or balcony floor, or the least that is stated of a part of its face",
        |i| with(i, slope),
    ).depends(Dependence::Always),
    Field::quantity("top-slope", Dimension::Slope,
        "slope that is stated of its top, above a sill or the first outside corner; negative where it falls to the roof",
        |i| with(i, |f| top_slope(f).ok_or(ABSENT)),
    ).depends(Dependence::Always),
    Field::quantity("wall-line", Dimension::Length,
        "height of the warm side of the wall, as the detail or its roof states it",
        |i| {
            with(i, |f| {
                let roofs = f.detail.joins.iter().filter_map(|join| join.assembly.wall_line);
                stated(f.detail.wall_line.into_iter().chain(roofs).next())
            })
        },
    ),
    Field::yes_no("jambs", "it has a fold at a jamb, so that what lies beside the opening is drawn", |i| {
        with(i, |f| Ok(f.detail.folds.iter().any(|fold| fold.kind == FoldKind::Jamb)))
    }),
    Field::yes_no("valley", "it has a line that water runs to from both sides, such as a valley", |i| {
        with(i, |f| Ok(!f.detail.valleys.is_empty()))
    }),
    Field::quantity("exposed", Dimension::Duration, "days that it stays uncovered", |i| {
        with(i, |f| stated(f.detail.exposed))
    }),
    Field::quantity("installed-at", Dimension::Temperature, "air temperature at installation", |i| {
        with(i, |f| stated(f.detail.installed_at))
    }),
    Field::yes_no("weather", "rain reaches this kind of detail", |i| with(i, |f| Ok(f.weather))),
];

/// The words that state the slope of the flattest part of the face: those of the detail, or else of its roof or balcony floor
/// in the same file.
pub fn slope_span(facts: &DetailFacts) -> Option<Span> {
    let own = least_steep(facts).or(facts.detail.slopes.first()).map(|band| band.span);
    let pitch = || pitches(&facts.detail).min_by(|a, b| a.value.si.total_cmp(&b.value.si)).map(|slope| slope.span);
    own.or_else(|| pitch().filter(|span| span.file == facts.detail.span.file))
}

/// What the roofs and balcony floors of a detail state of their slope.
fn pitches(detail: &Detail) -> impl Iterator<Item = Stated> {
    detail.joins.iter().filter(|join| is_pitched(&join.assembly)).filter_map(|join| join.assembly.slope)
}

/// The flattest of the bands whose slope is stated.
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

fn slope(facts: &DetailFacts) -> FieldResult<'_, Quantity> {
    let roof = facts.detail.joins.iter().find(|join| join.assembly.kind == AssemblyKind::Roof);
    let bands = facts.detail.slopes.iter().map(|band| facts.slopes.fall(band));
    let stated = bands.chain(pitches(&facts.detail).map(|slope| slope.value));
    let least = stated.filter(|slope| slope.si.is_finite()).min_by(|a, b| a.si.total_cmp(&b.si));
    match (least, roof) {
        (Some(slope), _) => Ok(slope),
        (None, Some(roof)) => unstated_slope(&roof.assembly),
        (None, None) => Err(ABSENT),
    }
}

fn stated(value: Option<Stated>) -> FieldResult<'static, Quantity> {
    value.map_or(Err(ABSENT), |s| Ok(s.value))
}

fn with<'a, T>(item: Fact<'a>, value: impl FnOnce(&'a DetailFacts) -> FieldResult<'a, T>) -> FieldResult<'a, T> {
    match item {
        Fact::Detail(facts) => value(facts),
        _ => Err(ABSENT),
    }
}
