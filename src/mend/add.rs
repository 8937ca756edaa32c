//! What a statement or a detail lacks: a clause, weeps, end dams, a backer.

use crate::finding::Edit;
use crate::mend::remove::around;
use crate::mend::tables::{materials, size};
use crate::mend::text::{clause, last_line, line_behind, piece, replace};
use crate::mend::title::Title;
use crate::mend::{Context, Cure};
use crate::model::{Control, MaterialKind, Piece};
use crate::quantity::Quantity;
use crate::syntax::{ClauseKind, Keyword};

/// A clause of a single word at one of the subjects.
pub fn flag(context: &Context<'_>, word: &str, has: fn(&Piece) -> bool) -> Vec<Cure> {
    let pieces = context.subjects().into_iter().map(|index| piece(context, index)).filter(|piece| !has(piece));
    pieces
        .map(|piece| {
            Cure::new(Title::AddWords { words: word, piece: &piece.name }, vec![clause(context, piece.span, word)])
        })
        .collect()
}

pub fn weeps(context: &Context<'_>) -> Vec<Cure> {
    let Some(every) = size(context, "weeps").filter(|_| context.facts.is_some()) else { return Vec::new() };
    let line = last_line(context, &format!("weeps every {every}"));
    line.map(|edit| Cure::new(Title::AddWeeps { every }, vec![edit])).into_iter().collect()
}

/// Weeps above the surface that the water stands on, lowered by the difference that the finding shows.
pub fn lowered_weeps(context: &Context<'_>) -> Vec<Cure> {
    let weeps = context.facts.map_or(&[][..], |facts| &facts.detail.weeps);
    let stated = weeps.iter().filter_map(|weeps| Some((weeps, weeps.up?)));
    let drafts = stated.flat_map(|(weeps, up)| {
        context.lengths().into_iter().map(move |by| {
            let at = Quantity::from_si(up.si - by.si, up.unit);
            let words = format!("weeps every {} up {at}", weeps.every);
            Cure::new(Title::LowerWeeps { to: at }, vec![replace(context, weeps.span.range(), words)])
        })
    });
    drafts.collect()
}

/// A dam at each open end of a pan, turned up and bedded in sealant.
pub fn end_dams(context: &Context<'_>) -> Vec<Cure> {
    let (Some(rise), Some(width)) = (size(context, "end-dam-rise"), size(context, "end-dam-width")) else {
        return Vec::new();
    };
    let sealant = context.stocked("bead", MaterialKind::Sealant).into_iter().find(|own| own.holds.has(Control::Water));
    let mut drafts = Vec::new();
    for index in context.subjects() {
        let pan = piece(context, index);
        let (Some(low), Some(high)) = (pan.up.low, pan.up.high) else { continue };
        let moved = |edge: Quantity, by: f64| Quantity::from_si(edge.si + by, edge.unit);
        let bare = |edge: Quantity| {
            let there = |dam: &&Piece| {
                let ends = [dam.along.low, dam.along.high].into_iter().flatten();
                dam.role.as_deref() == Some("end-dam")
                    && ends.into_iter().any(|end| (end.si - edge.si).abs() <= 2.0 * width.si)
            };
            !context.pieces().iter().any(|dam| there(&dam))
        };
        let left = pan.along.low.filter(|edge| bare(*edge)).map(|edge| ("dam-left", edge, moved(edge, width.si)));
        let right = pan.along.high.filter(|edge| bare(*edge)).map(|edge| ("dam-right", moved(edge, -width.si), edge));
        let ends: Vec<_> =
            left.into_iter().chain(right).map(|(name, from, to)| (context.fresh(name), from, to)).collect();
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
            let edits = lines.iter().map(|line| line_behind(context, pan.span, line)).collect::<Option<Vec<_>>>();
            let pan = &*pan.name;
            let title = if ends.len() == 1 { Title::AddOtherEndDam { pan } } else { Title::AddEndDams { pan } };
            drafts.extend(edits.map(|edits| Cure::new(title, edits)));
        }
    }
    drafts
}

/// A bead tooled against a backer, half as deep as its joint is wide.
pub fn backers(context: &Context<'_>) -> Vec<Cure> {
    let rod = materials(context.pack, "backer").find(|name| context.material(name).is_some());
    let seals = context.facts.map_or(&[][..], |facts| &facts.detail.seals);
    let mut drafts = Vec::new();
    for statement in around(context).filter(|statement| statement.keyword == Keyword::Seal) {
        let Some(seal) = seals.iter().find(|seal| seal.span == statement.span) else { continue };
        let half = seal.width.map(|width| Quantity::from_si(width.si / 2.0, width.unit));
        let stated = statement.clauses.iter().find(|part| part.kind == Some(ClauseKind::Depth));
        let depth = half.map(|half| match stated {
            Some(part) => replace(context, part.span.range(), format!("depth {half}")),
            None => clause(context, statement.span, &format!("depth {half}")),
        });
        let other = rod.filter(|rod| seal.backer.as_ref().is_none_or(|(own, _)| *own.name != **rod));
        let backed = other.map(|rod| match &seal.backer {
            Some((_, span)) => replace(context, span.range(), rod.to_owned()),
            None => clause(context, statement.span, &format!("on {rod}")),
        });
        let made = half.map(|depth| Title::BeadDepth { depth });
        let set = rod.map(|rod| Title::BeadAgainst { rod });
        let alone = |title: Option<Title<'_>>, edit: &Option<Edit>| Some(Cure::new(title?, vec![edit.clone()?]));
        drafts.extend(alone(set, &backed));
        drafts.extend(alone(made, &depth));
        if let (Some(depth), Some(backed), Some(half), Some(rod)) = (depth, backed, half, rod) {
            drafts.push(Cure::new(Title::BeadDepthAgainst { rod, depth: half }, vec![depth, backed]));
        }
    }
    drafts
}
