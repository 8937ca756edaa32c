//! What the text says of the order of pieces, compared with the stacks.

use super::{Knot, Third, sorted};
use crate::facts::face::Face;

/// What the text says of the order.
pub(super) struct StatedOrder<'a> {
    pub(super) face: &'a Face,
    /// Pairs of an outboard piece and an inboard one, sorted.
    pub(super) pairs: Vec<(usize, usize)>,
    /// Pairs of a piece and an earlier one that it lies behind although the text does not say so: see `Self::followed_in`.
    followed: Vec<(usize, usize)>,
}

impl StatedOrder<'_> {
    pub(super) fn of(face: &Face) -> StatedOrder<'_> {
        let count = face.pieces.len();
        let mut pairs: Vec<(usize, usize)> = Vec::new();
        for (piece, said) in face.pieces.iter().enumerate() {
            pairs.extend(said.over.iter().map(|&inboard| (piece, inboard)));
            pairs.extend(said.behind.iter().map(|&outboard| (outboard, piece)));
        }
        let known = |&(a, b): &(usize, usize)| a != b && a < count && b < count;
        pairs.retain(|pair| known(pair) && face.pieces[pair.0].inside == face.pieces[pair.1].inside);
        pairs.sort_unstable();
        pairs.dedup();
        StatedOrder { face, pairs, followed: Vec::new() }
    }

    /// What slips in behind one piece is behind all that lies over it there, and so behind each of these wherever the two
    /// overlap: a sheet cannot lie on both sides of another. These are such pairs of one settled stack, from inboard to
    /// outboard, that are not known yet.
    pub(super) fn followed_in(&self, stack: &[u32]) -> Vec<(usize, usize)> {
        let mut new = Vec::new();
        for (at, &piece) in stack.iter().enumerate() {
            let piece = piece as usize;
            let beyond = || stack[at + 1..].iter().map(|&p| p as usize).filter(move |&p| p < piece);
            if beyond().any(|p| self.is_behind(piece, p)) {
                let silent = |&p: &usize| !self.is_behind(piece, p) && !self.says(piece, p);
                new.extend(beyond().filter(silent).map(|p| (piece, p)));
            }
        }
        new
    }

    pub(super) fn follow(&mut self, new: Vec<(usize, usize)>) {
        self.followed.extend(new);
        self.followed.sort_unstable();
        self.followed.dedup();
    }

    /// The pieces behind which something follows others, each with the piece that follows.
    pub(super) fn all_followed(&self) -> impl Iterator<Item = (usize, usize)> + '_ {
        self.followed.iter().map(|&(piece, earlier)| (earlier, piece))
    }

    fn is_behind(&self, piece: usize, earlier: usize) -> bool {
        self.face.pieces[piece].behind.contains(&earlier) || self.followed.binary_search(&(piece, earlier)).is_ok()
    }

    /// The pieces of a stack from inboard to outboard, given in the order of installation.
    pub(super) fn settle(&self, members: &[u32]) -> Vec<u32> {
        let mut stack: Vec<u32> = Vec::with_capacity(members.len());
        for &piece in members {
            let behind = stack.iter().position(|&p| self.is_behind(piece as usize, p as usize));
            stack.insert(behind.unwrap_or(stack.len()), piece);
            let folds = |p: u32| p != piece && self.face.pieces[p as usize].over.contains(&(piece as usize));
            if stack.iter().any(|&p| folds(p)) {
                let (flaps, mut rest): (Vec<u32>, Vec<u32>) = stack.iter().partition(|&&p| folds(p));
                let at = rest.iter().position(|&p| p == piece).map_or(rest.len(), |at| at + 1);
                rest.splice(at..at, flaps);
                stack = rest;
            }
        }
        stack
    }

    /// Whether the later piece of a pair lies outboard of the other; on the inner face, nearer to the room.
    pub(super) fn lies_over(&self, stack: &[u32], [first, later]: [usize; 2]) -> bool {
        let place = |piece: usize| stack.iter().position(|&p| p as usize == piece);
        (place(later) > place(first)) != self.face.pieces[later].inside
    }

    fn says(&self, outboard: usize, inboard: usize) -> bool {
        self.pairs.binary_search(&(outboard, inboard)).is_ok()
    }

    /// Pairs of places in a stack whose pieces the text has the other way around.
    pub(super) fn untrue(&self, stack: &[u32]) -> Vec<[usize; 2]> {
        let mut untrue = Vec::new();
        for (at, &inboard) in stack.iter().enumerate() {
            for (to, &outboard) in stack.iter().enumerate().skip(at + 1) {
                if self.says(inboard as usize, outboard as usize) {
                    untrue.push([at, to]);
                }
            }
        }
        untrue
    }

    pub(super) fn circle(&self, stack: &[u32], [at, to]: [usize; 2]) -> Knot {
        let (outer, inner) = (stack[at] as usize, stack[to] as usize);
        let mut between = stack[at + 1..to].iter().map(|&p| p as usize);
        let third = between.find_map(|p| match (self.says(p, outer), self.says(inner, p)) {
            (true, _) => Some(Third::Cover(p)),
            (_, true) => Some(Third::Base(p)),
            _ => None,
        });
        Knot::Circle { outer, inner, third: third.filter(|_| !self.says(inner, outer)).unwrap_or(Third::None) }
    }
}

/// Pairs that lie one way around here and the other way there.
pub(super) fn changes(here: &[u32], there: &[u32]) -> Vec<[usize; 2]> {
    let place = |piece: u32| there.iter().position(|&p| p == piece);
    let common: Vec<(u32, usize)> = here.iter().filter_map(|&p| place(p).map(|at| (p, at))).collect();
    let mut changed = Vec::new();
    for (n, &(inner, inner_at)) in common.iter().enumerate() {
        let past = common[n + 1..].iter().filter(|(_, at)| *at < inner_at);
        changed.extend(past.map(|&(outer, _)| sorted([inner as usize, outer as usize])));
    }
    changed
}
