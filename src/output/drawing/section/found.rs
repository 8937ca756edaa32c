//! Where on a section the joint lies that a finding is about.

use crate::facts::face::{Coordinate, DropStep, StepKind};
use crate::facts::nanometres;
use crate::model::{Axis, Fastening};
use crate::output::drawing::clip;
use crate::output::drawing::mark::{self, Mark};
use crate::output::drawing::scene::Point;
use crate::output::drawing::section::cut::Cut;
use crate::output::drawing::section::fixing;
use crate::output::drawing::section::opening::Opening;
use crate::output::drawing::section::pointing::spots;
use crate::output::drawing::section::reported_path::reported_path;
use crate::output::drawing::section::{dimensions, part, pipe, solid};
use crate::quantity::parse_quantity;
use crate::text::Span;

/// On its first piece: at the height that the finding states, where its water goes wrong, at the length that fails, at the fastener or
/// the joint that it is about, else where the piece meets the next one.
pub fn place_of(cut: &Cut, entry: &Mark) -> Option<Point> {
    let pieces = mark::pieces(cut.subject.detail, entry.finding);
    let on_line: Vec<usize> = pieces.iter().copied().filter(|p| cut.line.has(*p)).collect();
    let first = *on_line.first()?;
    let stated = || Some(nanometres(parse_quantity(value(entry, "height")?).ok()?));
    let height = stated().and_then(|at| at_height(cut, &[first], at));
    let wets = || water(cut, entry).and_then(|(piece, at)| at_height(cut, &[&on_line[..], &[piece]].concat(), at));
    let fails = || dimensions::of_finding(cut, entry.number);
    // A piece that ends before the gap shows it at its end.
    let between = || {
        let (at, [low, high]) = (gap(cut, &on_line)?, reach(cut, first)?);
        at_height(cut, &[first], at.clamp(low, high))
    };
    height
        .or_else(wets)
        .or_else(fails)
        .or_else(|| fastener(cut, entry))
        .or_else(|| bead(cut, entry))
        .or_else(between)
        .or_else(|| on(cut, &on_line))
}

fn value<'f>(entry: &Mark<'f>, name: &str) -> Option<&'f str> {
    entry.finding.values.iter().find(|(n, _)| &**n == name).map(|(_, value)| &**value)
}

/// That height of the first of some pieces that reaches it.
fn at_height(cut: &Cut, pieces: &[usize], at: Coordinate) -> Option<Point> {
    pieces.iter().find_map(|piece| {
        let step = cut.line.steps.iter().position(|s| s.stack.contains(piece) && s.extent.reaches(at))?;
        Some(spots(cut, *piece, step)(cut.ruler.at(at)))
    })
}

/// Where the water of a finding first goes wrong, or ends.
fn water(cut: &Cut, entry: &Mark) -> Option<(usize, Coordinate)> {
    let path = reported_path(cut.subject, entry)?;
    let behind = |step: &&DropStep| matches!(step.kind, StepKind::PassesBehind | StepKind::SealLost);
    path.iter().find(behind).or(path.last()).map(|step| (step.piece, step.up))
}

/// The fastener that a finding is about.
fn fastener(cut: &Cut, entry: &Mark) -> Option<Point> {
    let own = |f: &&Fastening| holds(f.span, entry) && fixing::stands(f, cut.line);
    let fastening = cut.subject.detail.fastenings.iter().find(own)?;
    fixing::places(cut, fastening).first().map(|(along, n)| spots(cut, fastening.piece.index, *n)(*along))
}

/// The bead that a finding is about.
fn bead(cut: &Cut, entry: &Mark) -> Option<Point> {
    let seal = cut.subject.detail.seals.iter().find(|seal| holds(seal.span, entry))?;
    let (_, at) = seal.at.filter(|(axis, _)| *axis == cut.line.axis)?;
    [seal.first.index, seal.second.index].into_iter().find_map(|piece| at_height(cut, &[piece], nanometres(at)))
}

fn holds(span: Span, entry: &Mark) -> bool {
    let finding = entry.finding.span;
    span.file == finding.file && span.start <= finding.start && finding.end <= span.end
}

