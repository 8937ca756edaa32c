//! Beads and bonds that an edit adds have to touch both pieces.

use crate::facts::face::{Cells, Coordinate, Extent, apart};
use crate::facts::{DetailFacts, nanometres};
use crate::mend::guard::EditedDetail;
use crate::model::{Axis, Control, MaterialKind, Seal};

pub fn seals_make_contact(change: &EditedDetail<'_>) -> bool {
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
    new.all(|seal| touches_both(change, seal)) && !bonds()
}

/// The bead lies on both, or in the joint between them, and neither is trim on the face of the cladding.
fn touches_both(change: &EditedDetail<'_>, seal: &Seal) -> bool {
    let (facts, pair) = (change.after, [seal.first.index, seal.second.index]);
    let at = seal.at.map(|(axis, at)| (axis, nanometres(at)));
    // The leg of a dam is bedded in its bead, however narrow.
    let dam = pair.iter().any(|&own| matches!(facts.detail.pieces[own].role.as_deref(), Some("end-dam" | "back-dam")));
    let meets = seal.width.is_some()
        || lies_on(facts, pair, at, if dam { 0 } else { change.least })
        || abuts(facts, pair, at, change.least)
        || abuts(facts, [pair[1], pair[0]], at, change.least);
    meets && !is_trim_on_cladding(facts, pair)
}

/// Do they touch face to face, over an area that is wide enough both ways?
fn lies_on(facts: &DetailFacts, [a, b]: [usize; 2], at: Option<(Axis, Coordinate)>, least: Coordinate) -> bool {
    let cells = &facts.face.cells;
    let touch = |c: usize, r: usize| cells.touch(c, r, a, b);
    cells.common(a, b).iter().filter(|&(c, r)| touch(c, r)).any(|(c, r)| {
        let up = contiguous(r, cells.rows(), |r| touch(c, r), |r| cells.row(r));
        let along = contiguous(c, cells.columns(), |c| touch(c, r), |c| cells.column(c));
        let wide = |extent: Extent| extent.high.saturating_sub(extent.low) >= least;
        let here = at.is_none_or(|(axis, at)| if axis == Axis::Up { up.reaches(at) } else { along.reaches(at) });
        wide(up) && wide(along) && here
    })
}

/// The extent of the unbroken run of cells around this one.
fn contiguous(from: usize, count: usize, holds: impl Fn(usize) -> bool, of: impl Fn(usize) -> Extent) -> Extent {
    let low = (0..from).rev().take_while(|&at| holds(at)).last().unwrap_or(from);
    let high = (from + 1..count).take_while(|&at| holds(at)).last().unwrap_or(from);
    Extent { low: of(low).low, high: of(high).high }
}

/// Do they meet edge to edge, with nothing that runs through between them?
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
                && !separated(facts, cells, [(c, r), (column, row)], [a, b])
        })
    })
}

/// Does a piece that runs through lie between the two? A unit goes through the wall, so its edge can be met at any depth.
fn separated(facts: &DetailFacts, cells: &Cells, [here, beyond]: [(usize, usize); 2], [a, b]: [usize; 2]) -> bool {
    let place = |(c, r): (usize, usize), piece: usize| cells.whole(c, r).iter().position(|&own| own as usize == piece);
    let (Some(a_at), Some(b_at)) = (place(here, a), place(beyond, b)) else { return true };
    let unit = [a, b].iter().any(|&own| facts.detail.pieces[own].material.kind == Some(MaterialKind::Unit));
    let between = |(at, &own): (usize, &u32)| {
        place(beyond, own as usize).is_some_and(|then| at > a_at && then < b_at || at < a_at && then > b_at)
    };
    !unit && cells.whole(here.0, here.1).iter().enumerate().any(between)
}

/// Is one of them trim on the face of the cladding, and the other one a sheet behind that cladding? No bead can join them.
fn is_trim_on_cladding(facts: &DetailFacts, [a, b]: [usize; 2]) -> bool {
    let (first, last) = (a.min(b), a.max(b));
    let (sheet, trim) = (&facts.detail.pieces[first], &facts.detail.pieces[last]);
    let tight = [Control::Water, Control::Air].iter().any(|control| sheet.material.holds.has(*control));
    let on = |index: usize| {
        facts.detail.pieces[index].material.kind == Some(MaterialKind::Cladding)
            && facts.face.contacts.contains(&(index, last))
    };
    tight && sheet.layer.is_some() && trim.material.kind == Some(MaterialKind::Flashing) && (first + 1..last).any(on)
}
