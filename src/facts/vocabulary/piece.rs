//! Fields of a piece of a detail, besides those of its material.

use crate::facts::DetailFacts;
use crate::facts::detail::{is_old, nanometres};
use crate::facts::face::{Coordinate, Extent, OPEN_HIGH, OPEN_LOW, Rect};
use crate::facts::vocabulary::{
    ABSENT, Dependence, Fact, FactList, Family, Field, FieldResult, Kind, WordSet, hole, unstated, unstated_slope,
};
use crate::model::{AssemblyKind, Axis, Control, FoldKind, Hold, Layer, MaterialKind, Piece};
use crate::quantity::{Dimension, Quantity, base_unit};

const LENGTH: Dimension = Dimension::Length;

pub const FIELDS: &[Field] = &[
    Field::fact("detail", Kind::Detail, "the detail that it is drawn in", |item| {
        item.detail().map_or(Err(ABSENT), |facts| Ok(Fact::Detail(facts)))
    }),
    Field::word("role", Family::Open, "the role that its author gives it", |item| {
        with(item, |_, piece| piece.role.as_ref().map_or(Ok(""), |role| Ok(role)))
    }),
    Field::yes_no("role-stated", "its author gives it a role", |item| with(item, |_, piece| Ok(piece.role.is_some()))),
    Field::words("controls", Family::Control, "the controls of the layer that it is the end of", |item| {
        with(item, |facts, piece| Ok(WordSet::Controls(facts.detail.controls(piece))))
    }),
    Field::fact("assembly", Kind::Assembly, "the assembly that it is part of", |item| {
        with(item, |facts, piece| match piece.layer {
            Some(at) => facts.assemblies.get(at.join).map_or(Err(ABSENT), |a| Ok(Fact::Assembly(a))),
            None => Err(ABSENT),
        })
    }),
    Field::yes_no("existing",
        "it is part of an existing assembly that the detail joins to a new one",
        |item| with(item, |facts, piece| Ok(is_old(&facts.detail, piece))),
    ),
    Field::fact("layer", Kind::Layer, "the layer that it is the end of", |item| {
        with(item, |facts, piece| match piece.layer {
            Some(at) => facts.assemblies.get(at.join).map_or(Err(ABSENT), |a| Ok(Fact::Layer(a, at.layer))),
            None => Err(ABSENT),
        })
    }),
    Field::quantity("built-thickness", LENGTH,
        "thickness of the layer that it is the end of, else of its material as sold",
        |item| {
            with(item, |facts, piece| {
                let layer = piece.layer.map(|at| &facts.detail.joins[at.join].assembly.layers[at.layer]);
                match layer.and_then(|layer| layer.thickness).or(piece.material.thickness) {
                    Some(thickness) => Ok(thickness),
                    None => unstated(&piece.material, "thickness"),
                }
            })
        },
    ),
    Field::yes_no("behind-water", "its layer lies inboard of the one that controls water", |item| {
        with(item, |facts, piece| Ok(piece.layer.is_some_and(|at| behind_water(facts, at.join, at.layer))))
    }),
    Field::quantity("top", LENGTH, "height of its upper edge; unknown when it runs off the detail", |item| {
        edge(item, |up, _| up.high)
    }),
    Field::quantity("bottom", LENGTH, "height of its lower edge; unknown when it runs off the detail", |item| {
        edge(item, |up, _| up.low)
    }),
    Field::quantity("sill-rise", LENGTH,
        "how far it rises above the sill that it goes over, as the back dam of a pan does; unknown without such a fold",
        |item| match item {
            Fact::Piece(facts, piece) => rise_over(facts, piece, FoldKind::Sill)
                .map_or(Err(ABSENT), |rise| Ok(facts.length(Some(piece), rise))),
            _ => Err(ABSENT),
        },
    ).depends(Dependence::Always),
    Field::quantity("above-head", LENGTH,
        "from the nearest head of an opening up to its lower edge or the top of its cut there; negative when it hangs below; unknown without such a fold",
        |item| match item {
            Fact::Piece(facts, piece) => above_head(facts, piece)
                .map_or(Err(ABSENT), |above| Ok(facts.length(Some(piece), above))),
            _ => Err(ABSENT),
        },
    ).depends(Dependence::Always),
    Field::quantity("left", LENGTH, "place of its left edge", |item| edge(item, |_, along| along.low)),
    Field::quantity("right", LENGTH, "place of its right edge", |item| edge(item, |_, along| along.high)),
    Field::quantity("height", LENGTH, "from its lower to its upper edge", |item| size(item, |up, _| up)),
    Field::quantity("width", LENGTH, "from its left to its right edge", |item| size(item, |_, along| along)),
    Field::yes_no("drip", "it ends in a drip", |item| with(item, |_, p| Ok(p.drip))),
    Field::yes_no("rolled", "pressed on with a roller", |item| with(item, |_, p| Ok(p.rolled))),
    Field::yes_no("primed", "its substrate is primed", |item| with(item, |_, p| Ok(p.primed))),
    Field::yes_no("inside", "it lies on the inner face", |item| with(item, |_, p| Ok(p.inside))),
    Field::quantity("slope", Dimension::Slope, "slope to the outside; zero when none is stated", |item| {
        with(item, |_, piece| {
            Ok(piece.slope.map_or(Quantity::in_base_unit(0.0, Dimension::Slope), |s| s.value))
        })
    }).depends(Dependence::Always),
    Field::yes_no("slope-stated", "its author states its slope", |item| {
        with(item, |_, piece| Ok(piece.slope.is_some()))
    }),
    Field::quantity("slope-of-face", Dimension::Slope,
        "slope of the face where it lies: 0 level, infinite plumb; unknown where the face turns under it",
        |item| match item {
            Fact::Piece(facts, piece) => steep(facts, facts.rect(piece)),
            _ => Err(ABSENT),
        },
    ).depends(Dependence::Always),
    Field::yes_no("row", "it is one of a row of equal pieces", |item| {
        with(item, |_, p| Ok(p.row.is_some()))
    }),
    Field::quantity("every", LENGTH, "spacing of the row that it is in", |item| {
        with(item, |_, p| p.row.map_or(Err(ABSENT), |row| Ok(row.every)))
    }),
    Field::yes_no("welded", "it is heat-welded to something", |item| held(item, Hold::Weld)).depends(Dependence::Always),
    Field::yes_no("clamped", "a band, ring or bar clamps it to something", |item| held(item, Hold::Clamp)).depends(Dependence::Always),
    Field::yes_no("uncovered", "some part of it is covered only by cladding", |item| match item {
        Fact::Piece(facts, piece) => facts.face.uncovered.get(piece).map_or(Err(ABSENT), |u| Ok(*u)),
        _ => Err(ABSENT),
    }).depends(Dependence::Always),
    Field::yes_no("open-above", "it is cladding, and rain falls on its upper edge", |item| match item {
        Fact::Piece(facts, piece) => facts.face.open_above.get(piece).map_or(Err(ABSENT), |o| Ok(*o)),
        _ => Err(ABSENT),
    }).depends(Dependence::Always),
    Field::yes_no("caps", "rain falls on it first at the top of the face, as on a coping", |item| match item {
        Fact::Piece(facts, piece) => flag(&facts.face.caps, piece),
        _ => Err(ABSENT),
    }).depends(Dependence::Always),
    Field::yes_no("under-joints",
        "it is not watertight, and somewhere a single flashing or stone is all that keeps rain off it",
        |item| match item {
            Fact::Piece(facts, piece) => flag(&facts.face.under_joints, piece),
            _ => Err(ABSENT),
        },
    ).depends(Dependence::Always),
    Field::yes_no("hidden-foot", "cladding outboard of its lower edge continues below it", |item| match item {
        Fact::Piece(facts, piece) => flag(&facts.face.hidden_foot, piece),
        _ => Err(ABSENT),
    }).depends(Dependence::Always),
    Field::quantity("exposed", Dimension::Duration, "days that the detail stays uncovered", |item| {
        with(item, |facts, _| facts.detail.exposed.map_or(Err(ABSENT), |s| Ok(s.value)))
    }),
    Field::quantity("clearance", LENGTH, "from finished grade up to its lower edge", |item| {
        with(item, |facts, piece| match (facts.detail.grade, piece.up.low) {
            (Some(grade), Some(low)) => Ok(Quantity::from_si(low.si - grade.value.si, low.unit)),
            _ => Err(ABSENT),
        })
    }),
    Field::quantity("depth", LENGTH, "from its lower edge up to finished grade; negative above grade", |item| {
        with(item, |facts, piece| match (facts.detail.grade, piece.up.low) {
            (Some(grade), Some(low)) => Ok(Quantity::from_si(grade.value.si - low.si, low.unit)),
            _ => Err(ABSENT),
        })
    }),
    Field::yes_no("in-the-open", "nothing lies outboard of it somewhere above finished grade", |item| {
        match item {
            Fact::Piece(facts, piece) => facts
                .detail
                .grade
                .map_or(Err(ABSENT), |grade| Ok(in_the_open(facts, piece, nanometres(grade.value)))),
            _ => Err(ABSENT),
        }
    }).depends(Dependence::Always),
    Field::quantity("base-rise", LENGTH,
        "how far it rises above the base fold that it goes over, as an upturn does; unknown without such a fold",
        |item| match item {
            Fact::Piece(facts, piece) => {
                let rise = rise_over(facts, piece, FoldKind::Base);
                rise.map_or(Err(ABSENT), |rise| Ok(facts.length(Some(piece), rise)))
            }
            _ => Err(ABSENT),
        },
    ).depends(Dependence::Always),
    Field::yes_no("bonded", "it is adhered to something", |item| {
        with(item, |_, p| Ok(!p.bonds.is_empty() || p.material.kind == Some(MaterialKind::Coat)))
    }).depends(Dependence::Always),
    Field::yes_no("fastened", "fasteners of its own hold it", |item| match item {
        Fact::Piece(facts, piece) => {
            Ok(facts.detail.fastenings.iter().any(|fastening| fastening.piece.index == piece))
        }
        _ => Err(ABSENT),
    }).depends(Dependence::Always),
    Field::facts("bonds", Kind::Piece, "what the text says it is adhered to", |item| match item {
        Fact::Piece(facts, piece) => Ok(FactList::Bonded(facts, &facts.detail.pieces[piece].bonds)),
        _ => Err(ABSENT),
    }),
    Field::quantity("index", Dimension::Number, "its step in the installation sequence, from 1", |item| {
        match item {
            Fact::Piece(_, piece) => Ok(Quantity::of(piece as f64 + 1.0, base_unit(Dimension::Number))),
            _ => Err(ABSENT),
        }
    }),
];

