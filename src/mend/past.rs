//! Edges carried on to another piece, past its ends, or up out of the ground.

use crate::mend::data::size;
use crate::mend::extend::farthest;
use crate::mend::text::{clause, piece, replace};
use crate::mend::{Case, Cure};
use crate::model::{Extent, Piece};
use crate::quantity::Quantity;

/// So many edges are tried: first those of the piece that the finding is about, then the nearest.
const MOST: usize = 16;

/// An end of an extent.
#[derive(Clone, Copy, PartialEq)]
pub enum End {
    Low,
    High,
}

/// A piece reaches another one and laps it by `lap`: an edge of one of the two is carried on to there.
pub fn laps(case: &Case<'_>, lap: f64) -> Vec<Cure> {
    let subject = case.subjects().first().map(|own| &piece(case, *own).name);
    let mut owns = case.subjects();
    owns.extend(owns.clone().into_iter().flat_map(|own| case.touching(own)));
    owns.sort_unstable();
    owns.dedup();
    let mut drafts: Vec<((bool, f64), Cure)> = Vec::new();
    for own in owns {
        for other in (0..case.pieces().len()).filter(|other| *other != own) {
            let (own, other) = (piece(case, own), piece(case, other));
            for (moved, fixed) in [(own, other), (other, own)] {
                if !case.movable(moved) || moved.inside != fixed.inside {
                    continue;
                }
                for (word, mine, theirs) in axes(moved, fixed) {
                    let foot = mine.low.zip(theirs.high).map(|(edge, to)| (End::Low, edge, to.si - lap));
                    let top = mine.high.zip(theirs.low).map(|(edge, to)| (End::High, edge, to.si + lap));
                    for (end, edge, to) in foot.into_iter().chain(top) {
                        let way = if end == End::Low { edge.si - to } else { to - edge.si };
                        if way > 1e-6 && way <= farthest(case, moved) {
                            let at = Quantity::from_si(to, edge.unit);
                            let title = format!("Carry the {} of {} to {at}", named(word, end), moved.name);
                            let edit = set(case, moved, word, &[(end, at)]);
                            let other = Some(&moved.name) != subject;
                            drafts.extend(edit.map(|edit| ((other, way), Cure::new(title, vec![edit]))));
                        }
                    }
                }
            }
        }
    }
    drafts.sort_by(|((a_other, a_way), _), ((b_other, b_way), _)| a_other.cmp(b_other).then(a_way.total_cmp(b_way)));
    drafts.dedup_by(|(_, a), (_, b)| a == b);
    drafts.into_iter().map(|(_, cure)| cure).take(MOST).collect()
}

/// Both ends of a piece carried past those of what it touches.
pub fn covers(case: &Case<'_>) -> Vec<Cure> {
    let Some(by) = size(case, "overhang") else { return Vec::new() };
    let drafts = case.pairs().into_iter().filter_map(|(own, other)| {
        let (own, other) = (piece(case, own), piece(case, other));
        let (low, high) = (own.along.low?, own.along.high?);
        let left = Quantity::from_si((other.along.low?.si - by.si).min(low.si), low.unit);
        let right = Quantity::from_si((other.along.high?.si + by.si).max(high.si), high.unit);
        let edit = set(case, own, "along", &[(End::Low, left), (End::High, right)])?;
        Some(Cure::new(format!("Carry {} past {}, to {left} and {right}", own.name, other.name), vec![edit]))
    });
    drafts.collect()
}

/// The foot of a piece raised above grade.
pub fn raised(case: &Case<'_>) -> Vec<Cure> {
    let grade = case.facts.and_then(|facts| facts.detail.grade);
    let (Some(grade), Some(above)) = (grade, size(case, "above-grade")) else { return Vec::new() };
    let drafts = case.subjects().into_iter().filter_map(|index| {
        let piece = piece(case, index);
        let foot = Quantity::from_si(grade.value.si + above.si, piece.up.low?.unit);
        let edit = set(case, piece, "up", &[(End::Low, foot)])?;
        Some(Cure::new(format!("Raise the foot of {} to {foot}", piece.name), vec![edit]))
    });
    drafts.collect()
}

