//! The pieces of a detail, and the names by which its other lines mean them.

use std::cell::RefCell;
use std::collections::hash_map::Entry;

use foldhash::{HashMap, HashSet};

use crate::model::resolve::detail::written;
use crate::model::resolve::{Reporter, Scope};
use crate::model::{Axis, Bond, Detail, Extent, LayerRef, Message, Piece, PieceRef, PieceRow, Stated, Use};
use crate::quantity::Quantity;
use crate::syntax::{Clause, Item, Keyword, Statement};
use crate::text::Span;

/// The names of a detail's pieces. Later pieces may be named too.
pub(in crate::model) struct Pieces<'a> {
    indices: HashMap<&'a str, Named>,
    count: usize,
    /// Names of pieces whose lines could not be read, and unknown names that were reported.
    silent: RefCell<HashSet<&'a str>>,
    /// Everything that the detail joins is known, so any other name is a mistake.
    joined: bool,
}

/// The piece that a name means: of a row, the first.
#[derive(Clone, Copy)]
struct Named {
    index: usize,
    row: bool,
    span: Span,
}

impl<'a> Pieces<'a> {
    pub fn of(reporter: &mut Reporter<'a>, item: &Item, joined: bool) -> Pieces<'a> {
        let pieces = item.body.iter().filter(|statement| statement.keyword == Keyword::Piece);
        let mut indices: HashMap<&str, Named> = HashMap::default();
        let mut count = 0;
        for statement in pieces {
            let span = statement.names.first.unwrap_or(statement.span);
            match indices.entry(reporter.text(span)) {
                Entry::Occupied(first) => reporter.duplicate("piece", span, first.get().span),
                Entry::Vacant(free) => {
                    free.insert(Named { index: count, row: is_row(statement), span });
                }
            }
            count += if is_row(statement) { 2 } else { 1 };
        }
        let silent = item.lost.iter().filter(|(keyword, _)| *keyword == Keyword::Piece);
        let silent = RefCell::new(silent.map(|(_, span)| reporter.text(*span)).collect());
        Pieces { indices, count, silent, joined }
    }

    pub fn count(&self) -> usize {
        self.count
    }

    /// The piece that comes after the first of a row.
    fn next(&self, reference: PieceRef, reporter: &Reporter<'a>) -> Option<PieceRef> {
        let named = self.indices.get(reporter.text(reference.span))?;
        named.row.then_some(PieceRef { index: reference.index + 1, ..reference })
    }

    /// The piece of a name; an unknown name is reported once in a detail.
    pub fn find(&self, reporter: &mut Reporter<'a>, span: Span) -> Option<PieceRef> {
        let name = reporter.text(span);
        if let Some(named) = self.indices.get(name) {
            return Some(PieceRef { index: named.index, span });
        }
        if self.silent.borrow_mut().insert(name) {
            let mut known: Vec<&str> = self.indices.keys().copied().collect();
            known.sort_unstable();
            let name = reporter.name(span);
            reporter.unknown_again(span, Message::UndefinedPiece { name: &name, known: &known });
        }
        None
    }
}

pub(in crate::model) fn piece<'a>(
    scope: &mut Scope<'_>,
    reporter: &mut Reporter<'a>,
    pieces: &Pieces<'a>,
    detail: &mut Detail,
    statement: &Statement,
) {
    let name_span = statement.names.first.unwrap_or(statement.span);
    let material_span = statement.names.second.unwrap_or(name_span);
    let material = scope.material_for(reporter, material_span, Use::Piece);
    let index = detail.pieces.len();
    let mut piece = Piece {
        name: reporter.name(name_span),
        material,
        layer: None,
        role: None,
        role_span: None,
        up: Extent::default(),
        along: Extent::default(),
        bonds: Vec::new(),
        over: Vec::new(),
        behind: Vec::new(),
        drip: false,
        slope: None,
        rolled: false,
        primed: false,
        inside: false,
        row: None,
        doubtful: statement.doubtful
            || pieces.indices.get(reporter.text(name_span)).is_none_or(|named| named.index != index),
        name_span,
        material_span,
        span: statement.span,
    };
    // What is made as a termination bar or a weep screed is one, whatever its author calls the piece.
    let made_as = reporter.text(material_span);
    let role = scope.words.roles.binary_search_by(|role| (**role).cmp(made_as));
    piece.role = role.ok().map(|at| scope.words.roles[at].clone());
    let mut every_span = None;
    for part in &statement.clauses {
        match &part.clause {
            Clause::Of(name) => {
                piece.layer = layer(scope, reporter, pieces, detail, &piece, *name, part.span);
                // Which layer it ends is unknown, not none.
                piece.doubtful |= piece.layer.is_none();
            }
            Clause::Up(extent) => piece.up = written(extent, part.span),
            Clause::Along(extent) => piece.along = written(extent, part.span),
            Clause::Role(name) => {
                reporter.idle_role(*name, &scope.words.roles);
                (piece.role, piece.role_span) = (Some(reporter.name(*name)), Some(*name));
            }
            Clause::Bonds(names, hold) => {
                for PieceRef { index, span } in references(reporter, pieces, index, names, &mut piece.doubtful) {
                    if piece.bonds.iter().all(|earlier| earlier.index != index) {
                        piece.bonds.push(Bond { index, hold: *hold, span });
                    }
                }
            }
            Clause::Over(names) => piece.over = references(reporter, pieces, index, names, &mut piece.doubtful),
            Clause::Behind(names) => piece.behind = references(reporter, pieces, index, names, &mut piece.doubtful),
            Clause::Drip => piece.drip = true,
            Clause::Slope(slope) => piece.slope = Some(Stated { value: *slope, span: part.span }),
            Clause::Rolled => piece.rolled = true,
            Clause::Primed => piece.primed = true,
            Clause::Inside => piece.inside = true,
            Clause::Every(every) => every_span = Some((*every, part.span)),
            _ => {}
        }
    }
    match every_span {
        Some((every, span)) => row(reporter, detail, piece, every, span),
        None => detail.pieces.push(piece),
    }
}