/// The joint between two pieces that do not overlap.
fn gap(cut: &Cut, pieces: &[usize]) -> Option<Coordinate> {
    let [first, rest @ ..] = pieces else { return None };
    let others: Vec<usize> = rest.iter().copied().take(2).collect();
    let pair = match others[..] {
        [a, b] => [a, b],
        [a] => [*first, a],
        _ => return None,
    };
    let [a, b] = [reach(cut, pair[0])?, reach(cut, pair[1])?];
    let (lower, upper) = if a[0] < b[0] { (a, b) } else { (b, a) };
    (lower[1] <= upper[0]).then(|| lower[1] + (upper[0] - lower[1]) / 2)
}

/// How far a piece reaches along the line.
fn reach(cut: &Cut, piece: usize) -> Option<[Coordinate; 2]> {
    let steps = cut.line.steps.iter().filter(|step| step.stack.contains(&piece));
    steps.map(|step| [step.extent.low, step.extent.high]).reduce(|a, b| [a[0].min(b[0]), a[1].max(b[1])])
}

/// On the longest stretch that the first piece shares with the second: near its edge where it runs off at the other end.
fn on(cut: &Cut, pieces: &[usize]) -> Option<Point> {
    let first = *pieces.first()?;
    let of = |piece: usize| (0..cut.line.steps.len()).filter(move |n| cut.places.slot(piece, *n).is_some());
    let both: Vec<usize> = match pieces.get(1) {
        Some(second) => of(first).filter(|n| cut.places.slot(*second, *n).is_some()).collect(),
        None => Vec::new(),
    };
    let mut steps: Vec<usize> = if both.is_empty() { of(first).collect() } else { both };
    // What is said of a pan is said of the part that lies in its opening, under what fills that.
    let bed = |n: &usize| {
        let interval = cut.interval(first, *n);
        let lines = |o: &&Opening| o.above && o.takes(cut.subject, cut.line, &cut.places, first, &interval);
        cut.openings.iter().filter(lines).any(|opening| opening.steps.contains(n))
    };
    if cut.subject.detail.pieces[first].role.as_deref() == Some("pan") && steps.iter().any(bed) {
        steps.retain(bed);
    }
    let pierced = |n: &usize| cut.line.steps[*n].stack.iter().any(|p| *p != first && pipe::passes(cut, *p));
    if !steps.iter().all(pierced) {
        steps.retain(|n| !pierced(n));
    }
    let shown = |n: usize| part::shown(cut, first, n);
    let edge = steps.first().zip(steps.last()).and_then(|(low, high)| edge(cut, pieces, [*low, *high]));
    if let Some(end) = edge {
        let n = *if end == 0 { steps.first()? } else { steps.last()? };
        let at = spots(cut, first, n)(near_end(shown(n), end));
        // Its edge may lie under what runs through at a corner.
        let bodies = solid::outlines(cut, first);
        if bodies.is_empty() || bodies.iter().any(|body| clip::holds(body, at)) {
            return Some(at);
        }
    }
    let length = |n: usize| shown(n)[1] - shown(n)[0];
    let longest = steps.iter().copied().max_by(|a, b| length(*a).total_cmp(&length(*b)).then(b.cmp(a)))?;
    let [low, high] = shown(longest);
    // Off the middle, where the names point.
    Some(spots(cut, first, longest)(low + 0.45 * (high - low)))
}

/// The end of a stretch at which some pieces end that run off the drawing at their other one, if all of them say the same.
fn edge(cut: &Cut, pieces: &[usize], stretch: [usize; 2]) -> Option<usize> {
    let last = cut.line.steps.len() - 1;
    let of = |piece: &usize| {
        let steps = cut.line.intervals(*piece);
        let ends = [steps.first()?.start, steps.last()?.end - 1];
        match [ends[0] == 0, ends[1] == last] {
            [false, true] => (ends[0] == stretch[0]).then_some(0),
            [true, false] => (ends[1] == stretch[1]).then_some(1),
            _ => None,
        }
    };
    let mut ends: Vec<usize> = pieces.iter().take(2).filter_map(of).collect();
    ends.dedup();
    match ends[..] {
        [end] if cut.line.axis == Axis::Up => Some(end),
        _ => None,
    }
}

/// So far from the end of a stretch that it is seen on which piece that lies, mm of paper.
const EDGE: f64 = 1.5;

fn near_end([low, high]: [f64; 2], end: usize) -> f64 {
    let off = EDGE.min(0.45 * (high - low));
    if end == 0 { low + off } else { high - off }
}
