//! Edges that go on to where they have to be, and spacings that are drawn closer.

use crate::mend::data::size;
use crate::mend::past::{End, written};
use crate::mend::text::{piece, replace};
use crate::mend::{Case, Cure};
use crate::model::{Extent, MaterialKind, Piece};
use crate::quantity::Quantity;
use crate::syntax::Slot;

/// Each edge of the pieces carried on by what is lacking, or with -1 for `way` drawn back by it: the difference of two lengths that the
/// finding shows, or one of them.
pub fn edges(case: &Case<'_>, way: f64) -> Vec<Cure> {
    let lacking = lacking(&case.lengths());
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

fn lacking(lengths: &[Quantity]) -> Vec<f64> {
    let mut found: Vec<f64> = Vec::new();
    let differences = lengths.iter().flat_map(|one| lengths.iter().map(move |other| other.si - one.si));
    for need in differences.chain(lengths.iter().map(|length| length.si)).filter(|need| *need > 1e-6) {
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
    let drafts = ends.into_iter().zip(names).filter_map(|((end, edge, by), named)| {
        let edge = edge?;
        let at = Quantity::from_si(edge.si + by, edge.unit);
        let words = written(word, extent, &[(end, at)])?;
        Some(Cure::new(format!("{does} the {named} of {name} to {at}"), vec![replace(case, span.range(), words)]))
    });
    drafts.collect()
}

/// `every` of the statement at fault, as close as a length that the finding shows.
pub fn spacing(case: &Case<'_>) -> Vec<Cure> {
    let own = case.finding.span.range();
    let Some(item) = case.item() else { return Vec::new() };
    let around = item.body.iter().filter(|statement| {
        let span = statement.span.range();
        span.start <= own.start && own.end <= span.end
    });
    let every = around.flat_map(|statement| statement.clauses.iter().filter(|part| part.slot == Some(Slot::Every)));
    let drafts = every.flat_map(|part| {
        let written = case.lengths().into_iter();
        written.map(|length| {
            Cure::new(
                format!("Space them {length} apart"),
                vec![replace(case, part.span.range(), format!("every {length}"))],
            )
        })
    });
    drafts.collect()
}