/// Puts a row of pieces in the place of one.
fn row(reporter: &mut Reporter<'_>, detail: &mut Detail, mut first: Piece, every: Quantity, span: Span) {
    let axis = row_axis(detail, &first);
    let extent = |piece: &Piece| if axis == Axis::Up { piece.up } else { piece.along };
    let low = extent(&first).low.map(|low| Quantity::from_si(low.si + every.si, low.unit));
    if low.is_none() || extent(&first).high.is_none() {
        reporter.report(span, Message::RowWithoutSize);
        first.doubtful = true;
    }
    first.row = Some(PieceRow { every, next: false, span });
    let mut next = Piece { row: Some(PieceRow { every, next: true, span }), ..first.clone() };
    let end = low.and_then(|low| {
        let folds = detail.folds.iter().filter(|fold| fold.axis == axis && fold.at.si > low.si);
        folds.map(|fold| fold.at).min_by(|a, b| a.si.total_cmp(&b.si))
    });
    let place = Extent { low, high: end, span: extent(&first).span };
    match axis {
        Axis::Up => next.up = place,
        Axis::Along => next.along = place,
    }
    detail.pieces.extend([first, next]);
}

/// Courses follow each other up the slope. Pieces that bend over a fold, as step flashings do, follow each other along it, and
/// so do pieces that run off the detail upward. The lowest of those at a jamb bends over the sill as well, and they climb the jamb.
fn row_axis(detail: &Detail, piece: &Piece) -> Axis {
    if piece.up.low.is_none() || piece.up.high.is_none() {
        return Axis::Along;
    }
    let bent = |axis: Axis, extent: &Extent| {
        let (Some(low), Some(high)) = (extent.low, extent.high) else { return false };
        detail.folds.iter().any(|f| f.axis == axis && low.si < f.at.si && f.at.si < high.si)
    };
    if bent(Axis::Up, &piece.up) && !bent(Axis::Along, &piece.along) { Axis::Along } else { Axis::Up }
}

fn is_row(statement: &Statement) -> bool {
    statement.clauses.iter().any(|part| matches!(part.clause, Clause::Every(_)))
}

fn references<'a>(
    reporter: &mut Reporter<'a>,
    pieces: &Pieces<'a>,
    own: usize,
    names: &[Span],
    doubtful: &mut bool,
) -> Vec<PieceRef> {
    let mut found: Vec<PieceRef> = Vec::with_capacity(names.len());
    for span in names {
        match pieces.find(reporter, *span) {
            Some(reference) if reference.index == own => {
                reporter.report(*span, Message::NamesItself { piece: reporter.text(*span) });
            }
            Some(reference) if found.iter().any(|earlier| earlier.index == reference.index) => {}
            Some(reference) => {
                found.push(reference);
                found.extend(pieces.next(reference, reporter));
            }
            None => *doubtful = true,
        }
    }
    found
}

/// The layer that `of A` means: of the piece's material, in a joined assembly. Of several such layers the one with the
/// piece's name is meant, else the first that controls something, else the first.
fn layer(
    scope: &Scope<'_>,
    reporter: &mut Reporter<'_>,
    pieces: &Pieces<'_>,
    detail: &Detail,
    piece: &Piece,
    name: Span,
    clause: Span,
) -> Option<LayerRef> {
    let wanted = reporter.text(name);
    let material = &piece.material;
    let Some(join) = detail.joins.iter().position(|join| &*join.assembly.name == wanted) else {
        if pieces.joined {
            let defined = scope.library.assembly(wanted).is_some();
            let joined: Vec<&str> = detail.joins.iter().map(|join| &*join.assembly.name).collect();
            reporter.report(clause, Message::NotJoined { assembly: &reporter.name(name), defined, joined: &joined });
        }
        return None;
    };
    let assembly = &detail.joins[join].assembly;
    let fits = |n: &usize| assembly.layers[*n].material.name == material.name;
    let layers = || (0..assembly.layers.len()).filter(fits);
    let chosen = layers()
        .find(|n| assembly.layers[*n].name == piece.name)
        .or_else(|| layers().find(|n| !assembly.layers[*n].controls.is_empty()))
        .or_else(|| layers().next());
    if chosen.is_none() && !assembly.doubtful && material.kind.is_some() {
        reporter.report(clause, Message::NoSuchLayer { assembly, material });
    }
    chosen.map(|layer| LayerRef { join, layer })
}
