//! The pieces of a detail, and the names by which its other lines mean them.

use std::cell::RefCell;
use std::collections::hash_map::Entry;

use foldhash::{HashMap, HashSet};

use crate::model::resolve::detail::written;
use crate::model::resolve::{Scope, Voice};
use crate::model::{
    Assembly, Axis, Bond, Detail, Extent, LayerRef, Material, MaterialKind, Piece, PieceRef, Row, Stated,
};
use crate::quantity::Quantity;
use crate::syntax::{Clause, Item, Keyword, Problem, Statement, several, short};
use crate::text::{Span, nearest};

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
    pub fn of(voice: &mut Voice<'a>, item: &Item, joined: bool) -> Pieces<'a> {
        let pieces = item.body.iter().filter(|statement| statement.keyword == Keyword::Piece);
        let mut indices: HashMap<&str, Named> = HashMap::default();
        let mut count = 0;
        for statement in pieces {
            let span = statement.names.first.unwrap_or(statement.span);
            match indices.entry(voice.text(span)) {
                Entry::Occupied(first) => voice.duplicate("piece", span, first.get().span),
                Entry::Vacant(free) => {
                    free.insert(Named { index: count, row: is_row(statement), span });
                }
            }
            count += if is_row(statement) { 2 } else { 1 };
        }
        let silent = item.lost.iter().filter(|(keyword, _)| *keyword == Keyword::Piece);
        let silent = RefCell::new(silent.map(|(_, span)| voice.text(*span)).collect());
        Pieces { indices, count, silent, joined }
    }

    pub fn count(&self) -> usize {
        self.count
    }

    /// The piece that comes after the first of a row.
    fn next(&self, reference: PieceRef, voice: &Voice<'a>) -> Option<PieceRef> {
        let named = self.indices.get(voice.text(reference.span))?;
        named.row.then_some(PieceRef { index: reference.index + 1, ..reference })
    }

    /// The piece of a name; an unknown name is reported once in a detail.
    pub fn find(&self, voice: &mut Voice<'a>, span: Span) -> Option<PieceRef> {
        let name = voice.text(span);
        if let Some(named) = self.indices.get(name) {
            return Some(PieceRef { index: named.index, span });
        }
        if self.silent.borrow_mut().insert(name) {
            let mut known: Vec<&str> = self.indices.keys().copied().collect();
            known.sort_unstable();
            let way_out = match known.is_empty() {
                true => format!("Draw it: `piece {} MATERIAL`.", short(name)),
                false => format!("The pieces of this detail are {}.", several(&known)),
            };
            voice.unknown_again("piece", span, known, way_out);
        }
        None
    }
}

