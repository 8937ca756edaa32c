//! The layers of an assembly: another material for a layer, one more layer, a wider gap.

use crate::mend::tables::{materials as named, size};
use crate::mend::text::{line_before, line_behind, replace};
use crate::mend::title::Title;
use crate::mend::{Context, Cure};
use crate::model::{Control, Material, MaterialKind};
use crate::quantity::Quantity;
use crate::syntax::{Clause, ClauseKind, Keyword, PlacedClause, Statement};
use crate::text::Span;

/// The materials that the tables name for this rule, each in place of a layer of its kind. Pieces of that layer get the new material too.
pub fn substitutes(context: &Context<'_>) -> Vec<Cure> {
    let layers = layers(context);
    let warm = layers.iter().rposition(|(layer, _)| controls(context, layer, "thermal"));
    let mut drafts = Vec::new();
    for new in offered(context) {
        for (at, (layer, old)) in layers.iter().enumerate() {
            // Only the innermost layer is painted or papered. A retarder belongs on the warm side, and a sheet that lets vapor out on the
            // other one.
            let finish = at + 1 == layers.len();
            let side = warm.is_none_or(|warm| (at > warm) == new.holds.has(Control::Vapor));
            let alike = match new.kind {
                Some(MaterialKind::Coat) => finish && is(old, &[MaterialKind::Coat, MaterialKind::Sheet]),
                Some(MaterialKind::Sheet) => !finish && side && is(old, &[MaterialKind::Sheet]),
                kind => !finish && (old.kind == kind || [old, new].iter().all(|own| own.holds.has(Control::Thermal))),
            };
            if alike && new.name != old.name {
                let spans = layer.names.first.into_iter().chain(drawn(context, layer));
                let edits = spans.map(|span| replace(context, span.range(), new.name.to_string())).collect();
                drafts.push(Cure::new(Title::Substitute { new: &new.name, old: &old.name }, edits));
            }
        }
    }
    drafts
}

/// The materials that the tables name for this rule, each as one more layer: a gap right inboard of the cladding, a retarder right inboard of
/// the insulation.
pub fn added(context: &Context<'_>) -> Vec<Cure> {
    let layers = layers(context);
    let insulates = |(layer, _): &&(&Statement, &Material)| controls(context, layer, "thermal");
    let vapor = layers.iter().any(|(layer, _)| controls(context, layer, "vapor"));
    let drafts = offered(context).filter_map(|new| {
        let gap = new.kind == Some(MaterialKind::Gap);
        let (place, behind) = match gap {
            true => layers.iter().take_while(|(_, own)| is(own, &[MaterialKind::Cladding])).last()?,
            false => layers.iter().rfind(insulates)?,
        };
        let words = match gap {
            true => format!("layer {} {}", new.name, wide(context)?),
            false if vapor => format!("layer {}", new.name),
            false => format!("layer {} controls vapor", new.name),
        };
        let edit = match inward(context) {
            true => line_behind(context, place.span, &words),
            false => line_before(context, place.span, &words),
        };
        Some(Cure::new(Title::AddInboard { layer: &new.name, of: &behind.name }, vec![edit?]))
    });
    drafts.collect()
}

/// Each gap as wide as the fix of the finding says.
pub fn widened(context: &Context<'_>) -> Vec<Cure> {
    let gaps = layers(context).into_iter().filter(|(_, own)| is(own, &[MaterialKind::Gap]));
    let drafts = gaps.filter_map(|(layer, own)| {
        let (span, thick) = thickness(layer)?;
        let wide = wide(context).filter(|wide| wide.si > thick.si)?;
        let title = Title::Widen { gap: &own.name, to: wide };
        Some(Cure::new(title, vec![replace(context, span.range(), wide.to_string())]))
    });
    drafts.collect()
}

/// The length that the fix names, rounded up in the units of the assembly.
fn wide(context: &Context<'_>) -> Option<Quantity> {
    let (named, grid) = (*context.named_lengths().first()?, size(context, "grid")?);
    let steps = (named.si / grid.si - 1e-3).ceil();
    Some(Quantity::from_si(steps * grid.si, grid.unit))
}

/// The layers of the assembly from outside to inside, each with its material.
fn layers<'a>(context: &Context<'a>) -> Vec<(&'a Statement, &'a Material)> {
    let Some(item) = context.item().filter(|item| item.head.keyword == Keyword::Assembly) else { return Vec::new() };
    let stated = item.body.iter().filter(|statement| statement.keyword == Keyword::Layer);
    let mut layers: Vec<_> =
        stated.filter_map(|layer| Some((layer, context.material(context.source.at(layer.names.first?))?))).collect();
    if !inward(context) {
        layers.reverse();
    }
    layers
}

/// Is the assembly written from outside to inside?
fn inward(context: &Context<'_>) -> bool {
    let ends = [Keyword::Outside, Keyword::Inside];
    let body = context.item().map_or(&[][..], |item| &item.body);
    body.iter().find(|statement| ends.contains(&statement.keyword)).is_some_and(|end| end.keyword == Keyword::Outside)
}

/// Where pieces of the file name the material of this layer.
fn drawn<'a>(context: &Context<'a>, layer: &Statement) -> impl Iterator<Item = Span> + use<'a> {
    let context = *context;
    // A layer with a role is named by that role, so its pieces need no change.
    let own = layer.clauses.iter().any(|part| part.kind == Some(ClauseKind::Role));
    let name = layer.names.first.filter(|_| !own).map(|span| context.source.at(span));
    let assembly = context.finding.item.clone();
    let pieces = context.document.items.iter().flat_map(|item| &item.body).filter(|own| own.keyword == Keyword::Piece);
    pieces.filter_map(move |piece| {
        let of = |part: &PlacedClause| match part.clause {
            Clause::Of(span) => Some(context.source.at(span)) == assembly.as_deref(),
            _ => false,
        };
        piece.names.second.filter(|span| Some(context.source.at(*span)) == name && piece.clauses.iter().any(of))
    })
}

fn offered<'a>(context: &Context<'a>) -> impl Iterator<Item = &'a Material> + use<'a> {
    let context = *context;
    named(context.pack, &context.finding.rule).filter_map(move |name| context.material(name))
}

fn controls(context: &Context<'_>, layer: &Statement, word: &str) -> bool {
    layer.clauses.iter().any(|part| match &part.clause {
        Clause::Controls(words) => words.iter().any(|span| context.source.at(*span) == word),
        _ => false,
    })
}

fn thickness(layer: &Statement) -> Option<(Span, Quantity)> {
    layer.clauses.iter().find_map(|part| match part.clause {
        Clause::Amount(amount) if part.kind == Some(ClauseKind::Thickness) => Some((part.span, amount)),
        _ => None,
    })
}

fn is(material: &Material, kinds: &[MaterialKind]) -> bool {
    material.kind.is_some_and(|kind| kinds.contains(&kind))
}
