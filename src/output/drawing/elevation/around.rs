//! What stands around the face: where it is cut, the ground, its folds, and where it is broken off.

use crate::model::Axis;
use crate::output::drawing::elevation::plane::Plane;
use crate::output::drawing::hatch::{Hatch, Runs, hatch};
use crate::output::drawing::page;
use crate::output::drawing::paper::{BEYOND, FOLD, GRADE, MEMBRANE};
use crate::output::drawing::scene::{Area, Ink, Pen, Point, Role, Shape};
use crate::output::drawing::section::SectionLine;
use crate::output::drawing::subject::Subject;

/// Where the section is cut: a flag at either end, which points where its viewer looks. Who faces the wall and has its outside on the
/// right, as the section draws it, looks to the right along it.
pub(super) fn flags(subject: &Subject, plane: &Plane) -> Vec<Shape> {
    let Some(line) = SectionLine::principal(subject) else { return Vec::new() };
    let whole = plane.whole();
    if line.axis == Axis::Along {
        let y = (plane.y(line.at.low) + plane.y(line.at.high)) / 2.0;
        let flag = |x: f64, out: f64| {
            let line = vec![Point::new(x, y), Point::new(x + 4.0 * out, y)];
            let head =
                vec![Point::new(x + 2.4 * out, y), Point::new(x + 4.0 * out, y), Point::new(x + 3.2 * out, y + 3.0)];
            [Shape::line(line, Pen::solid(MEMBRANE, Ink::Black)), Shape::polygon(head, None, Some(Ink::Black))]
        };
        let shapes = flag(whole.left + 1.0, -1.0).into_iter().chain(flag(whole.right - 1.0, 1.0)).collect();
        return vec![Shape::group(Role::Other, "cut of the plan", shapes)];
    }
    let x = (plane.x(line.at.low) + plane.x(line.at.high)) / 2.0;
    let flag = |y: f64, down: f64| {
        let line = vec![Point::new(x, y), Point::new(x, y + 4.0 * down)];
        let tip = Point::new(x + 3.0, y + 3.2 * down);
        let head = vec![Point::new(x, y + 2.4 * down), Point::new(x, y + 4.0 * down), tip];
        [Shape::line(line, Pen::solid(MEMBRANE, Ink::Black)), Shape::polygon(head, None, Some(Ink::Black))]
    };
    let mut shapes = flag(whole.top + 1.0, -1.0).to_vec();
    shapes.extend(flag(whole.bottom - 1.0, 1.0));
    vec![Shape::group(Role::Other, "cut of the section", shapes)]
}

/// The finished ground, with a band of earth below it.
pub(super) fn ground(subject: &Subject, plane: &Plane) -> Vec<Shape> {
    let Some(grade) = &subject.detail.grade else { return Vec::new() };
    let y = plane.bottom - plane.up.at_mm(grade.value.si * 1000.0);
    let whole = plane.whole();
    let below = Area::new(whole.left, y, whole.right, (y + 4.0).min(whole.bottom));
    // Of paving the edge is seen, and no earth.
    let mut shapes = match subject.detail.paved {
        true => vec![Shape::line(
            vec![Point::new(below.left, below.bottom), Point::new(below.right, below.bottom)],
            Pen::solid(BEYOND, Ink::Dark),
        )],
        false => hatch(below, Hatch::Earth, Runs::Level, plane.scale),
    };
    let line = vec![Point::new(whole.left, y), Point::new(whole.right, y)];
    shapes.push(Shape::line(line, Pen::solid(GRADE, Ink::Black)));
    vec![Shape::group(Role::Ground, "finished ground", shapes)]
}

/// A line at each fold, a little longer than the face is wide.
pub(super) fn folds(subject: &Subject, plane: &Plane) -> Vec<Shape> {
    let whole = plane.whole();
    let pen = FOLD;
    let line = |axis: Axis, mm: f64| match axis {
        Axis::Up => {
            let y = plane.bottom - plane.up.at_mm(mm);
            vec![Point::new(whole.left - 2.5, y), Point::new(whole.right + 2.5, y)]
        }
        Axis::Along => {
            let x = plane.left + plane.along.at_mm(mm);
            vec![Point::new(x, whole.top - 2.5), Point::new(x, whole.bottom + 2.5)]
        }
    };
    let runs: Vec<Vec<Point>> = subject.detail.folds.iter().map(|f| line(f.axis, f.at.si * 1000.0)).collect();
    if runs.is_empty() { Vec::new() } else { vec![Shape::group(Role::Fold, "folds", vec![Shape::lines(runs, pen)])] }
}

/// Bands of white where a stretch is broken out.
pub(super) fn breaks(plane: &Plane) -> Vec<Shape> {
    let whole = plane.whole();
    let pen = Pen::solid(BEYOND, Ink::Dark);
    let mut shapes = Vec::new();
    for stretch in plane.up.breaks() {
        let y = plane.bottom - (stretch.paper[0] + stretch.paper[1]) / 2.0;
        let band = Area::new(whole.left - 1.0, y - 0.9, whole.right + 1.0, y + 0.9);
        shapes.push(Shape::polygon(band.corners(), None, Some(Ink::White)));
        let edge = |y: f64| page::zigzag(Point::new(band.left, y), Point::new(band.right, y));
        shapes.push(Shape::lines(vec![edge(band.top), edge(band.bottom)], pen));
    }
    for stretch in plane.along.breaks() {
        let x = plane.left + (stretch.paper[0] + stretch.paper[1]) / 2.0;
        let band = Area::new(x - 0.9, whole.top - 1.0, x + 0.9, whole.bottom + 1.0);
        shapes.push(Shape::polygon(band.corners(), None, Some(Ink::White)));
        let edge = |x: f64| page::zigzag(Point::new(x, band.top), Point::new(x, band.bottom));
        shapes.push(Shape::lines(vec![edge(band.left), edge(band.right)], pen));
    }
    let (a, b) = (Point::new(whole.left, whole.top), Point::new(whole.right, whole.top));
    let (c, d) = (Point::new(whole.left, whole.bottom), Point::new(whole.right, whole.bottom));
    let rim = [(a, b), (c, d), (a, c), (b, d)].map(|(from, to)| page::zigzag(from, to)).to_vec();
    shapes.push(Shape::lines(rim, pen));
    vec![Shape::group(Role::Break, "cut off here", shapes)]
}