pub(in crate::model) fn piece<'a>(
    scope: &mut Scope<'_>,
    voice: &mut Voice<'a>,
    pieces: &Pieces<'a>,
    detail: &mut Detail,
    statement: &Statement,
) {
    let name_span = statement.names.first.unwrap_or(statement.span);
    let material_span = statement.names.second.unwrap_or(name_span);
    let material = scope.material(voice, material_span);
    if material.kind == Some(MaterialKind::Fastener) {
        scope.refuse(voice, material_span, &material, "a fastener cannot be a piece; write `fasten … with …`");
    }
    let index = detail.pieces.len();
    let mut piece = Piece {
        name: voice.name(name_span),
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
            || pieces.indices.get(voice.text(name_span)).is_none_or(|named| named.index != index),
        name_span,
        material_span,
        span: statement.span,
    };
    let mut every_span = None;
    for part in &statement.clauses {
        match &part.clause {
            Clause::Of(name) => {
                piece.layer = layer(scope, voice, pieces, detail, &piece, *name, part.span);
                // Which layer it ends is unknown, not none.
                piece.doubtful |= piece.layer.is_none();
            }
            Clause::Up(extent) => piece.up = written(extent, part.span),
            Clause::Along(extent) => piece.along = written(extent, part.span),
            Clause::Role(name) => {
                voice.idle_role(*name, &scope.words.roles);
                (piece.role, piece.role_span) = (Some(voice.name(*name)), Some(*name));
            }
            Clause::Bonds(names, hold) => {
                for PieceRef { index, span } in references(voice, pieces, index, names, &mut piece.doubtful) {
                    if piece.bonds.iter().all(|earlier| earlier.index != index) {
                        piece.bonds.push(Bond { index, hold: *hold, span });
                    }
                }
            }
            Clause::Over(names) => piece.over = references(voice, pieces, index, names, &mut piece.doubtful),
            Clause::Behind(names) => piece.behind = references(voice, pieces, index, names, &mut piece.doubtful),
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
        Some((every, span)) => row(voice, detail, piece, every, span),
        None => detail.pieces.push(piece),
    }
}

/// Puts a row of pieces in the place of one.
fn row(voice: &mut Voice<'_>, detail: &mut Detail, mut first: Piece, every: Quantity, span: Span) {
    let axis = row_axis(detail, &first);
    let extent = |piece: &Piece| if axis == Axis::Up { piece.up } else { piece.along };
    let low = extent(&first).low.map(|low| Quantity::from_si(low.si + every.si, low.unit));
    if low.is_none() || extent(&first).high.is_none() {
        let finding = Problem::EmptyExtent
            .at(span, "this piece has no size along its row, so the row cannot be laid out")
            .fix("Write where the first piece of the row begins and ends, as in `up 0 mm to 300 mm every 150 mm`.");
        voice.say(Problem::EmptyExtent, finding);
        first.doubtful = true;
    }
    first.row = Some(Row { every, axis, next: false, span });
    let mut next = Piece { row: Some(Row { every, axis, next: true, span }), ..first.clone() };
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
/// so do pieces that run off the detail upward.
fn row_axis(detail: &Detail, piece: &Piece) -> Axis {
    let (Some(low), Some(high)) = (piece.up.low, piece.up.high) else { return Axis::Along };
    let bent = detail.folds.iter().any(|f| f.axis == Axis::Up && low.si < f.at.si && f.at.si < high.si);
    if bent { Axis::Along } else { Axis::Up }
}

fn is_row(statement: &Statement) -> bool {
    statement.clauses.iter().any(|part| matches!(part.clause, Clause::Every(_)))
}

fn references<'a>(
    voice: &mut Voice<'a>,
    pieces: &Pieces<'a>,
    own: usize,
    names: &[Span],
    doubtful: &mut bool,
) -> Vec<PieceRef> {
    let mut found: Vec<PieceRef> = Vec::with_capacity(names.len());
    for span in names {
        match pieces.find(voice, *span) {
            Some(reference) if reference.index == own => {
                let finding = Problem::Syntax.at(*span, format!("`{}` names itself", voice.text(*span)));
                voice.say(Problem::Syntax, finding.fix("Name the other piece."));
            }
            Some(reference) if found.iter().any(|earlier| earlier.index == reference.index) => {}
            Some(reference) => {
                found.push(reference);
                found.extend(pieces.next(reference, voice));
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
    voice: &mut Voice<'_>,
    pieces: &Pieces<'_>,
    detail: &Detail,
    piece: &Piece,
    name: Span,
    clause: Span,
) -> Option<LayerRef> {
    let wanted = voice.text(name);
    let material = &piece.material;
    let Some(join) = detail.joins.iter().position(|join| &*join.assembly.name == wanted) else {
        if pieces.joined {
            not_joined(scope, voice, detail, name, clause);
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
        no_such_layer(voice, assembly, material, clause);
    }
    chosen.map(|layer| LayerRef { join, layer, span: clause })
}

fn not_joined(scope: &Scope<'_>, voice: &mut Voice<'_>, detail: &Detail, name: Span, clause: Span) {
    let wanted = voice.text(name);
    let joined: Vec<&str> = detail.joins.iter().map(|join| &*join.assembly.name).collect();
    let message = match scope.library.assembly(wanted) {
        Some(_) => format!("this detail does not join `{wanted}`, so it has no layer for the piece"),
        None => format!("this detail joins no assembly `{wanted}`"),
    };
    let mut finding = Problem::UnknownLayer.at(clause, message).about([voice.name(name)]);
    finding = match nearest(wanted, joined.iter().copied()) {
        Some(close) => finding.fix(format!("Did you mean `of {close}`?")),
        None => finding.fix(format!("The detail joins {}.", joined.join(" and "))),
    };
    voice.say(Problem::UnknownLayer, finding);
}

fn no_such_layer(voice: &mut Voice<'_>, assembly: &Assembly, material: &Material, clause: Span) {
    let known: Vec<&str> = assembly.layers.iter().map(|layer| &*layer.material.name).collect();
    let mut finding = Problem::UnknownLayer
        .at(clause, format!("`{}` has no layer of `{}`", assembly.name, material.name))
        .about([assembly.name.clone(), material.name.clone()])
        .related(assembly.name_span, format!("`{}` is defined here", assembly.name));
    finding = match nearest(&material.name, known.iter().copied()) {
        Some(close) => finding.fix(format!("Did you mean its layer of `{close}`?")),
        None if known.is_empty() => finding.fix("It has no layers."),
        None => finding.fix(format!("Its layers are {}.", known.join(", "))),
    };
    voice.say(Problem::UnknownLayer, finding);
}
