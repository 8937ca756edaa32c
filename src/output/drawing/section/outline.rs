//! The outline of a part of a solid piece, and how it meets the next at a fold.

use crate::model::Axis;
use crate::output::drawing::clip::{self, Half};
use crate::output::drawing::scene::Point;
use crate::output::drawing::section::bearing;
use crate::output::drawing::section::chimney;
use crate::output::drawing::section::cut::Cut;
use crate::output::drawing::section::ended::ended;
use crate::output::drawing::section::foot;
use crate::output::drawing::section::masonry::is_rowlock;
use crate::output::drawing::section::old_wall;
use crate::output::drawing::section::part::Part;
use crate::output::drawing::section::place::juts;

/// The outline of a part, and where no edge of it is seen.
pub(super) struct Outline {
    pub(super) corners: Vec<Point>,
    /// It runs through behind another leg and is cut off there.
    pub(super) cut_off: Option<Half>,
    /// The piece goes on beyond these miters as it is.
    pub(super) miters: Vec<Half>,
}

/// At a fold a part is mitered where the piece goes on, else it butts as carpenters do it.
pub(super) fn outline(cut: &Cut, piece: usize, part: &Part) -> Outline {
    let spine = &cut.spine;
    let span = spine.span(part.leg);
    let inboard = part.out[1] <= 1e-6;
    let fold_below = (part.leg > 0 && (part.along[0] - span[0]).abs() < 1e-6).then(|| part.leg - 1);
    let fold_above = (part.leg + 1 < spine.legs() && (part.along[1] - span[1]).abs() < 1e-6).then_some(part.leg);
    let mut more = [false, false];
    let mut halves = Vec::new();
    let mut miters = Vec::new();
    let mut cut_off = None;
    for (end, fold, other) in [(0, fold_below, part.leg.wrapping_sub(1)), (1, fold_above, part.leg + 1)] {
        let Some(fold) = fold else { continue };
        let [below, above] = cut.around(span[end]);
        let within = || over_fold(cut, span[end]);
        let Some(beside) = (if end == 0 { below } else { above }).or_else(within) else { continue };
        if cut.places.under(piece).any(|under| (under.at - span[end]).abs() < 1e-6) {
            continue;
        }
        let goes_on = reaches(cut, piece, beside, end, span[end]);
        if goes_on && (cut.places.slot(piece, beside).is_none() || cut.ends_under_top(piece, span[end])) {
            // It ends under the top of its parapet, or square where nothing carries it any more.
            if inboard {
                more[end] = true;
                halves.push(spine.beyond(other, 0.0, false));
            }
            continue;
        }
        if goes_on {
            more[end] = true;
            let half = spine.half_of(fold, end == 0, inboard);
            halves.push(half);
            let same = |slot: [f64; 2]| (0..2).all(|side| (slot[side] - part.out[side]).abs() < 1e-6);
            if cut.places.slot(piece, beside).is_some_and(same) {
                miters.push(half);
            }
            continue;
        }
        let opens = spine.opens(fold);
        let depth = depth_beyond(cut, piece, beside, end, span[end]);
        let depth = chimney::goes_on(cut, piece, other).filter(|_| !opens).map_or(depth, |deep| depth.min(deep));
        // Over a corner that lies open the lying part runs through, into one that closes the standing one does, and an old wall does.
        let old = old_wall::old_leg(cut, fold);
        let runs_through = match cut.line.axis {
            Axis::Up => spine.lies(part.leg) == opens,
            Axis::Along => old.map_or(end == 1, |old| old == part.leg),
        };
        let depth = if old == Some(part.leg) { depth - old_wall::further(cut, fold) } else { depth };
        if !inboard {
            if !opens {
                let carried = cut.line.axis == Axis::Up && spine.lies(other);
                let stop = match (spine.lies(part.leg), carried) {
                    (true, _) => bearing::ends_before(cut, piece, beside),
                    (false, true) => bearing::begins_on(cut, piece, beside),
                    (false, false) => 0.0,
                };
                more[end] |= foot::of(cut, part.leg, end).is_some();
                halves.push(spine.beyond(other, stop, true));
            }
            continue;
        }
        more[end] = true;
        let own = if end == 0 { above } else { below };
        if let (false, Some(stop)) = (opens, own.and_then(|own| turned_up(cut, piece, own, beside))) {
            halves.push(spine.beyond(other, stop, true));
            continue;
        }
        let lies = spine.lies(part.leg);
        let bearing = own.filter(|_| !opens && lies != spine.lies(other)).and_then(|own| match lies {
            true => bearing::goes_under(cut, piece, [own, beside]),
            false => bearing::stands_on(cut, piece, [beside, own]),
        });
        let half = match (opens, runs_through) {
            (false, true) if bearing.is_some() => spine.beyond(other, bearing.unwrap_or(0.0), true),
            (false, false) if bearing.is_some() => {
                let further = bearing.unwrap_or(0.0);
                let half = spine.beyond(other, depth - further, true);
                cut_off = cut_off.or((further > 0.0).then_some(half));
                half
            }
            (true, true) => spine.beyond(other, 0.0, false),
            (true, false) => spine.beyond(other, depth, false),
            // Below a roof that falls, a wall is cut off square.
            (false, true) if cut.line.axis == Axis::Up => {
                let (at, d) = (spine.corner([part.leg, other], [0.0, depth]), spine.forward(part.leg));
                Half { at, normal: if end == 0 { d } else { Point::new(-d.x, -d.y) } }
            }
            (false, true) => spine.beyond(other, depth, true),
            (false, false) => spine.beyond(other, 0.0, true),
        };
        if !opens && runs_through && bearing.is_none() && depth < -1e-6 {
            cut_off = Some(half);
        }
        halves.push(half);
    }
    halves.extend(miters_of_the_rest(cut, piece, part));
    halves.extend(under_roof(cut, piece, part));
    let mut whole = spine.rectangle(part.leg, part.along, part.out, more);
    if let Some(fall) = fall(cut, piece, part).filter(|_| fold_above.is_none()) {
        whole[2] = spine.raw(part.leg, part.along[1] - fall, part.out[1]);
        // Bricks on edge are laid as steep as their top.
        if is_rowlock(cut, piece) {
            whole[0] = spine.raw(part.leg, part.along[0] + fall, part.out[0]);
        }
    }
    if let Some(fall) = falls_in(cut, piece, part).filter(|_| fold_above.is_none()) {
        whole[3] = spine.raw(part.leg, part.along[1] - fall, part.out[0]);
    }
    let corners = halves.into_iter().fold(whole, |left, side| clip::half(&left, side));
    let corners = ended(cut, part, corners);
    Outline { corners, cut_off, miters }
}

