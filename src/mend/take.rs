//! What is taken out: a bead or a piece that does harm, a control that a layer cannot provide, a waiver that accepts nothing.

use crate::mend::text::{lines_of, piece, replace};
use crate::mend::{Case, Cure};
use crate::syntax::{Clause, ClauseKind, Keyword, Statement};
use crate::text::Span;

/// The bead or the waiver that the finding stands in.
pub fn statements(case: &Case<'_>) -> Vec<Cure> {
    let may = |statement: &&Statement| matches!(statement.keyword, Keyword::Seal | Keyword::Waive);
    let drafts = around(case).filter(may).filter_map(|statement| {
        let lines = lines_of(case.source, statement.span)?;
        let told = case.source.at(statement.span).split_whitespace().collect::<Vec<_>>().join(" ");
        Some(Cure::new(format!("Leave out `{told}`"), vec![replace(case, lines, String::new())]))
    });
    drafts.collect()
}

/// One of the pieces; where another statement names it, the copy cannot be read, and nothing is offered.
pub fn pieces(case: &Case<'_>) -> Vec<Cure> {
    let pieces = case.subjects().into_iter().map(|index| piece(case, index));
    let drafts = pieces.filter_map(|piece| {
        let lines = lines_of(case.source, piece.span)?;
        Some(Cure::new(format!("Leave out {}", piece.name), vec![replace(case, lines, String::new())]))
    });
    drafts.collect()
}

/// `over` or `behind` of one of the pieces.
pub fn order(case: &Case<'_>) -> Vec<Cure> {
    let mut drafts = Vec::new();
    for index in case.subjects() {
        let piece = piece(case, index);
        let clauses = around_span(case, piece.span).flat_map(|statement| &statement.clauses);
        for part in clauses.filter(|part| matches!(part.kind, Some(ClauseKind::Over | ClauseKind::Behind))) {
            let end = part.span.range();
            let start = case.source.text[..end.start].trim_end().len();
            let title = format!("Take `{}` from {}", case.source.at(part.span), piece.name);
            drafts.push(Cure::new(title, vec![replace(case, start..end.end, String::new())]));
        }
    }
    drafts
}

/// A control that a layer is said to provide and cannot; another layer has to provide it.
pub fn claims(case: &Case<'_>) -> Vec<Cure> {
    let layers = around(case).filter(|statement| statement.keyword == Keyword::Layer);
    let mut drafts = Vec::new();
    for layer in layers {
        let name = layer.names.first.map_or("", |span| case.source.at(span));
        for part in layer.clauses.iter() {
            let Clause::Controls(words) = &part.clause else { continue };
            for word in words {
                let kept: Vec<&str> = words.iter().filter(|own| *own != word).map(|own| case.source.at(*own)).collect();
                let clause = part.span.range();
                let before = case.source.text[..clause.start].trim_end().len();
                let edit = match kept.is_empty() {
                    true => replace(case, before..clause.end, String::new()),
                    false => replace(case, clause, format!("controls {}", kept.join(", "))),
                };
                let title = format!("No longer count on {name} for {} control", case.source.at(*word));
                drafts.push(Cure::new(title, vec![edit]));
            }
        }
    }
    drafts
}

/// The place of a bead, which without one runs along the whole contact.
pub fn places(case: &Case<'_>) -> Vec<Cure> {
    let beads = around(case).filter(|statement| statement.keyword == Keyword::Seal);
    let drafts = beads.flat_map(|bead| {
        let placed =
            bead.clauses.iter().filter(|part| matches!(part.kind, Some(ClauseKind::UpAt | ClauseKind::AlongAt)));
        placed.map(|part| {
            let end = part.span.range();
            let start = case.source.text[..end.start].trim_end().len();
            let title = "Let the bead run along the whole contact".to_owned();
            Cure::new(title, vec![replace(case, start..end.end, String::new())])
        })
    });
    drafts.collect()
}

/// The statements that the finding stands in.
pub fn around<'a>(case: &Case<'a>) -> impl Iterator<Item = &'a Statement> {
    around_span(case, case.finding.span)
}

pub fn around_span<'a>(case: &Case<'a>, span: Span) -> impl Iterator<Item = &'a Statement> {
    let own = span.range();
    let body = case.item().map_or(&[][..], |item| &item.body);
    body.iter().filter(move |statement| {
        let span = statement.span.range();
        span.start <= own.start && own.end <= span.end
    })
}
