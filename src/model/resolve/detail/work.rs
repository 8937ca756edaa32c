//! What is done to the pieces: holes, beads, fasteners, weeps.

use super::extent;
use crate::model::resolve::piece::Pieces;
use crate::model::resolve::{Reporter, Scope};
use crate::model::{Axis, Cut, Detail, Fastening, Message, Seal, Use, Weeps};
use crate::quantity::Quantity;
use crate::syntax::{Clause, Statement};
use crate::text::Span;

pub(super) fn cut<'a>(reporter: &mut Reporter<'a>, pieces: &Pieces<'a>, detail: &mut Detail, statement: &Statement) {
    let Some(piece) = statement.names.first.and_then(|name| pieces.find(reporter, name)) else {
        detail.doubtful = true;
        return;
    };
    if statement.doubtful {
        // A hole of unknown size says nothing of the piece that is left.
        detail.pieces[piece.index].doubtful = true;
        return;
    }
    let (up, along) = (extent(&statement.clauses, Axis::Up), extent(&statement.clauses, Axis::Along));
    if up.span.is_none() && along.span.is_none() {
        reporter.report(statement.span, Message::CutWithoutExtent);
        detail.pieces[piece.index].doubtful = true;
        return;
    }
    detail.cuts.push(Cut { piece, up, along, span: statement.span });
}

pub(super) fn seal<'a>(
    scope: &mut Scope<'_>,
    reporter: &mut Reporter<'a>,
    pieces: &Pieces<'a>,
    detail: &mut Detail,
    statement: &Statement,
) {
    let first = statement.names.first.and_then(|name| pieces.find(reporter, name));
    let second = statement.names.second.and_then(|name| pieces.find(reporter, name));
    let mut sealant = None;
    let mut at = None;
    let (mut width, mut depth, mut backer) = (None, None, None);
    for part in &statement.clauses {
        match part.clause {
            Clause::With(name) => {
                sealant = Some((scope.material_for(reporter, name, Use::Sealant), name));
            }
            Clause::UpAt(height) => at = one_place(reporter, at, (Axis::Up, height), part.span),
            Clause::AlongAt(place) => at = one_place(reporter, at, (Axis::Along, place), part.span),
            Clause::Width(value) => width = Some(value),
            Clause::Depth(value) => depth = Some(value),
            Clause::On(name) => backer = Some((scope.material(reporter, name), name)),
            _ => {}
        }
    }
    let (Some(first), Some(second), Some((sealant, sealant_span))) = (first, second, sealant) else {
        detail.doubtful = true;
        return;
    };
    if first.index == second.index {
        return reporter.report(second.span, Message::SealedToItself { piece: reporter.text(second.span) });
    }
    detail.seals.push(Seal { first, second, sealant, at, width, depth, backer, sealant_span, span: statement.span });
}

fn one_place(
    reporter: &mut Reporter<'_>,
    earlier: Option<(Axis, Quantity)>,
    place: (Axis, Quantity),
    span: Span,
) -> Option<(Axis, Quantity)> {
    if earlier.is_some() {
        reporter.report(span, Message::TwoPlaces);
        return earlier;
    }
    Some(place)
}

pub(super) fn fasten<'a>(
    scope: &mut Scope<'_>,
    reporter: &mut Reporter<'a>,
    pieces: &Pieces<'a>,
    detail: &mut Detail,
    statement: &Statement,
) {
    let piece = statement.names.first.and_then(|name| pieces.find(reporter, name));
    let mut fastener = None;
    let mut every = None;
    for part in &statement.clauses {
        match part.clause {
            Clause::With(name) => {
                fastener = Some((scope.material_for(reporter, name, Use::Fastener), name));
            }
            Clause::Every(spacing) => every = Some((spacing, part.span)),
            _ => {}
        }
    }
    let (Some(piece), Some((fastener, fastener_span)), Some((every, every_span))) = (piece, fastener, every) else {
        detail.doubtful = true;
        return;
    };
    if statement.doubtful {
        return;
    }
    detail.fastenings.push(Fastening {
        piece,
        fastener,
        every,
        up: extent(&statement.clauses, Axis::Up),
        along: extent(&statement.clauses, Axis::Along),
        fastener_span,
        every_span,
        span: statement.span,
    });
}

pub(super) fn weeps(detail: &mut Detail, statement: &Statement) {
    let mut weeps: Option<Weeps> = None;
    let mut up = None;
    for part in &statement.clauses {
        match part.clause {
            Clause::Every(every) => weeps = Some(Weeps { every, up: None, span: statement.span }),
            Clause::UpAt(height) => up = Some(height),
            _ => {}
        }
    }
    detail.weeps.extend(weeps.map(|weeps| Weeps { up, ..weeps }));
}
