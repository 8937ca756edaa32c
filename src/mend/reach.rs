//! Beads and bonds that an edit adds: both pieces have to be within reach of them.

use crate::facts::face::{Cells, Coordinate, Extent, apart};
use crate::facts::{DetailFacts, nanometres};
use crate::mend::guard::Change;
use crate::model::{Axis, Control, MaterialKind, Seal};

pub fn reachable(change: &Change<'_>) -> bool {
    let after = &change.after.detail;
    let known = |facts: &DetailFacts, seal: &Seal| {
        let name = |index: usize| facts.detail.pieces[index].name.clone();
        (name(seal.first.index), name(seal.second.index), seal.at.map(|(axis, at)| (axis, nanometres(at))))
    };
    let old: Vec<_> = change.before.detail.seals.iter().map(|seal| known(change.before, seal)).collect();
    let mut new = after.seals.iter().filter(|seal| !old.contains(&known(change.after, seal)));
    let bonds = || {
        change.brings(|facts, piece, onto| {
            facts.detail.pieces[piece].bonds.iter().any(|bond| bond.index == onto)
                && !lies_on(facts, [piece, onto], None, change.least)
        })
    };
    new.all(|seal| placeable(change, seal)) && !bonds()
}

/// The bead lies on both, or in the joint between them, and neither is trim on the face of the cladding.
fn placeable(change: &Change<'_>, seal: &Seal) -> bool {
    let (facts, pair) = (change.after, [seal.first.index, seal.second.index]);
    let at = seal.at.map(|(axis, at)| (axis, nanometres(at)));
    // The leg of a dam is bedded in its bead.
    let dam = pair.iter().any(|&own| matches!(facts.detail.pieces[own].role.as_deref(), Some("end-dam" | "back-dam")));
    let meets = seal.width.is_some()
        || lies_on(facts, pair, at, if dam { 0 } else { change.least })
        || abuts(facts, pair, at, change.least)
        || abuts(facts, [pair[1], pair[0]], at, change.least);
    meets && !is_on_cladding(facts, pair)
}

/// Face to face, over a strip that is wide enough both ways.
fn lies_on(facts: &DetailFacts, [a, b]: [usize; 2], at: Option<(Axis, Coordinate)>, least: Coordinate) -> bool {
    let cells = &facts.face.cells;
    let touch = |c: usize, r: usize| cells.touch(c, r, a, b);
    cells.common(a, b).iter().filter(|&(c, r)| touch(c, r)).any(|(c, r)| {
        let up = run(r, cells.rows(), |r| touch(c, r), |r| cells.row(r));
        let along = run(c, cells.columns(), |c| touch(c, r), |c| cells.column(c));
        let wide = |extent: Extent| extent.high.saturating_sub(extent.low) >= least;
        let here = at.is_none_or(|(axis, at)| if axis == Axis::Up { up.reaches(at) } else { along.reaches(at) });
        wide(up) && wide(along) && here
    })
}

/// From here as far as it goes on both ways.
fn run(from: usize, count: usize, holds: impl Fn(usize) -> bool, of: impl Fn(usize) -> Extent) -> Extent {
    let low = (0..from).rev().take_while(|&at| holds(at)).last().unwrap_or(from);
    let high = (from + 1..count).take_while(|&at| holds(at)).last().unwrap_or(from);
    Extent { low: of(low).low, high: of(high).high }
}

/// Edge to edge: one ends where the other begins, and what runs on from one to the other does not lie between them.
fn abuts(facts: &DetailFacts, [a, b]: [usize; 2], at: Option<(Axis, Coordinate)>, least: Coordinate) -> bool {
    let cells = &facts.face.cells;
    let joint = |axis, edge| at.is_none_or(|(on, at)| on == axis && apart(at, edge) <= least);
    let here = |c: usize, r: usize| cells.has(c, r, a) && !cells.has(c, r, b);
    cells.block(a).iter().filter(|&(c, r)| here(c, r)).any(|(c, r)| {
        let beyond = [(Axis::Up, cells.row(r).high, c, r + 1), (Axis::Along, cells.column(c).high, c + 1, r)];
        beyond.into_iter().any(|(axis, edge, column, row)| {
            column < cells.columns()
                && row < cells.rows()
                && joint(axis, edge)
                && cells.has(column, row, b)
                && !cells.has(column, row, a)
                && !parted(facts, cells, [(c, r), (column, row)], [a, b])
        })
    })
}

/// A unit stands through the wall, and its edge is met at any depth.
fn parted(facts: &DetailFacts, cells: &Cells, [here, beyond]: [(usize, usize); 2], [a, b]: [usize; 2]) -> bool {
    let place = |(c, r): (usize, usize), piece: usize| cells.whole(c, r).iter().position(|&own| own as usize == piece);
    let (Some(a_at), Some(b_at)) = (place(here, a), place(beyond, b)) else { return true };
    let unit = [a, b].iter().any(|&own| facts.detail.pieces[own].material.kind == Some(MaterialKind::Unit));
    let between = |(at, &own): (usize, &u32)| {
        place(beyond, own as usize).is_some_and(|then| at > a_at && then < b_at || at < a_at && then > b_at)
    };
    !unit && cells.whole(here.0, here.1).iter().enumerate().any(between)
}

/// A sheet behind the cladding is sealed to nothing that is fixed to the face of that cladding.
fn is_on_cladding(facts: &DetailFacts, [a, b]: [usize; 2]) -> bool {
    let (first, last) = (a.min(b), a.max(b));
    let (sheet, trim) = (&facts.detail.pieces[first], &facts.detail.pieces[last]);
    let tight = [Control::Water, Control::Air].iter().any(|control| sheet.material.holds.has(*control));
    let on = |index: usize| {
        facts.detail.pieces[index].material.kind == Some(MaterialKind::Cladding)
            && facts.face.contacts.contains(&(index, last))
    };
    tight && sheet.layer.is_some() && trim.material.kind == Some(MaterialKind::Flashing) && (first + 1..last).any(on)
}
