//! The face: a detail seen from outside, unfolded flat.

mod area;
mod drops;
mod fixing;
mod marks;

use std::collections::BTreeSet;

use crate::facts::face::{Cells, Coordinate};
use crate::model::Axis;
use crate::output::drawing::dimension;
use crate::output::drawing::hatch::{Hatch, Runs, hatch};
use crate::output::drawing::lettering::{HEAVY, THIN, WORDS};
use crate::output::drawing::page::{self, MARGIN};
use crate::output::drawing::ruler::{self, Ruler};
use crate::output::drawing::scene::{Area, Dash, Ink, Pen, Point, Role, Scene, Shape};
use crate::output::drawing::spread::spread;
use crate::output::drawing::subject::Subject;
use crate::quantity::Quantity;

/// Room for the face, mm of paper.
const HIGHEST: f64 = 185.0;
const WIDEST: f64 = 125.0;

/// Width of the column of names.
const NAMES: f64 = 62.0;

/// The face of a detail with the marks of its findings.
pub fn front(subject: &Subject) -> Scene {
    let (ups, alongs) = (edges(subject, Axis::Up), edges(subject, Axis::Along));
    let scale = ruler::scale(&ups, HIGHEST).max(ruler::scale(&alongs, WIDEST));
    let (up, along) = (Ruler::new(&ups, scale), Ruler::new(&alongs, scale));
    let levels = page::levels(subject, Axis::Up, &up);
    let left = MARGIN + dimension::room(&levels) + 9.0;
    let right = left + along.length();
    let names_at = right + 12.0;
    let page_width = (names_at + NAMES + MARGIN).max(170.0);
    let caption = format!("Face seen from outside, 1:{scale}, unfolded; dashed edges are covered");
    let (mut shapes, top) = page::heading(subject, &caption, page_width);
    let top = top + 4.0;
    let bottom = top + up.length();
    let plane = Plane { cells: &subject.facts.face.cells, up: &up, along: &along, left, bottom };

    shapes.extend(area::pieces(subject, &plane));
    shapes.extend(ground(subject, &plane));
    shapes.extend(folds(subject, &plane));
    shapes.extend(fixing::beads(subject, &plane));
    shapes.extend(fixing::fastenings(subject, &plane));
    shapes.extend(breaks(&plane));
    shapes.extend(drops::draw(subject, &plane));

    let heights: Vec<(f64, String)> = levels.into_iter().rev().map(|(at, words)| (bottom - at, words)).collect();
    shapes.push(dimension::upright(&heights, left - 5.0, top, bottom));
    let places = page::levels(subject, Axis::Along, &along);
    let places: Vec<(f64, String)> = places.into_iter().map(|(at, words)| (left + at, words)).collect();
    let (places, reach) = dimension::level(&places, bottom + 5.0, left, right, true);
    shapes.push(places);
    let mut end = bottom + 14.0;

    let names = area::names(subject, &plane);
    let lines: Vec<Vec<String>> =
        names.iter().map(|(piece, _, seen)| page::label(subject, *piece, NAMES, !seen)).collect();
    let lengths: Vec<f64> = lines.iter().map(|l| l.len() as f64 * page::LABEL_LINE + 1.2).collect();
    let wanted: Vec<f64> = names.iter().map(|(_, at, _)| at.y).collect();
    let middles = spread(&wanted, &lengths, top);
    for (((piece, at, _), words), (middle, length)) in names.iter().zip(&lines).zip(middles.iter().zip(&lengths)) {
        let first = middle - length / 2.0 + 0.6 + WORDS;
        let elbow = Point::new(names_at - 4.0, first - WORDS / 2.0);
        let path = vec![*at, elbow, Point::new(names_at - 0.8, elbow.y)];
        shapes.push(page::named(*piece, path, Point::new(names_at, first), words));
        end = end.max(middle + length / 2.0);
    }
    let (marks, unplaced) = marks::draw(subject, &plane, &names.iter().map(|n| n.1).collect::<Vec<_>>());
    shapes.extend(marks);
    let page_width = page_width.max(reach + MARGIN);
    let (list, height) = page::foot(subject, &unplaced, end + 3.0, page_width);
    shapes.extend(list);
    let title = format!("Face of {}", page::name(subject.detail));
    let all: Vec<usize> = (0..subject.detail.pieces.len()).collect();
    let description = page::description(subject, &all);
    Scene { width: page_width, height, scale: 1.0, title, description, shapes }.at_scale(scale)
}

