//! Assemblies against assemblies: layers, and the numbers that follow.

use crate::compare::likeness::{Pair, pairs, shared};
use crate::compare::material::Substitutions;
use crate::compare::{BothTexts, Change, ItemChange, Renames, statement};
use crate::facts::{AssemblyFacts, Known, nanometres, vapor};
use crate::model::{Layer, Name};

pub fn likeness(a: &AssemblyFacts, b: &AssemblyFacts) -> f64 {
    if a.assembly.kind != b.assembly.kind {
        return 0.0;
    }
    let materials = |f: &AssemblyFacts| f.assembly.layers.iter().map(|l| l.material.name.clone()).collect::<Vec<_>>();
    shared(&materials(a), &materials(b))
}

pub fn change(
    pair: Pair<&AssemblyFacts, &AssemblyFacts>,
    texts: &BothTexts<'_>,
    materials: &mut Substitutions,
    renames: &mut Renames,
) -> Option<ItemChange> {
    let assembly = match pair {
        Pair::Both(_, facts) | Pair::New(facts) | Pair::Gone(facts) => &facts.assembly,
    };
    let mut sections: Vec<String> = assembly.layers.iter().filter_map(|l| l.material.section.clone()).collect();
    sections.sort();
    sections.dedup();
    let changed = differences(pair, texts, materials, renames)?;
    Some(ItemChange { title: assembly.title.clone(), sections, ..changed })
}

fn differences(
    pair: Pair<&AssemblyFacts, &AssemblyFacts>,
    texts: &BothTexts<'_>,
    materials: &mut Substitutions,
    renames: &mut Renames,
) -> Option<ItemChange> {
    let (old, new) = match pair {
        Pair::Both(old, new) => (old, new),
        Pair::Gone(old) => return Some(ItemChange::removed(&old.assembly.name)),
        Pair::New(new) => return Some(ItemChange::added(&new.assembly.name)),
    };
    let (before, after) = (&old.assembly, &new.assembly);
    if before.name != after.name {
        renames.items.insert(before.name.clone(), after.name.clone());
    }
    let mut changes = Vec::new();
    let (a, b): (Vec<&Layer>, Vec<&Layer>) = (before.layers.iter().collect(), after.layers.iter().collect());
    let count = (a.len(), b.len());
    let place = |layer: &Layer, all: &[Layer]| all.iter().position(|l| std::ptr::eq(l, layer)).unwrap_or(0);
    let alike = |x: &Layer, y: &Layer| {
        // A substituted layer keeps its job and its place, counted from either side.
        let (from, to) = (place(x, &before.layers), place(y, &after.layers));
        let same_place = from == to || count.0 - from == count.1 - to;
        let kind = if x.material.kind == y.material.kind { 0.4 } else { 0.0 };
        let job = if x.controls() == y.controls() { 0.3 } else { 0.0 };
        kind + job + if same_place { 0.3 } else { 0.0 }
    };
    for pair in pairs(&a, &b, |layer| layer.name.clone(), alike) {
        if let Pair::Both(x, y) = pair {
            vapor_ways((old, x), (new, y), &b[y].name, &mut changes);
        }
        match pair.map(|n| a[n], |n| b[n]) {
            Pair::Both(x, y) => layer(x, y, &mut changes, materials),
            Pair::Gone(x) => changes.push(Change::gone(format!("layer {}", x.name), x.material.name.to_string())),
            Pair::New(y) => changes.push(Change::added(format!("layer {}", y.name), y.material.name.to_string())),
        }
    }
    let order = |layers: &[&Layer]| layers.iter().map(|l| l.name.clone()).collect::<Vec<_>>();
    let (mut sorted_a, mut sorted_b) = (order(&a), order(&b));
    if sorted_a != sorted_b {
        let words = |names: &[Name]| names.iter().map(|n| n.to_string()).collect::<Vec<_>>().join(" | ");
        let (x, y) = (words(&sorted_a), words(&sorted_b));
        sorted_a.sort();
        sorted_b.sort();
        if sorted_a == sorted_b {
            changes.push(Change::new("order of layers, outside first", x, y));
        }
    }
    numbers(old, new, &mut changes);
    if let (Some(old), Some(new)) = (texts.0.item(before.span), texts.1.item(after.span)) {
        let unsaid = statement::differences(&old, &new, &renames.items, &changes);
        changes.extend(unsaid);
    }
    ItemChange::changed(&before.name, &after.name, changes)
}

