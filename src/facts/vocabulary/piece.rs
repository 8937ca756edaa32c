//! Fields of a piece of a detail, besides those of its material.

use crate::facts::DetailFacts;
use crate::facts::detail::{is_old, nanometres};
use crate::facts::face::{Coordinate, Extent, OPEN_HIGH, OPEN_LOW, Rect};
use crate::facts::vocabulary::{Family, Field, Hangs, Item, Items, Kind, Type, Value, WordSet, field_of};
use crate::model::{AssemblyKind, Axis, Control, FoldKind, Hold, Layer, MaterialKind, Piece};
use crate::quantity::{Dimension, Quantity, base_unit};

const LENGTH: Type = Type::Quantity(Dimension::Length);

pub const FIELDS: &[Field] = &[
    field_of("detail", Type::Item(Kind::Detail), "the detail that it is drawn in", |item| {
        item.detail().map_or(Value::ABSENT, |facts| Value::Item(Item::Detail(facts)))
    }),
    field_of("role", Type::Word(Family::Open), "the role that its author gives it", |item| {
        with(item, |_, piece| piece.role.as_ref().map_or(Value::Word(""), |role| Value::Word(role)))
    }),
    field_of("controls", Type::Words(Family::Control), "the controls of the layer that it is the end of", |item| {
        with(item, |facts, piece| Value::Words(WordSet::Controls(facts.detail.controls(piece))))
    }),
    field_of("assembly", Type::Item(Kind::Assembly), "the assembly that it is part of", |item| {
        with(item, |facts, piece| match piece.layer {
            Some(at) => facts.assemblies.get(at.join).map_or(Value::ABSENT, |a| Value::Item(Item::Assembly(a))),
            None => Value::ABSENT,
        })
    }),
    field_of(
        "existing",
        Type::YesNo,
        "it is part of an existing assembly that the detail joins to a new one",
        |item| with(item, |facts, piece| Value::YesNo(is_old(&facts.detail, piece))),
    ),
    field_of("layer", Type::Item(Kind::Layer), "the layer that it is the end of", |item| {
        with(item, |facts, piece| match piece.layer {
            Some(at) => facts.assemblies.get(at.join).map_or(Value::ABSENT, |a| Value::Item(Item::Layer(a, at.layer))),
            None => Value::ABSENT,
        })
    }),
    field_of(
        "built-thickness",
        LENGTH,
        "thickness of the layer that it is the end of, else of its material as sold",
        |item| {
            with(item, |facts, piece| {
                let layer = piece.layer.map(|at| &facts.detail.joins[at.join].assembly.layers[at.layer]);
                match layer.and_then(|layer| layer.thickness).or(piece.material.thickness) {
                    Some(thickness) => Value::Quantity(thickness),
                    None => Value::missing(&piece.material, "thickness"),
                }
            })
        },
    ),
    field_of("behind-water", Type::YesNo, "its layer lies inboard of the one that controls water", |item| {
        with(item, |facts, piece| Value::YesNo(piece.layer.is_some_and(|at| behind_water(facts, at.join, at.layer))))
    }),
    field_of("top", LENGTH, "height of its upper edge; unknown when it runs off the detail", |item| {
        edge(item, |up, _| up.high)
    }),
    field_of("bottom", LENGTH, "height of its lower edge; unknown when it runs off the detail", |item| {
        edge(item, |up, _| up.low)
    }),
    field_of(
        "sill-rise",
        LENGTH,
        "how far it rises above the sill that it goes over, as the back dam of a pan does; unknown without such a fold",
        |item| match item {
            Item::Piece(facts, piece) => rise_over(facts, piece, FoldKind::Sill)
                .map_or(Value::ABSENT, |rise| Value::Quantity(facts.length(Some(piece), rise))),
            _ => Value::ABSENT,
        },
    ).hangs(Hangs::Always),
    field_of(
        "above-head",
        LENGTH,
        "from the nearest head of an opening up to its lower edge; negative when it hangs below; unknown without such a fold",
        |item| match item {
            Item::Piece(facts, piece) => above_head(facts, piece)
                .map_or(Value::ABSENT, |above| Value::Quantity(facts.length(Some(piece), above))),
            _ => Value::ABSENT,
        },
    ).hangs(Hangs::Always),
    field_of("left", LENGTH, "place of its left edge", |item| edge(item, |_, along| along.low)),
    field_of("right", LENGTH, "place of its right edge", |item| edge(item, |_, along| along.high)),
    field_of("height", LENGTH, "from its lower to its upper edge", |item| size(item, |up, _| up)),
    field_of("width", LENGTH, "from its left to its right edge", |item| size(item, |_, along| along)),
    field_of("drip", Type::YesNo, "it ends in a drip", |item| with(item, |_, p| Value::YesNo(p.drip))),
    field_of("rolled", Type::YesNo, "pressed on with a roller", |item| with(item, |_, p| Value::YesNo(p.rolled))),
    field_of("primed", Type::YesNo, "its substrate is primed", |item| with(item, |_, p| Value::YesNo(p.primed))),
    field_of("inside", Type::YesNo, "it lies on the inner face", |item| with(item, |_, p| Value::YesNo(p.inside))),
    field_of("slope", Type::Quantity(Dimension::Slope), "slope to the outside; zero when none is stated", |item| {
        with(item, |_, piece| {
            Value::Quantity(piece.slope.map_or(Quantity::in_base_unit(0.0, Dimension::Slope), |s| s.value))
        })
    }).hangs(Hangs::Always),
    field_of("slope-stated", Type::YesNo, "its author states its slope", |item| {
        with(item, |_, piece| Value::YesNo(piece.slope.is_some()))
    }),
    field_of(
        "slope-of-face",
        Type::Quantity(Dimension::Slope),
        "slope of the face where it lies: 0 level, infinite plumb; unknown where the face turns under it",
        |item| match item {
            Item::Piece(facts, piece) => steep(facts, facts.rect(piece)),
            _ => Value::ABSENT,
        },
    ).hangs(Hangs::Always),
    field_of("row", Type::YesNo, "it is one of a row of equal pieces", |item| {
        with(item, |_, p| Value::YesNo(p.row.is_some()))
    }),
    field_of("every", LENGTH, "spacing of the row that it is in", |item| {
        with(item, |_, p| p.row.map_or(Value::ABSENT, |row| Value::Quantity(row.every)))
    }),
    field_of("welded", Type::YesNo, "it is heat-welded to something", |item| held(item, Hold::Weld)).hangs(Hangs::Always),
    field_of("clamped", Type::YesNo, "a band, ring or bar clamps it to something", |item| held(item, Hold::Clamp)).hangs(Hangs::Always),
    field_of("uncovered", Type::YesNo, "some part of it is covered only by cladding", |item| match item {
        Item::Piece(facts, piece) => facts.face.uncovered.get(piece).map_or(Value::ABSENT, |u| Value::YesNo(*u)),
        _ => Value::ABSENT,
    }).hangs(Hangs::Always),
    field_of("open-above", Type::YesNo, "it is cladding, and rain falls on its upper edge", |item| match item {
        Item::Piece(facts, piece) => facts.face.open_above.get(piece).map_or(Value::ABSENT, |o| Value::YesNo(*o)),
        _ => Value::ABSENT,
    }).hangs(Hangs::Always),
    field_of("caps", Type::YesNo, "rain falls on it first at the top of the face, as on a coping", |item| match item {
        Item::Piece(facts, piece) => flag(&facts.face.caps, piece),
        _ => Value::ABSENT,
    }).hangs(Hangs::Always),
    field_of(
        "under-joints",
        Type::YesNo,
        "it is not watertight, and somewhere a single flashing or stone is all that keeps rain off it",
        |item| match item {
            Item::Piece(facts, piece) => flag(&facts.face.under_joints, piece),
            _ => Value::ABSENT,
        },
    ).hangs(Hangs::Always),
    field_of("hidden-foot", Type::YesNo, "cladding outboard of its lower edge continues below it", |item| match item {
        Item::Piece(facts, piece) => flag(&facts.face.hidden_foot, piece),
        _ => Value::ABSENT,
    }).hangs(Hangs::Always),
    field_of("exposed", Type::Quantity(Dimension::Duration), "days that the detail stays uncovered", |item| {
        with(item, |facts, _| facts.detail.exposed.map_or(Value::ABSENT, |s| Value::Quantity(s.value)))
    }),
    field_of("clearance", LENGTH, "from finished grade up to its lower edge", |item| {
        with(item, |facts, piece| match (facts.detail.grade, piece.up.low) {
            (Some(grade), Some(low)) => Value::Quantity(Quantity::from_si(low.si - grade.value.si, low.unit)),
            _ => Value::ABSENT,
        })
    }),
    field_of("depth", LENGTH, "from its lower edge up to finished grade; negative above grade", |item| {
        with(item, |facts, piece| match (facts.detail.grade, piece.up.low) {
            (Some(grade), Some(low)) => Value::Quantity(Quantity::from_si(grade.value.si - low.si, low.unit)),
            _ => Value::ABSENT,
        })
    }),
    field_of("in-the-open", Type::YesNo, "nothing lies outboard of it somewhere above finished grade", |item| {
        match item {
            Item::Piece(facts, piece) => facts
                .detail
                .grade
                .map_or(Value::ABSENT, |grade| Value::YesNo(in_the_open(facts, piece, nanometres(grade.value)))),
            _ => Value::ABSENT,
        }
    }).hangs(Hangs::Always),
    field_of(
        "base-rise",
        LENGTH,
        "how far it rises above the base fold that it goes over, as an upturn does; unknown without such a fold",
        |item| match item {
            Item::Piece(facts, piece) => {
                let rise = rise_over(facts, piece, FoldKind::Base);
                rise.map_or(Value::ABSENT, |rise| Value::Quantity(facts.length(Some(piece), rise)))
            }
            _ => Value::ABSENT,
        },
    ).hangs(Hangs::Always),
    field_of("bonded", Type::YesNo, "it is adhered to something", |item| {
        with(item, |_, p| Value::YesNo(!p.bonds.is_empty() || p.material.kind == Some(MaterialKind::Coat)))
    }).hangs(Hangs::Always),
    field_of("fastened", Type::YesNo, "fasteners of its own hold it", |item| match item {
        Item::Piece(facts, piece) => {
            Value::YesNo(facts.detail.fastenings.iter().any(|fastening| fastening.piece.index == piece))
        }
        _ => Value::ABSENT,
    }).hangs(Hangs::Always),
    field_of("bonds", Type::Items(Kind::Piece), "what the text says it is adhered to", |item| match item {
        Item::Piece(facts, piece) => Value::Items(Items::Bonded(facts, &facts.detail.pieces[piece].bonds)),
        _ => Value::ABSENT,
    }),
    field_of("index", Type::Quantity(Dimension::Number), "its step in the installation sequence, from 1", |item| {
        match item {
            Item::Piece(_, piece) => Value::Quantity(Quantity::of(piece as f64 + 1.0, base_unit(Dimension::Number))),
            _ => Value::ABSENT,
        }
    }),
];

