//! Fields of bonds, seals, fastenings, tucks and meetings: how pieces hold to each other.

use crate::facts::DetailFacts;
use crate::facts::detail::{nanometres, rect};
use crate::facts::face::{Extent, Touch};
use crate::facts::vocabulary::drainage::{of_detail, piece};
use crate::facts::vocabulary::{Family, Field, Hangs, Item, Items, Kind, Type, Value, field_of};
use crate::model::{Axis, Hold, Seal};
use crate::quantity::{Dimension, Quantity};

const LENGTH: Type = Type::Quantity(Dimension::Length);

pub const BOND: &[Field] = &[
    field_of("piece", Type::Item(Kind::Piece), "the adhered piece", |i| bond(i, |f, b| piece(f, b.piece))),
    field_of("onto", Type::Item(Kind::Piece), "what it is adhered to", |i| bond(i, |f, b| piece(f, b.onto))),
    field_of("contact", Type::YesNo, "the two touch somewhere", |i| bond(i, |_, b| Value::YesNo(b.contact)))
        .hangs(Hangs::Always),
    field_of("sticks", Type::YesNo, "its adhesive touches the other somewhere", |i| {
        bond(i, |_, b| Value::YesNo(b.contact && !b.dry))
    })
    .hangs(Hangs::Always),
    field_of(
        "where-to",
        Type::Word(Family::Open),
        "where the other piece is, in words, when the two are not bonded",
        |i| {
            bond(i, |_, b| match (b.contact, b.dry) {
                (false, _) => Value::Word("which it never touches"),
                (true, true) => Value::Word("which lies on its dry back"),
                (true, false) => Value::Word(""),
            })
        },
    )
    .hangs(Hangs::Always),
    field_of("width", LENGTH, "the smaller extent of their contact; unknown when open", |i| {
        bond(i, |f, b| b.width.map_or(Value::ABSENT, |width| Value::Quantity(f.length(Some(b.piece), width))))
    }),
    field_of("welded", Type::YesNo, "heat-welded, as seams of single-ply sheets are", |i| held(i, Hold::Weld)),
    field_of("clamped", Type::YesNo, "clamped by a band, a ring or a bar", |i| held(i, Hold::Clamp)),
    field_of("detail", Type::Item(Kind::Detail), "the detail that it is in", of_detail),
];

pub const SEAL: &[Field] = &[
    field_of("first", Type::Item(Kind::Piece), "one of the sealed pieces", |i| nth(i, 0)),
    field_of("second", Type::Item(Kind::Piece), "the other", |i| nth(i, 1)),
    field_of("sealant", Type::Item(Kind::Material), "the bead", |i| match i {
        Item::Seal(f, s) => Value::Item(Item::Material(&f.detail.seals[f.face.seals[s].seal].sealant)),
        _ => Value::ABSENT,
    }),
    field_of("height", LENGTH, "height of a level bead; unknown for other beads", |i| match i {
        Item::Seal(f, s) => match f.detail.seals[f.face.seals[s].seal].at {
            Some((Axis::Up, at)) => Value::Quantity(at),
            _ => Value::ABSENT,
        },
        _ => Value::ABSENT,
    }),
    field_of("width", LENGTH, "width of the joint between its edges", |i| joint(i, |seal| seal.width)),
    field_of("depth", LENGTH, "how deep the sealant is", |i| joint(i, |seal| seal.depth)),
    field_of("backer", Type::Item(Kind::Material), "what the sealant is tooled against", |i| match i {
        Item::Seal(f, s) => match &f.detail.seals[f.face.seals[s].seal].backer {
            Some((backer, _)) => Value::Item(Item::Material(backer)),
            None => Value::ABSENT,
        },
        _ => Value::ABSENT,
    }),
    field_of("backed", Type::YesNo, "the text says what the sealant is tooled against", |i| match i {
        Item::Seal(f, s) => Value::YesNo(f.detail.seals[f.face.seals[s].seal].backer.is_some()),
        _ => Value::ABSENT,
    }),
    field_of("along", LENGTH, "place along of an upright bead; unknown for other beads", |i| match i {
        Item::Seal(f, s) => match f.detail.seals[f.face.seals[s].seal].at {
            Some((Axis::Along, at)) => Value::Quantity(at),
            _ => Value::ABSENT,
        },
        _ => Value::ABSENT,
    }),
    field_of("touches", Type::YesNo, "the two pieces meet where the bead is placed", |i| match i {
        Item::Seal(f, s) => Value::YesNo(f.face.seals[s].touches),
        _ => Value::ABSENT,
    })
    .hangs(Hangs::Always),
    field_of("detail", Type::Item(Kind::Detail), "the detail that it is in", of_detail),
];

pub const FASTENING: &[Field] = &[
    field_of("piece", Type::Item(Kind::Piece), "the fastened piece", |i| fastening(i, |f, x| piece(f, x.piece.index))),
    field_of("fastener", Type::Item(Kind::Material), "the fastener", |i| {
        fastening(i, |_, x| Value::Item(Item::Material(&x.fastener)))
    }),
    field_of("every", LENGTH, "spacing", |i| fastening(i, |_, x| Value::Quantity(x.every))),
    field_of("top", LENGTH, "height of its upper end; unknown when it has none", |i| {
        fastening(i, |_, x| x.up.high.map_or(Value::ABSENT, Value::Quantity))
    }),
    field_of("bottom", LENGTH, "height of its lower end; unknown when it has none", |i| {
        fastening(i, |_, x| x.up.low.map_or(Value::ABSENT, Value::Quantity))
    }),
    field_of("from-valley", LENGTH, "how near it comes to a valley line; unknown without one", from_valley),
    field_of("taped-over", Type::Items(Kind::Piece), "tapes laid over the fasteners later", |i| {
        field_pieces(i, |x| &x.taped_over)
    })
    .hangs(Hangs::Always),
    field_of("flashed-over", Type::Items(Kind::Piece), "flashings laid over the fasteners later", |i| {
        field_pieces(i, |x| &x.flashed_over)
    })
    .hangs(Hangs::Always),
    field_of("pierces", Type::Items(Kind::Piece), "flashings that the fasteners go through", |i| {
        field_pieces(i, |x| &x.pierces)
    })
    .hangs(Hangs::Always),
    field_of("pierces-tapes", Type::Items(Kind::Piece), "tapes that the fasteners go through", |i| {
        field_pieces(i, |x| &x.pierces_tapes)
    })
    .hangs(Hangs::Always),
    field_of("detail", Type::Item(Kind::Detail), "the detail that it is in", of_detail),
];

