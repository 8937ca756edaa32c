//! A detail before and after, side by side, with clouds around what changed.

use maud::{Markup, PreEscaped, html};

use crate::compare::{Change, ItemChange};
use crate::facts::{DetailFacts, nanometres};
use crate::model::{Axis, Piece};
use crate::output::compare::Input;
use crate::output::compare::number::{self, Numbered};
use crate::output::compare::sign::sign;
use crate::output::drawing::{self, Changed, Mark, Scales, Scene, SectionLine, Subject};
use crate::output::html::{prose, scaled};
use crate::output::{visible, words};
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
                    @if let Some((facts, marks)) = own { (figure(side, facts, other, item, marks)) }
                }
            }
        }
    }
}

/// A side: its drawing, what that is, and all that was found on this side.
fn figure(
    side: &str,
    facts: &DetailFacts,
    other: Option<&DetailFacts>,
    item: Option<&ItemChange>,
    marks: &[Mark],
) -> Markup {
    let Some((scene, view)) = drawn(facts, other, item, marks) else { return html! {} };
    let scales = Scales::of(facts.length_unit.symbol);
    html! {
        figure {
            figcaption {
                strong { (side) }
                @match item {
                    Some(item) if item.removed => ", missing from the submittal",
                    Some(item) if item.added => ", not among the issued details",
                    Some(_) => ", what changed in a cloud",
                    None => "",
                }
            }
            div.drawing tabindex="0" role="group" aria-label=(format!("{side}: {}", visible(&facts.detail.name))) {
                (PreEscaped(drawing::element(&scene)))
            }
            figcaption { (view) (scaled(&scene, scales)) }
            @if marks.is_empty() { p { "No findings." } } @else {
                // New and worse ones stand right above the drawing.
                ul.findings { @for mark in marks.iter().filter(|mark| !number::held(mark.state)) {
                    li {
                        (sign(mark.number, mark.finding)) " " (words::standing(mark.finding))
                        @if let Some(state) = mark.state { ", " (state) }
                        ": " (prose(&mark.finding.message))
                    }
                } }
            }
        }
    }
}

/// The section of a detail where most is found, or changed, with its scale bar; and what that view is.
fn drawn(
    facts: &DetailFacts,
    other: Option<&DetailFacts>,
    item: Option<&ItemChange>,
    marks: &[Mark],
) -> Option<(Scene, String)> {
    if !drawing::drawable(facts) {
        return None;
    }
    let subject = Subject::new(facts, marks);
    let changed = item.map_or(Vec::new(), |item| changes(facts, other, item));
    let mut pieces: Vec<usize> = changed.iter().flat_map(pieces).collect();
    pieces.sort_unstable();
    pieces.dedup();
    let line = SectionLine::showing(&subject, &pieces);
    let upright = line.as_ref().is_some_and(|line| line.axis == Axis::Up);
    let mut scene = match line {
        Some(line) => drawing::bare_section(&subject, &line),
        None => drawing::bare_elevation(&subject),
    };
    let view = scene.title.split(" of ").next().unwrap_or_default().to_owned();
    let clouded = changed.into_iter().map(|changed| match changed {
        Changed::Ends(piece, _) if !upright => Changed::Piece(piece),
        changed => changed,
    });
    let clouds = drawing::clouds(&scene, &clouded.collect::<Vec<Changed>>());
    scene.shapes.extend(clouds);
    if !pieces.is_empty() {
        let names: Vec<String> = pieces.iter().map(|p| visible(&facts.detail.pieces[*p].name).into_owned()).collect();
        scene.description.push_str(&format!(" Changed: {}.", names.join(", ")));
    }
    let bar = drawing::bar(scene.scale, Scales::of(facts.length_unit.symbol));
    scene.shapes.extend(bar.into_iter().map(|shape| shape.moved(0.0, scene.height)));
    scene.height += drawing::BAR * scene.scale;
    Some((scene, view))
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

fn pieces(changed: &Changed) -> Vec<usize> {
    match *changed {
        Changed::Piece(piece) | Changed::Ends(piece, _) => vec![piece],
        Changed::Joint(pieces) => pieces.to_vec(),
    }
}

/// What changes of a detail are about, besides what only follows from another change.
fn changes(facts: &DetailFacts, other: Option<&DetailFacts>, item: &ItemChange) -> Vec<Changed> {
    let all = &facts.detail.pieces;
    let named = |text: &str, name: &str| text.split([' ', ',', ';', ':', '"']).any(|word| word == name);
    let own = item.changes.iter().filter(|change| change.follows.is_none() && !change.what.contains(" lap of "));
    let about = |change: &Change| {
        let own = change.what.strip_prefix("piece ").map(|rest| rest.split(',').next().unwrap_or(rest));
        let says = |piece: &Piece| match own {
            Some(own) => own == &*piece.name,
            None => [&change.issued, &change.submitted].into_iter().flatten().any(|text| named(text, &piece.name)),
        };
        let found: Vec<usize> = all.iter().enumerate().filter(|(_, piece)| says(piece)).map(|(n, _)| n).collect();
        match found[..] {
            [one, other] => vec![Changed::Joint([one, other])],
            _ => found.into_iter().map(Changed::Piece).collect(),
        }
    };
    let ends = |changed: Changed| match (changed, other) {
        (Changed::Piece(piece), Some(other)) => {
            moved(facts, other, item, piece).map_or(changed, |ends| Changed::Ends(piece, ends))
        }
        _ => changed,
    };
    let mut changed: Vec<Changed> = own.flat_map(about).map(ends).collect();
    changed.dedup();
    changed
}
