//! From where the lengths of an elevation count, where some of them are below it.

use crate::facts::nanometres;
use crate::model::{Axis, Detail, Extent};
use crate::output::drawing::elevation::chain::{self, Stop};
use crate::output::drawing::elevation::plane::Plane;
use crate::output::drawing::lettering::wrap;
use crate::output::drawing::paper::{LEAD, SMALL, WORDS};
use crate::output::drawing::ruler::Ruler;
use crate::output::drawing::scene::{Anchor, Point, Role, Shape};
use crate::output::drawing::section;
use crate::output::drawing::subject::Subject;
use crate::quantity::Quantity;

/// Room for the mark beside a chain, mm of paper.
const MARK: f64 = 5.0;

/// Room for the numbers that stand aside between a level chain and the mark under it.
const ASIDE: f64 = 1.3 + WORDS;

/// Width of the lines that explain a view: that of its title.
const WIDE: f64 = 72.0;

/// A length on an axis is stated below zero.
pub(super) fn counts_below(detail: &Detail, axis: Axis) -> bool {
    let below = |at: &Quantity| nanometres(*at) < 0;
    let of = |up: &Extent, along: &Extent| {
        let extent = if axis == Axis::Up { up } else { along };
        [extent.low, extent.high].iter().flatten().any(below)
    };
    detail.pieces.iter().any(|piece| of(&piece.up, &piece.along))
        || detail.fastenings.iter().any(|fastening| of(&fastening.up, &fastening.along))
        || detail.seals.iter().filter_map(|seal| seal.at.as_ref()).any(|at| at.0 == axis && below(&at.1))
}

/// It lies on the paper.
pub(super) fn is_shown(ruler: &Ruler) -> bool {
    let [low, high] = ruler.window();
    low < 0.0 && 0.0 < high
}

/// Room that the mark takes.
pub(super) fn room(subject: &Subject, axis: Axis) -> f64 {
    match (counts_below(subject.detail, axis), axis) {
        (false, _) => 0.0,
        (true, Axis::Up) => MARK,
        (true, Axis::Along) => MARK + ASIDE,
    }
}

/// Height zero, beside an upright chain: from the mark to the chain.
pub(super) fn level(subject: &Subject, plane: &Plane, [left, right]: [f64; 2]) -> Option<Shape> {
    let shown = counts_below(subject.detail, Axis::Up) && is_shown(plane.up);
    let y = plane.bottom - plane.up.at_mm(0.0);
    let words = Shape::text(Point::new(left - 1.2, y + SMALL / 2.0), SMALL, "0").anchored(Anchor::End);
    let line = Shape::line(vec![Point::new(left - 0.6, y), Point::new(right, y)], LEAD);
    shown.then(|| Shape::group(Role::Dimension, "zero", vec![line, words]))
}

/// Place zero along the wall, under a level chain and the numbers of it that stand aside there.
pub(super) fn place(subject: &Subject, plane: &Plane, stops: &[Stop], chain: f64) -> Option<Shape> {
    let shown = counts_below(subject.detail, Axis::Along) && is_shown(plane.along);
    let at = plane.along.at_mm(0.0);
    let (x, from) = (plane.left + at, if chain::number_aside_over(stops, at) { chain + ASIDE } else { chain });
    let words = Shape::text(Point::new(x, from + 3.0 + SMALL), SMALL, "0").anchored(Anchor::Middle);
    let line = Shape::line(vec![Point::new(x, from + 0.6), Point::new(x, from + 2.4)], LEAD);
    shown.then(|| Shape::group(Role::Dimension, "zero", vec![line, words]))
}

/// What an elevation shows that is not seen so, what lies at zero, and what a minus before a length means.
pub(super) fn words(subject: &Subject, unfolded: bool) -> Vec<String> {
    let detail = subject.detail;
    let names = |axis: Axis| named(detail, axis).map_or(String::new(), |name| format!(" (the {name})"));
    let (flat, heights) = if unfolded {
        ("All faces laid flat in one plane", ", lengths along them from 0")
    } else {
        ("", "Heights count from 0")
    };
    let stop = if unfolded { ". " } else { "" };
    let mut words = match [Axis::Up, Axis::Along].map(|axis| counts_below(detail, axis)) {
        [true, true] => {
            format!("{flat}{stop}{}; minus is below it, or left of it.", both([Axis::Up, Axis::Along].map(names)))
        }
        [true, false] => format!("{flat}{heights}{}; minus is below it.", names(Axis::Up)),
        [false, true] => format!("{flat}{stop}Places count from 0{}; minus is left of it.", names(Axis::Along)),
        [false, false] if unfolded => format!("{flat}."),
        [false, false] => String::new(),
    };
    if super::name(subject).ends_with("sill laid flat") {
        words.push_str(" On the sill itself a height is a depth, from its outer edge.");
    }
    if words.is_empty() { Vec::new() } else { wrap(words.trim_start(), SMALL, WIDE) }
}

/// From where both count.
fn both([up, along]: [String; 2]) -> String {
    match up.is_empty() && along.is_empty() {
        true => "Heights and places count from 0".to_owned(),
        false => format!("Heights count from 0{up}, places from 0{along}"),
    }
}

/// What lies at zero.
fn named(detail: &Detail, axis: Axis) -> Option<String> {
    let at = |q: &Quantity| nanometres(*q) == 0;
    if detail.valleys.iter().any(|valley| valley.axis == axis && at(&valley.at)) {
        return Some("valley".to_owned());
    }
    let fold = detail.folds.iter().find(|fold| fold.axis == axis && at(&fold.at))?;
    let name = if axis == Axis::Up { section::level_of(detail, fold) } else { fold.kind.word() };
    Some(name.replace('-', " "))
}