pub const TUCK: &[Field] = &[
    field_of("piece", Type::Item(Kind::Piece), "the piece put behind", |i| nth(i, 0)),
    field_of("behind", Type::Item(Kind::Piece), "the piece that was installed before", |i| nth(i, 1)),
    field_of("fixed", Type::YesNo, "that one was already adhered or fastened there", |i| match i {
        Item::Tuck(f, t) => Value::YesNo(f.face.tucks[t].fixed),
        _ => Value::ABSENT,
    }),
    field_of("detail", Type::Item(Kind::Detail), "the detail that it is in", of_detail),
];

pub const MEETING: &[Field] = &[
    field_of("inner", Type::Item(Kind::Piece), "the inboard one of two pieces that touch", |i| nth(i, 0))
        .hangs(Hangs::Always),
    field_of("outer", Type::Item(Kind::Piece), "the outboard one", |i| nth(i, 1)).hangs(Hangs::Always),
    field_of("detail", Type::Item(Kind::Detail), "the detail that it is in", of_detail),
];

pub const TOUCH: &[Field] = &[
    field_of("first", Type::Item(Kind::Piece), "the lower, or the left, of two pieces that meet edge to edge", |i| {
        touch(i, |f, a| piece(f, a.first))
    }),
    field_of("second", Type::Item(Kind::Piece), "the upper, or the right one", |i| touch(i, |f, a| piece(f, a.second))),
    field_of("run", Type::Word(Family::Run), "head (one stands on the other) or side (they stand side by side)", |i| {
        touch(i, |_, a| Value::Word(a.run.word()))
    }),
    field_of("sealed", Type::YesNo, "a bead, a gasket or a bond joins the two", |i| {
        touch(i, |_, a| Value::YesNo(a.sealed))
    })
    .hangs(Hangs::Always),
    field_of("detail", Type::Item(Kind::Detail), "the detail that it is in", of_detail),
];

fn touch<'a>(item: Item<'a>, value: impl FnOnce(&'a DetailFacts, &'a Touch) -> Value<'a>) -> Value<'a> {
    match item {
        Item::Touch(facts, index) => value(facts, &facts.face.touches[index]),
        _ => Value::ABSENT,
    }
}

/// The distance between a field of fasteners and the nearest valley line.
fn from_valley(item: Item<'_>) -> Value<'_> {
    fastening(item, |facts, fasten| {
        let place = rect(&fasten.up, &fasten.along);
        let lines = facts.detail.valleys.iter().map(|valley| {
            let on = if valley.axis == Axis::Up { place.up } else { place.along };
            let at = nanometres(valley.at);
            on.distance(Extent { low: at, high: at })
        });
        let near = lines.min().map(|near| facts.length(Some(fasten.piece.index), near));
        near.map_or(Value::ABSENT, Value::Quantity)
    })
}

/// The pieces of a fact in its own order.
fn nth(item: Item<'_>, index: usize) -> Value<'_> {
    item.pieces().get(index).map_or(Value::ABSENT, Value::Item)
}

/// What holds a bond; a coat has no clause and sticks by itself.
fn held(item: Item<'_>, hold: Hold) -> Value<'_> {
    bond(item, |facts, bond| {
        let said = facts.detail.pieces[bond.piece].bonds.iter().find(|said| said.index == bond.onto);
        Value::YesNo(said.is_some_and(|said| said.hold == hold))
    })
}

fn joint(item: Item<'_>, length: fn(&Seal) -> Option<Quantity>) -> Value<'_> {
    match item {
        Item::Seal(f, s) => length(&f.detail.seals[f.face.seals[s].seal]).map_or(Value::ABSENT, Value::Quantity),
        _ => Value::ABSENT,
    }
}

fn bond<'a>(
    item: Item<'a>,
    value: impl FnOnce(&'a DetailFacts, &'a crate::facts::face::Bond) -> Value<'a>,
) -> Value<'a> {
    match item {
        Item::Bond(facts, index) => value(facts, &facts.face.bonds[index]),
        _ => Value::ABSENT,
    }
}

fn fastening<'a>(
    item: Item<'a>,
    value: impl FnOnce(&'a DetailFacts, &'a crate::model::Fastening) -> Value<'a>,
) -> Value<'a> {
    match item {
        Item::Fastening(facts, index) => value(facts, &facts.detail.fastenings[facts.face.fastenings[index].fasten]),
        _ => Value::ABSENT,
    }
}

fn field_pieces<'a>(item: Item<'a>, list: fn(&crate::facts::face::Fastening) -> &Vec<usize>) -> Value<'a> {
    match item {
        Item::Fastening(facts, index) => Value::Items(Items::Pieces(facts, list(&facts.face.fastenings[index]))),
        _ => Value::ABSENT,
    }
}
