//! An assembly before and after, side by side: layers at fault in brackets, layers that changed in clouds.

use maud::{Markup, PreEscaped, html};

use crate::compare::{Change, ItemChange};
use crate::facts::AssemblyFacts;
use crate::finding::Finding;
use crate::output::compare::Input;
use crate::output::compare::number::{Numbered, State};
use crate::output::drawing::{self, Scene};
use crate::output::visible;
use crate::report::Checked;

/// The layers of an assembly as it was issued and as submitted, a picture for each finding that names layers of it.
pub fn sides(input: &Input, all: &[Numbered], name: &str) -> Markup {
    let item = input.comparison.assemblies.iter().find(|item| &*item.name == name);
    let was = item.and_then(|item| item.was.as_deref()).unwrap_or(name);
    let before = assembly_of(input.before, was).filter(|_| item.is_none_or(|item| !item.added));
    let after = assembly_of(input.checked, name).filter(|_| item.is_none_or(|item| !item.removed));
    let before = before.map_or(Vec::new(), |facts| scenes(facts, all, item, true));
    let after = after.map_or(Vec::new(), |facts| scenes(facts, all, item, false));
    let clouds = item.is_some_and(|item| !item.added && !item.removed);
    html! {
        @if !before.is_empty() || !after.is_empty() {
            div.pair { @for (side, scenes) in [("Issued", before), ("Submitted", after)] { @for (n, scene) in scenes.iter().enumerate() {
                figure {
                    figcaption { strong { (side) } @if clouds && n == 0 { ", what changed in a cloud" } }
                    div.drawing tabindex="0" role="group" aria-label=(format!("{side}: layers of {}", visible(name))) {
                        (PreEscaped(drawing::element(scene)))
                    }
                }
            } } }
        }
    }
}

fn assembly_of<'a>(checked: &'a [Checked], name: &str) -> Option<&'a AssemblyFacts> {
    let mut all = checked.iter().flat_map(|checked| &checked.facts.assemblies);
    all.find(|facts| &*facts.assembly.name == name).map(|facts| &**facts)
}

/// A picture for each finding on this side that the submittal answers for, or that it leaves; one without brackets where there is none.
/// The first has what changed in clouds.
fn scenes(facts: &AssemblyFacts, all: &[Numbered], item: Option<&ItemChange>, issued: bool) -> Vec<Scene> {
    let of_side = |entry: &Numbered<'_>| match issued {
        true => entry.issued.map(at(facts)),
        false => entry.submitted.map(at(facts)),
    };
    let own = all.iter().filter(|entry| entry.state != State::Accepted && entry.item() == &*facts.assembly.name);
    let (held, others): (Vec<&Numbered>, Vec<&Numbered>) =
        own.partition(|entry| matches!(entry.state, State::New | State::Worse));
    let shown = if held.is_empty() { others } else { held };
    let found: Vec<(usize, Vec<usize>)> = shown
        .into_iter()
        .filter_map(|entry| Some((entry.number, of_side(entry)?)))
        .filter(|(_, layers)| !layers.is_empty())
        .collect();
    let changed = item.map_or(Vec::new(), |item| changed(facts, item, issued));
    let mut scenes: Vec<Scene> = match found.is_empty() {
        true => vec![drawing::layers(facts, &[], 0)],
        false => found.iter().map(|(number, layers)| drawing::layers(facts, layers, *number)).collect(),
    };
    // Once is enough: the others show the same layers.
    scenes[0].shapes.extend(drawing::layer_clouds(facts, &changed));
    scenes
}

/// The layers that a finding names.
fn at(facts: &AssemblyFacts) -> impl Fn(&Finding) -> Vec<usize> {
    move |finding| {
        let layers = facts.assembly.layers.iter().enumerate();
        layers.filter(|(_, layer)| finding.subject.contains(&layer.name)).map(|(n, _)| n).collect()
    }
}

/// The layers that changed by themselves, and not only in what follows from another.
fn changed(facts: &AssemblyFacts, item: &ItemChange, issued: bool) -> Vec<usize> {
    let follows =
        |what: &str| ["dries inward through", "dries outward through", "vapor retarder class"].contains(&what);
    let says = |name: &str, material: &str, change: &Change| {
        let Some(rest) = change.what.strip_prefix("layer ") else { return false };
        let (layer, what) = rest.split_once(", ").unwrap_or((rest, ""));
        // A layer of another material goes by its submitted name.
        let was = issued && what == "material" && change.issued.as_deref() == Some(material);
        !follows(what) && (layer == name || was)
    };
    let layers = facts.assembly.layers.iter().enumerate();
    let own = |layer: &crate::model::Layer| item.changes.iter().any(|c| says(&layer.name, &layer.material.name, c));
    layers.filter(|(_, layer)| own(layer)).map(|(n, _)| n).collect()
}
