//! A detail before and after, side by side, with clouds around what changed.

use maud::{Markup, PreEscaped, html};

use crate::compare::ItemChange;
use crate::facts::DetailFacts;
use crate::finding::Finding;
use crate::output::compare::Input;
use crate::output::drawing::{self, Line, Mark, Scene, Subject};
use crate::output::visible;

/// A detail with findings: as it was issued, and as submitted with the numbers of the list.
pub fn pair(input: &Input, name: &str, own: &[&(Option<&Finding>, &Finding)], first: usize) -> Markup {
    let Some(after) = input.detail(name) else { return html! {} };
    let numbered = own.iter().enumerate().map(|(n, (_, finding))| Mark { number: first + n + 1, finding });
    let marks: Vec<Mark> = numbered.filter(|mark| drawing::belongs(&after.detail, mark.finding)).collect();
    sides(input, name, &marks)
}

/// A changed detail; nothing for one whose drawings stand with its findings.
pub fn changed(input: &Input, item: &ItemChange) -> Markup {
    let findings = &input.comparison.findings;
    let mut held = findings.worse.iter().map(|(_, new)| *new).chain(findings.new.iter().copied());
    if held.any(|finding| finding.item.as_deref() == Some(&*item.name) && !finding.unread()) {
        return html! {};
    }
    sides(input, &item.name, &[])
}

fn sides(input: &Input, name: &str, marks: &[Mark]) -> Markup {
    let item = input.comparison.details.iter().find(|item| &*item.name == name);
    let before = input.issued_detail(name).filter(|_| item.is_none_or(|item| !item.added));
    let after = input.detail(name).filter(|_| item.is_none_or(|item| !item.removed));
    html! {
        @if before.is_some() || after.is_some() {
            div.pair {
                @for (side, facts, marks) in [("Issued", before, &[][..]), ("Submitted", after, marks)] {
                    @if let Some(scene) = facts.and_then(|facts| drawn(facts, item, marks)) {
                        figure {
                            figcaption { strong { (side) } @if item.is_some() { ", what changed in a cloud" } }
                            (PreEscaped(drawing::element(&scene)))
                        }
                    }
                }
            }
        }
    }
}

/// The section of a detail where most is found, or changed.
fn drawn(facts: &DetailFacts, item: Option<&ItemChange>, marks: &[Mark]) -> Option<Scene> {
    if !drawing::drawable(facts) {
        return None;
    }
    let subject = Subject::new(facts, marks);
    let changed = item.map_or(Vec::new(), |item| pieces(facts, item));
    let line = Line::showing(&subject, &changed);
    let mut scene = match line {
        Some(line) => drawing::section(&subject, &line),
        None => drawing::front(&subject),
    };
    let clouds = drawing::clouds(&scene, &changed);
    scene.shapes.extend(clouds);
    if !changed.is_empty() {
        let names: Vec<String> = changed.iter().map(|p| visible(&facts.detail.pieces[*p].name).into_owned()).collect();
        scene.description.push_str(&format!(" Changed: {}.", names.join(", ")));
    }
    Some(scene)
}

/// The pieces that changes name, besides what only follows from another change.
fn pieces(facts: &DetailFacts, item: &ItemChange) -> Vec<usize> {
    let named = |text: &str, name: &str| text.split([' ', ',', ';', ':', '"']).any(|word| word == name);
    let says = |name: &str| {
        item.changes.iter().filter(|change| change.follows.is_none() && !change.what.contains(" lap of ")).any(
            |change| {
                let own = change.what.strip_prefix("piece ").map(|rest| rest.split(',').next().unwrap_or(rest));
                match own {
                    Some(own) => own == name,
                    None => [&change.issued, &change.submitted].into_iter().flatten().any(|text| named(text, name)),
                }
            },
        )
    };
    facts.detail.pieces.iter().enumerate().filter(|(_, piece)| says(&piece.name)).map(|(n, _)| n).collect()
}
