//! Edges that go on to where they have to be, and spacings that are drawn closer.

use crate::mend::data::size;
use crate::mend::past::{End, written};
use crate::mend::text::{piece, replace};
use crate::mend::{Case, Cure};
use crate::model::{Extent, MaterialKind, Piece};
use crate::quantity::Quantity;
use crate::syntax::{ClauseKind, Keyword};

/// Each edge of the pieces carried on by what is lacking, or with -1 for `way` drawn back by it: the difference of two lengths that the
/// finding shows, or one of them; then the same with what its cure names.
pub fn edges(case: &Case<'_>, way: f64) -> Vec<Cure> {
    let lacking = lacking(&case.lengths(), &case.named_lengths());
    let mut drafts = Vec::new();
    for need in lacking {
        for index in case.subjects() {
            let piece = piece(case, index);
            if !case.movable(piece) || need > farthest(case, piece) {
                continue;
            }
            for (word, extent, names) in
                [("up", &piece.up, ["foot", "top"]), ("along", &piece.along, ["left edge", "right edge"])]
            {
                drafts.extend(carried(case, &piece.name, word, extent, names, way * need));
            }
        }
    }
    drafts
}

/// How far an edge of the piece may be carried. Tape comes in strips: where more is lacking, it is another detail.
pub fn farthest(case: &Case<'_>, piece: &Piece) -> f64 {
    let of = if piece.material.kind == Some(MaterialKind::Tape) { "tape" } else { "farthest" };
    size(case, of).map_or(0.0, |most| most.si)
}

fn lacking(lengths: &[Quantity], named: &[Quantity]) -> Vec<f64> {
    let mut found: Vec<f64> = Vec::new();
    let less = |all: &[Quantity]| -> Vec<f64> {
        lengths.iter().flat_map(|one| all.iter().map(move |other| other.si - one.si)).collect()
    };
    let whole = lengths.iter().map(|length| length.si);
    let needs = less(lengths).into_iter().chain(whole).chain(less(named)).chain(named.iter().map(|named| named.si));
    for need in needs.filter(|need| *need > 1e-6) {
        if !found.iter().any(|known| (known - need).abs() < 1e-6) {
            found.push(need);
        }
    }
    found
}

fn carried(case: &Case<'_>, name: &str, word: &str, extent: &Extent, names: [&str; 2], need: f64) -> Vec<Cure> {
    let Some(span) = extent.span else { return Vec::new() };
    let does = if need > 0.0 { "Carry" } else { "Draw back" };
    let ends = [(End::Low, extent.low, -need), (End::High, extent.high, need)];
    let drafts = ends.into_iter().zip(names).flat_map(|((end, edge, by), named)| {
        let exact = edge.map(|edge| Quantity::from_si(edge.si + by, edge.unit));
        let round = exact.and_then(|at| round(case, at, by.signum()));
        round.into_iter().chain(exact).filter_map(move |at| {
            let words = written(word, extent, &[(end, at)])?;
            Some(Cure::new(format!("{does} the {named} of {name} to {at}"), vec![replace(case, span.range(), words)]))
        })
    });
    drafts.collect()
}

/// A length that somebody would write, a little farther on; `None` where it is one already.
fn round(case: &Case<'_>, at: Quantity, way: f64) -> Option<Quantity> {
    let grid = size(case, "grid")?.si;
    let steps = at.si / grid;
    let off = (steps - steps.round()).abs();
    let whole = if way < 0.0 { steps.floor() } else { steps.ceil() };
    (off > 1e-3).then(|| Quantity::from_si(whole * grid, at.unit))
}

/// `every` of the statement at fault, or of what fastens the pieces, as close as a length that the cure names or the finding shows.
pub fn spacing(case: &Case<'_>) -> Vec<Cure> {
    let own = case.finding.span.range();
    let Some(item) = case.item() else { return Vec::new() };
    let subjects: Vec<&str> = case.subjects().into_iter().map(|index| &*piece(case, index).name).collect();
    let around = item.body.iter().filter(|statement| {
        let span = statement.span.range();
        let holds = statement.keyword == Keyword::Fasten
            && statement.names.first.is_some_and(|name| subjects.contains(&case.source.at(name)));
        holds || span.start <= own.start && own.end <= span.end
    });
    let every =
        around.flat_map(|statement| statement.clauses.iter().filter(|part| part.kind == Some(ClauseKind::Every)));
    let drafts = every.flat_map(|part| {
        let written = case.named_lengths().into_iter().chain(case.lengths());
        written.map(|length| {
            Cure::new(
                format!("Space them {length} apart"),
                vec![replace(case, part.span.range(), format!("every {length}"))],
            )
        })
    });
    drafts.collect()
}
