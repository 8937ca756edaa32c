//! Where fasteners begin and end, and how far apart they are.

use crate::mend::extent::{Bound, extent_clause};
use crate::mend::tables::size;
use crate::mend::text::{clause, piece, replace};
use crate::mend::title::Title;
use crate::mend::{Context, Cure};
use crate::model::Extent;
use crate::quantity::Quantity;
use crate::syntax::{ClauseKind, Keyword};

/// Fasteners kept clear of the other subjects, which they must not pierce.
pub fn clear(context: &Context<'_>) -> Vec<Cure> {
    let (Some(facts), Some(margin)) = (context.facts, size(context, "fastener-clearance")) else { return Vec::new() };
    let subjects = context.subjects();
    let mut drafts = Vec::new();
    for fastening in facts.detail.fastenings.iter().filter(|own| subjects.contains(&own.piece.index)) {
        let held = piece(context, fastening.piece.index);
        let others =
            || subjects.iter().filter(|index| **index != fastening.piece.index).map(|index| piece(context, *index));
        for (word, own, all, theirs) in [
            ("up", &fastening.up, &held.up, others().map(|other| other.up).collect::<Vec<_>>()),
            ("along", &fastening.along, &held.along, others().map(|other| other.along).collect()),
        ] {
            // Clear of all of them, on one side or on the other.
            let ends = |end: fn(&Extent) -> Option<Quantity>| theirs.iter().map(end).collect::<Option<Vec<_>>>();
            let far = ends(|extent| extent.high).and_then(|all| all.into_iter().max_by(|a, b| a.si.total_cmp(&b.si)));
            let near = ends(|extent| extent.low).and_then(|all| all.into_iter().min_by(|a, b| a.si.total_cmp(&b.si)));
            let from = far.map(|edge| (Bound::Low, Quantity::from_si(edge.si + margin.si, edge.unit)));
            let to = near.map(|edge| (Bound::High, Quantity::from_si(edge.si - margin.si, edge.unit)));
            for (end, at) in from.into_iter().chain(to) {
                let holds = |extent: &Extent| {
                    extent.low.is_none_or(|low| low.si < at.si) && extent.high.is_none_or(|high| high.si > at.si)
                };
                let words = extent_clause(word, own, &[(end, at)]).filter(|_| holds(own) && holds(all));
                let Some(words) = words else { continue };
                let edit = match own.span {
                    Some(span) => replace(context, span.range(), words),
                    None => clause(context, fastening.span, &words),
                };
                drafts.push(Cure::new(Title::MoveFasteners { piece: &held.name, bound: end, at }, vec![edit]));
            }
        }
    }
    drafts
}

/// `every` of the statement that holds the finding, or of the fasteners of its subjects, with a length that the fix names or the finding shows.
pub fn spacing(context: &Context<'_>) -> Vec<Cure> {
    let own = context.finding.span.range();
    let Some(item) = context.item() else { return Vec::new() };
    let subjects: Vec<&str> = context.subjects().into_iter().map(|index| &*piece(context, index).name).collect();
    let around = item.body.iter().filter(|statement| {
        let span = statement.span.range();
        let holds = statement.keyword == Keyword::Fasten
            && statement.names.first.is_some_and(|name| subjects.contains(&context.source.at(name)));
        holds || span.start <= own.start && own.end <= span.end
    });
    let every =
        around.flat_map(|statement| statement.clauses.iter().filter(|part| part.kind == Some(ClauseKind::Every)));
    let drafts = every.flat_map(|part| {
        let written = context.named_lengths().into_iter().chain(context.lengths());
        written.map(|length| {
            Cure::new(
                Title::Space { every: length },
                vec![replace(context, part.span.range(), format!("every {length}"))],
            )
        })
    });
    drafts.collect()
}
