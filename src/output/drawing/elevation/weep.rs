//! Weeps on a face: the joints that stay open in the course over a flashing, as they are seen from outside.

use std::ops::Range;

use crate::facts::nanometres;
use crate::model::{MaterialKind, Weeps};
use crate::output::drawing::elevation::Plane;
use crate::output::drawing::hatch::BRICK;
use crate::output::drawing::scene::{Area, Ink, Role, Shape};
use crate::output::drawing::subject::Subject;

/// How wide the sign of a weep is, and how high at least and at most, mm of paper.
const WIDE: f64 = 0.8;
const HIGH: [f64; 2] = [1.6, 6.0];

/// Where one stands that no other is seen with, in parts of the width.
const ALONE: f64 = 0.82;

/// Each weep as a dark joint, one course high and as far from the next as is stated; those without a height have no place.
pub fn weeps(subject: &Subject, plane: &Plane) -> Vec<Shape> {
    let signs = subject.detail.weeps.iter().map(|weeps| {
        let spots = columns(subject, plane, weeps).into_iter().flat_map(|run| along(plane, &run, weeps));
        spots.map(|x| sign(plane, weeps, x)).collect::<Vec<Shape>>()
    });
    signs.filter(|signs| !signs.is_empty()).map(|signs| Shape::group(Role::Weep, "weeps", signs)).collect()
}

/// The runs of columns in which something stands in front of a flashing at the height of the weeps; where nothing does, those in which
/// anything is seen.
fn columns(subject: &Subject, plane: &Plane, weeps: &Weeps) -> Vec<Range<usize>> {
    let Some(row) = weeps.up.and_then(|up| row_over(plane, nanometres(up))) else { return Vec::new() };
    let is_flashing =
        |piece: &u32| subject.detail.pieces[*piece as usize].material.kind == Some(MaterialKind::Flashing);
    let covered = |column: usize| {
        let under = plane.cells.stack(column, row).split_last().map_or(&[][..], |(_, under)| under);
        under.iter().any(is_flashing)
    };
    let seen = |column: usize| plane.seen(column, row).is_some();
    let runs = runs(plane.cells.columns(), &covered);
    if runs.is_empty() { self::runs(plane.cells.columns(), &seen) } else { runs }
}

fn runs(count: usize, within: &dyn Fn(usize) -> bool) -> Vec<Range<usize>> {
    let mut runs: Vec<Range<usize>> = Vec::new();
    for column in (0..count).filter(|column| within(*column)) {
        match runs.last_mut() {
            Some(run) if run.end == column => run.end += 1,
            _ => runs.push(column..column + 1),
        }
    }
    runs
}

/// The row that begins at a height, or holds it.
fn row_over(plane: &Plane, up: i64) -> Option<usize> {
    (0..plane.cells.rows()).find(|row| up < plane.cells.row(*row).high)
}

/// Where they stand on paper within a run of columns: about its middle.
fn along(plane: &Plane, run: &Range<usize>, weeps: &Weeps) -> Vec<f64> {
    let [low, high] = plane.along.window();
    let real = |coordinate: i64| (coordinate as f64 * 1e-6).clamp(low, high);
    let (from, to) = (real(plane.cells.column(run.start).low), real(plane.cells.column(run.end - 1).high));
    let every = weeps.every.si * 1000.0;
    if every.is_nan() || every <= 0.0 || to <= from {
        return Vec::new();
    }
    let count = ((to - from) / every - 1e-9).floor();
    // One by itself stands clear of the middle, where findings point.
    let first = if count < 1.0 { from + ALONE * (to - from) } else { (from + to - count * every) / 2.0 };
    let places = (0..=count as usize).map(|n| plane.left + plane.along.at_mm(first + n as f64 * every));
    let places: Vec<f64> = places.collect();
    // Closer to each other they would be a line.
    if places.windows(2).any(|pair| pair[1] - pair[0] < 2.0 * WIDE) { Vec::new() } else { places }
}

fn sign(plane: &Plane, weeps: &Weeps, x: f64) -> Shape {
    let foot = plane.bottom - weeps.up.map_or(0.0, |up| plane.up.at_mm(up.si * 1000.0));
    let high = (BRICK[0] / plane.scale).clamp(HIGH[0], HIGH[1]);
    let slot = Area::new(x - WIDE / 2.0, foot - high, x + WIDE / 2.0, foot);
    Shape::polygon(slot.corners(), None, Some(Ink::Black))
}