fn layer(x: &Layer, y: &Layer, changes: &mut Vec<Change>, materials: &mut Substitutions) {
    let mut note = |label: &str, before: String, after: String| {
        if before != after {
            changes.push(Change::new(format!("layer {}, {label}", y.name), before, after));
        }
    };
    note("material", x.material.name.to_string(), y.material.name.to_string());
    let exactly = |l: &Layer| l.thickness.map(nanometres);
    let thickness = |l: &Layer| l.thickness.map_or("not stated".to_string(), |t| t.to_string());
    if exactly(x) != exactly(y) {
        note("thickness", thickness(x), thickness(y));
    }
    let controls = |l: &Layer| {
        let words: Vec<&str> = l.controls().iter().map(|c| c.word()).collect();
        if words.is_empty() { "nothing".to_string() } else { words.join(", ") }
    };
    note("controls", controls(x), controls(y));
    let frame = |l: &Layer| {
        l.between.as_ref().map_or("none".to_string(), |f| format!("{} {} at {}", f.material.name, f.width, f.spacing))
    };
    note("frames", frame(x), frame(y));
    if x.material.name != y.material.name {
        materials.add(&x.material, &y.material);
    }
}

/// The class of a layer's retarder, and what is left of the ways by which a layer dries that moisture harms.
fn vapor_ways(
    (old, x): (&AssemblyFacts, usize),
    (new, y): (&AssemblyFacts, usize),
    name: &Name,
    changes: &mut Vec<Change>,
) {
    let mut note = |label: &str, before: Option<String>, after: Option<String>| {
        if before != after {
            let shown = |value: Option<String>| value.unwrap_or_else(|| "not known".to_owned());
            changes.push(Change::new(format!("layer {name}, {label}"), shown(before), shown(after)));
        }
    };
    let class = |facts: &AssemblyFacts, layer| facts.class(layer).ok().map(str::to_owned);
    note("vapor retarder class", class(old, x), class(new, y));
    if old.assembly.layers[x].material.sensitive || new.assembly.layers[y].material.sensitive {
        let shown = |way: Known<f64>| {
            way.ok().map(|way| if way.is_finite() { perms(way / vapor::PERM) } else { "open".to_owned() })
        };
        note("dries inward through", shown(old.dries_in(x)), shown(new.dries_in(y)));
        note("dries outward through", shown(old.dries_out(x)), shown(new.dries_out(y)));
    }
}

/// A cup test is good for two digits.
fn perms(value: f64) -> String {
    let digits = (1 - value.abs().log10().floor() as i32).clamp(0, 6) as usize;
    format!("{value:.digits$} perm")
}

fn numbers(old: &AssemblyFacts, new: &AssemblyFacts, changes: &mut Vec<Change>) {
    let thermal = |f: &AssemblyFacts| {
        let r = f.thermal.as_ref().ok().copied().flatten();
        r.map_or("not known".to_string(), |r| format!("R {:.2} m2K/W, U {:.3} W/m2K", r.mean, r.u))
    };
    let water = |f: &AssemblyFacts| {
        let worst = f
            .sections()
            .iter()
            .filter_map(|s| s.year.as_ref())
            .max_by(|a, b| a.condensation.peak.total_cmp(&b.condensation.peak));
        worst.map_or("not known".to_string(), |year| {
            let (peak, left) = (1000.0 * year.condensation.peak, 1000.0 * year.condensation.residue);
            format!("peak {peak:.0} g/m2, left {left:.0} g/m2")
        })
    };
    for (what, before, after) in
        [("heat", thermal(old), thermal(new)), ("condensation in a year", water(old), water(new))]
    {
        if before != after {
            changes.push(Change::new(what, before, after));
        }
    }
}
