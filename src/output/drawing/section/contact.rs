//! Where two pieces lie on each other, and what seals them there: a bead along each edge that is open, cut across, or a strip that is seen
//! along its length.

use std::ops::Range;

use crate::model::Seal;
use crate::output::drawing::scene::{Ink, Pen, Point, Shape};
use crate::output::drawing::section::bead::{RADIUS, facing};
use crate::output::drawing::section::cut::Cut;
use crate::output::drawing::section::line::Step;

/// A run of steps in which one piece lies on the other.
pub(super) struct Contact {
    under: usize,
    over: usize,
    steps: Range<usize>,
}

pub(super) fn contacts(cut: &Cut, first: usize, second: usize) -> Vec<Contact> {
    let mut runs: Vec<Contact> = Vec::new();
    for (n, step) in cut.line.steps.iter().enumerate() {
        let pair = step.stack.windows(2).find(|w| *w == [first, second] || *w == [second, first]);
        let Some(&[under, over]) = pair else { continue };
        match runs.last_mut() {
            Some(run) if run.steps.end == n && run.under == under => run.steps.end = n + 1,
            _ => runs.push(Contact { under, over, steps: n..n + 1 }),
        }
    }
    runs
}

/// A bead along a whole contact is cut across where one of the two ends on the other: at the edges of the upper one, or of the lower one if
/// that goes on.
pub(super) fn ends(cut: &Cut, run: &Contact) -> Vec<Point> {
    let beyond = [run.steps.start.checked_sub(1), Some(run.steps.end).filter(|n| *n < cut.line.steps.len())];
    let of = |piece: usize, other: usize| {
        let stops = move |n: usize| {
            let stack = &cut.line.steps[n].stack;
            !stack.contains(&piece) && stack.contains(&other)
        };
        (0..2)
            .filter(move |end| beyond[*end].is_some_and(stops))
            .map(|end| at_end(cut, run, end))
            .collect::<Vec<Point>>()
    };
    let over = of(run.over, run.under);
    if over.is_empty() { of(run.under, run.over) } else { over }
}

fn at_end(cut: &Cut, run: &Contact, end: usize) -> Point {
    let n = if end == 0 { run.steps.start } else { run.steps.end - 1 };
    let [low, high] = cut.places.along(n);
    let off = RADIUS.min((high - low) / 2.0);
    on(cut, run, n, if end == 0 { low + off } else { high - off })
}

fn on(cut: &Cut, run: &Contact, n: usize, along: f64) -> Point {
    cut.on(run.over, n, along, facing(cut, run.under, run.over, n))
}

/// A bead where two pieces meet edge to edge.
pub(super) fn edge_to_edge(cut: &Cut, first: usize, second: usize) -> Vec<Point> {
    let steps = cut.line.steps.windows(2).enumerate();
    let meets = |(n, pair): (usize, &[Step])| {
        let has = |a: usize, b: usize| {
            let ([below, above], holds) = ([&pair[0].stack, &pair[1].stack], |s: &Vec<usize>, p: usize| s.contains(&p));
            holds(below, a) && !holds(below, b) && holds(above, b) && !holds(above, a)
        };
        let piece = if has(first, second) { first } else { second };
        let there = has(first, second) || has(second, first);
        there.then(|| cut.on(piece, n, cut.places.along(n)[1], cut.places.middle(piece, n)))
    };
    steps.filter_map(meets).collect()
}

/// A bead that runs along the line lies behind it, and so does what is spread over a whole contact.
pub(super) fn strip(cut: &Cut, run: &Contact) -> Shape {
    let places = run.steps.clone().flat_map(|n| {
        let [low, high] = cut.places.along(n);
        let parts = ((high - low) / SAMPLE).ceil().max(1.0) as usize;
        (0..=parts).map(move |k| on(cut, run, n, low + (high - low) * k as f64 / parts as f64))
    });
    Shape::line(places.collect(), Pen::solid(STRIP, Ink::Gray))
}

/// How wide a strip is drawn between two membranes, and how closely it follows them, mm of paper.
const STRIP: f64 = 0.6;
const SAMPLE: f64 = 2.0;

/// Mastic and adhesive are spread over the whole contact.
pub(super) fn is_spread(seal: &Seal) -> bool {
    let words = [Some(&*seal.sealant.name), seal.sealant.title.as_deref()];
    let text = words.into_iter().flatten().collect::<Vec<&str>>().join(" ").to_lowercase();
    text.split(|c: char| !c.is_alphanumeric()).any(|word| matches!(word, "mastic" | "adhesive"))
}