/// The face on paper.
pub struct Plane<'a> {
    pub cells: &'a Cells,
    pub up: &'a Ruler,
    pub along: &'a Ruler,
    pub left: f64,
    pub bottom: f64,
}

impl Plane<'_> {
    pub fn cell(&self, column: usize, row: usize) -> Area {
        let (along, up) = (self.cells.column(column), self.cells.row(row));
        Area::new(self.x(along.low), self.y(up.high), self.x(along.high), self.y(up.low))
    }

    pub fn x(&self, along: Coordinate) -> f64 {
        self.left + self.along.at(along)
    }

    pub fn y(&self, up: Coordinate) -> f64 {
        self.bottom - self.up.at(up)
    }

    pub fn whole(&self) -> Area {
        let top = self.bottom - self.up.length();
        Area::new(self.left, top, self.left + self.along.length(), self.bottom)
    }

    /// The piece that is seen in a cell.
    pub fn seen(&self, column: usize, row: usize) -> Option<usize> {
        self.cells.stack(column, row).last().map(|piece| *piece as usize)
    }

    /// The outer face's pieces take part in what is seen or covered; the inner face's do not.
    pub fn has(&self, column: usize, row: usize, piece: usize) -> bool {
        self.cells.stack(column, row).contains(&(piece as u32))
    }
}

/// All places on an axis at which something is.
fn edges(subject: &Subject, axis: Axis) -> Vec<Coordinate> {
    let (detail, cells) = (subject.detail, &subject.facts.face.cells);
    let mut edges = BTreeSet::new();
    let count = if axis == Axis::Up { cells.rows() } else { cells.columns() };
    for n in 0..count {
        let extent = if axis == Axis::Up { cells.row(n) } else { cells.column(n) };
        edges.extend([extent.low, extent.high]);
    }
    let mut add = |at: &Quantity| {
        edges.insert((at.si * 1e9).round() as Coordinate);
    };
    detail.folds.iter().filter(|f| f.axis == axis).for_each(|f| add(&f.at));
    detail.seals.iter().filter_map(|s| s.at.as_ref()).filter(|at| at.0 == axis).for_each(|at| add(&at.1));
    for fastening in &detail.fastenings {
        let extent = if axis == Axis::Up { fastening.up } else { fastening.along };
        [extent.low, extent.high].iter().flatten().for_each(&mut add);
    }
    if axis == Axis::Up {
        let sheltered = detail.sheltered.unwrap_or_default();
        detail.grade.iter().for_each(|grade| add(&grade.value));
        [sheltered.low, sheltered.high].iter().flatten().for_each(&mut add);
        detail.weeps.iter().filter_map(|w| w.up.as_ref()).for_each(add);
    }
    edges.into_iter().collect()
}

fn ground(subject: &Subject, plane: &Plane) -> Vec<Shape> {
    let Some(grade) = &subject.detail.grade else { return Vec::new() };
    let y = plane.bottom - plane.up.at_mm(grade.value.si * 1000.0);
    let whole = plane.whole();
    let below = Area::new(whole.left, y, whole.right, (y + 4.0).min(whole.bottom));
    let mut shapes = hatch(below, Hatch::Earth, Runs::Level);
    let line = vec![Point::new(whole.left, y), Point::new(whole.right, y)];
    shapes.push(Shape::line(line, Pen::solid(HEAVY, Ink::Black)));
    vec![Shape::group(Role::Other, "finished ground", shapes)]
}

fn folds(subject: &Subject, plane: &Plane) -> Vec<Shape> {
    let whole = plane.whole();
    let pen = Pen::solid(THIN, Ink::Dark).dashed(Dash::Chain);
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
    if runs.is_empty() { Vec::new() } else { vec![Shape::group(Role::Other, "folds", vec![Shape::lines(runs, pen)])] }
}

/// Bands of white where a stretch is broken out.
fn breaks(plane: &Plane) -> Vec<Shape> {
    let whole = plane.whole();
    let pen = Pen::solid(THIN, Ink::Dark);
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
    vec![Shape::group(Role::Other, "cut off here", shapes)]
}