fn with<'a, T>(
    item: Fact<'a>,
    value: impl FnOnce(&'a DetailFacts, &'a Piece) -> FieldResult<'a, T>,
) -> FieldResult<'a, T> {
    match item {
        Fact::Piece(facts, piece) => value(facts, &facts.detail.pieces[piece]),
        _ => Err(ABSENT),
    }
}

fn held(item: Fact<'_>, hold: Hold) -> FieldResult<'_, bool> {
    with(item, |_, piece| Ok(piece.bonds.iter().any(|bond| bond.hold == hold)))
}

/// How steep the face is where a rectangle lies; on a roof without a stated slope, the property that is missing.
pub fn steep(facts: &DetailFacts, place: Rect) -> FieldResult<'_, Quantity> {
    facts.slopes.over(place).map_or_else(|| silent_roof(facts, place), Ok)
}

/// The roof that would have to state its slope at a place.
fn silent_roof(facts: &DetailFacts, place: Rect) -> FieldResult<'_, Quantity> {
    let silent = facts.slopes.unsaid(place.up);
    let roofs = facts.detail.joins.iter().map(|join| &*join.assembly);
    let mut roofs = roofs.filter(|assembly| assembly.kind == AssemblyKind::Roof && assembly.slope.is_none());
    roofs.next().filter(|_| silent).map_or(Err(ABSENT), unstated_slope)
}

