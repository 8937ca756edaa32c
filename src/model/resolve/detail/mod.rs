//! Details: what they join, their pieces, and what is done to the pieces.

mod face;
mod work;

use std::collections::hash_map::Entry;
use std::sync::Arc;

use crate::model::resolve::piece::{Pieces, piece};
use crate::model::resolve::waiver::waiver;
use crate::model::resolve::{ItemKind, Reporter, Scope};
use crate::model::{Axis, Detail, Extent, Join, Message, Stated};
use crate::syntax::{self, Clause, Item, Keyword, PlacedClause, Statement};
use crate::text::Span;
use face::{fold, slope, valley};
use work::{cut, fasten, seal, weeps};

pub(in crate::model) fn detail(scope: &mut Scope<'_>, reporter: &mut Reporter<'_>, item: &Item) {
    // A detail whose line could not be read has no name; its pieces still count.
    let name_span = item.head.names.first.unwrap_or(item.head.span);
    let name = item.head.names.first.map_or_else(|| "unnamed".into(), |span| reporter.name(span));
    reporter.item = Some(name.clone());
    let kind_span = item.head.names.second.unwrap_or(name_span);
    let kind = item
        .head
        .names
        .second
        .map_or_else(|| "unknown".into(), |span| scope.listed(reporter, ItemKind::DetailKind, span));
    let mut detail = Detail {
        name: name.clone(),
        kind,
        title: None,
        joins: Vec::new(),
        pieces: Vec::new(),
        cuts: Vec::new(),
        seals: Vec::new(),
        fastenings: Vec::new(),
        weeps: Vec::new(),
        folds: Vec::new(),
        slopes: Vec::new(),
        valleys: Vec::new(),
        grade: None,
        paved: false,
        wall_line: None,
        sheltered: None,
        exposed: None,
        installed_at: None,
        sheet: None,
        notes: Vec::new(),
        waivers: Vec::new(),
        doubtful: item.doubtful,
        name_span,
        kind_span,
        span: item.head.span,
        whole: item.span,
    };
    let mut joined = false;
    for part in &item.head.clauses {
        match &part.clause {
            Clause::Title(title) => detail.title = Some(reporter.unquoted(*title)),
            Clause::Joins(first, others) => joined = joins(scope, reporter, &mut detail, *first, others),
            _ => {}
        }
    }
    // How a row of pieces runs depends on where the face turns.
    for statement in item.body.iter().filter(|statement| statement.keyword == Keyword::Fold) {
        fold(reporter, &mut detail, statement);
    }
    let pieces = Pieces::of(reporter, item, joined);
    detail.pieces.reserve_exact(pieces.count());
    for statement in item.body.iter().filter(|statement| statement.keyword == Keyword::Piece) {
        piece(scope, reporter, &pieces, &mut detail, statement);
    }
    for statement in &item.body {
        other(scope, reporter, &pieces, &mut detail, statement);
    }
    reporter.item = None;
    if item.head.names.first.is_some() {
        if let Some(first) = scope.library.base.details.get(&name) {
            reporter.duplicate("detail", name_span, *first);
        } else {
            match scope.library.own.details.entry(name) {
                Entry::Occupied(first) => reporter.duplicate("detail", name_span, *first.get()),
                Entry::Vacant(free) => {
                    free.insert(name_span);
                }
            }
        }
    }
    scope.library.details.push(Arc::new(detail));
}

/// Whether all that the detail joins is known.
fn joins(
    scope: &mut Scope<'_>,
    reporter: &mut Reporter<'_>,
    detail: &mut Detail,
    first: Span,
    others: &[Span],
) -> bool {
    let mut known = true;
    for span in std::iter::once(first).chain(others.iter().copied()) {
        match scope.assembly(reporter, span) {
            Some(assembly) if detail.joins.iter().any(|join| join.assembly.name == assembly.name) => {
                reporter.report(span, Message::JoinedToItself { assembly: &assembly.name });
            }
            Some(assembly) => detail.joins.push(Join { assembly, span }),
            None => known = false,
        }
    }
    detail.doubtful |= !known;
    known
}

/// All statements but the pieces.
fn other<'a>(
    scope: &mut Scope<'_>,
    reporter: &mut Reporter<'a>,
    pieces: &Pieces<'a>,
    detail: &mut Detail,
    statement: &Statement,
) {
    let amount = stated(statement);
    let text = statement.clauses.iter().find_map(|part| match part.clause {
        Clause::Text(text) => Some(reporter.unquoted(text)),
        _ => None,
    });
    match statement.keyword {
        Keyword::Cut => cut(reporter, pieces, detail, statement),
        Keyword::Seal => seal(scope, reporter, pieces, detail, statement),
        Keyword::Fasten => fasten(scope, reporter, pieces, detail, statement),
        Keyword::Weeps => weeps(detail, statement),
        Keyword::Slope => slope(reporter, detail, statement),
        Keyword::Valley => valley(reporter, detail, statement),
        Keyword::Grade => {
            detail.grade = amount;
            detail.paved = statement.clauses.iter().any(|part| part.clause == Clause::Paved);
        }
        Keyword::WallLine => detail.wall_line = amount,
        Keyword::Sheltered => {
            detail.sheltered = Some(extent(&statement.clauses, Axis::Up)).filter(|up| up.span.is_some())
        }
        Keyword::Exposed => detail.exposed = amount,
        Keyword::InstalledAt => detail.installed_at = amount,
        Keyword::Sheet => detail.sheet = text,
        Keyword::Note => detail.notes.extend(text),
        Keyword::Waive => detail.waivers.extend(waiver(scope, reporter, statement)),
        _ => {}
    }
    // A half-read piece is marked itself; a half-read waiver takes nothing away.
    if !matches!(statement.keyword, Keyword::Piece | Keyword::Waive | Keyword::Sheet | Keyword::Note) {
        detail.doubtful |= statement.doubtful;
    }
}

/// The quantity that a statement states.
pub(in crate::model) fn stated(statement: &Statement) -> Option<Stated> {
    statement.clauses.iter().find_map(|part| match part.clause {
        Clause::Amount(value) => Some(Stated { value, span: statement.span }),
        _ => None,
    })
}

/// An extent as its clause gives it.
pub(in crate::model) fn written(extent: &syntax::Extent, span: Span) -> Extent {
    Extent { low: extent.low, high: extent.high, span: Some(span) }
}

/// The extent of an `up` or `along` clause.
fn extent(clauses: &[PlacedClause], axis: Axis) -> Extent {
    clauses
        .iter()
        .find_map(|part| match (&part.clause, axis) {
            (Clause::Up(extent), Axis::Up) | (Clause::Along(extent), Axis::Along) => Some(written(extent, part.span)),
            _ => None,
        })
        .unwrap_or_default()
}
