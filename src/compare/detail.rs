//! Details against details: pieces, their places and bonds, and the laps that follow.

use std::collections::BTreeMap;

use crate::compare::likeness::{Pair, shared};
use crate::compare::material::Substitutions;
use crate::compare::pieces::pieces;
use crate::compare::words::{differ, extent, height, now, shown};
use crate::compare::{BothTexts, Change, ItemChange, Renames, statement};
use crate::facts::DetailFacts;
use crate::model::{Detail, Name};

/// Two details are alike when they are of one kind and made of the same materials.
pub fn likeness(a: &DetailFacts, b: &DetailFacts) -> f64 {
    if a.detail.kind != b.detail.kind {
        return 0.0;
    }
    let materials = |d: &DetailFacts| d.detail.pieces.iter().map(|p| p.material.name.clone()).collect::<Vec<_>>();
    shared(&materials(a), &materials(b))
}

pub fn change(
    pair: Pair<&DetailFacts, &DetailFacts>,
    texts: &BothTexts<'_>,
    materials: &mut Substitutions,
    renames: &mut Renames,
) -> Option<ItemChange> {
    let detail = match pair {
        Pair::Both(_, facts) | Pair::New(facts) | Pair::Gone(facts) => &facts.detail,
    };
    let mut sections: Vec<String> = detail.pieces.iter().filter_map(|piece| piece.material.section.clone()).collect();
    sections.sort();
    sections.dedup();
    let changed = differences(pair, texts, materials, renames)?;
    Some(ItemChange { title: detail.title.clone(), sheet: detail.sheet.clone(), sections, ..changed })
}

fn differences(
    pair: Pair<&DetailFacts, &DetailFacts>,
    texts: &BothTexts<'_>,
    materials: &mut Substitutions,
    renames: &mut Renames,
) -> Option<ItemChange> {
    let (old, new) = match pair {
        Pair::Both(old, new) => (old, new),
        Pair::Gone(old) => return Some(ItemChange::removed(&old.detail.name)),
        Pair::New(new) => return Some(ItemChange::added(&new.detail.name)),
    };
    let (before, after) = (&*old.detail, &*new.detail);
    if before.name != after.name {
        renames.items.insert(before.name.clone(), after.name.clone());
    }
    let mut changes = Vec::new();
    let mut renamed = BTreeMap::new();
    differ(&mut changes, "kind", before.kind.to_string(), after.kind.to_string());
    let days = |d: &Detail| d.exposed.map(|s| s.value);
    differ(&mut changes, "days uncovered", shown(days(before)), shown(days(after)));
    differ(&mut changes, "finished grade", height(before.grade.map(|s| s.value)), height(after.grade.map(|s| s.value)));
    let paved = |d: &Detail| if d.paved { "paved" } else { "earth" }.to_string();
    differ(&mut changes, "surface at grade", paved(before), paved(after));
    let sheltered = |d: &Detail| d.sheltered.map_or("nowhere".to_string(), |up| extent(&up));
    differ(&mut changes, "sheltered", sheltered(before), sheltered(after));
    let line = |d: &Detail| height(d.wall_line.map(|s| s.value));
    differ(&mut changes, "wall line", line(before), line(after));
    pieces(old, new, &mut changes, materials, &mut renamed);
    laps(old, new, &renamed, &mut changes);
    lists(before, after, &renamed, &mut changes);
    if let (Some(old), Some(new)) = (texts.0.item(before.span), texts.1.item(after.span)) {
        let mut names = renamed.clone();
        names.extend(renames.items.iter().map(|(was, name)| (was.clone(), name.clone())));
        let unsaid = statement::differences(&old, &new, &names, &changes);
        changes.extend(unsaid);
    }
    renames.pieces.extend(renamed.into_iter().map(|(was, name)| ((before.name.clone(), was), name)));
    ItemChange::changed(&before.name, &after.name, changes)
}

