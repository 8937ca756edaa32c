//! The order of the pieces in each cell, and what of it cannot be built.

use crate::facts::face::budget::{Budget, TooLarge};
use crate::facts::face::{Cells, Face, Rect};

/// Pieces that cannot lie as drawn. It usually wants a slit, that is, a second piece.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ImpossibleStack {
    /// Two of them, the one installed first in front.
    pub pair: [usize; 2],
    pub why: Tangle,
    /// One place where this is seen.
    pub at: Rect,
    /// All that are tangled up with each other, by index.
    pub pieces: Vec<usize>,
}

/// What is wrong with a pair.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Tangle {
    /// The text says how they lie, and here they cannot lie so.
    Untrue,
    /// Here they lie the other way round than in the cell beside it, and a sheet does not lie on both sides of another.
    ChangesSides,
}

/// What `over` and `behind` did to the stacks.
#[derive(Clone, Debug, Default)]
pub struct Order {
    pub impossible: Vec<ImpossibleStack>,
    /// Some stack differs from the order of installation.
    pub changed: bool,
    /// Cells in which something that is stated cannot be true, in ascending order.
    cells: Vec<usize>,
}

impl Order {
    pub fn is_impossible(&self, cell: usize) -> bool {
        self.cells.binary_search(&cell).is_ok()
    }
}

/// Puts the stacks in order: pieces come on one after the other, each outboard of what is there (on the inner face: toward the
/// room), unless it slips in behind another or is folded over one that comes later. A stack in which something stated is
/// not true is left in the order of installation.
pub fn order(face: &Face, cells: &mut Cells, budget: &mut Budget) -> Result<Order, TooLarge> {
    let mut order = Order::default();
    let stated = Stated::of(face);
    let asked = asked(&stated, cells, budget)?;
    order.changed = !asked.is_empty();
    let mut tangles: Vec<(Tangle, [usize; 2], usize)> = Vec::new();
    for &cell in &asked {
        let [inner, outer] = cells.parts(cell);
        budget.spend((inner.len() + outer.len()) * (inner.len() + outer.len() + 4))?;
        // On the inner face the first comes last.
        cells.members[inner.clone()].reverse();
        for part in [inner.clone(), outer] {
            let members = &mut cells.members[part];
            let settled = stated.settle(members);
            let untrue = stated.untrue(&settled);
            if untrue.is_empty() {
                members.copy_from_slice(&settled);
            }
            tangles.extend(untrue.into_iter().map(|pair| (Tangle::Untrue, pair, cell)));
        }
        cells.members[inner].reverse();
    }
    order.cells = tangles.iter().map(|tangle| tangle.2).collect();
    order.cells.dedup();
    for &cell in asked.iter().filter(|&&cell| !order.is_impossible(cell)) {
        let (column, row) = (cell / cells.rows(), cell % cells.rows());
        let beside = [(1, 0), (-1, 0), (0, 1), (0, -1)];
        for (across, up) in beside {
            let (next, other) = (column.wrapping_add_signed(across), row.wrapping_add_signed(up));
            let inside = next < cells.columns() && other < cells.rows();
            if !inside || order.is_impossible(cells.cell(next, other)) {
                continue;
            }
            let (here, there) = (cells.whole(column, row), cells.whole(next, other));
            budget.spend(2 * here.len() + there.len())?;
            tangles.extend(changes(here, there).into_iter().map(|pair| (Tangle::ChangesSides, pair, cell)));
        }
    }
    order.impossible = gather(tangles, cells);
    Ok(order)
}

/// What the text says of the order.
struct Stated<'a> {
    face: &'a Face,
    /// Pairs of an outboard piece and an inboard one, sorted.
    pairs: Vec<(usize, usize)>,
}

impl Stated<'_> {
    fn of(face: &Face) -> Stated<'_> {
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
        Stated { face, pairs }
    }

    /// The pieces of a stack, given in the order of installation, as they come to lie.
    fn settle(&self, members: &[u32]) -> Vec<u32> {
        let mut stack: Vec<u32> = Vec::with_capacity(members.len());
        for &piece in members {
            let said = &self.face.pieces[piece as usize];
            let behind = stack.iter().position(|&p| said.behind.contains(&(p as usize)));
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

    /// Pairs of a stack that do not lie as they are said to, the one installed first in front.
    fn untrue(&self, stack: &[u32]) -> Vec<[usize; 2]> {
        let mut untrue = Vec::new();
        for (at, &inboard) in stack.iter().enumerate() {
            for &outboard in &stack[at + 1..] {
                if self.pairs.binary_search(&(inboard as usize, outboard as usize)).is_ok() {
                    untrue.push(sorted([inboard as usize, outboard as usize]));
                }
            }
        }
        untrue
    }
}

/// The cells in which a piece that came first is to lie outboard, or is said to lie on both sides, in ascending order.
fn asked(stated: &Stated, cells: &Cells, budget: &mut Budget) -> Result<Vec<usize>, TooLarge> {
    let mut asked = Vec::new();
    for &(outboard, inboard) in stated.pairs.iter().filter(|(outboard, inboard)| outboard < inboard) {
        let common = cells.common(outboard, inboard);
        budget.spend(common.size())?;
        let both = |&(c, r): &(usize, usize)| cells.has(c, r, outboard) && cells.has(c, r, inboard);
        asked.extend(common.iter().filter(both).map(|(c, r)| cells.cell(c, r)));
    }
    asked.sort_unstable();
    asked.dedup();
    Ok(asked)
}

/// Pairs that lie the one way round here and the other way there.
fn changes(here: &[u32], there: &[u32]) -> Vec<[usize; 2]> {
    let place = |piece: u32| there.iter().position(|&p| p == piece);
    let common: Vec<(u32, usize)> = here.iter().filter_map(|&p| place(p).map(|at| (p, at))).collect();
    let mut changed = Vec::new();
    for (n, &(inner, inner_at)) in common.iter().enumerate() {
        let past = common[n + 1..].iter().filter(|(_, at)| *at < inner_at);
        changed.extend(past.map(|&(outer, _)| sorted([inner as usize, outer as usize])));
    }
    changed
}

/// One for each tangle: pairs that share a piece belong together.
fn gather(mut tangles: Vec<(Tangle, [usize; 2], usize)>, cells: &Cells) -> Vec<ImpossibleStack> {
    tangles.sort_unstable();
    let mut found: Vec<ImpossibleStack> = Vec::new();
    for (why, pair, cell) in tangles {
        let at = cells.rect(cell / cells.rows(), cell % cells.rows());
        let (own, others): (Vec<_>, Vec<_>) =
            found.into_iter().partition(|known: &ImpossibleStack| pair.iter().any(|p| known.pieces.contains(p)));
        found = others;
        let mut own = own.into_iter();
        let mut tangle = own.next().unwrap_or(ImpossibleStack { pair, why, at, pieces: Vec::new() });
        tangle.pieces.extend(pair);
        tangle.pieces.extend(own.flat_map(|more| more.pieces));
        tangle.pieces.sort_unstable();
        tangle.pieces.dedup();
        found.push(tangle);
    }
    found.sort_by_key(|tangle| (tangle.pair, tangle.why));
    found
}

fn sorted([a, b]: [usize; 2]) -> [usize; 2] {
    [a.min(b), a.max(b)]
}
