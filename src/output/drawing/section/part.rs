//! From where to where a solid piece lies, leg by leg.

use crate::facts::face::{OPEN_HIGH, OPEN_LOW};
use crate::model::{Axis, MaterialKind};
use crate::output::drawing::paper::SPREAD;
use crate::output::drawing::section::cut::Cut;
use crate::output::drawing::section::place::{DRAPE, Under};

/// A part of a piece on one leg of the line, in which it keeps its distance.
pub(super) struct Part {
    pub(super) leg: usize,
    pub(super) along: [f64; 2],
    pub(super) out: [f64; 2],
    /// Its ends run off the detail.
    pub(super) open: [bool; 2],
    /// From where to where out of the wall the piece goes on in another part beyond its ends.
    pub(super) joins: [Option<[f64; 2]>; 2],
}

/// Where a piece keeps its distance, leg by leg.
pub(super) fn parts(cut: &Cut, piece: usize) -> Vec<Part> {
    let mut stretches: Vec<(usize, usize, [f64; 2])> = Vec::new();
    for step in cut.line.intervals(piece).into_iter().flatten() {
        let Some(slot) = cut.places.slot(piece, step) else { continue };
        match stretches.last_mut() {
            Some((_, last, same)) if *last + 1 == step && *same == slot => *last = step,
            _ => stretches.push((step, step, slot)),
        }
    }
    let mut parts = Vec::new();
    for (first, last, out) in stretches {
        let [low, high] = cut.real(piece, &(first..last + 1));
        for leg in 0..cut.spine.legs() {
            if cut.ends_under_top(piece, cut.spine.span(leg)[0]) {
                continue;
            }
            let [low_end, high_end] = cut.spine.span(leg);
            let beyond = |under: &Under| {
                if under.above { low_end > under.at - 1e-6 } else { high_end < under.at + 1e-6 }
            };
            if cut.places.under(piece).any(beyond) {
                continue;
            }
            let span = hung(cut, piece, leg);
            let mut along = [low.max(span[0]), high.min(span[1])];
            if along[1] - along[0] > 1e-9 {
                let open = [
                    along[0] == low && cut.line.steps[first].extent.low == OPEN_LOW,
                    along[1] == high && cut.line.steps[last].extent.high == OPEN_HIGH,
                ];
                for (end, past) in past(cut, piece, leg, along).into_iter().enumerate() {
                    along[end] += past;
                }
                for (end, more) in to_corner(cut, piece, leg, out, [low, high]).into_iter().enumerate() {
                    along[end] += more;
                }
                for under in cut.places.under(piece) {
                    let end = usize::from(under.above);
                    if (along[end] - under.at).abs() < 1e-6 {
                        along[end] += if under.above { under.more } else { -under.more };
                    }
                }
                parts.push(Part { leg, along, out, open, joins: [None; 2] });
            }
        }
    }
    join(cut, piece, &mut parts);
    parts
}

/// Parts of one leg that meet are one body: nothing is drawn between them. Where a membrane goes over the edge of what they are notched
/// around, the deeper one begins beyond that.
fn join(cut: &Cut, piece: usize, parts: &mut [Part]) {
    let under = |n: usize| cut.line.steps[n].stack.iter().copied().take_while(|p| *p != piece);
    let draped = |at: f64| match cut.around(at) {
        [Some(below), Some(above)] => {
            let over = |p: usize| cut.places.pieces[p].thin && cut.places.is_skin(p);
            under(below).any(|p| over(p) && under(above).any(|q| q == p))
        }
        _ => false,
    };
    for n in 0..parts.len() {
        for m in 0..parts.len() {
            let (low, high) = (&parts[n], &parts[m]);
            let out = [low.out[0].max(high.out[0]), low.out[1].min(high.out[1])];
            if low.leg == high.leg && (low.along[1] - high.along[0]).abs() < 1e-6 && out[1] - out[0] > 1e-6 {
                let at = low.along[1];
                let deeper = low.out[0] - high.out[0];
                let room = if deeper > 0.0 { high } else { low };
                let off = DRAPE.min((room.along[1] - room.along[0]) / 2.0);
                (parts[n].joins[1], parts[m].joins[0]) = (Some(out), Some(out));
                if deeper.abs() > SPREAD && draped(at) {
                    let at = at + off * deeper.signum();
                    (parts[n].along[1], parts[m].along[0]) = (at, at);
                }
            }
        }
    }
}

/// What ends at most this far from a corner covers it, mm of the building.
const AT_CORNER: f64 = 30.0;

