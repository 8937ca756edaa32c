//! What is taken out: a bead that seals nothing, a bond that cannot hold, a waiver that accepts nothing.

use crate::mend::text::{lines_of, piece, replace};
use crate::mend::{Case, Cure};
use crate::syntax::{Keyword, Slot, Statement};
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

/// One of the names behind `bonds`, or the clause with the only one.
pub fn bonds(case: &Case<'_>) -> Vec<Cure> {
    let mut drafts = Vec::new();
    for index in case.subjects() {
        let piece = piece(case, index);
        let clause = around_span(case, piece.span)
            .flat_map(|statement| &statement.clauses)
            .find(|part| part.slot == Some(Slot::Bonds));
        let Some(clause) = clause.map(|part| part.span.range()) else { continue };
        let own: Vec<_> =
            piece.bonds.iter().map(|bond| bond.span.range()).filter(|at| clause.start <= at.start).collect();
        for (n, bond) in own.iter().enumerate() {
            let onto = &case.source.text[bond.clone()];
            let range = match (n.checked_sub(1).map(|before| own[before].end), own.get(n + 1)) {
                (Some(before), _) => before..bond.end,
                (None, Some(next)) => bond.start..next.start,
                (None, None) => clause.clone(),
            };
            let title = format!("No longer bond {} to {onto}", piece.name);
            drafts.push(Cure::new(title, vec![replace(case, range, String::new())]));
        }
    }
    drafts
}

/// The place of a bead, which without one runs along the whole contact.
pub fn places(case: &Case<'_>) -> Vec<Cure> {
    let beads = around(case).filter(|statement| statement.keyword == Keyword::Seal);
    let drafts = beads.flat_map(|bead| {
        let placed = bead.clauses.iter().filter(|part| matches!(part.slot, Some(Slot::UpAt | Slot::AlongAt)));
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
