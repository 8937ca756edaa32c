//! Another material of the same kind that does no less: a tape that sticks to this surface, a bead for the cold, a fastener with a cap.

use crate::mend::data::materials as named;
use crate::mend::take::{around, around_span};
use crate::mend::text::{piece, replace};
use crate::mend::{Case, Cure};
use crate::model::{Control, Material, MaterialKind};
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
        let Some((own, kind)) = own.and_then(|own| Some((own, own.kind?))) else { continue };
        let serves = |other: &&Material| &*other.name != name && replaces(other, own, kind);
        let only = materials_of_rule(case);
        let known = match kind {
            _ if only => case.of_rule(kind),
            MaterialKind::Sealant => case.stocked("bead", kind),
            MaterialKind::Tape => case.stocked("tape", kind),
            MaterialKind::Flashing => case.stocked("flashing", kind),
            MaterialKind::Frame => case.stocked("frame", kind),
            _ => case.materials_of(&[kind]),
        };
        let others = known.into_iter().filter(serves);
        drafts.extend(others.take(MOST).map(|other| {
            let title = format!("Use {} in place of {name}", other.name);
            Cure::new(title, vec![replace(case, span.range(), other.name.to_string())])
        }));
    }
    drafts
}

/// Do the rules name materials for this very rule? Then no others will do.
fn materials_of_rule(case: &Case<'_>) -> bool {
    named(case.pack, &case.finding.rule).next().is_some()
}

/// It sticks if the other one does, and holds back as much. What is sealed keeps out water and air.
fn replaces(new: &Material, old: &Material, kind: MaterialKind) -> bool {
    let seals = matches!(kind, MaterialKind::Sealant | MaterialKind::Tape);
    let counts = |control: &Control| !seals || matches!(control, Control::Water | Control::Air);
    let holds = old.holds.iter().filter(counts).all(|control| new.holds.has(control));
    let sticks = new.adhesive.is_some() == old.adhesive.is_some();
    holds && sticks
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
