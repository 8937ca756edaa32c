//! Fields of bonds, seals, fastenings, tucks and touches: how pieces are held to each other.

use crate::facts::DetailFacts;
use crate::facts::detail::{nanometres, rect};
use crate::facts::face::{Extent, Touch};
use crate::facts::vocabulary::drainage::{of_detail, piece};
use crate::facts::vocabulary::{ABSENT, Dependence, Fact, FactList, Family, Field, FieldResult, Kind};
use crate::model::{Axis, Hold, Seal};
use crate::quantity::{Dimension, Quantity};

const LENGTH: Dimension = Dimension::Length;

pub const BOND: &[Field] = &[
    Field::fact("piece", Kind::Piece, "the adhered piece", |i| bond(i, |f, b| piece(f, b.piece))),
    Field::fact("onto", Kind::Piece, "what it is adhered to", |i| bond(i, |f, b| piece(f, b.onto))),
    Field::fact(
        "apart",
        Kind::Piece,
        "the one that keeps them apart: the other piece where it comes too late, else the adhered one",
        |i| bond(i, |f, b| piece(f, if b.contact && b.dry { b.onto } else { b.piece })),
    ),
    Field::yes_no("contact", "the two touch somewhere", |i| bond(i, |_, b| Ok(b.contact))).depends(Dependence::Always),
    Field::yes_no("sticks", "its adhesive touches the other somewhere", |i| bond(i, |_, b| Ok(b.contact && !b.dry)))
        .depends(Dependence::Always),
    Field::word("where-to", Family::Open, "where the other piece is, in words, when the two are not bonded", |i| {
        bond(i, |_, b| match (b.contact, b.dry) {
            (false, _) => Ok("which it never touches"),
            (true, true) => Ok("which comes later and lies on the side that has no adhesive"),
            (true, false) => Ok(""),
        })
    })
    .depends(Dependence::Always),
    Field::quantity("width", LENGTH, "the smaller extent of their contact; unknown when open", |i| {
        bond(i, |f, b| b.width.map_or(Err(ABSENT), |width| Ok(f.length(Some(b.piece), width))))
    }),
    Field::yes_no("welded", "heat-welded, as seams of single-ply sheets are", |i| held(i, Hold::Weld)),
    Field::yes_no("clamped", "clamped by a band, a ring or a bar", |i| held(i, Hold::Clamp)),
    Field::fact("detail", Kind::Detail, "the detail that it is in", of_detail),
];

pub const SEAL: &[Field] = &[
    Field::fact("first", Kind::Piece, "one of the sealed pieces", |i| nth(i, 0)),
    Field::fact("second", Kind::Piece, "the other", |i| nth(i, 1)),
    Field::fact("sealant", Kind::Material, "the bead", |i| match i {
        Fact::Seal(f, s) => Ok(Fact::Material(&f.detail.seals[f.face.seals[s].seal].sealant)),
        _ => Err(ABSENT),
    }),
    Field::quantity("height", LENGTH, "height of a level bead; unknown for other beads", |i| match i {
        Fact::Seal(f, s) => match f.detail.seals[f.face.seals[s].seal].at {
            Some((Axis::Up, at)) => Ok(at),
            _ => Err(ABSENT),
        },
        _ => Err(ABSENT),
    }),
    Field::quantity("width", LENGTH, "width of the joint between its edges", |i| joint(i, |seal| seal.width)),
    Field::quantity("depth", LENGTH, "how deep the sealant is", |i| joint(i, |seal| seal.depth)),
    Field::fact("backer", Kind::Material, "what the sealant is tooled against", |i| match i {
        Fact::Seal(f, s) => match &f.detail.seals[f.face.seals[s].seal].backer {
            Some((backer, _)) => Ok(Fact::Material(backer)),
            None => Err(ABSENT),
        },
        _ => Err(ABSENT),
    }),
    Field::yes_no("backed", "the text says what the sealant is tooled against", |i| match i {
        Fact::Seal(f, s) => Ok(f.detail.seals[f.face.seals[s].seal].backer.is_some()),
        _ => Err(ABSENT),
    }),
    Field::quantity("along", LENGTH, "place along of an upright bead; unknown for other beads", |i| match i {
        Fact::Seal(f, s) => match f.detail.seals[f.face.seals[s].seal].at {
            Some((Axis::Along, at)) => Ok(at),
            _ => Err(ABSENT),
        },
        _ => Err(ABSENT),
    }),
    Field::yes_no("touches", "the two pieces meet where the bead is placed", |i| match i {
        Fact::Seal(f, s) => Ok(f.face.seals[s].touches),
        _ => Err(ABSENT),
    })
    .depends(Dependence::Always),
    Field::fact("detail", Kind::Detail, "the detail that it is in", of_detail),
];

