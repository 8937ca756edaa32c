//! The order of the pieces in each cell, and cells that cannot be built as drawn.

use crate::facts::face::budget::{Budget, TooLarge};
use crate::facts::face::{Cells, Face, Rect};

/// A cell whose order runs in a circle. It usually wants a slit, that is, a second piece.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ImpossibleStack {
    /// All pieces of the cell, by index.
    pub pieces: Vec<usize>,
    /// Those of them that the circle runs through, by index.
    pub circle: Vec<usize>,
    /// One cell with these pieces; others may have the same.
    pub at: Rect,
}

/// What `over` and `behind` did to the stacks.
#[derive(Clone, Debug, Default)]
pub struct Order {
    pub impossible: Vec<ImpossibleStack>,
    /// Some stack differs from the order of installation.
    pub changed: bool,
    /// Cells that are impossible, in ascending order.
    cells: Vec<usize>,
}

impl Order {
    pub fn is_impossible(&self, cell: usize) -> bool {
        self.cells.binary_search(&cell).is_ok()
    }
}

/// A pair that lies the other way round than its order of installation, in one cell.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
struct Flip {
    cell: usize,
    outboard: u32,
    inboard: u32,
    /// The author says both that it lies over and that it lies behind.
    torn: bool,
}

/// Puts the stacks in order: of two pieces the later lies outboard (on the inner face: inboard), unless one of them says
/// otherwise. A stack whose relations run in a circle is left in the order of installation.
pub fn order(face: &Face, cells: &mut Cells, budget: &mut Budget) -> Result<Order, TooLarge> {
    let mut order = Order::default();
    let flips = flips(face, cells, budget)?;
    order.changed = !flips.is_empty();
    let mut scores = Vec::new();
    for group in flips.chunk_by(|a, b| a.cell == b.cell) {
        let cell = group[0].cell;
        let [inner, outer] = cells.parts(cell);
        budget.spend((inner.len() + outer.len()) * (group.len() + 4))?;
        // On the inner face what lies over is inboard; seen from that side it is the same task.
        cells.members[inner.clone()].reverse();
        let circles = [inner.clone(), outer].map(|part| settle(&mut cells.members[part], group, &mut scores));
        cells.members[inner].reverse();
        let (column, row) = (cell / cells.rows(), cell % cells.rows());
        for (circle, part) in circles.into_iter().zip(cells.parts(cell)) {
            if let Some(circle) = circle {
                let mut pieces: Vec<usize> = cells.members[part].iter().map(|&p| p as usize).collect();
                pieces.sort_unstable();
                order.cells.push(cell);
                order.impossible.push(ImpossibleStack { pieces, circle, at: cells.rect(column, row) });
            }
        }
    }
    order.impossible.sort_by(|a, b| (&a.pieces, &a.circle, a.at).cmp(&(&b.pieces, &b.circle, b.at)));
    order.impossible.dedup_by(|b, a| (&a.pieces, &a.circle) == (&b.pieces, &b.circle));
    Ok(order)
}

fn flips(face: &Face, cells: &Cells, budget: &mut Budget) -> Result<Vec<Flip>, TooLarge> {
    let count = face.pieces.len();
    let mut stated: Vec<(usize, usize)> = Vec::new();
    for (piece, said) in face.pieces.iter().enumerate() {
        stated.extend(said.over.iter().map(|&inboard| (piece, inboard)));
        stated.extend(said.behind.iter().map(|&outboard| (outboard, piece)));
    }
    stated.retain(|&(a, b)| a != b && a < count && b < count && face.pieces[a].inside == face.pieces[b].inside);
    stated.sort_unstable();
    stated.dedup();
    let mut flips = Vec::new();
    for &(outboard, inboard) in stated.iter().filter(|(outboard, inboard)| outboard < inboard) {
        let torn = stated.binary_search(&(inboard, outboard)).is_ok();
        let common = cells.common(outboard, inboard);
        budget.spend(common.size())?;
        flips.extend(
            common.iter().filter(|&(c, r)| cells.has(c, r, outboard) && cells.has(c, r, inboard)).map(|(c, r)| Flip {
                cell: cells.cell(c, r),
                outboard: outboard as u32,
                inboard: inboard as u32,
                torn,
            }),
        );
    }
    flips.sort_unstable();
    Ok(flips)
}

/// Sorts one stack; returns the pieces of its circle when it has one.
///
/// Each two pieces of a stack are ordered, so the stack is a tournament, and a tournament is without a circle exactly when
/// its scores are all different.
fn settle(stack: &mut [u32], flips: &[Flip], scores: &mut Vec<(usize, u32)>) -> Option<Vec<usize>> {
    scores.clear();
    scores.extend(stack.iter().enumerate().map(|(score, &piece)| (score, piece)));
    let mut circle = Vec::new();
    for flip in flips {
        let find = |piece: u32| stack.iter().position(|&p| p == piece);
        let (Some(outboard), Some(inboard)) = (find(flip.outboard), find(flip.inboard)) else { continue };
        if flip.torn {
            circle.extend([flip.outboard as usize, flip.inboard as usize]);
        } else {
            scores[outboard].0 += 1;
            scores[inboard].0 -= 1;
        }
    }
    scores.sort_unstable();
    // Lowest scores first, a group is closed where its scores add up to what all games among it must give.
    let (mut from, mut sum) = (0, 0);
    for at in 0..scores.len() {
        sum += scores[at].0;
        if sum == at * (at + 1) / 2 {
            if at > from {
                circle.extend(scores[from..=at].iter().map(|s| s.1 as usize));
            }
            from = at + 1;
        }
    }
    if circle.is_empty() {
        for (place, &(_, piece)) in stack.iter_mut().zip(scores.iter()) {
            *place = piece;
        }
        return None;
    }
    circle.sort_unstable();
    circle.dedup();
    Some(circle)
}
