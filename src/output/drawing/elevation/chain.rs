//! A chain of dimensions beside a face, no longer than the face.

use crate::model::Axis;
use crate::output::drawing::elevation::zero;
use crate::output::drawing::lettering::width;
use crate::output::drawing::paper::{CUT, LEAD, WORDS};
use crate::output::drawing::ruler::{Ruler, millimetres};
use crate::output::drawing::scene::{Anchor, Ink, Pen, Point, Role, Shape};
use crate::output::drawing::subject::Subject;
use crate::output::drawing::valley;

/// A place on the ruler, and the length from the one before it.
pub struct Stop {
    at: f64,
    length: String,
}

/// Half of a tick.
const TICK: f64 = 1.1;

/// The least that a number in an upright chain needs, mm of paper.
const LEAST: f64 = 4.2;

/// The ends of what is drawn, folds and grade, and every other edge that leaves room for its number.
pub fn stops(subject: &Subject, axis: Axis, ruler: &Ruler) -> Vec<Stop> {
    let detail = subject.detail;
    let mut kept: Vec<f64> = Vec::new();
    let room = |a: f64, b: f64| {
        let need = match axis {
            Axis::Up => LEAST,
            Axis::Along => level_room(&subject.plain((b - a).abs())),
        };
        (ruler.at_mm(a) - ruler.at_mm(b)).abs() >= need
    };
    let folds = detail.folds.iter().filter(|f| f.axis == axis).map(|f| f.at.si * 1000.0);
    let grade = detail.grade.iter().filter(|_| axis == Axis::Up).map(|g| g.value.si * 1000.0);
    // Zero has its mark on the chain.
    let zero = Some(0.0).filter(|_| zero::counts_below(detail, axis) && zero::is_shown(ruler));
    let ends = ruler.edges.first().into_iter().chain(ruler.edges.last()).copied();
    for mm in zero.into_iter().chain(ends).chain(folds).chain(grade).chain(ruler.edges.iter().copied()) {
        if kept.iter().all(|other| room(mm, *other)) {
            kept.push(mm);
        }
    }
    kept.sort_by(f64::total_cmp);
    measured(subject, ruler, kept)
}

/// Of an open valley: how wide it is open between the laps over its metal, and how wide the metal and what else lies across it are.
pub fn valley(subject: &Subject, ruler: &Ruler) -> Option<[Vec<Stop>; 2]> {
    let open = valley::open(subject.detail)?;
    let [left, right] = open.roofing;
    let roofing = [left, right].into_iter().flatten().map(|(_, edge)| edge);
    let [low, high] = open.metal;
    let mut near: Vec<f64> = [low, high].into_iter().chain(roofing).map(millimetres).collect();
    near.sort_by(f64::total_cmp);
    let across: Vec<f64> = valley::across(subject.detail, &open).into_iter().map(millimetres).collect();
    // Of what lies farther out, as much as leaves room for its number.
    let room = |a: f64, b: f64| (ruler.at_mm(a) - ruler.at_mm(b)).abs() >= level_room(&subject.plain((b - a).abs()));
    let mut far = vec![millimetres(low), millimetres(high)];
    for mm in across {
        if far.iter().all(|other| room(mm, *other)) {
            far.push(mm);
        }
    }
    far.sort_by(f64::total_cmp);
    Some([near, far].map(|places| measured(subject, ruler, places)))
}

/// What a number on a level chain needs between two ticks, mm of paper.
fn level_room(length: &str) -> f64 {
    width(length, WORDS) + 2.0 * TICK + 0.4
}

fn measured(subject: &Subject, ruler: &Ruler, places: Vec<f64>) -> Vec<Stop> {
    let mut before: Option<f64> = None;
    let stop = |mm: f64| {
        let length = before.map_or(String::new(), |b| subject.plain(mm - b));
        before = Some(mm);
        Stop { at: ruler.at_mm(mm), length }
    };
    places.into_iter().map(stop).collect()
}

/// How wide the numbers of an upright chain are.
pub fn room(stops: &[Stop]) -> f64 {
    stops.iter().map(|stop| width(&stop.length, WORDS)).fold(0.0, f64::max)
}

pub fn upright(stops: &[Stop], x: f64, bottom: f64) -> Shape {
    let point = |stop: &Stop| Point::new(x, bottom - stop.at);
    let words = |a: Point, b: Point, length: &str| {
        let at = Point::new(x - 1.6, (a.y + b.y) / 2.0 + WORDS / 2.0);
        Shape::text(at, WORDS, length).anchored(Anchor::End)
    };
    chain(stops, &point, &words, Point::new(1.0, 0.0))
}

pub fn level(stops: &[Stop], left: f64, y: f64) -> Shape {
    let point = |stop: &Stop| Point::new(left + stop.at, y);
    let words = |a: Point, b: Point, length: &str| {
        Shape::text(Point::new((a.x + b.x) / 2.0, y - 1.0), WORDS, length).anchored(Anchor::Middle)
    };
    chain(stops, &point, &words, Point::new(0.0, -1.0))
}

fn chain(
    stops: &[Stop],
    point: &dyn Fn(&Stop) -> Point,
    words: &dyn Fn(Point, Point, &str) -> Shape,
    toward: Point,
) -> Shape {
    let mut shapes = Vec::new();
    // A single tick measures nothing.
    let stops = if stops.len() > 1 { stops } else { &[] };
    let points: Vec<Point> = stops.iter().map(point).collect();
    if points.len() > 1 {
        shapes.push(Shape::line(points.clone(), LEAD));
    }
    for (n, p) in points.iter().enumerate() {
        let tick = vec![Point::new(p.x - TICK, p.y + TICK), Point::new(p.x + TICK, p.y - TICK)];
        shapes.push(Shape::line(tick, Pen::solid(CUT, Ink::Black)));
        let reach = |by: f64| Point::new(p.x + by * toward.x, p.y + by * toward.y);
        shapes.push(Shape::line(vec![reach(-1.2), *p, reach(3.4)], LEAD));
        if n > 0 {
            shapes.push(words(points[n - 1], *p, &stops[n].length));
        }
    }
    Shape::group(Role::Dimension, "lengths along the face", shapes)
}
