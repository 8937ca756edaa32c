//! The layers of the assembly that a finding is about: another material in place of one, one more, a gap as wide as it has to be.

use crate::mend::data::{materials as named, size};
use crate::mend::text::{line_before, line_behind, replace};
use crate::mend::{Case, Cure};
use crate::model::{Control, Material, MaterialKind};
use crate::quantity::Quantity;
use crate::syntax::{Clause, ClauseKind, Keyword, PlacedClause, Statement};
use crate::text::Span;

/// What the rules name for this rule, in place of each layer that is of its kind. What the file draws of that layer follows it.
pub fn swapped(case: &Case<'_>) -> Vec<Cure> {
    let layers = layers(case);
    let warm = layers.iter().rposition(|(layer, _)| controls(case, layer, "thermal"));
    let mut drafts = Vec::new();
    for new in offered(case) {
        for (at, (layer, old)) in layers.iter().enumerate() {
            // What the room sees is painted or papered, and no other layer is; a retarder belongs on the warm side, and what lets
            // vapor out on the other one.
            let finish = at + 1 == layers.len();
            let side = warm.is_none_or(|warm| (at > warm) == new.holds.has(Control::Vapor));
            let alike = match new.kind {
                Some(MaterialKind::Coat) => finish && is(old, &[MaterialKind::Coat, MaterialKind::Sheet]),
                Some(MaterialKind::Sheet) => !finish && side && is(old, &[MaterialKind::Sheet]),
                kind => !finish && (old.kind == kind || [old, new].iter().all(|own| own.holds.has(Control::Thermal))),
            };
            if alike && new.name != old.name {
                let spans = layer.names.first.into_iter().chain(drawn(case, layer));
                let edits = spans.map(|span| replace(case, span.range(), new.name.to_string())).collect();
                drafts.push(Cure::new(format!("Use {} in place of {}", new.name, old.name), edits));
            }
        }
    }
    drafts
}

/// What the rules name for this rule, where it belongs: a retarder right inboard of the insulation, a gap right inboard of the cladding.
pub fn added(case: &Case<'_>) -> Vec<Cure> {
    let layers = layers(case);
    let insulates = |(layer, _): &&(&Statement, &Material)| controls(case, layer, "thermal");
    let vapor = layers.iter().any(|(layer, _)| controls(case, layer, "vapor"));
    let drafts = offered(case).filter_map(|new| {
        let gap = new.kind == Some(MaterialKind::Gap);
        let (place, behind) = match gap {
            true => layers.iter().take_while(|(_, own)| is(own, &[MaterialKind::Cladding])).last()?,
            false => layers.iter().rfind(insulates)?,
        };
        let words = match gap {
            true => format!("layer {} {}", new.name, wide(case)?),
            false if vapor => format!("layer {}", new.name),
            false => format!("layer {} controls vapor", new.name),
        };
        let edit = match inward(case) {
            true => line_behind(case, place.span, &words),
            false => line_before(case, place.span, &words),
        };
        Some(Cure::new(format!("Add {} inboard of {}", new.name, behind.name), vec![edit?]))
    });
    drafts.collect()
}

/// Each gap as wide as its cure names.
pub fn widened(case: &Case<'_>) -> Vec<Cure> {
    let gaps = layers(case).into_iter().filter(|(_, own)| is(own, &[MaterialKind::Gap]));
    let drafts = gaps.filter_map(|(layer, own)| {
        let (span, thick) = thickness(layer)?;
        let wide = wide(case).filter(|wide| wide.si > thick.si)?;
        let title = format!("Make {} {wide} wide", own.name);
        Some(Cure::new(title, vec![replace(case, span.range(), wide.to_string())]))
    });
    drafts.collect()
}

/// The length that the cure names, as somebody would write it in the units of the assembly.
fn wide(case: &Case<'_>) -> Option<Quantity> {
    let (named, grid) = (*case.named_lengths().first()?, size(case, "grid")?);
    let steps = (named.si / grid.si - 1e-3).ceil();
    Some(Quantity::from_si(steps * grid.si, grid.unit))
}

/// The layers of the assembly from outside to inside, each with its material.
fn layers<'a>(case: &Case<'a>) -> Vec<(&'a Statement, &'a Material)> {
    let Some(item) = case.item().filter(|item| item.head.keyword == Keyword::Assembly) else { return Vec::new() };
    let known = |name: &str| case.materials.iter().map(|own| &**own).find(|own| *own.name == *name);
    let stated = item.body.iter().filter(|statement| statement.keyword == Keyword::Layer);
    let mut layers: Vec<_> =
        stated.filter_map(|layer| Some((layer, known(case.source.at(layer.names.first?))?))).collect();
    if !inward(case) {
        layers.reverse();
    }
    layers
}

/// Is the assembly written from outside to inside?
fn inward(case: &Case<'_>) -> bool {
    let ends = [Keyword::Outside, Keyword::Inside];
    let body = case.item().map_or(&[][..], |item| &item.body);
    body.iter().find(|statement| ends.contains(&statement.keyword)).is_some_and(|end| end.keyword == Keyword::Outside)
}

/// Where pieces of the file are said to be of this layer.
fn drawn<'a>(case: &Case<'a>, layer: &Statement) -> impl Iterator<Item = Span> + use<'a> {
    let case = *case;
    // Pieces are of a layer by its own name, if it has one.
    let own = layer.clauses.iter().any(|part| part.kind == Some(ClauseKind::Role));
    let name = layer.names.first.filter(|_| !own).map(|span| case.source.at(span));
    let assembly = case.finding.item.clone();
    let pieces = case.document.items.iter().flat_map(|item| &item.body).filter(|own| own.keyword == Keyword::Piece);
    pieces.filter_map(move |piece| {
        let of = |part: &PlacedClause| match part.clause {
            Clause::Of(span) => Some(case.source.at(span)) == assembly.as_deref(),
            _ => false,
        };
        piece.names.second.filter(|span| Some(case.source.at(*span)) == name && piece.clauses.iter().any(of))
    })
}

fn offered<'a>(case: &Case<'a>) -> impl Iterator<Item = &'a Material> + use<'a> {
    let case = *case;
    let known = move |name: &str| case.materials.iter().map(|own| &**own).find(|own| *own.name == *name);
    named(case.pack, &case.finding.rule).filter_map(known)
}

fn controls(case: &Case<'_>, layer: &Statement, word: &str) -> bool {
    layer.clauses.iter().any(|part| match &part.clause {
        Clause::Controls(words) => words.iter().any(|span| case.source.at(*span) == word),
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