/// Laps by the two pieces, whichever lies over.
fn laps(old: &DetailFacts, new: &DetailFacts, renamed: &BTreeMap<Name, Name>, changes: &mut Vec<Change>) {
    let laps_of = |facts: &DetailFacts, map: bool| -> BTreeMap<(Name, Name, &'static str), (String, String)> {
        let name = |piece: usize| {
            let name = &facts.detail.pieces[piece].name;
            if map { now(name, renamed).clone() } else { name.clone() }
        };
        let mut laps: BTreeMap<(Name, Name, &'static str), (String, String)> = BTreeMap::new();
        for lap in &facts.face.laps {
            let (over, under) = (name(lap.over), name(lap.under));
            let key = if over < under {
                (over.clone(), under, lap.run.word())
            } else {
                (under, over.clone(), lap.run.word())
            };
            let sealed = if lap.sealed { ", sealed" } else { "" };
            let turned = if lap.run.word() == "head" && !lap.shingled { ", against the water" } else { "" };
            let length = facts.length(Some(lap.over), lap.length);
            let entry = laps.entry(key).or_default();
            entry.0.push_str(&format!("{over} {} {}{sealed}{turned};", lap.length, lap.run.word()));
            let sep = if entry.1.is_empty() { "" } else { "; " };
            entry.1.push_str(&format!("{sep}{over} over by {length}{sealed}{turned}"));
        }
        laps
    };
    // A piece that is gone takes its laps with it, and a new one brings some.
    let whole: Vec<String> = changes
        .iter()
        .filter(|change| change.issued.is_none() || change.submitted.is_none())
        .map(|change| change.what.clone())
        .collect();
    let follows = |key: &(Name, Name, &str)| {
        let pieces = [&key.0, &key.1].map(|name| format!("piece {name}"));
        pieces.into_iter().find(|piece| whole.contains(piece))
    };
    let (before, mut after) = (laps_of(old, true), laps_of(new, false));
    for (key, (value, words)) in before {
        let what = format!("{} lap of {} and {}", key.2, key.0, key.1);
        match after.remove(&key) {
            Some((same, _)) if same == value => {}
            Some((_, new)) => changes.push(Change::new(what, words, new)),
            None => changes.push(Change { follows: follows(&key), ..Change::gone(what, words) }),
        }
    }
    for (key, (_, words)) in after {
        let what = format!("{} lap of {} and {}", key.2, key.0, key.1);
        changes.push(Change { follows: follows(&key), ..Change::added(what, words) });
    }
}

/// Beads, fasteners and weeps, as lists of lines.
fn lists(old: &Detail, new: &Detail, renamed: &BTreeMap<Name, Name>, changes: &mut Vec<Change>) {
    let name = |d: &Detail, piece: usize, map: bool| {
        let name = &d.pieces[piece].name;
        if map { now(name, renamed).to_string() } else { name.to_string() }
    };
    let beads = |d: &Detail, map: bool| -> Vec<String> {
        let line = |s: &crate::model::Seal| {
            let mut both = [name(d, s.first.index, map), name(d, s.second.index, map)];
            both.sort();
            let at = s.at.map_or("along their contact".to_string(), |(_, at)| format!("at {at}"));
            let width = s.width.map_or(String::new(), |width| format!(", {width} wide"));
            let depth = s.depth.map_or(String::new(), |depth| format!(", {depth} deep"));
            let backer = s.backer.as_ref().map_or(String::new(), |(backer, _)| format!(" on {}", backer.name));
            format!("{} to {} with {} {at}{width}{depth}{backer}", both[0], both[1], s.sealant.name)
        };
        d.seals.iter().map(line).collect()
    };
    let fields = |d: &Detail, map: bool| -> Vec<String> {
        let line = |f: &crate::model::Fastening| {
            let place = [extent(&f.up), extent(&f.along)].join(", ");
            format!("{} with {} every {}, {place}", name(d, f.piece.index, map), f.fastener.name, f.every)
        };
        d.fastenings.iter().map(line).collect()
    };
    let weeps = |d: &Detail| -> Vec<String> {
        let line = |w: &crate::model::Weeps| {
            let at = w.up.map_or("at the foot".to_string(), |up| format!("at {up}"));
            format!("every {} {at}", w.every)
        };
        d.weeps.iter().map(line).collect()
    };
    let slopes = |d: &Detail| -> Vec<String> {
        let line = |s: &crate::model::Band| format!("{}, up {}, along {}", s.slope, extent(&s.up), extent(&s.along));
        d.slopes.iter().map(line).collect()
    };
    let valleys = |d: &Detail| -> Vec<String> { d.valleys.iter().map(|v| format!("at {}", v.at)).collect() };
    for (what, before, after) in [
        ("bead", beads(old, true), beads(new, false)),
        ("fasteners", fields(old, true), fields(new, false)),
        ("weeps", weeps(old), weeps(new)),
        ("slope", slopes(old), slopes(new)),
        ("valley", valleys(old), valleys(new)),
    ] {
        let mut rest = after;
        for line in before {
            match rest.iter().position(|other| *other == line) {
                Some(at) => {
                    rest.remove(at);
                }
                None => changes.push(Change::gone(what, line)),
            }
        }
        changes.extend(rest.into_iter().map(|line| Change::added(what, line)));
    }
}