/// What stands in front of a wall ends under the roof that goes on over it, however high its text takes it.
fn under_roof(cut: &Cut, piece: usize, part: &Part) -> Vec<Half> {
    let spine = &cut.spine;
    let layer = cut.subject.detail.pieces[piece].layer.is_some();
    let turns = |leg: usize| {
        let [low, high] = spine.span(leg);
        let lies = |n: &usize| cut.places.along(*n)[0] < high - 1e-6 && low + 1e-6 < cut.places.along(*n)[1];
        cut.line.intervals(piece).into_iter().flatten().any(|n| lies(&n))
    };
    if cut.line.axis != Axis::Up || !layer || part.out[1] < 1e-6 || spine.lies(part.leg) {
        return Vec::new();
    }
    let folds = [part.leg.checked_sub(1).map(|other| (other, other)), Some((part.leg, part.leg + 1))];
    let near = folds.into_iter().flatten().filter(|(_, other)| *other < spine.legs());
    let roofs = near.filter(|(fold, other)| spine.edge_of(*fold) == Some(*other) && !turns(*other));
    roofs.map(|(_, roof)| spine.beyond(roof, 0.0, false)).collect()
}

/// The step that goes on over a fold.
fn over_fold(cut: &Cut, at: f64) -> Option<usize> {
    (0..cut.line.steps.len()).find(|n| cut.places.along(*n)[0] < at && at < cut.places.along(*n)[1])
}

/// A piece goes on over a fold at that end of it, and not only the bead of its joint.
fn reaches(cut: &Cut, piece: usize, step: usize, end: usize, fold: f64) -> bool {
    let [low, high] = cut.real(piece, &cut.interval(piece, step));
    cut.line.steps[step].stack.contains(&piece) && if end == 0 { low < fold - 1e-6 } else { high > fold + 1e-6 }
}

