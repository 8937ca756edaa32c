//! How the face lies: its folds, slopes and valleys.

use super::{extent, stated};
use crate::model::resolve::Reporter;
use crate::model::{Axis, Band, Detail, Fold, FoldKind, Message, Valley};
use crate::quantity::Quantity;
use crate::syntax::{Clause, Statement};

pub(super) fn fold(reporter: &mut Reporter<'_>, detail: &mut Detail, statement: &Statement) {
    let place = place(statement);
    let kind =
        statement.names.first.and_then(|span| reporter.word("kind of fold", span, &FoldKind::ALL, FoldKind::word));
    match (place, kind) {
        (Some((axis, at)), Some(kind)) => detail.folds.push(Fold { axis, at, kind, span: statement.span }),
        _ => detail.doubtful = true,
    }
}

pub(super) fn slope(reporter: &mut Reporter<'_>, detail: &mut Detail, statement: &Statement) {
    let Some(slope) = stated(statement).filter(|_| !statement.doubtful) else { return };
    if detail.slopes.len() == MOST_BANDS {
        return too_many(reporter, detail, statement, "slopes");
    }
    let (up, along) = (extent(&statement.clauses, Axis::Up), extent(&statement.clauses, Axis::Along));
    detail.slopes.push(Band { slope: slope.value, up, along, span: statement.span });
}

pub(super) fn valley(reporter: &mut Reporter<'_>, detail: &mut Detail, statement: &Statement) {
    if detail.valleys.len() == MOST_BANDS {
        return too_many(reporter, detail, statement, "valleys");
    }
    detail.valleys.extend(place(statement).map(|(axis, at)| Valley { axis, at, span: statement.span }));
}

/// No real face has so many; a file that has them is broken, and each of them would be checked at every lap.
const MOST_BANDS: usize = 100;

fn too_many(reporter: &mut Reporter<'_>, detail: &mut Detail, statement: &Statement, what: &str) {
    reporter.report(statement.span, Message::TooMany { most: MOST_BANDS, what });
    detail.doubtful = true;
}

/// The one line of the face that a statement is about.
pub(super) fn place(statement: &Statement) -> Option<(Axis, Quantity)> {
    statement.clauses.iter().find_map(|part| match part.clause {
        Clause::UpAt(height) => Some((Axis::Up, height)),
        Clause::AlongAt(place) => Some((Axis::Along, place)),
        _ => None,
    })
}