pub const FASTENING: &[Field] = &[
    Field::fact("piece", Kind::Piece, "the fastened piece", |i| fastening(i, |f, x| piece(f, x.piece.index))),
    Field::fact("fastener", Kind::Material, "the fastener", |i| fastening(i, |_, x| Ok(Fact::Material(&x.fastener)))),
    Field::quantity("every", LENGTH, "spacing", |i| fastening(i, |_, x| Ok(x.every))),
    Field::quantity("top", LENGTH, "height of its upper end; unknown when it has none", |i| {
        fastening(i, |_, x| x.up.high.ok_or(ABSENT))
    }),
    Field::quantity("bottom", LENGTH, "height of its lower end; unknown when it has none", |i| {
        fastening(i, |_, x| x.up.low.ok_or(ABSENT))
    }),
    Field::quantity("left", LENGTH, "place of its left end; unknown when it has none", |i| {
        fastening(i, |_, x| x.along.low.ok_or(ABSENT))
    }),
    Field::quantity("right", LENGTH, "place of its right end; unknown when it has none", |i| {
        fastening(i, |_, x| x.along.high.ok_or(ABSENT))
    }),
    Field::quantity("from-valley", LENGTH, "how near it comes to a valley line; unknown without one", from_valley),
    Field::facts("taped-over", Kind::Piece, "tapes laid over the fasteners later", |i| {
        field_pieces(i, |x| &x.taped_over)
    })
    .depends(Dependence::Always),
    Field::facts("flashed-over", Kind::Piece, "flashings laid over the fasteners later", |i| {
        field_pieces(i, |x| &x.flashed_over)
    })
    .depends(Dependence::Always),
    Field::facts("pierces", Kind::Piece, "flashings that the fasteners go through", |i| {
        field_pieces(i, |x| &x.pierces)
    })
    .depends(Dependence::Always),
    Field::facts("pierces-tapes", Kind::Piece, "tapes that the fasteners go through", |i| {
        field_pieces(i, |x| &x.pierces_tapes)
    })
    .depends(Dependence::Always),
    Field::fact("detail", Kind::Detail, "the detail that it is in", of_detail),
];

pub const TUCK: &[Field] = &[
    Field::fact("piece", Kind::Piece, "the piece put behind", |i| nth(i, 0)),
    Field::fact("behind", Kind::Piece, "the piece that was installed before", |i| nth(i, 1)),
    Field::yes_no("fixed", "that one was already adhered or fastened there", |i| match i {
        Fact::Tuck(f, t) => Ok(f.face.tucks[t].fixed),
        _ => Err(ABSENT),
    }),
    Field::fact("detail", Kind::Detail, "the detail that it is in", of_detail),
];

pub const MEETING: &[Field] = &[
    Field::fact("inner", Kind::Piece, "the inboard one of two pieces that touch", |i| nth(i, 0))
        .depends(Dependence::Always),
    Field::fact("outer", Kind::Piece, "the outboard one", |i| nth(i, 1)).depends(Dependence::Always),
    Field::fact("detail", Kind::Detail, "the detail that it is in", of_detail),
];

