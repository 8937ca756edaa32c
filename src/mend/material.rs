//! Another material of the same kind that does no less: a tape for this surface, a sealant for the cold, a fastener with a cap.

use crate::mend::remove::{around, around_span};
use crate::mend::tables::materials as named;
use crate::mend::text::{piece, replace};
use crate::mend::title::Title;
use crate::mend::{Context, Cure};
use crate::model::{Control, Material, MaterialKind};
use crate::syntax::{Clause, Keyword, Statement};
use crate::text::Span;

/// How many materials are tried in place of one.
const MOST: usize = 12;

/// Substitutes for the material of the statement that holds the finding, and for those of its subjects.
pub fn substitutes(context: &Context<'_>) -> Vec<Cure> {
    let pieces = context.subjects().into_iter().flat_map(|index| around_span(context, piece(context, index).span));
    let mut spans: Vec<Span> = around(context).chain(pieces).filter_map(material).collect();
    spans.dedup();
    let mut drafts = Vec::new();
    for span in spans {
        let name = context.source.at(span);
        let own = context.material(name);
        let Some((own, kind)) = own.and_then(|own| Some((own, own.kind?))) else { continue };
        let serves = |other: &&Material| &*other.name != name && replaces(other, own, kind);
        let only = materials_of_rule(context);
        let known = match kind {
            _ if only => context.of_rule(kind),
            MaterialKind::Sealant => context.stocked("bead", kind),
            MaterialKind::Tape => context.stocked("tape", kind),
            MaterialKind::Flashing => context.stocked("flashing", kind),
            MaterialKind::Frame => context.stocked("frame", kind),
            _ => context.materials_of(&[kind]),
        };
        let others = known.into_iter().filter(serves);
        drafts.extend(others.take(MOST).map(|other| {
            let title = Title::Substitute { new: &other.name, old: name };
            Cure::new(title, vec![replace(context, span.range(), other.name.to_string())])
        }));
    }
    drafts
}

/// Do the tables name materials for this rule? Then no others will do.
fn materials_of_rule(context: &Context<'_>) -> bool {
    named(context.pack, &context.finding.rule).next().is_some()
}

/// Has the new material an adhesive if the old one has, and the same controls? Of a sealant or a tape only water and air count.
fn replaces(new: &Material, old: &Material, kind: MaterialKind) -> bool {
    let seals = matches!(kind, MaterialKind::Sealant | MaterialKind::Tape);
    let counts = |control: &Control| !seals || matches!(control, Control::Water | Control::Air);
    let holds = old.holds.iter().filter(counts).all(|control| new.holds.has(control));
    let sticks = new.adhesive.is_some() == old.adhesive.is_some();
    holds && sticks
}

/// Where the statement of a piece, a bead or a fastener names its material.
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
