//! Edges extended to another piece, past its ends, or raised above grade.

use crate::mend::extend::farthest;
use crate::mend::extent::{Bound, edge_name, move_bounds};
use crate::mend::tables::size;
use crate::mend::text::piece;
use crate::mend::title::Title;
use crate::mend::{Context, Cure};
use crate::model::{Extent, Piece};
use crate::quantity::Quantity;

/// How many edges are tried: first those of the subject, then the nearest.
const MOST: usize = 16;

/// An edge of a piece extended until it laps another piece by `lap`, in meters.
pub fn laps(context: &Context<'_>, lap: f64) -> Vec<Cure> {
    let subject = context.subjects().first().map(|own| &piece(context, *own).name);
    let mut owns = context.subjects();
    owns.extend(owns.clone().into_iter().flat_map(|own| context.touching(own)));
    owns.sort_unstable();
    owns.dedup();
    let mut drafts: Vec<((bool, f64), Cure)> = Vec::new();
    for own in owns {
        for other in (0..context.pieces().len()).filter(|other| *other != own) {
            let (own, other) = (piece(context, own), piece(context, other));
            for (moved, fixed) in [(own, other), (other, own)] {
                if !context.movable(moved) || moved.inside != fixed.inside {
                    continue;
                }
                for (word, mine, theirs) in axes(moved, fixed) {
                    let foot = mine.low.zip(theirs.high).map(|(edge, to)| (Bound::Low, edge, to.si - lap));
                    let top = mine.high.zip(theirs.low).map(|(edge, to)| (Bound::High, edge, to.si + lap));
                    for (end, edge, to) in foot.into_iter().chain(top) {
                        let way = if end == Bound::Low { edge.si - to } else { to - edge.si };
                        if way > 1e-6 && way <= farthest(context, moved) {
                            let at = Quantity::from_si(to, edge.unit);
                            let title = Title::Extend { edge: edge_name(word, end), piece: &moved.name, to: at };
                            let edit = move_bounds(context, moved, word, &[(end, at)]);
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

/// The same, with a lap from the table of sizes.
pub fn laps_by(context: &Context<'_>, size_name: &str) -> Vec<Cure> {
    size(context, size_name).map_or(Vec::new(), |lap| laps(context, lap.si))
}

/// Both ends of a piece extended past those of a piece that it touches.
pub fn covers(context: &Context<'_>) -> Vec<Cure> {
    let Some(by) = size(context, "overhang") else { return Vec::new() };
    let drafts = context.pairs().into_iter().filter_map(|(own, other)| {
        let (own, other) = (piece(context, own), piece(context, other));
        let (low, high) = (own.along.low?, own.along.high?);
        let left = Quantity::from_si((other.along.low?.si - by.si).min(low.si), low.unit);
        let right = Quantity::from_si((other.along.high?.si + by.si).max(high.si), high.unit);
        let edit = move_bounds(context, own, "along", &[(Bound::Low, left), (Bound::High, right)])?;
        Some(Cure::new(Title::ExtendPast { piece: &own.name, other: &other.name, left, right }, vec![edit]))
    });
    drafts.collect()
}

/// The foot of a piece raised above grade.
pub fn raised(context: &Context<'_>) -> Vec<Cure> {
    let grade = context.facts.and_then(|facts| facts.detail.grade);
    let (Some(grade), Some(above)) = (grade, size(context, "above-grade")) else { return Vec::new() };
    let drafts = context.subjects().into_iter().filter_map(|index| {
        let piece = piece(context, index);
        let foot = Quantity::from_si(grade.value.si + above.si, piece.up.low?.unit);
        let edit = move_bounds(context, piece, "up", &[(Bound::Low, foot)])?;
        Some(Cure::new(Title::RaiseFoot { piece: &piece.name, to: foot }, vec![edit]))
    });
    drafts.collect()
}

fn axes<'a>(one: &'a Piece, other: &'a Piece) -> [(&'static str, &'a Extent, &'a Extent); 2] {
    [("up", &one.up, &other.up), ("along", &one.along, &other.along)]
}
