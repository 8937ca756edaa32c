//! An amount replaced by the limit that the finding shows beside it.

use crate::mend::tables::slope;
use crate::mend::text::{clause, on_one_line, piece, replace};
use crate::mend::title::Title;
use crate::mend::{Context, Cure};
use crate::quantity::{Quantity, parse_quantity};
use crate::syntax::{Clause, ClauseKind, Keyword, PlacedClause};

/// The statements of the item whose amount the finding shows, with another amount that it shows.
pub fn limits(context: &Context<'_>) -> Vec<Cure> {
    let (shown, named) = (shown(context), context.named_lengths());
    let body = context.item().map_or(&[][..], |item| &item.body);
    let stated = body.iter().flat_map(|statement| statement.clauses.iter().map(move |part| (statement, part)));
    let mut drafts = Vec::new();
    for (statement, part) in stated {
        let Some(own) = amount(part).filter(|own| shown.iter().any(|shown| same(shown, own))) else { continue };
        let word = part.kind.and_then(ClauseKind::word).map_or(String::new(), |word| format!("{word} "));
        let others =
            shown.iter().chain(&named).filter(|other| other.dimension() == own.dimension() && !same(other, &own));
        drafts.extend(others.map(|other| {
            let edit = replace(context, part.span.range(), format!("{word}{other}"));
            let text = match statement.clauses[..] {
                [_] => on_one_line(context, statement.span),
                _ => format!("{word}{own}"),
            };
            let to = format!("{word}{other}");
            Cure::new(Title::ChangeStatement { text: &text, to: &to }, vec![edit])
        }));
    }
    drafts
}

/// A slope that drains, for each subject or for a part of the face.
pub fn slopes(context: &Context<'_>) -> Vec<Cure> {
    let Some(slope) = slope(context, &context.finding.rule) else { return Vec::new() };
    let drafts = context.subjects().into_iter().map(|index| {
        let piece = piece(context, index);
        let edit = match piece.slope {
            Some(stated) => replace(context, stated.span.range(), format!("slope {slope}")),
            None => clause(context, piece.span, &format!("slope {slope}")),
        };
        Cure::new(Title::Slope { piece: &piece.name, slope }, vec![edit])
    });
    let body = context.item().map_or(&[][..], |item| &item.body);
    let parts = body.iter().filter(|statement| statement.keyword == Keyword::Slope);
    let stated = parts.filter_map(|statement| {
        let part = statement.clauses.iter().find(|part| matches!(part.clause, Clause::Amount(_)))?;
        let text = on_one_line(context, statement.span);
        let edit = replace(context, part.span.range(), slope.to_string());
        Some(Cure::new(Title::ChangeStatement { text: &text, to: &slope.to_string() }, vec![edit]))
    });
    drafts.chain(stated).collect()
}

/// All quantities among the values of the finding.
fn shown(context: &Context<'_>) -> Vec<Quantity> {
    context.shown().filter_map(|text| parse_quantity(text).ok()).collect()
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
