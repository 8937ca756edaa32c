//! A detail before and after, side by side, with clouds around what changed.

use maud::{Markup, PreEscaped, html};

use crate::compare::ItemChange;
use crate::facts::{DetailFacts, nanometres};
use crate::model::Axis;
use crate::output::compare::Input;
use crate::output::compare::number::{self, Numbered};
use crate::output::drawing::{self, Changed, Mark, Scene, SectionLine, Subject};
use crate::output::visible;
use crate::quantity::Quantity;

/// A detail as it was issued and as submitted, each with all of its own findings.
pub fn sides(input: &Input, all: &[Numbered], name: &str) -> Markup {
    let item = input.comparison.details.iter().find(|item| &*item.name == name);
    let before = input.issued_detail(name).filter(|_| item.is_none_or(|item| !item.added));
    let after = input.detail(name).filter(|_| item.is_none_or(|item| !item.removed));
    let before = before.map(|facts| (facts, number::marks(all, &facts.detail, |entry| entry.issued)));
    let after = after.map(|facts| (facts, number::marks(all, &facts.detail, |entry| entry.submitted)));
    html! {
        @if before.is_some() || after.is_some() {
            div.pair {
                @let [issued, submitted] = [&before, &after].map(|side| side.as_ref().map(|(facts, _)| *facts));
                @for (side, own, other) in [("Issued", &before, submitted), ("Submitted", &after, issued)] {
                    @if let Some(scene) = own.as_ref().and_then(|(facts, marks)| drawn(facts, other, item, marks)) {
                        figure {
                            figcaption { strong { (side) } @match item { Some(item) if item.removed => ", missing from the submittal", Some(item) if item.added => ", not among the issued details", Some(_) => ", what changed in a cloud", None => "" } }
                            div.drawing tabindex="0" role="group" aria-label=(format!("{side}: {}", visible(name))) {
                                (PreEscaped(drawing::element(&scene)))
                            }
                        }
                    }
                }
            }
        }
    }
}

/// The section of a detail where most is found, or changed.
fn drawn(facts: &DetailFacts, other: Option<&DetailFacts>, item: Option<&ItemChange>, marks: &[Mark]) -> Option<Scene> {
    if !drawing::drawable(facts) {
        return None;
    }
    let subject = Subject::new(facts, marks);
    let changed = item.map_or(Vec::new(), |item| pieces(facts, item));
    let line = SectionLine::showing(&subject, &changed);
    let upright = line.as_ref().is_some_and(|line| line.axis == Axis::Up);
    let mut scene = match line {
        Some(line) => drawing::section(&subject, &line),
        None => drawing::elevation(&subject),
    };
    let clouded = changed.iter().map(|piece| {
        let ends = item.zip(other).filter(|_| upright).and_then(|(item, other)| moved(facts, other, item, *piece));
        Changed { piece: *piece, ends }
    });
    let clouds = drawing::clouds(&scene, &clouded.collect::<Vec<Changed>>());
    scene.shapes.extend(clouds);
    if !changed.is_empty() {
        let names: Vec<String> = changed.iter().map(|p| visible(&facts.detail.pieces[*p].name).into_owned()).collect();
        scene.description.push_str(&format!(" Changed: {}.", names.join(", ")));
    }
    Some(scene)
}

/// Which ends of a piece have moved, where nothing else of it has changed.
fn moved(facts: &DetailFacts, other: &DetailFacts, item: &ItemChange, piece: usize) -> Option<[bool; 2]> {
    let own = &facts.detail.pieces[piece];
    let was = other.detail.pieces.iter().find(|piece| piece.name == own.name)?;
    let of = format!("piece {},", own.name);
    let mut changes = item.changes.iter().filter(|change| change.what.starts_with(&of));
    let at = |end: Option<Quantity>| end.map(nanometres);
    let ends = [at(own.up.low) != at(was.up.low), at(own.up.high) != at(was.up.high)];
    changes.all(|change| change.what == format!("{of} up")).then_some(ends).filter(|ends| ends.contains(&true))
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