pub const TOUCH: &[Field] = &[
    Field::fact("first", Kind::Piece, "the lower, or the left, of two pieces that meet edge to edge", |i| {
        touch(i, |f, a| piece(f, a.first))
    }),
    Field::fact("second", Kind::Piece, "the upper, or the right one", |i| touch(i, |f, a| piece(f, a.second))),
    Field::word("run", Family::Run, "head (one stands on the other) or side (they stand side by side)", |i| {
        touch(i, |_, a| Ok(a.run.word()))
    }),
    Field::yes_no("sealed", "a bead, a gasket or a bond joins the two", |i| touch(i, |_, a| Ok(a.sealed)))
        .depends(Dependence::Always),
    Field::fact("detail", Kind::Detail, "the detail that it is in", of_detail),
];

fn touch<'a, T>(
    item: Fact<'a>,
    value: impl FnOnce(&'a DetailFacts, &'a Touch) -> FieldResult<'a, T>,
) -> FieldResult<'a, T> {
    match item {
        Fact::Touch(facts, index) => value(facts, &facts.face.touches[index]),
        _ => Err(ABSENT),
    }
}

/// The distance between a field of fasteners and the nearest valley line.
fn from_valley(item: Fact<'_>) -> FieldResult<'_, Quantity> {
    fastening(item, |facts, fasten| {
        let place = rect(&fasten.up, &fasten.along);
        let lines = facts.detail.valleys.iter().map(|valley| {
            let on = if valley.axis == Axis::Up { place.up } else { place.along };
            let at = nanometres(valley.at);
            on.distance(Extent { low: at, high: at })
        });
        let near = lines.min().map(|near| facts.length(Some(fasten.piece.index), near));
        near.ok_or(ABSENT)
    })
}

/// One of the pieces of a fact, in the order of the fact.
fn nth(item: Fact<'_>, index: usize) -> FieldResult<'_, Fact<'_>> {
    item.pieces().get(index).ok_or(ABSENT)
}

/// What holds a bond; a coat has no clause and adheres by itself.
fn held(item: Fact<'_>, hold: Hold) -> FieldResult<'_, bool> {
    bond(item, |facts, bond| {
        let said = facts.detail.pieces[bond.piece].bonds.iter().find(|said| said.index == bond.onto);
        Ok(said.is_some_and(|said| said.hold == hold))
    })
}

fn joint(item: Fact<'_>, length: fn(&Seal) -> Option<Quantity>) -> FieldResult<'_, Quantity> {
    match item {
        Fact::Seal(f, s) => length(&f.detail.seals[f.face.seals[s].seal]).ok_or(ABSENT),
        _ => Err(ABSENT),
    }
}

fn bond<'a, T>(
    item: Fact<'a>,
    value: impl FnOnce(&'a DetailFacts, &'a crate::facts::face::Bond) -> FieldResult<'a, T>,
) -> FieldResult<'a, T> {
    match item {
        Fact::Bond(facts, index) => value(facts, &facts.face.bonds[index]),
        _ => Err(ABSENT),
    }
}

fn fastening<'a, T>(
    item: Fact<'a>,
    value: impl FnOnce(&'a DetailFacts, &'a crate::model::Fastening) -> FieldResult<'a, T>,
) -> FieldResult<'a, T> {
    match item {
        Fact::Fastening(facts, index) => value(facts, &facts.detail.fastenings[facts.face.fastenings[index].fasten]),
        _ => Err(ABSENT),
    }
}

fn field_pieces<'a>(
    item: Fact<'a>,
    list: fn(&crate::facts::face::Fastening) -> &Vec<usize>,
) -> FieldResult<'a, FactList<'a>> {
    match item {
        Fact::Fastening(facts, index) => Ok(FactList::Pieces(facts, list(&facts.face.fastenings[index]))),
        _ => Err(ABSENT),
    }
}