/// How deep the wall beyond a fold is, which may begin a joint away from it.
fn depth_beyond(cut: &Cut, piece: usize, beside: usize, end: usize, fold: f64) -> f64 {
    let near = |n: &usize| (cut.places.along(*n)[end] - fold).abs() < AT_CORNER / cut.scale;
    let depth = |n: usize| cut.depth_without(n, piece);
    let next = |n: &usize| if end == 0 { n.checked_sub(1) } else { Some(n + 1).filter(|n| *n < cut.line.steps.len()) };
    let steps = std::iter::successors(Some(beside), next);
    // The wall is in the first step that has some; a step that ends near the fold is a joint.
    let mut reached = true;
    let steps = steps.take_while(|n| std::mem::replace(&mut reached, near(n)));
    steps.map(depth).find(|depth| *depth < -1e-6).unwrap_or(0.0)
}

/// Where a body within a corner ends, as the other leg counts, if a membrane turns up there within the wall: what stands outboard of that
/// stands on it, and what lies under it ends before it.
fn turned_up(cut: &Cut, piece: usize, own: usize, beside: usize) -> Option<f64> {
    if cut.line.axis != Axis::Up {
        return None;
    }
    let stacks = [own, beside].map(|n| &cut.line.steps[n].stack);
    let at = stacks[0].iter().position(|p| *p == piece)?;
    let within = |q: &&usize| {
        cut.places.pieces[**q].thin
            && !cut.places.is_skin(**q)
            && !cut.subject.detail.pieces[**q].inside
            && stacks[1].contains(q)
    };
    let leg_of = |n: usize| {
        let [low, high] = cut.places.along(n);
        cut.spine.leg_from((low + high) / 2.0, 1.0)
    };
    if cut.spine.lies(leg_of(own)) {
        let over = stacks[0][at..].iter().find(within)?;
        // Nothing of the wall stands on it.
        let body = |q: &usize| !cut.places.pieces[*q].thin && !cut.places.is_skin(*q);
        let on_wall = |n: &usize| leg_of(*n) == leg_of(beside);
        let over_it = |n: usize| cut.line.steps[n].stack.iter().skip_while(|q| *q != over).any(body);
        let stands = cut.interval(*over, beside).filter(on_wall).any(over_it);
        return stands.then(|| cut.places.slot(*over, beside)).flatten().map(|slot| slot[0]);
    }
    let under = stacks[0][..at].iter().rev().find(within)?;
    cut.places.slot(*under, beside).map(|slot| slot[1])
}

/// A deep piece that goes on over an open fold is mitered there as a whole, also where what lies on it ends before the fold.
fn miters_of_the_rest(cut: &Cut, piece: usize, part: &Part) -> Vec<Half> {
    let (spine, span) = (&cut.spine, cut.spine.span(part.leg));
    if part.out[1] > 1e-6 {
        return Vec::new();
    }
    let before = |end: usize| {
        let fold = if end == 0 { part.leg.checked_sub(1)? } else { part.leg };
        let short = if end == 0 { part.along[0] - span[0] } else { span[1] - part.along[1] };
        let ends = short < 1e-6 || fold + 1 >= spine.legs();
        let over = || {
            let [below, above] = cut.around(span[end]).map(|n| n.or_else(|| over_fold(cut, span[end])));
            [below, above].into_iter().all(|n| n.is_some_and(|n| cut.places.slot(piece, n).is_some()))
        };
        (!ends && spine.opens(fold) && over()).then(|| spine.half_of(fold, end == 0, true))
    };
    (0..2).filter_map(before).collect()
}

/// What begins at most this far from a corner begins at it, mm of the building.
const AT_CORNER: f64 = 30.0;

/// By how much the top of a standing piece falls outward: a sill of stone is as steep as it is said to be.
pub(super) fn fall(cut: &Cut, piece: usize, part: &Part) -> Option<f64> {
    slant(cut, piece, part).filter(|fall| *fall > 0.0)
}

/// By how much the top of what stands out of a wall falls toward that.
fn falls_in(cut: &Cut, piece: usize, part: &Part) -> Option<f64> {
    let stands_out = part.out[0] > -1e-6 && juts(cut.subject.detail, &cut.subject.detail.pieces[piece]);
    slant(cut, piece, part).filter(|fall| *fall < 0.0 && stands_out).map(|fall| -fall)
}

fn slant(cut: &Cut, piece: usize, part: &Part) -> Option<f64> {
    let said = &cut.subject.detail.pieces[piece];
    let rise = said.slope.filter(|_| cut.line.axis == Axis::Up && !cut.spine.lies(part.leg))?.value.si;
    let (deep, most) = (part.out[1] - part.out[0], 0.8 * (part.along[1] - part.along[0]));
    (!part.open[1] && rise.is_finite()).then(|| (deep * rise).clamp(-most, most))
}
