//! The numbers of assemblies, with their drawings.

use maud::{Markup, html};

use crate::facts::{AssemblyFacts, vapor};
use crate::finding::Finding;
use crate::output::drawing::{self, Area, Shape};
use crate::output::html::Input;
use crate::output::html::drawings::{MOST, inline, part, plain};
use crate::output::visible;

pub fn assemblies(input: &Input) -> Markup {
    let all: Vec<_> = input.checked.iter().flat_map(|c| &c.facts.assemblies).collect();
    html! {
        section #assemblies aria-labelledby="assemblies-title" {
            h2 #assemblies-title { "Assemblies" }
            @if all.is_empty() { p { "The files have no assembly." } }
            @for facts in &all { (one(facts, all.len() <= MOST)) }
        }
    }
}

/// The picture of a finding about an assembly: its layers, the one at fault in brackets, and which way it dries.
pub fn pictured(input: &Input, finding: &Finding, number: usize) -> Markup {
    let Some(facts) = of(input, finding) else { return html! {} };
    let layers = facts.assembly.layers.iter().enumerate();
    let at: Vec<usize> = layers.filter(|(_, l)| finding.subject.contains(&l.name)).map(|(n, _)| n).collect();
    let scene = drawing::layers(facts, &at, number);
    html! {
        figure {
            div.drawing tabindex="0" role="group" aria-label=(format!("Layers of finding {number}")) {
                (inline(&scene, &format!("f{number}-layers")))
            }
            figcaption { (visible(&scene.title)) }
        }
    }
}

/// The assembly that a finding is about.
fn of<'a>(input: &Input<'a>, finding: &Finding) -> Option<&'a AssemblyFacts> {
    let mut all = input.checked.iter().flat_map(|c| &c.facts.assemblies).map(|facts| &**facts);
    all.find(|facts| {
        facts.assembly.span.file == finding.span.file && finding.item.as_deref() == Some(&*facts.assembly.name)
    })
}

/// Its layers as a small picture; room for one where the finding is about no assembly.
pub fn thumbnail(input: &Input, finding: &Finding) -> Markup {
    let Some(facts) = of(input, finding) else { return html! { span.gap {} } };
    let mut scene = drawing::layers(facts, &[], 0);
    // Words could not be read, and would leave no room for the layers.
    scene.shapes.retain(|shape| !matches!(shape, Shape::Text { .. }));
    let whole = Area::new(0.0, 0.0, scene.width, scene.height);
    let layers = Area::around(&scene.shapes).unwrap_or(whole);
    html! {
        svg.thumb viewBox=(part(&scene, layers)) font-family="sans-serif" aria-hidden="true" focusable="false" {
            (plain(&scene.shapes, scene.scale))
        }
    }
}

/// Of many, the drawings stand beside their findings alone.
fn one(facts: &AssemblyFacts, draw: bool) -> Markup {
    let said = &facts.assembly;
    let title = said.title.as_deref().map_or(String::new(), |title| format!(": {}", visible(title)));
    let name = visible(&said.name);
    html! { article.assembly {
        h3 { (name) ", " (said.kind.word()) (title) }
        dl {
            @match &facts.thermal {
                Ok(Some(r)) => { dt { "Heat" } dd { "R " (number(r.mean, 3)) " m2K/W, U " (number(r.u, 3)) " W/m2K (ISO 6946)" } },
                Ok(None) => {},
                Err(lack) => { dt { "Heat" } dd { "unknown: " (visible(&lack.material.name)) " states no " (lack.property) } },
            }
            @for section in facts.sections() {
                @if let Some(year) = &section.year {
                    dt { "Moisture" }
                    dd { (section.through.words()) ": "
                        @if year.condensation.planes.is_empty() { "no month condenses" } @else {
                            "at most " (number(1000.0 * year.condensation.peak, 0)) " g/m2, left after the year "
                            (number(1000.0 * year.condensation.residue, 0)) " g/m2"
                        }
                        " (ISO 13788); inner surface fRsi " (number(year.surface.reached, 3)) ", needed " (number(year.surface.needed, 3))
                    }
                }
                @if let Some(design) = &section.design {
                    dt { "Design condition" }
                    dd { (section.through.words()) ": condensate " (number(design.mass, 3)) " kg/m2, could dry " (number(design.drying_potential, 3)) " kg/m2" }
                }
            }
        }
        div.wide.numbers tabindex="0" role="region" aria-label=(format!("Layers of {name}")) {
            table {
                caption { "Layers of " (name) ", outside first" }
                thead { tr {
                    @for head in ["", "Layer", "mm", "R m2K/W", "sd m", "perm", "Class", "Dries out, perm", "Dries in, perm"] {
                        @if head.is_empty() { td {} } @else { th scope="col" { (head) } }
                    }
                } }
                tbody { @for (n, layer) in facts.layers.iter().enumerate() {
                    tr {
                        td { (n + 1) }
                        th scope="row" { (visible(&said.layers[n].name)) }
                        td { (known(layer.thickness.map(|t| 1000.0 * t), 1)) }
                        td { (known(layer.resistance.as_ref().ok().copied(), 3)) }
                        td { (known(layer.sd.as_ref().ok().map(|sd| sd.dry), 3)) }
                        td { (perm(layer.sd.as_ref().ok().map(|sd| vapor::permeance(sd.dry)))) }
                        td.word { (facts.class(n).unwrap_or("?")) }
                        @if said.layers[n].material.sensitive {
                            td { (perm(facts.dries_out(n).ok())) } td { (perm(facts.dries_in(n).ok())) }
                        } @else { td {} td {} }
                    }
                } }
            }
        }
        @if draw { figure { div.drawing tabindex="0" role="group" aria-label=(format!("Drawing of {name}")) { (inline(&drawing::assembly(facts), &format!("assembly-{}-{}", said.span.file.0, said.span.start))) } } }
    } }
}

fn number(value: f64, places: usize) -> String {
    format!("{value:.places$}")
}

fn known(value: Option<f64>, places: usize) -> String {
    value.map_or("?".to_owned(), |value| number(value, places))
}

fn perm(value: Option<f64>) -> String {
    match value {
        Some(value) if value.is_infinite() => "free".to_owned(),
        value => value.map_or("?".to_owned(), vapor::perms),
    }
}
