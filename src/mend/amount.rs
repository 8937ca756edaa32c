//! An amount that the finding shows, written as the limit that it shows beside it.

use crate::mend::data::slope;
use crate::mend::text::{clause, piece, replace};
use crate::mend::{Case, Cure};
use crate::quantity::{Quantity, parse_quantity};
use crate::syntax::{Clause, ClauseKind, Keyword, PlacedClause};

/// Each statement of the item that states an amount which the finding shows, with another one that it shows.
pub fn limits(case: &Case<'_>) -> Vec<Cure> {
    let (shown, named) = (shown(case), case.named_lengths());
    let body = case.item().map_or(&[][..], |item| &item.body);
    let stated = body.iter().flat_map(|statement| statement.clauses.iter().map(move |part| (statement, part)));
    let mut drafts = Vec::new();
    for (statement, part) in stated {
        let Some(own) = amount(part).filter(|own| shown.iter().any(|shown| same(shown, own))) else { continue };
        let word = part.kind.and_then(ClauseKind::word).map_or(String::new(), |word| format!("{word} "));
        let others =
            shown.iter().chain(&named).filter(|other| other.dimension() == own.dimension() && !same(other, &own));
        drafts.extend(others.map(|other| {
            let edit = replace(case, part.span.range(), format!("{word}{other}"));
            let told = match statement.clauses[..] {
                [_] => case.source.at(statement.span).split_whitespace().collect::<Vec<_>>().join(" "),
                _ => format!("{word}{own}"),
            };
            Cure::new(format!("Change `{told}` to {word}{other}"), vec![edit])
        }));
    }
    drafts
}

/// A slope that sheds for each of the pieces, or for a part of the face.
pub fn slopes(case: &Case<'_>) -> Vec<Cure> {
    let Some(slope) = slope(case, &case.finding.rule) else { return Vec::new() };
    let drafts = case.subjects().into_iter().map(|index| {
        let piece = piece(case, index);
        let edit = match piece.slope {
            Some(stated) => replace(case, stated.span.range(), format!("slope {slope}")),
            None => clause(case, piece.span, &format!("slope {slope}")),
        };
        Cure::new(format!("Slope {} by {slope}", piece.name), vec![edit])
    });
    let body = case.item().map_or(&[][..], |item| &item.body);
    let parts = body.iter().filter(|statement| statement.keyword == Keyword::Slope);
    let stated = parts.filter_map(|statement| {
        let part = statement.clauses.iter().find(|part| matches!(part.clause, Clause::Amount(_)))?;
        let told = case.source.at(statement.span).split_whitespace().collect::<Vec<_>>().join(" ");
        let edit = replace(case, part.span.range(), slope.to_string());
        Some(Cure::new(format!("Change `{told}` to {slope}"), vec![edit]))
    });
    drafts.chain(stated).collect()
}

/// All quantities among the values of the finding.
fn shown(case: &Case<'_>) -> Vec<Quantity> {
    let texts = case.finding.values.iter().map(|(_, text)| text.split(" (").next().unwrap_or(text));
    texts.filter_map(|text| parse_quantity(text).ok()).collect()
}

fn same(one: &Quantity, other: &Quantity) -> bool {
    one.dimension() == other.dimension() && (one.si - other.si).abs() < 1e-6 * one.si.abs().max(1.0)
}

fn amount(part: &PlacedClause) -> Option<Quantity> {
    match part.clause {
        Clause::Amount(amount) | Clause::UpAt(amount) | Clause::AlongAt(amount) => Some(amount),
        Clause::Every(amount) | Clause::Slope(amount) | Clause::Width(amount) | Clause::Depth(amount) => Some(amount),
        _ => None,
    }
}
