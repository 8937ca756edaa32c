//! Removals: a bead or a piece that does harm, a control that a layer cannot provide, a waiver that accepts nothing.

use crate::mend::text::{lines_of, on_one_line, piece, remove_clause, replace};
use crate::mend::title::Title;
use crate::mend::{Context, Cure};
use crate::syntax::{Clause, ClauseKind, Keyword, Statement};
use crate::text::Span;

/// The bead or the waiver that holds the finding.
pub fn statements(context: &Context<'_>) -> Vec<Cure> {
    let may = |statement: &&Statement| matches!(statement.keyword, Keyword::Seal | Keyword::Waive);
    let drafts = around(context).filter(may).filter_map(|statement| {
        let lines = lines_of(context.source, statement.span)?;
        let text = on_one_line(context, statement.span);
        Some(Cure::new(Title::RemoveStatement { text: &text }, vec![replace(context, lines, String::new())]))
    });
    drafts.collect()
}

/// One of the subjects. Where another statement names it, the copy has an undefined name, and nothing is offered.
pub fn pieces(context: &Context<'_>) -> Vec<Cure> {
    let pieces = context.subjects().into_iter().map(|index| piece(context, index));
    let drafts = pieces.filter_map(|piece| {
        let lines = lines_of(context.source, piece.span)?;
        Some(Cure::new(Title::RemovePiece { piece: &piece.name }, vec![replace(context, lines, String::new())]))
    });
    drafts.collect()
}

/// `over` or `behind` at one of the subjects.
pub fn order_clauses(context: &Context<'_>) -> Vec<Cure> {
    let mut drafts = Vec::new();
    for index in context.subjects() {
        let piece = piece(context, index);
        let clauses = around_span(context, piece.span).flat_map(|statement| &statement.clauses);
        for part in clauses.filter(|part| matches!(part.kind, Some(ClauseKind::Over | ClauseKind::Behind))) {
            let title = Title::RemoveWords { words: context.source.at(part.span), piece: &piece.name };
            drafts.push(Cure::new(title, vec![remove_clause(context, part.span)]));
        }
    }
    drafts
}

/// A control that a layer is marked with and cannot provide. Another layer has to provide it.
pub fn controls(context: &Context<'_>) -> Vec<Cure> {
    let layers = around(context).filter(|statement| statement.keyword == Keyword::Layer);
    let mut drafts = Vec::new();
    for layer in layers {
        let name = layer.names.first.map_or("", |span| context.source.at(span));
        for part in layer.clauses.iter() {
            let Clause::Controls(words) = &part.clause else { continue };
            for word in words {
                let kept: Vec<&str> =
                    words.iter().filter(|own| *own != word).map(|own| context.source.at(*own)).collect();
                let edit = match kept.is_empty() {
                    true => remove_clause(context, part.span),
                    false => replace(context, part.span.range(), format!("controls {}", kept.join(", "))),
                };
                let title = Title::RemoveControl { layer: name, control: context.source.at(*word) };
                drafts.push(Cure::new(title, vec![edit]));
            }
        }
    }
    drafts
}

/// The place of a bead. A bead without a place runs along the whole contact.
pub fn bead_places(context: &Context<'_>) -> Vec<Cure> {
    let beads = around(context).filter(|statement| statement.keyword == Keyword::Seal);
    let drafts = beads.flat_map(|bead| {
        let placed =
            bead.clauses.iter().filter(|part| matches!(part.kind, Some(ClauseKind::UpAt | ClauseKind::AlongAt)));
        placed.map(|part| Cure::new(Title::SealWholeContact, vec![remove_clause(context, part.span)]))
    });
    drafts.collect()
}

/// The statements that hold the finding.
pub fn around<'a>(context: &Context<'a>) -> impl Iterator<Item = &'a Statement> {
    around_span(context, context.finding.span)
}

pub fn around_span<'a>(context: &Context<'a>, span: Span) -> impl Iterator<Item = &'a Statement> {
    let own = span.range();
    let body = context.item().map_or(&[][..], |item| &item.body);
    body.iter().filter(move |statement| {
        let span = statement.span.range();
        span.start <= own.start && own.end <= span.end
    })
}