/// Fasteners kept clear of what they must not pierce or lie under.
pub fn clear(case: &Case<'_>) -> Vec<Cure> {
    let (Some(facts), Some(margin)) = (case.facts, size(case, "fastener-clearance")) else { return Vec::new() };
    let subjects = case.subjects();
    let mut drafts = Vec::new();
    for fastening in facts.detail.fastenings.iter().filter(|own| subjects.contains(&own.piece.index)) {
        let held = piece(case, fastening.piece.index);
        let others =
            || subjects.iter().filter(|index| **index != fastening.piece.index).map(|index| piece(case, *index));
        for (word, own, all, theirs) in [
            ("up", &fastening.up, &held.up, others().map(|other| other.up).collect::<Vec<_>>()),
            ("along", &fastening.along, &held.along, others().map(|other| other.along).collect()),
        ] {
            // Beyond all of them, on one side or on the other.
            let ends = |end: fn(&Extent) -> Option<Quantity>| theirs.iter().map(end).collect::<Option<Vec<_>>>();
            let far = ends(|extent| extent.high).and_then(|all| all.into_iter().max_by(|a, b| a.si.total_cmp(&b.si)));
            let near = ends(|extent| extent.low).and_then(|all| all.into_iter().min_by(|a, b| a.si.total_cmp(&b.si)));
            let from = far.map(|edge| (End::Low, Quantity::from_si(edge.si + margin.si, edge.unit)));
            let to = near.map(|edge| (End::High, Quantity::from_si(edge.si - margin.si, edge.unit)));
            for (end, at) in from.into_iter().chain(to) {
                let holds = |extent: &Extent| {
                    extent.low.is_none_or(|low| low.si < at.si) && extent.high.is_none_or(|high| high.si > at.si)
                };
                let words = written(word, own, &[(end, at)]).filter(|_| holds(own) && holds(all));
                let Some(words) = words else { continue };
                let edit = match own.span {
                    Some(span) => replace(case, span.range(), words),
                    None => clause(case, fastening.span, &words),
                };
                let does = if end == End::Low { "Start" } else { "End" };
                drafts.push(Cure::new(format!("{does} the fasteners of {} at {at}", held.name), vec![edit]));
            }
        }
    }
    drafts
}

fn axes<'a>(one: &'a Piece, other: &'a Piece) -> [(&'static str, &'a Extent, &'a Extent); 2] {
    [("up", &one.up, &other.up), ("along", &one.along, &other.along)]
}

pub fn named(word: &str, end: End) -> &'static str {
    match (word, end) {
        ("up", End::Low) => "foot",
        ("up", End::High) => "top",
        (_, End::Low) => "left edge",
        (_, End::High) => "right edge",
    }
}

/// The extent of a piece with ends elsewhere.
pub fn set(case: &Case<'_>, piece: &Piece, word: &str, ends: &[(End, Quantity)]) -> Option<crate::finding::Edit> {
    let extent = if word == "up" { &piece.up } else { &piece.along };
    Some(replace(case, extent.span?.range(), written(word, extent, ends)?))
}

/// The clause of an extent with ends elsewhere.
pub fn written(word: &str, extent: &Extent, ends: &[(End, Quantity)]) -> Option<String> {
    let end = |wanted: End| ends.iter().find(|(end, _)| *end == wanted).map(|(_, at)| *at);
    match (end(End::Low).or(extent.low), end(End::High).or(extent.high)) {
        (Some(low), Some(high)) => Some(format!("{word} {low} to {high}")),
        (Some(low), None) => Some(format!("{word} from {low}")),
        (None, Some(high)) => Some(format!("{word} to {high}")),
        (None, None) => None,
    }
}
