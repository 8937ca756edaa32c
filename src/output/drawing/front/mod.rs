//! The face: a detail seen from outside, unfolded flat.

mod area;
mod chain;
mod drops;
mod fixing;
mod place;

use std::collections::BTreeSet;

use crate::facts::bend::{Bend, Leg};
use crate::facts::face::{Cells, Coordinate};
use crate::facts::nanometres;
use crate::model::Axis;
use crate::output::drawing::free::Free;
use crate::output::drawing::hatch::{Hatch, Runs, hatch};
use crate::output::drawing::mark;
use crate::output::drawing::note::{self, Note, Sign};
use crate::output::drawing::page::{self, View};
use crate::output::drawing::paper::{BEYOND, FOLD, GRADE, MEMBRANE};
use crate::output::drawing::ruler::{self, Ruler};
use crate::output::drawing::scene::{Area, Ink, Pen, Point, Role, Scene, Shape};
use crate::output::drawing::section::{self, Line};
use crate::output::drawing::subject::Subject;
use crate::quantity::Quantity;

/// Room for the face, mm of paper.
const HIGHEST: f64 = 185.0;
const WIDEST: f64 = 125.0;

/// Where the chains of dimensions run, mm beside the face.
const CHAIN: f64 = 6.0;

/// The face of a detail with the marks of its findings.
pub fn front(subject: &Subject) -> Scene {
    let (view, title, description) = whole(subject);
    page::around(subject, view, title, description)
}

/// The face without a head and a list of findings.
pub fn bare_front(subject: &Subject) -> Scene {
    let (view, title, description) = whole(subject);
    page::bare(view, title, description)
}

/// The largest scale at which there is room.
pub fn scale(subject: &Subject) -> f64 {
    let (ups, alongs) = (edges(subject, Axis::Up), edges(subject, Axis::Along));
    let scale = |edges: &[Coordinate], most: f64| ruler::scale(edges, most, subject.scales());
    scale(&ups, HIGHEST).max(scale(&alongs, WIDEST))
}

/// The face at the largest scale for which there is room, with its name and what it shows.
fn whole(subject: &Subject) -> (View, String, String) {
    let view = view(subject, scale(subject), Noted::Words);
    let title = format!("{} of {}", view.name, page::name(subject.detail));
    let all: Vec<usize> = (0..subject.detail.pieces.len()).collect();
    (view, title, page::description(subject, &all))
}

/// How far down its cell a finding may point, until its leader runs over the end of no other.
const PARTS: [f64; 7] = [0.5, 0.35, 0.65, 0.25, 0.75, 0.15, 0.85];

/// What stands beside a face.
#[derive(Clone, Copy, PartialEq, Eq)]
pub enum Noted {
    /// Names of its pieces and findings.
    Words,
    /// Their numbers alone: the sheet has their words.
    Numbers,
}

/// The face alone at a scale.
pub fn view(subject: &Subject, scale: f64, noted: Noted) -> View {
    let (ups, alongs) = (edges(subject, Axis::Up), edges(subject, Axis::Along));
    let (up, along) = (Ruler::new(&ups, scale, subject.whole), Ruler::new(&alongs, scale, subject.whole));
    let heights = chain::stops(subject, Axis::Up, &up);
    let left = chain::room(&heights) + CHAIN + 3.0;
    let right = left + along.length();
    let top = 7.0;
    let bottom = top + up.length();
    let plane = Plane { subject, cells: &subject.facts.face.cells, up: &up, along: &along, left, bottom };
    let mut shapes = area::pieces(subject, &plane);
    shapes.extend(ground(subject, &plane));
    shapes.extend(folds(subject, &plane));
    shapes.extend(fixing::beads(subject, &plane));
    shapes.extend(fixing::fastenings(subject, &plane));
    shapes.extend(breaks(&plane));
    let (water, steps) = drops::draw(subject, &plane);
    shapes.extend(water);
    shapes.extend(flags(subject, &plane));
    shapes.push(chain::upright(&heights, left - CHAIN, bottom));
    let places = chain::stops(subject, Axis::Along, &along);
    shapes.push(chain::level(&places, left, bottom + CHAIN + 2.0));
    let mut view = View {
        name: name(subject),
        shapes,
        width: right + 4.0,
        height: bottom + CHAIN + 6.0,
        scale,
        datum: Some(bottom - up.at_mm(0.0)),
        caption: format!("lengths in {}; dashed edges are covered", subject.unit()),
        unplaced: Vec::new(),
    };
    let (off, wide) = if noted == Noted::Words { (14.0, note::WIDTH) } else { (9.0, note::NUMBER) };
    let notes_at = right + off;
    // What is covered here and drawn in the section has its name there.
    let cut = (noted == Noted::Numbers).then(|| Line::telling(subject)).flatten();
    let named = |piece: usize| cut.as_ref().is_some_and(|line| line.has(piece));
    let mut best: Option<(usize, Vec<Shape>, f64, Vec<usize>)> = None;
    for part in PARTS {
        let (mut notes, unplaced) = notes(subject, &plane, part);
        if noted == Noted::Numbers {
            notes.retain(|note| match note.sign {
                Sign::Step { piece, .. } => !named(piece) || !area::areas(&plane, piece).is_empty(),
                Sign::Mark(_) => true,
            });
            notes.iter_mut().for_each(|note| note.lines = note::lines("", wide));
        }
        let (column, end) = note::column(&notes, notes_at, top - 4.0);
        let astray = section::astray(&column).len();
        if best.as_ref().is_none_or(|(least, ..)| astray < *least) {
            best = Some((astray, column, end, unplaced));
        }
        if astray == 0 {
            break;
        }
    }
    let (_, column, end, unplaced) = best.unwrap_or_default();
    view.shapes.extend(column);
    let mut free = Free::of(&view.shapes);
    view.shapes.extend(section::beside(steps, &mut free, &view.shapes, 1.0));
    view.width = notes_at + wide;
    view.height = view.height.max(end);
    view.unplaced = unplaced;
    view
}

