//! The signs of water, the same in every view.
//!
//! Where it may run it is a solid blue line with arrowheads; from the first wrong point on it is dashed and vermilion, and lies beneath
//! the piece that covers it. Line and dash tell the two apart without color.

use crate::output::drawing::clip::between;
use crate::output::drawing::paper::{ARROW, ARROWS, BEYOND, CASING, CUT, MEDIUM, RING, WATER};
use crate::output::drawing::scene::{Dash, Ink, Pen, Point, Role, Shape, Symbol};

/// A water path on paper.
#[derive(Clone, Debug, Default)]
pub struct WaterPath {
    /// In front of what keeps water out; it falls free from the end of one run to the start of the next.
    pub clean: Vec<Vec<Point>>,
    /// From the first wrong point on.
    pub wrong: Vec<Point>,
    pub fate: Fate,
    /// The direction to the inside, at the place where it goes wrong.
    pub inward: Option<Point>,
    /// It shares its fate with one that is drawn in full.
    pub quiet: bool,
    pub words: String,
    /// Where each step of the path ends.
    pub steps: Vec<(usize, Point)>,
}

#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Fate {
    /// Leaves in the open.
    #[default]
    Drips,
    /// Backs up and comes out again, or stays.
    Trapped,
    /// Gets to what it harms, or into the wall.
    Wets,
}

/// What lies beneath the pieces, and what lies on them.
pub fn draw(path: &WaterPath) -> (Vec<Shape>, Vec<Shape>) {
    if path.quiet {
        let runs = path.clean.iter().chain([&path.wrong]).filter(|run| run.len() > 1).cloned().collect();
        let line = Shape::lines(runs, Pen::solid(BEYOND, Ink::Light));
        return (Vec::new(), vec![Shape::group(Role::Drop, path.words.clone(), vec![line])]);
    }
    let mut under = Vec::new();
    let mut over = Vec::new();
    if path.wrong.len() > 1 {
        let pen = Pen { width: WATER, ink: Ink::Warm, dash: Dash::Wet };
        under.push(Shape::line(path.wrong.clone(), Pen::solid(CASING, Ink::White)));
        under.push(Shape::line(path.wrong.clone(), pen));
    }
    let clean: Vec<&Vec<Point>> = path.clean.iter().filter(|run| run.len() > 1).collect();
    for (n, run) in clean.iter().enumerate() {
        over.push(Shape::line(run.to_vec(), Pen::solid(CASING, Ink::White)));
        over.push(Shape::line(run.to_vec(), Pen::solid(WATER, Ink::Water)));
        over.extend(arrows(run, Ink::Water));
        if n + 1 < clean.len() {
            over.extend(end(run[run.len() - 1], Some(run[run.len() - 2]), Fate::Drips, Ink::Water));
        }
    }
    if let Some(at) = path.wrong.first() {
        over.extend(turn(*at, path.inward));
    }
    let (last, ink) = match (path.wrong.last(), path.clean.last().and_then(|run| run.last())) {
        (Some(last), _) => (Some(*last), Ink::Warm),
        (None, last) => (last.copied(), Ink::Water),
    };
    if let Some(last) = last {
        let before = path.clean.iter().flatten().chain(&path.wrong).rev().find(|p| apart(**p, last) > 0.3);
        over.extend(end(last, before.copied(), path.fate, ink));
    }
    let group = |shapes: Vec<Shape>| match shapes.is_empty() {
        true => Vec::new(),
        false => vec![Shape::group(Role::Drop, path.words.clone(), shapes)],
    };
    (group(under), group(over))
}

/// The wrong part as it shows through what covers it: a thin broken line.
pub fn hidden(path: &WaterPath) -> Vec<Shape> {
    if path.quiet || path.wrong.len() < 2 {
        return Vec::new();
    }
    let pen = Pen { width: MEDIUM, ink: Ink::Warm, dash: Dash::Wet };
    vec![Shape::group(Role::Drop, path.words.clone(), vec![Shape::line(path.wrong.clone(), pen)])]
}

/// How it ends: an open arrow, a bar, or a drop.
fn end(at: Point, before: Option<Point>, fate: Fate, ink: Ink) -> Vec<Shape> {
    let (dx, dy) = before.map_or((0.0, 1.0), |b| unit(b, at));
    let (symbol, shapes) = match fate {
        Fate::Drips => (Symbol::Drips, arrow(Point::new(at.x, at.y), (dx, dy), ink, WATER)),
        Fate::Trapped => {
            let side = |s: f64| Point::new(at.x - s * dy * 1.6, at.y + s * dx * 1.6);
            (Symbol::Held, vec![Shape::line(vec![side(1.0), side(-1.0)], Pen::solid(WATER, ink))])
        }
        Fate::Wets => (Symbol::Wets, vec![drop(at)]),
    };
    vec![Shape::group(Role::Symbol(symbol), "", shapes)]
}