/// Whether a layer, counted from outside, lies behind a water control layer and does not have to control water itself. Behind
/// an outer water control layer, an inner one still has to control water, and behind cladding a layer has to stop what gets
/// through the cladding.
pub fn behind_water(facts: &DetailFacts, join: usize, layer: usize) -> bool {
    let controls = |layer: &Layer| layer.controls().has(Control::Water);
    let layers = facts.detail.joins.get(join).map_or(&[][..], |join| &join.assembly.layers);
    let sheds = |layer: &Layer| controls(layer) && layer.material.kind != Some(MaterialKind::Cladding);
    layers.iter().take(layer).any(sheds) && !layers.get(layer).is_some_and(controls)
}

fn in_the_open(facts: &DetailFacts, piece: usize, grade: Coordinate) -> bool {
    let cells = &facts.face.cells;
    let outermost = |(column, row)| cells.stack(column, row).last().is_some_and(|&last| last as usize == piece);
    // Where it runs off the detail, it may be covered farther up.
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
    // A piece that runs past a whole opening is cut out there; its lower edge at the opening is the top of the cut.
    let lows = std::iter::once(facts.rect(piece).up.low).chain(hole::cuts(facts, piece).map(|cut| cut.up.high));
    let lows = lows.filter(|&low| low != OPEN_LOW && low != OPEN_HIGH);
    let heads = || facts.detail.folds.iter().filter(|fold| fold.kind == FoldKind::Head && fold.axis == Axis::Up);
    lows.flat_map(|low| heads().map(move |fold| low - nanometres(fold.at))).min_by_key(|above| above.abs())
}

fn flag(of: &[bool], piece: usize) -> FieldResult<'_, bool> {
    of.get(piece).map_or(Err(ABSENT), |yes| Ok(*yes))
}

fn edge<'a>(item: Fact<'a>, pick: fn(Extent, Extent) -> Coordinate) -> FieldResult<'a, Quantity> {
    let Fact::Piece(facts, piece) = item else { return Err(ABSENT) };
    let rect = facts.rect(piece);
    match pick(rect.up, rect.along) {
        OPEN_LOW | OPEN_HIGH => Err(ABSENT),
        at => Ok(facts.length(Some(piece), at)),
    }
}

fn size<'a>(item: Fact<'a>, pick: fn(Extent, Extent) -> Extent) -> FieldResult<'a, Quantity> {
    let Fact::Piece(facts, piece) = item else { return Err(ABSENT) };
    let rect = facts.rect(piece);
    match pick(rect.up, rect.along) {
        Extent { low: OPEN_LOW, .. } | Extent { high: OPEN_HIGH, .. } => Err(ABSENT),
        Extent { low, high } => Ok(facts.length(Some(piece), high - low)),
    }
}