/// What a view of the face is called in an office.
fn name(subject: &Subject) -> &'static str {
    let bend = Bend::new(subject.facts, Axis::Up);
    let lies = |leg: &Leg| leg.heading.to_radians().sin().abs() < 0.7072;
    match (bend.legs.len(), bend.legs.iter().filter(|leg| lies(leg)).count()) {
        (1, 0) => "Elevation",
        (1, _) => "Plan",
        (_, 0) => "Elevation, unfolded",
        (legs, lying) if lying == legs => "Plan, unfolded",
        // A roof and a wall side by side are neither.
        _ => "Face, unfolded",
    }
}

/// A note for every piece of the outer face, and one for every finding that lies on it; and the findings that lie nowhere.
fn notes<'a>(subject: &'a Subject, plane: &Plane, part: f64) -> (Vec<Note<'a>>, Vec<usize>) {
    let names = area::names(subject, plane);
    let note = |(piece, at, seen): &(usize, Point, bool)| {
        let covered = if *seen { "" } else { ", covered" };
        let sign = Sign::Step { piece: *piece, step: subject.steps[*piece] };
        let lines = note::lines(&format!("{}{covered}", page::label(subject, *piece)), note::WIDTH);
        Note { sign, at: *at, lines }
    };
    let mut notes: Vec<Note> = names.iter().map(note).collect();
    let mut unplaced = Vec::new();
    for entry in subject.marks {
        match place::anchor(subject, plane, &mark::pieces(subject.detail, entry.finding), part) {
            Some(at) => {
                let lines = note::lines(&mark::short(entry.finding), note::WIDTH);
                notes.push(Note { sign: Sign::Mark(*entry), at, lines });
            }
            None => unplaced.push(entry.number),
        }
    }
    (notes, unplaced)
}

/// Where the section is cut: a flag at either end.
fn flags(subject: &Subject, plane: &Plane) -> Vec<Shape> {
    let Some(line) = Line::telling(subject) else { return Vec::new() };
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
        let tip = Point::new(x - 3.0, y + 3.2 * down);
        let head = vec![Point::new(x, y + 2.4 * down), Point::new(x, y + 4.0 * down), tip];
        [Shape::line(line, Pen::solid(MEMBRANE, Ink::Black)), Shape::polygon(head, None, Some(Ink::Black))]
    };
    let mut shapes = flag(whole.top + 1.0, -1.0).to_vec();
    shapes.extend(flag(whole.bottom - 1.0, 1.0));
    vec![Shape::group(Role::Other, "cut of the section", shapes)]
}

/// The face on paper.
pub struct Plane<'a> {
    pub subject: &'a Subject<'a>,
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

    /// A cell as far as a piece really reaches in it.
    pub fn part(&self, column: usize, row: usize, piece: usize) -> Area {
        let (along, up) = (self.cells.column(column), self.cells.row(row));
        let [left, right] = self.subject.real(piece, Axis::Along, up, [along.low, along.high]);
        let [bottom, top] = self.subject.real(piece, Axis::Up, along, [up.low, up.high]);
        Area::new(self.x(left), self.y(top), self.x(right), self.y(bottom))
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
        edges.insert(nanometres(*at));
    };
    detail.folds.iter().filter(|f| f.axis == axis).for_each(|f| add(&f.at));
    subject.joints.iter().filter(|joint| joint.axis == axis).for_each(|joint| edges.extend(joint.edges));
    let mut add = |at: &Quantity| {
        edges.insert(nanometres(*at));
    };
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
    shapes.push(Shape::line(line, Pen::solid(GRADE, Ink::Black)));
    vec![Shape::group(Role::Ground, "finished ground", shapes)]
}

fn folds(subject: &Subject, plane: &Plane) -> Vec<Shape> {
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
fn breaks(plane: &Plane) -> Vec<Shape> {
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
