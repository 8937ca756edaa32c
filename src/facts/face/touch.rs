//! Pieces that meet edge to edge: a plate on its foundation, one length of a strip beside the next.

use crate::facts::face::budget::{Budget, TooLarge};
use crate::facts::face::{Cells, Face, Joints, Run};

/// Two pieces of which one begins where the other ends.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Touch {
    /// The lower one, or the left one.
    pub first: usize,
    pub second: usize,
    /// `Head` where one is on top of the other, `Side` where they are side by side.
    pub run: Run,
    /// A bead, a gasket or a bond joins the two.
    pub sealed: bool,
}

/// All touches, by pair.
pub fn touches(face: &Face, cells: &Cells, joints: &Joints, budget: &mut Budget) -> Result<Vec<Touch>, TooLarge> {
    let (mut found, mut begin) = (Vec::new(), Vec::new());
    for (column, row) in (0..cells.columns()).flat_map(|c| (0..cells.rows()).map(move |r| (c, r))) {
        for (run, beyond) in [(Run::Head, (column, row + 1)), (Run::Side, (column + 1, row))] {
            if beyond.0 >= cells.columns() || beyond.1 >= cells.rows() {
                continue;
            }
            let (here, there) = (cells.whole(column, row), cells.whole(beyond.0, beyond.1));
            budget.spend(1 + here.len() * 2 + there.len() * 2)?;
            // Most cells are like the one beside them.
            if here == there {
                continue;
            }
            begin.clear();
            begin.extend(there.iter().copied().filter(|p| !here.contains(p)));
            for &first in here.iter().filter(|p| !there.contains(p)) {
                for &second in &begin {
                    let pair = [first as usize, second as usize];
                    if !joints.parted(face, [here, there], pair, budget)? {
                        let sealed = joints.sealed.has(pair[0], pair[1]);
                        found.push(Touch { first: pair[0], second: pair[1], run, sealed });
                    }
                }
            }
        }
    }
    found.sort_unstable();
    found.dedup();
    Ok(found)
}
