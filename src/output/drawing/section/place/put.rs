//! Puts pieces against each other, from the datum out and in.

use std::ops::Range;

use crate::model::Detail;
use crate::output::drawing::section::line::SectionLine;
use crate::output::drawing::section::place::look::{Look, THINNEST};

#[derive(Clone, Copy, PartialEq, Eq)]
pub(super) enum Side {
    Inboard,
    Outboard,
}

/// Of each piece, its two sides at each step, once it is placed.
pub(super) type Slots = [Vec<Option<[f64; 2]>>];

/// Puts a piece against what lies next to it on the side of the datum. In steps `apart` nothing pushes what is stiff: there it hangs, or
/// only reaches as a bead does.
pub(super) fn put(
    line: &SectionLine,
    pieces: &[Look],
    piece: usize,
    slots: &mut [Vec<Option<[f64; 2]>>],
    side: Side,
    bends: &dyn Fn(&Slots) -> Vec<Range<usize>>,
    apart: &[usize],
) {
    let look = pieces[piece];
    let mut faces: Vec<(usize, f64)> = Vec::new();
    for (n, step) in line.steps.iter().enumerate() {
        let Some(at) = step.stack.iter().position(|p| *p == piece) else { continue };
        let taken = |p: &usize| slots[*p][n];
        let face = match side {
            Side::Outboard => step.stack[..at].iter().filter_map(taken).map(|s| s[1]).fold(look.out, f64::max),
            Side::Inboard => {
                let over = step.stack[at + 1..].iter().filter(|p| !pieces[**p].yields);
                over.filter_map(taken).map(|s| s[0]).fold(0.0, f64::min)
            }
        };
        faces.push((n, face));
    }
    if look.fills && side == Side::Inboard {
        // What reaches deeper than the bay leaves it no room.
        let inner = faces.iter().fold(f64::MIN, |near, f| near.max(f.1)) - look.thickness;
        for (n, face) in faces.into_iter().filter(|f| f.1 > inner + THINNEST) {
            slots[piece][n] = Some([inner, face]);
        }
        return;
    }
    if look.metal && side == Side::Outboard {
        for run in bends(slots) {
            let mut own: Vec<&mut (usize, f64)> = faces.iter_mut().filter(|f| run.contains(&f.0)).collect();
            let farthest = own.iter().fold(0.0, |far: f64, f| far.max(f.1));
            own.iter_mut().for_each(|f| f.1 = farthest);
        }
    }
    if !look.soft {
        let farthest = match side {
            Side::Outboard => faces.iter().filter(|f| !apart.contains(&f.0)).fold(0.0, |far: f64, f| far.max(f.1)),
            Side::Inboard => faces.iter().filter(|f| !apart.contains(&f.0)).fold(0.0, |far: f64, f| far.min(f.1)),
        };
        faces.iter_mut().for_each(|f| f.1 = farthest);
    }
    for (n, face) in faces {
        // A membrane that lies within one part of the wall and on the next takes no room on that.
        let stack = &line.steps[n].stack;
        let outmost = !stack.iter().skip_while(|p| **p != piece).skip(1).any(|p| slots[*p][n].is_some());
        if look.thin && side == Side::Inboard && outmost {
            slots[piece][n] = Some([face, face]);
            continue;
        }
        slots[piece][n] = Some(match side {
            Side::Outboard => [face, face + look.thickness],
            Side::Inboard => [face - look.thickness, face],
        });
    }
}

/// A membrane within the wall lies on what is behind it, and does not span from one thing in front of it to the next.
pub(super) fn lay(
    detail: &Detail,
    line: &SectionLine,
    pieces: &[Look],
    skin: &[bool],
    slots: &mut [Vec<Option<[f64; 2]>>],
) {
    for (n, step) in line.steps.iter().enumerate() {
        for pair in step.stack.windows(2).filter(|pair| !skin[pair[0]] && !skin[pair[1]]) {
            let (Some(behind), Some(own)) = (slots[pair[0]][n], slots[pair[1]][n]) else { continue };
            let piece = pair[1];
            if pieces[piece].thin && !detail.pieces[piece].inside && behind[1] < own[0] - 1e-6 {
                slots[piece][n] = Some([behind[1], behind[1] + own[1] - own[0]]);
            }
        }
    }
}

/// What nobody says the thickness of, within the wall, reaches to what is behind it.
pub(super) fn fill(line: &SectionLine, skin: &[bool], pieces: &mut [Look], slots: &mut [Vec<Option<[f64; 2]>>]) {
    for piece in 0..pieces.len() {
        if skin[piece] || !pieces[piece].cut_off || pieces[piece].soft {
            continue;
        }
        let behind = line.steps.iter().enumerate().filter_map(|(n, step)| {
            let at = step.stack.iter().position(|p| *p == piece)?;
            step.stack[step.inner.min(at)..at].iter().filter_map(|p| slots[*p][n]).map(|slot| slot[1]).reduce(f64::max)
        });
        let Some(behind) = behind.reduce(f64::max) else { continue };
        let mut filled = false;
        for slot in slots[piece].iter_mut().flatten().filter(|slot| behind < slot[0] - 1e-6) {
            slot[0] = behind;
            filled = true;
        }
        pieces[piece].cut_off &= !filled;
    }
}

/// In stacks that contradict each other a piece may have come to lie in another; there order goes before straightness.
/// Of a membrane tucked into the wall the wall knows nothing.
pub(super) fn settle(line: &SectionLine, skin: &[bool], hanging: &[Vec<usize>], slots: &mut [Vec<Option<[f64; 2]>>]) {
    for (n, step) in line.steps.iter().enumerate() {
        let mut reached: Option<f64> = None;
        for piece in step.stack.iter().filter(|p| skin[**p] && !hanging[**p].contains(&n)) {
            let Some([inner, outer]) = slots[*piece][n] else { continue };
            let shift = reached.map_or(0.0, |r| (r - inner).max(0.0));
            slots[*piece][n] = Some([inner + shift, outer + shift]);
            reached = Some(outer + shift);
        }
    }
}
