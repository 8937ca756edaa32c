//! Another material of the same kind: a tape that sticks to this surface, a bead for the cold, a fastener with a cap.

use crate::mend::take::{around, around_span};
use crate::mend::text::{piece, replace};
use crate::mend::{Case, Cure};
use crate::syntax::{Clause, Keyword, Statement};
use crate::text::Span;

/// So many materials are tried for one that does not do.
const MOST: usize = 12;

/// Of the bead or the fasteners that the finding stands in, and of its pieces.
pub fn materials(case: &Case<'_>) -> Vec<Cure> {
    let pieces = case.subjects().into_iter().flat_map(|index| around_span(case, piece(case, index).span));
    let mut spans: Vec<Span> = around(case).chain(pieces).filter_map(material).collect();
    spans.dedup();
    let mut drafts = Vec::new();
    for span in spans {
        let name = case.source.at(span);
        let own = case.materials.iter().find(|material| &*material.name == name);
        let Some(kind) = own.and_then(|own| own.kind) else { continue };
        let others = case.materials_of(&[kind]).into_iter().filter(|other| &*other.name != name);
        drafts.extend(others.take(MOST).map(|other| {
            let title = format!("Use {} in place of {name}", other.name);
            Cure::new(title, vec![replace(case, span.range(), other.name.to_string())])
        }));
    }
    drafts
}

/// Where the statement of a piece, a bead or fasteners names its material.
fn material(statement: &Statement) -> Option<Span> {
    match statement.keyword {
        Keyword::Piece => statement.names.second,
        Keyword::Seal | Keyword::Fasten => statement.clauses.iter().find_map(|part| match part.clause {
            Clause::With(span) => Some(span),
            _ => None,
        }),
        _ => None,
    }
}