/// The sign of an end by itself, for the legend.
pub fn sign(fate: Fate, at: Point, ink: Ink) -> Vec<Shape> {
    let before = Point::new(at.x - 4.0, at.y);
    let line = Shape::line(vec![before, at], Pen::solid(WATER, ink));
    let ends = end(at, Some(before), fate, ink);
    if fate == Fate::Wets { ends } else { std::iter::once(line).chain(ends).collect() }
}

/// A drop with its point up.
fn drop(at: Point) -> Shape {
    Shape::polygon(outline(at, 1.2), Some(Pen::solid(BEYOND, Ink::White)), Some(Ink::Warm))
}

/// The outline of a drop with its point up: no more than twice its radius above its middle.
pub fn outline(at: Point, radius: f64) -> Vec<Point> {
    let mut points = vec![Point::new(at.x, at.y - 2.0 * radius)];
    points.extend((0..=12).map(|n| {
        let angle = (-30.0 + 20.0 * f64::from(n)).to_radians();
        Point::new(at.x + radius * angle.cos(), at.y + radius * angle.sin())
    }));
    points
}

/// The place where water goes wrong: a ring, and an arrow that turns in.
pub fn turn(at: Point, inward: Option<Point>) -> Vec<Shape> {
    let ring = Shape::Circle { center: at, radius: RING / 2.0, pen: Some(Pen::solid(CUT, Ink::Warm)), fill: None };
    let mut all = vec![Shape::group(Role::Symbol(Symbol::Ring), "", vec![ring])];
    let mut shapes = Vec::new();
    if let Some(d) = inward {
        let tip = Point::new(at.x + 5.5 * d.x, at.y + 5.5 * d.y);
        let foot = Point::new(at.x + RING / 2.0 * d.x, at.y + RING / 2.0 * d.y);
        shapes.push(Shape::line(vec![foot, tip], Pen::solid(2.0 * CUT, Ink::White)));
        shapes.push(Shape::line(vec![foot, tip], Pen::solid(1.4 * WATER, Ink::Warm)));
        let side = |s: f64| Point::new(tip.x - 2.2 * d.x - s * 1.3 * d.y, tip.y - 2.2 * d.y + s * 1.3 * d.x);
        let head = vec![Point::new(tip.x + 0.4 * d.x, tip.y + 0.4 * d.y), side(1.0), side(-1.0)];
        shapes.push(Shape::polygon(head, Some(Pen::solid(BEYOND, Ink::White)), Some(Ink::Warm)));
        all.push(Shape::group(Role::Symbol(Symbol::TurnsIn), "", shapes));
    }
    all
}

/// Open arrowheads along a line; a short line has one in its middle. None stands on a stretch that is no longer than itself.
fn arrows(line: &[Point], ink: Ink) -> Vec<Shape> {
    let whole: f64 = line.windows(2).map(|p| apart(p[0], p[1])).sum();
    let count = (whole / ARROWS).floor().max(if whole > 3.0 * ARROW { 1.0 } else { 0.0 }) as usize;
    let mut long: Vec<(f64, f64, &[Point])> = Vec::new();
    let mut from = 0.0;
    for pair in line.windows(2) {
        let length = apart(pair[0], pair[1]);
        if length > 1.5 * ARROW {
            long.push((from, length, pair));
        }
        from += length;
    }
    let mut taken: Vec<f64> = Vec::new();
    let mut shapes = Vec::new();
    for n in 0..count {
        let wanted = whole * (n as f64 + 0.5) / count as f64;
        let places =
            long.iter().map(|(from, length, pair)| (wanted.clamp(from + ARROW, from + length), *from, *length, *pair));
        let nearest = places.min_by(|a, b| (a.0 - wanted).abs().total_cmp(&(b.0 - wanted).abs()));
        let Some((at, from, length, pair)) = nearest else { continue };
        if taken.iter().all(|other| (other - at).abs() > 2.0 * ARROW) {
            taken.push(at);
            shapes.extend(arrow(between(pair[0], pair[1], (at - from) / length), unit(pair[0], pair[1]), ink, MEDIUM));
        }
    }
    shapes
}

fn arrow(tip: Point, (dx, dy): (f64, f64), ink: Ink, width: f64) -> Vec<Shape> {
    let side = |s: f64| {
        Point::new(tip.x - ARROW * 0.85 * dx - s * ARROW * 0.5 * dy, tip.y - ARROW * 0.85 * dy + s * ARROW * 0.5 * dx)
    };
    let head = vec![side(1.0), tip, side(-1.0)];
    vec![Shape::line(head.clone(), Pen::solid(width + WATER, Ink::White)), Shape::line(head, Pen::solid(width, ink))]
}

fn apart(p: Point, q: Point) -> f64 {
    ((p.x - q.x).powi(2) + (p.y - q.y).powi(2)).sqrt()
}

/// The direction from a point to another.
pub fn unit(from: Point, to: Point) -> (f64, f64) {
    let length = apart(from, to).max(1e-9);
    ((to.x - from.x) / length, (to.y - from.y) / length)
}