fn with<'a>(item: Item<'a>, value: impl FnOnce(&'a DetailFacts, &'a Piece) -> Value<'a>) -> Value<'a> {
    match item {
        Item::Piece(facts, piece) => value(facts, &facts.detail.pieces[piece]),
        _ => Value::ABSENT,
    }
}

fn held(item: Item<'_>, hold: Hold) -> Value<'_> {
    with(item, |_, piece| Value::YesNo(piece.bonds.iter().any(|bond| bond.hold == hold)))
}

/// How steep the face is where a rectangle lies; on a roof that does not say, what would have to be stated.
pub fn steep(facts: &DetailFacts, place: Rect) -> Value<'_> {
    facts.slopes.over(place).map_or_else(|| silent_roof(facts, place), Value::Quantity)
}

/// The roof whose slope is wanted at a place.
fn silent_roof(facts: &DetailFacts, place: Rect) -> Value<'_> {
    let silent = facts.slopes.unsaid(place.up);
    let roofs = facts.detail.joins.iter().map(|join| &*join.assembly);
    let mut roofs = roofs.filter(|assembly| assembly.kind == AssemblyKind::Roof && assembly.slope.is_none());
    roofs.next().filter(|_| silent).map_or(Value::ABSENT, Value::missing_slope)
}

/// Layers count from outside. Behind an outer water layer an inner one is still there for water, and what lies behind cladding
/// is there for what gets through it.
pub fn behind_water(facts: &DetailFacts, join: usize, layer: usize) -> bool {
    let controls = |layer: &Layer| layer.controls().has(Control::Water);
    let layers = facts.detail.joins.get(join).map_or(&[][..], |join| &join.assembly.layers);
    let sheds = |layer: &Layer| controls(layer) && layer.material.kind != Some(MaterialKind::Cladding);
    layers.iter().take(layer).any(sheds) && !layers.get(layer).is_some_and(controls)
}

