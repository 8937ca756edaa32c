//! What a statement or a detail lacks: a word, weeps, end dams.

use crate::finding::Edit;
use crate::mend::data::{materials, size};
use crate::mend::take::around;
use crate::mend::text::{clause, last_line, line_behind, piece, replace};
use crate::mend::{Case, Cure};
use crate::model::{Control, MaterialKind, Piece};
use crate::quantity::Quantity;
use crate::syntax::{ClauseKind, Keyword};

/// A word of one of the pieces.
pub fn flag(case: &Case<'_>, word: &str, has: fn(&Piece) -> bool) -> Vec<Cure> {
    let pieces = case.subjects().into_iter().map(|index| piece(case, index)).filter(|piece| !has(piece));
    pieces
        .map(|piece| Cure::new(format!("Write {word} at {}", piece.name), vec![clause(case, piece.span, word)]))
        .collect()
}

pub fn weeps(case: &Case<'_>) -> Vec<Cure> {
    let Some(every) = size(case, "weeps").filter(|_| case.facts.is_some()) else { return Vec::new() };
    let line = last_line(case, &format!("weeps every {every}"));
    line.map(|edit| Cure::new(format!("Add weeps every {every}"), vec![edit])).into_iter().collect()
}

/// Weeps drawn above what the water stands on, brought down by what the finding says.
pub fn lowered_weeps(case: &Case<'_>) -> Vec<Cure> {
    let weeps = case.facts.map_or(&[][..], |facts| &facts.detail.weeps);
    let stated = weeps.iter().filter_map(|weeps| Some((weeps, weeps.up?)));
    let drafts = stated.flat_map(|(weeps, up)| {
        case.lengths().into_iter().map(move |by| {
            let at = Quantity::from_si(up.si - by.si, up.unit);
            let words = format!("weeps every {} up {at}", weeps.every);
            Cure::new(format!("Lower the weeps to {at}"), vec![replace(case, weeps.span.range(), words)])
        })
    });
    drafts.collect()
}

/// A dam at each end of a pan that has none there, turned up above it and bedded on it.
pub fn end_dams(case: &Case<'_>) -> Vec<Cure> {
    let (Some(rise), Some(width)) = (size(case, "end-dam-rise"), size(case, "end-dam-width")) else {
        return Vec::new();
    };
    let sealant = case.stocked("bead", MaterialKind::Sealant).into_iter().find(|own| own.holds.has(Control::Water));
    let mut drafts = Vec::new();
    for index in case.subjects() {
        let pan = piece(case, index);
        let (Some(low), Some(high)) = (pan.up.low, pan.up.high) else { continue };
        let moved = |edge: Quantity, by: f64| Quantity::from_si(edge.si + by, edge.unit);
        let bare = |edge: Quantity| {
            let there = |dam: &&Piece| {
                let ends = [dam.along.low, dam.along.high].into_iter().flatten();
                dam.role.as_deref() == Some("end-dam")
                    && ends.into_iter().any(|end| (end.si - edge.si).abs() <= 2.0 * width.si)
            };
            !case.pieces().iter().any(|dam| there(&dam))
        };
        let left = pan.along.low.filter(|edge| bare(*edge)).map(|edge| ("dam-left", edge, moved(edge, width.si)));
        let right = pan.along.high.filter(|edge| bare(*edge)).map(|edge| ("dam-right", moved(edge, -width.si), edge));
        let ends: Vec<_> = left.into_iter().chain(right).map(|(name, from, to)| (case.fresh(name), from, to)).collect();
        if ends.is_empty() {
            continue;
        }
        let (material, top) = (&pan.material.name, moved(high, rise.si));
        let dam = |(name, from, to): &(String, Quantity, Quantity)| {
            format!("piece {name} {material} as end-dam up {low} to {top} along {from} to {to}")
        };
        let bead = |sealant: &str, (name, ..): &(String, Quantity, Quantity)| {
            format!("seal {name} to {} with {sealant}", pan.name)
        };
        let dry: Vec<String> = ends.iter().map(dam).collect();
        let bedded = sealant.map(|own| ends.iter().flat_map(|end| [dam(end), bead(&own.name, end)]).collect());
        for lines in bedded.into_iter().chain([dry]) {
            let edits = lines.iter().map(|line| line_behind(case, pan.span, line)).collect::<Option<Vec<_>>>();
            let title = if ends.len() == 1 { "Turn up the other end dam at" } else { "Turn up end dams at" };
            drafts.extend(edits.map(|edits| Cure::new(format!("{title} {}", pan.name), edits)));
        }
    }
    drafts
}

/// A bead tooled against a backer, and half as deep as its joint is wide.
pub fn backers(case: &Case<'_>) -> Vec<Cure> {
    let known = |name: &&str| case.materials.iter().any(|material| *material.name == **name);
    let rod = materials(case.pack, "backer").find(known);
    let seals = case.facts.map_or(&[][..], |facts| &facts.detail.seals);
    let mut drafts = Vec::new();
    for statement in around(case).filter(|statement| statement.keyword == Keyword::Seal) {
        let Some(seal) = seals.iter().find(|seal| seal.span == statement.span) else { continue };
        let half = seal.width.map(|width| Quantity::from_si(width.si / 2.0, width.unit));
        let stated = statement.clauses.iter().find(|part| part.kind == Some(ClauseKind::Depth));
        let depth = half.map(|half| match stated {
            Some(part) => replace(case, part.span.range(), format!("depth {half}")),
            None => clause(case, statement.span, &format!("depth {half}")),
        });
        let other = rod.filter(|rod| seal.backer.as_ref().is_none_or(|(own, _)| *own.name != **rod));
        let backed = other.map(|rod| match &seal.backer {
            Some((_, span)) => replace(case, span.range(), rod.to_owned()),
            None => clause(case, statement.span, &format!("on {rod}")),
        });
        let made = half.map(|half| format!("Make the bead {half} deep"));
        let set = rod.map(|rod| format!("Tool the bead against {rod}"));
        let alone = |title: &Option<String>, edit: &Option<Edit>| Some(Cure::new(title.clone()?, vec![edit.clone()?]));
        drafts.extend(alone(&set, &backed));
        drafts.extend(alone(&made, &depth));
        if let (Some(depth), Some(backed), Some(half), Some(rod)) = (depth, backed, half, rod) {
            drafts.push(Cure::new(format!("Make the bead {half} deep, against {rod}"), vec![depth, backed]));
        }
    }
    drafts
}
