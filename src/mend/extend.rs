//! Edges extended or cut back by what a length lacks.

use crate::mend::extent::{Bound, extent_clause};
use crate::mend::tables::size;
use crate::mend::text::{piece, replace};
use crate::mend::title::Title;
use crate::mend::{Context, Cure};
use crate::model::{Extent, MaterialKind, Piece};
use crate::quantity::Quantity;

/// Each edge of the subjects extended by what is lacking, or with -1 for `way` cut back by it. What is lacking is a length that the finding
/// shows or that its fix names, or the difference of two of them.
pub fn edges(context: &Context<'_>, way: f64) -> Vec<Cure> {
    let lacking = lacking(&context.lengths(), &context.named_lengths());
    let mut drafts = Vec::new();
    for need in lacking {
        for index in context.subjects() {
            let piece = piece(context, index);
            if !context.movable(piece) || need > farthest(context, piece) {
                continue;
            }
            for (word, extent, names) in
                [("up", &piece.up, ["foot", "top"]), ("along", &piece.along, ["left edge", "right edge"])]
            {
                drafts.extend(carried(context, &piece.name, word, extent, names, way * need));
            }
        }
    }
    drafts
}

/// How far an edge of the piece may be extended, in meters. Tape comes in strips: where more is lacking, another detail is needed.
pub fn farthest(context: &Context<'_>, piece: &Piece) -> f64 {
    let of = if piece.material.kind == Some(MaterialKind::Tape) { "tape" } else { "farthest" };
    size(context, of).map_or(0.0, |most| most.si)
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

fn carried(context: &Context<'_>, name: &str, word: &str, extent: &Extent, names: [&str; 2], need: f64) -> Vec<Cure> {
    let Some(span) = extent.span else { return Vec::new() };
    let ends = [(Bound::Low, extent.low, -need), (Bound::High, extent.high, need)];
    let drafts = ends.into_iter().zip(names).flat_map(|((end, edge, by), named)| {
        let exact = edge.map(|edge| Quantity::from_si(edge.si + by, edge.unit));
        let round = exact.and_then(|at| round(context, at, by.signum()));
        round.into_iter().chain(exact).filter_map(move |at| {
            let words = extent_clause(word, extent, &[(end, at)])?;
            let title = match need > 0.0 {
                true => Title::Extend { edge: named, piece: name, to: at },
                false => Title::CutBack { edge: named, piece: name, to: at },
            };
            Some(Cure::new(title, vec![replace(context, span.range(), words)]))
        })
    });
    drafts.collect()
}

/// The next round length; `None` where it is round already.
fn round(context: &Context<'_>, at: Quantity, way: f64) -> Option<Quantity> {
    let grid = size(context, "grid")?.si;
    let steps = at.si / grid;
    let off = (steps - steps.round()).abs();
    let whole = if way < 0.0 { steps.floor() } else { steps.ceil() };
    (off > 1e-3).then(|| Quantity::from_si(whole * grid, at.unit))
}