fn in_the_open(facts: &DetailFacts, piece: usize, grade: Coordinate) -> bool {
    let cells = &facts.face.cells;
    let outermost = |(column, row)| cells.stack(column, row).last().is_some_and(|&last| last as usize == piece);
    // What runs off the detail may be covered out there.
    let above = |row: Extent| if row.high == OPEN_HIGH { row.low >= grade } else { row.high > grade };
    cells.block(piece).iter().any(|place| above(cells.row(place.1)) && outermost(place))
}

fn rise_over(facts: &DetailFacts, piece: usize, kind: FoldKind) -> Option<Coordinate> {
    let up = facts.rect(piece).up;
    let folds = facts.detail.folds.iter().filter(|fold| fold.kind == kind && fold.axis == Axis::Up);
    let over = folds.map(|fold| nanometres(fold.at)).filter(|&at| up.low < at && at <= up.high);
    over.max().filter(|_| up.high != OPEN_HIGH).map(|at| up.high - at)
}

fn above_head(facts: &DetailFacts, piece: usize) -> Option<Coordinate> {
    let low = Some(facts.rect(piece).up.low).filter(|&low| low != OPEN_LOW)?;
    let heads = facts.detail.folds.iter().filter(|fold| fold.kind == FoldKind::Head && fold.axis == Axis::Up);
    heads.map(|fold| low - nanometres(fold.at)).min_by_key(|above| above.abs())
}

fn flag(of: &[bool], piece: usize) -> Value<'_> {
    of.get(piece).map_or(Value::ABSENT, |yes| Value::YesNo(*yes))
}

fn edge<'a>(item: Item<'a>, pick: fn(Extent, Extent) -> Coordinate) -> Value<'a> {
    let Item::Piece(facts, piece) = item else { return Value::ABSENT };
    let rect = facts.rect(piece);
    match pick(rect.up, rect.along) {
        OPEN_LOW | OPEN_HIGH => Value::ABSENT,
        at => Value::Quantity(facts.length(Some(piece), at)),
    }
}

fn size<'a>(item: Item<'a>, pick: fn(Extent, Extent) -> Extent) -> Value<'a> {
    let Item::Piece(facts, piece) = item else { return Value::ABSENT };
    let rect = facts.rect(piece);
    match pick(rect.up, rect.along) {
        Extent { low: OPEN_LOW, .. } | Extent { high: OPEN_HIGH, .. } => Value::ABSENT,
        Extent { low, high } => Value::Quantity(facts.length(Some(piece), high - low)),
    }
}
