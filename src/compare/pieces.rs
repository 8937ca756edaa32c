//! Pieces of two details: which is which, what has changed in each, and which were installed in another order.

use std::collections::BTreeMap;

use crate::compare::Change;
use crate::compare::likeness::{Pair, pairs};
use crate::compare::material::Substitutions;
use crate::compare::words::{differ, extent, key, now, shown};
use crate::facts::DetailFacts;
use crate::model::{Detail, Extent, Hold, Name, Piece, PieceRef};

/// Notes what has changed in the pieces, and which have other names.
pub fn pieces(
    old: &DetailFacts,
    new: &DetailFacts,
    changes: &mut Vec<Change>,
    materials: &mut Substitutions,
    renamed: &mut BTreeMap<Name, Name>,
) {
    let (before, after): (Vec<&Piece>, Vec<&Piece>) =
        (old.detail.pieces.iter().collect(), new.detail.pieces.iter().collect());
    let matched = pairs(&before, &after, |p| p.name.clone(), piece_likeness);
    for pair in &matched {
        if let Pair::Both(a, b) = pair
            && before[*a].name != after[*b].name
        {
            renamed.insert(before[*a].name.clone(), after[*b].name.clone());
        }
    }
    for pair in &matched {
        match pair.map(|n| before[n], |n| after[n]) {
            Pair::Both(a, b) => piece(&old.detail, &new.detail, a, b, renamed, changes, materials),
            Pair::Gone(a) => changes.push(Change::gone(format!("piece {}", a.name), a.material.name.to_string())),
            Pair::New(b) => changes.push(Change::added(format!("piece {}", b.name), b.material.name.to_string())),
        }
    }
    for (was, name) in out_of_order(&matched) {
        let order = |at: usize| format!("step {}", at + 1);
        changes.push(Change::new(format!("piece {}, order", after[name].name), order(was), order(name)));
    }
}

/// What a renamed piece keeps: material, role, place.
fn piece_likeness(a: &Piece, b: &Piece) -> f64 {
    let material = if a.material.name == b.material.name {
        0.5
    } else if a.material.kind == b.material.kind && a.material.kind.is_some() {
        0.3
    } else {
        0.0
    };
    let role = if a.role == b.role { 0.1 } else { 0.0 };
    let near = |x: Extent, y: Extent| if extent(&x) == extent(&y) { 0.2 } else { 0.0 };
    material + role + near(a.up, b.up) + near(a.along, b.along)
}

fn piece(
    old: &Detail,
    new: &Detail,
    a: &Piece,
    b: &Piece,
    renamed: &BTreeMap<Name, Name>,
    changes: &mut Vec<Change>,
    materials: &mut Substitutions,
) {
    let mut note = |label: &str, before: String, after: String| {
        differ(changes, &format!("piece {}, {label}", b.name), before, after);
    };
    if a.name != b.name {
        note("called", a.name.to_string(), b.name.to_string());
    }
    note("material", a.material.name.to_string(), b.material.name.to_string());
    let same = |x: &Extent, y: &Extent| key(x) == key(y);
    if !same(&a.up, &b.up) {
        note("up", extent(&a.up), extent(&b.up));
    }
    if !same(&a.along, &b.along) {
        note("along", extent(&a.along), extent(&b.along));
    }
    let role = |p: &Piece| p.role.as_ref().map_or("none".into(), |r| r.to_string());
    note("role", role(a), role(b));
    let of =
        |d: &Detail, p: &Piece| p.layer.map_or("none".to_string(), |at| d.joins[at.join].assembly.name.to_string());
    note("part of", of(old, a), of(new, b));
    let names = |d: &Detail, list: &[PieceRef], map: bool| {
        let mut names: Vec<String> = list
            .iter()
            .map(|r| {
                let name = &d.pieces[r.index].name;
                if map { now(name, renamed).to_string() } else { name.to_string() }
            })
            .collect();
        names.sort();
        if names.is_empty() { "nothing".into() } else { names.join(", ") }
    };
    let bonds = |d: &Detail, piece: &Piece, map: bool| {
        let held = [(Hold::Adhesive, ""), (Hold::Weld, ", welded"), (Hold::Clamp, ", clamped")];
        let lists = held.map(|(hold, words)| {
            let held = piece.bonds.iter().filter(|bond| bond.hold == hold);
            let list: Vec<PieceRef> = held.map(|b| PieceRef { index: b.index, span: b.span }).collect();
            if list.is_empty() { String::new() } else { names(d, &list, map) + words }
        });
        let lists: Vec<String> = lists.into_iter().filter(|list| !list.is_empty()).collect();
        if lists.is_empty() { "nothing".into() } else { lists.join("; ") }
    };
    note("bonds", bonds(old, a, true), bonds(new, b, false));
    note("lies over", names(old, &a.over, true), names(new, &b.over, false));
    note("lies behind", names(old, &a.behind, true), names(new, &b.behind, false));
    let row = |p: &Piece| p.row.map_or("one piece".to_string(), |row| format!("every {}", row.every));
    note("row", row(a), row(b));
    let slope = |p: &Piece| shown(p.slope.map(|s| s.value));
    note("slope", slope(a), slope(b));
    let yes = |value: bool| if value { "yes" } else { "no" }.to_string();
    note("primed", yes(a.primed), yes(b.primed));
    note("rolled", yes(a.rolled), yes(b.rolled));
    note("drip", yes(a.drip), yes(b.drip));
    note("on the inner side", yes(a.inside), yes(b.inside));
    if a.material.name != b.material.name {
        materials.add(&a.material, &b.material);
    }
}

/// Pieces that moved against the others: those outside a longest run that kept its order.
fn out_of_order(matched: &[Pair<usize, usize>]) -> Vec<(usize, usize)> {
    let both: Vec<(usize, usize)> = matched
        .iter()
        .filter_map(|pair| match pair {
            Pair::Both(a, b) => Some((*a, *b)),
            _ => None,
        })
        .collect();
    let mut best: Vec<(usize, Option<usize>)> = Vec::new();
    for (at, (_, b)) in both.iter().enumerate() {
        let before = (0..at).filter(|earlier| both[*earlier].1 < *b).max_by_key(|earlier| best[*earlier].0);
        best.push((before.map_or(1, |earlier| best[earlier].0 + 1), before));
    }
    let mut kept = vec![false; both.len()];
    let mut at = (0..both.len()).max_by_key(|at| best[*at].0);
    while let Some(here) = at {
        kept[here] = true;
        at = best[here].1;
    }
    both.iter().zip(kept).filter(|(_, kept)| !kept).map(|(pair, _)| *pair).collect()
}
