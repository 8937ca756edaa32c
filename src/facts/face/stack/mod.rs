//! The order of the pieces in each cell, and what of it cannot be built.

mod stated;

use crate::facts::face::budget::{Budget, TooLarge};
use crate::facts::face::{Cells, Coordinate, Face, Rect};
use crate::model::Axis;
use stated::{StatedOrder, changes};

/// Pieces that cannot lie as drawn. The usual cure is to slit one of them, that is, to draw it as two pieces.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ImpossibleStack {
    /// Two of them; the one installed first comes first.
    pub pair: [usize; 2],
    pub why: Tangle,
    pub knot: Knot,
    /// One place where they cannot.
    pub at: Rect,
    /// All pieces that take part, by index.
    pub pieces: Vec<usize>,
}

/// What is wrong with a pair.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Tangle {
    /// The text says how the two lie, and here they cannot lie so.
    Untrue,
    /// Here the two lie the other way around than in the cell beside it, and a sheet cannot lie on both sides of another.
    ChangesSides,
}

/// Why a pair would have to lie on both sides of each other.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Knot {
    /// Across this line of the face the two change sides.
    Line {
        axis: Axis,
        at: Coordinate,
        /// The one installed later lies over the other above the line, or right of it; else below, or left of it.
        over_beyond: bool,
    },
    /// The text lays `outer` over `inner`, but the rest of the order puts it under `inner`: a circular order.
    Circle { outer: usize, inner: usize, third: Third },
}

/// The piece that closes a circle.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Third {
    /// The text puts `outer` behind it, and `inner` lies over it.
    Cover(usize),
    /// The text lays `inner` over it, and it lies over `outer`.
    Base(usize),
    /// No single third piece: the text says both orders of the two, or the circle is longer than three.
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

/// Puts the stacks in order: pieces are installed one after the other, each outboard of those before it (on the inner face:
/// toward the room), unless it is tucked behind another or folded over a later one. A stack that cannot satisfy everything that
/// is stated stays in the order of installation.
pub fn order(face: &Face, cells: &mut Cells, budget: &mut Budget) -> Result<Order, TooLarge> {
    let mut order = Order::default();
    let mut stated = StatedOrder::of(face);
    let stacks = settled(&mut stated, cells, budget)?;
    order.changed = !stacks.is_empty();
    let mut tangles: Vec<SeenTangle> = Vec::new();
    for (cell, parts) in &stacks {
        for ((n, stack), part) in parts.iter().enumerate().zip(cells.parts(*cell)) {
            let untrue = stated.untrue(stack);
            if untrue.is_empty() {
                let members = &mut cells.members[part];
                members.copy_from_slice(stack);
                if n == INNER {
                    members.reverse();
                }
            }
            budget.spend(untrue.len() * stack.len())?;
            tangles.extend(untrue.into_iter().map(|places| {
                let pair = sorted(places.map(|at| stack[at] as usize));
                (Tangle::Untrue, pair, *cell, stated.circle(stack, places))
            }));
        }
    }
    order.cells = tangles.iter().map(|tangle| tangle.2).collect();
    order.cells.dedup();
    for cell in stacks.iter().map(|stack| stack.0).filter(|&cell| !order.is_impossible(cell)) {
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
            let beyond = if across + up > 0 { there } else { here };
            for pair in changes(here, there) {
                budget.spend(2 * (here.len() + there.len()))?;
                let over_beyond = stated.lies_over(beyond, pair);
                let knot = Knot::Line { axis, at, over_beyond };
                tangles.push((Tangle::ChangesSides, pair, cell, knot));
            }
        }
    }
    order.impossible = gather(tangles, cells);
    Ok(order)
}

/// What is wrong with a pair in a cell.
type SeenTangle = (Tangle, [usize; 2], usize, Knot);

/// The pieces of a cell on the inner face, and those on the outer one, in order.
type Stacks = [Vec<u32>; 2];

/// The inner face is stored from the room on, and built toward the room.
const INNER: usize = 0;

/// The stacks of the cells in which something is asked for, as the text has them and as what slips in follows from it.
fn settled(stated: &mut StatedOrder, cells: &Cells, budget: &mut Budget) -> Result<Vec<(usize, Stacks)>, TooLarge> {
    loop {
        let mut stacks = Vec::new();
        let mut new = Vec::new();
        for cell in asked(stated, cells, budget)? {
            let [inner, outer] = cells.parts(cell);
            budget.spend((inner.len() + outer.len()) * (inner.len() + outer.len() + 4))?;
            let installed: Stacks =
                [cells.members[inner].iter().rev().copied().collect(), cells.members[outer].to_vec()];
            let parts = installed.map(|part| stated.settle(&part));
            for stack in parts.iter().filter(|stack| stated.untrue(stack).is_empty()) {
                new.extend(stated.followed_in(stack));
            }
            stacks.push((cell, parts));
        }
        if new.is_empty() {
            return Ok(stacks);
        }
        stated.follow(new);
    }
}

/// The cells in which an earlier piece has to lie outboard of a later one, or on both sides of it, in ascending order.
fn asked(stated: &StatedOrder, cells: &Cells, budget: &mut Budget) -> Result<Vec<usize>, TooLarge> {
    let mut asked = Vec::new();
    let earlier = stated.pairs.iter().copied().filter(|(outboard, inboard)| outboard < inboard);
    for (outboard, inboard) in earlier.chain(stated.all_followed()) {
        let common = cells.common(outboard, inboard);
        budget.spend(common.size())?;
        let both = |&(c, r): &(usize, usize)| cells.has(c, r, outboard) && cells.has(c, r, inboard);
        asked.extend(common.iter().filter(both).map(|(c, r)| cells.cell(c, r)));
    }
    asked.sort_unstable();
    asked.dedup();
    Ok(asked)
}

/// One for each group of tangled pairs: pairs that share a piece belong together.
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
