//! What a statement or a detail lacks: a word, weeps, end dams.

use crate::mend::data::size;
use crate::mend::text::{clause, last_line, line_behind, piece, replace};
use crate::mend::{Case, Cure};
use crate::model::Piece;
use crate::quantity::Quantity;

/// A word of one of the pieces.
pub fn flag(case: &Case<'_>, word: &str, has: fn(&Piece) -> bool) -> Vec<Cure> {
    let pieces = case.subjects().into_iter().map(|index| piece(case, index)).filter(|piece| !has(piece));
    pieces
        .map(|piece| Cure::new(format!("Write {word} at {}", piece.name), vec![clause(case, piece.span, word)]))
        .collect()
}

pub fn weeps(case: &Case<'_>) -> Vec<Cure> {
    let Some(every) = size(case, "weeps").filter(|_| case.facts.is_some()) else { return Vec::new() };
    let line = last_line(case, &format!("weeps every {every}"));
    line.map(|edit| Cure::new(format!("Add weeps every {every}"), vec![edit])).into_iter().collect()
}

/// Weeps drawn above what the water stands on, brought down by what the finding says.
pub fn lowered_weeps(case: &Case<'_>) -> Vec<Cure> {
    let weeps = case.facts.map_or(&[][..], |facts| &facts.detail.weeps);
    let stated = weeps.iter().filter_map(|weeps| Some((weeps, weeps.up?)));
    let drafts = stated.flat_map(|(weeps, up)| {
        case.lengths().into_iter().map(move |by| {
            let at = Quantity::from_si(up.si - by.si, up.unit);
            let words = format!("weeps every {} up {at}", weeps.every);
            Cure::new(format!("Lower the weeps to {at}"), vec![replace(case, weeps.span.range(), words)])
        })
    });
    drafts.collect()
}

/// A dam at each end of a pan that is drawn, turned up above it.
pub fn end_dams(case: &Case<'_>) -> Vec<Cure> {
    let (Some(rise), Some(width)) = (size(case, "end-dam-rise"), size(case, "end-dam-width")) else {
        return Vec::new();
    };
    let mut drafts = Vec::new();
    for index in case.subjects() {
        let pan = piece(case, index);
        let (Some(low), Some(high)) = (pan.up.low, pan.up.high) else { continue };
        let moved = |edge: Quantity, by: Quantity| Quantity::from_si(edge.si + by.si, edge.unit);
        let less = |edge: Quantity, by: Quantity| Quantity::from_si(edge.si - by.si, edge.unit);
        let ends = [
            ("dam-left", pan.along.low.map(|edge| (edge, moved(edge, width)))),
            ("dam-right", pan.along.high.map(|edge| (less(edge, width), edge))),
        ];
        let lines: Vec<String> = ends
            .into_iter()
            .filter_map(|(name, ends)| {
                let (left, right) = ends?;
                let (name, material, top) = (case.fresh(name), &pan.material.name, moved(high, rise));
                Some(format!("piece {name} {material} as end-dam up {low} to {top} along {left} to {right}"))
            })
            .collect();
        if lines.is_empty() {
            continue;
        }
        let edits = lines.iter().map(|line| line_behind(case, pan.span, line)).collect::<Option<Vec<_>>>();
        drafts.extend(edits.map(|edits| Cure::new(format!("Turn up end dams at {}", pan.name), edits)));
    }
    drafts
}