/// By how much farther cladding lies at its ends near an outside corner: lengths count along the datum, and it stands off that. One side
/// runs through to the face of the other, which butts against it.
fn to_corner(cut: &Cut, piece: usize, leg: usize, out: [f64; 2], ends: [f64; 2]) -> [f64; 2] {
    let kind = cut.subject.detail.pieces[piece].material.kind;
    let clads = cut.places.is_skin(piece) && matches!(kind, Some(MaterialKind::Cladding | MaterialKind::Board));
    let span = cut.spine.span(leg);
    let near = |end: usize| {
        let fold = if end == 0 { leg.checked_sub(1) } else { Some(leg).filter(|leg| leg + 1 < cut.spine.legs()) };
        let short = if end == 0 { ends[0] - span[0] } else { span[1] - ends[1] };
        fold.is_some_and(|fold| cut.spine.opens(fold)) && (-1e-9..=AT_CORNER / cut.scale).contains(&short)
    };
    if !clads || cut.line.axis != Axis::Along || cut.spine.lies(leg) && cut.spine.outward(leg).y < 0.0 {
        return [0.0; 2];
    }
    [if near(0) { -out[0] } else { 0.0 }, if near(1) { out[1] } else { 0.0 }]
}

/// From where to where a piece follows a leg: over the edge of a roof it goes on straight, and nothing of it lies on the leg beyond.
fn hung(cut: &Cut, piece: usize, leg: usize) -> [f64; 2] {
    let mut span = cut.spine.span(leg);
    for over in cut.openings.iter().filter(|o| o.only == Some(piece)) {
        let fold = (0..cut.spine.legs() - 1).find(|fold| (cut.spine.span(*fold)[1] - over.at).abs() < 1e-9);
        let Some((fold, roof)) = fold.and_then(|fold| Some((fold, cut.spine.edge_of(fold)?))) else { continue };
        let [low, high] = [cut.spine.span(fold)[0], cut.spine.span(fold + 1)[1]];
        match leg {
            leg if leg == roof => span = [span[0].min(low), span[1].max(high)],
            leg if leg == fold || leg == fold + 1 => return [over.at, over.at],
            _ => {}
        }
    }
    span
}

/// By how much farther the ends of a part lie that hangs over the edge of a roof: lengths of its overhang count from the face of what is
/// below it.
fn past(cut: &Cut, piece: usize, leg: usize, along: [f64; 2]) -> [f64; 2] {
    let [low, high] = cut.spine.span(leg);
    let face = |steps: &mut dyn Iterator<Item = usize>| {
        let under = steps.flat_map(|n| {
            let stack = cut.line.steps[n].stack.iter().take_while(|p| **p != piece);
            stack.filter(|p| !cut.places.pieces[**p].thin).filter_map(move |p| cut.places.slot(*p, n))
        });
        under.map(|slot| slot[1]).fold(0.0, f64::max)
    };
    let count = cut.line.steps.len();
    let hung = |n: &usize| cut.line.steps[*n].stack.contains(&piece);
    let mut past = [0.0; 2];
    for over in cut.openings.iter().filter(|over| over.only == Some(piece)) {
        if !over.above && (over.at - low).abs() < 1e-9 && along[0] < low - 1e-9 {
            past[0] = -face(&mut (0..count).filter(|n| cut.places.along(*n)[1] <= low + 1e-9).filter(hung));
        }
        if over.above && (over.at - high).abs() < 1e-9 && along[1] > high + 1e-9 {
            past[1] = face(&mut (0..count).filter(|n| cut.places.along(*n)[0] >= high - 1e-9).filter(hung));
        }
    }
    past
}

/// The part of a piece in a step that is seen: it ends where another leg of the wall runs through.
pub fn shown(cut: &Cut, piece: usize, step: usize) -> [f64; 2] {
    let [mut low, mut high] = cut.real(piece, &(step..step + 1));
    let leg = cut.spine.leg_from((low + high) / 2.0, 1.0);
    let inboard = cut.places.slot(piece, step).is_some_and(|slot| slot[1] <= 1e-6);
    if !inboard || cut.line.axis != Axis::Up || cut.subject.detail.pieces[piece].inside && cut.places.pieces[piece].thin
    {
        return [low, high];
    }
    let end = cut.spine.span(leg);
    if leg + 1 < cut.spine.legs() && cut.spine.opens(leg) && !cut.spine.lies(leg) {
        let [_, above] = cut.around(end[1]);
        high = high.min(end[1] + above.map_or(0.0, |n| cut.depth(n))).max(low);
    }
    if leg > 0 && cut.spine.opens(leg - 1) && !cut.spine.lies(leg) {
        let [below, _] = cut.around(end[0]);
        low = low.max(end[0] - below.map_or(0.0, |n| cut.depth(n))).min(high);
    }
    [low, high]
}
