//! The order of the pieces in each cell, and what of it cannot be built.

use crate::facts::face::budget::{Budget, TooLarge};
use crate::facts::face::{Cells, Coordinate, Face, Rect};
use crate::model::Axis;

/// Pieces that cannot lie as drawn. It usually wants a slit, that is, a second piece.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ImpossibleStack {
    /// Two of them, the one installed first in front.
    pub pair: [usize; 2],
    pub why: Tangle,
    pub knot: Knot,
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

/// What holds a pair on both sides of each other.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Knot {
    /// Across this line of the face the two change sides.
    Line {
        axis: Axis,
        at: Coordinate,
        /// The one installed later lies over the other above the line, or right of it; else below, or left of it.
        over_beyond: bool,
        /// What the text puts it behind, where the other lies over that.
        cover: Option<usize>,
    },
    /// The text lays `outer` over `inner`, and so it does not come to lie.
    Circle { outer: usize, inner: usize, third: Third },
}

/// The piece that closes a circle.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Third {
    /// The text puts `outer` behind it, and `inner` lies over it.
    Cover(usize),
    /// The text lays `inner` over it, and it lies over `outer`.
    Base(usize),
    /// None: the text says both of the two pieces, or it takes more than three.
    None,
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
    let stated = StatedOrder::of(face);
    let asked = asked(&stated, cells, budget)?;
    order.changed = !asked.is_empty();
    let mut tangles: Vec<SeenTangle> = Vec::new();
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
            budget.spend(untrue.len() * settled.len())?;
            tangles.extend(untrue.into_iter().map(|places| {
                let pair = sorted(places.map(|at| settled[at] as usize));
                (Tangle::Untrue, pair, cell, stated.circle(&settled, places))
            }));
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
            let (axis, at) = if across == 0 {
                (Axis::Up, cells.row(row.max(other)).low)
            } else {
                (Axis::Along, cells.column(column.max(next)).low)
            };
            let (before, beyond) = if across + up > 0 { (here, there) } else { (there, here) };
            for pair in changes(here, there) {
                budget.spend(2 * (here.len() + there.len()))?;
                let over_beyond = stated.lies_over(beyond, pair);
                let cover = stated.cover(if over_beyond { before } else { beyond }, pair[1], pair[0]);
                let knot = Knot::Line { axis, at, over_beyond, cover };
                tangles.push((Tangle::ChangesSides, pair, cell, knot));
            }
        }
    }
    order.impossible = gather(tangles, cells);
    Ok(order)
}

/// What is wrong with a pair in a cell.
type SeenTangle = (Tangle, [usize; 2], usize, Knot);

/// What the text says of the order.
struct StatedOrder<'a> {
    face: &'a Face,
    /// Pairs of an outboard piece and an inboard one, sorted.
    pairs: Vec<(usize, usize)>,
}

impl StatedOrder<'_> {
    fn of(face: &Face) -> StatedOrder<'_> {
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
        StatedOrder { face, pairs }
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

    /// Of a pair, the one installed later lies outboard of the other; on the inner face, nearer to the room.
    fn lies_over(&self, stack: &[u32], [first, later]: [usize; 2]) -> bool {
        let place = |piece: usize| stack.iter().position(|&p| p as usize == piece);
        (place(later) > place(first)) != self.face.pieces[later].inside
    }

    fn says(&self, outboard: usize, inboard: usize) -> bool {
        self.pairs.binary_search(&(outboard, inboard)).is_ok()
    }

    /// What a piece is said to lie behind, between it and another that lies over it.
    fn cover(&self, stack: &[u32], piece: usize, over: usize) -> Option<usize> {
        let between = stack.iter().map(|&p| p as usize).filter(|&p| p != piece && p != over);
        between.filter(|&p| self.says(p, piece)).find(|&p| {
            let place = |piece: usize| stack.iter().position(|&q| q as usize == piece);
            (place(over) > place(p)) != self.face.pieces[piece].inside
        })
    }

    /// Places in a stack of two pieces that the text has the other way round.
    fn untrue(&self, stack: &[u32]) -> Vec<[usize; 2]> {
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

    fn circle(&self, stack: &[u32], [at, to]: [usize; 2]) -> Knot {
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

/// The cells in which a piece that came first is to lie outboard, or is said to lie on both sides, in ascending order.
fn asked(stated: &StatedOrder, cells: &Cells, budget: &mut Budget) -> Result<Vec<usize>, TooLarge> {
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
fn gather(mut tangles: Vec<SeenTangle>, cells: &Cells) -> Vec<ImpossibleStack> {
    tangles.sort_by_key(|&(why, pair, cell, _)| (why, pair, cell));
    let mut found: Vec<ImpossibleStack> = Vec::new();
    for (why, pair, cell, knot) in tangles {
        let at = cells.rect(cell / cells.rows(), cell % cells.rows());
        let (own, others): (Vec<_>, Vec<_>) =
            found.into_iter().partition(|known: &ImpossibleStack| pair.iter().any(|p| known.pieces.contains(p)));
        found = others;
        let mut own = own.into_iter();
        let mut tangle = own.next().unwrap_or(ImpossibleStack { pair, why, knot, at, pieces: Vec::new() });
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
