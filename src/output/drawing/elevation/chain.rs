//! A chain of dimensions beside a face, no longer than the face.

use crate::facts::bend;
use crate::model::Axis;
use crate::output::drawing::elevation::plane::of_pieces;
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
    /// The length is shorter on paper than its number: that stands aside.
    aside: bool,
}

/// The least that a number in an upright chain needs, mm of paper.
const LEAST: f64 = 4.2;

/// Two ticks closer than this are one, mm of paper.
const TICKS: f64 = 1.1;

/// Half of a tick, and the free paper beside a number.
const TICK: f64 = 1.1;
const APART: f64 = 1.4;

/// The ends of what is drawn, folds and grade, and every other edge that leaves room for the numbers: those of pieces before places of beads
/// and fasteners, so that what is as wide on the left as on the right reads so.
pub fn stops(subject: &Subject, axis: Axis, ruler: &Ruler) -> Vec<Stop> {
    let detail = subject.detail;
    let folds = detail.folds.iter().filter(|f| f.axis == axis).map(|f| f.at.si * 1000.0);
    let grade = detail.grade.iter().filter(|_| axis == Axis::Up).map(|g| g.value.si * 1000.0);
    // Zero has a mark of its own, which needs no tick.
    let zero = Some(0.0).filter(|_| zero::counts_below(detail, axis) && zero::is_shown(ruler));
    let ends = ruler.edges.first().into_iter().chain(ruler.edges.last()).copied();
    let of_pieces = edges_of_pieces(subject, axis);
    let is_piece = |mm: &f64| of_pieces.iter().any(|edge| (edge - mm).abs() < 1e-6);
    let (mut pieces, others): (Vec<f64>, Vec<f64>) = ruler.edges.iter().copied().partition(is_piece);
    if let (Axis::Along, [first, .., last]) = (axis, &ruler.edges[..]) {
        // From both ends to the middle, so that of two edges that answer each other neither crowds out the other.
        pieces.sort_by_key(|mm| -((2.0 * mm - first - last).abs() * 1e3).round() as i64);
    }
    let mut kept: Vec<f64> = Vec::new();
    let mut stops: Vec<Stop> = Vec::new();
    for mm in ends.chain(folds).chain(grade).chain(pieces).chain(zero).chain(others) {
        let at = kept.partition_point(|other| *other < mm);
        if kept.get(at).is_some_and(|other| *other <= mm) {
            continue;
        }
        // Only the two lengths beside it are new.
        let before = at.checked_sub(1).map(|before| kept[before]);
        let after = kept.get(at).map(|after| stop(subject, ruler, Some(mm), *after));
        let whole = after.map(|after| std::mem::replace(&mut stops[at], after));
        stops.insert(at, stop(subject, ruler, before, mm));
        if set_aside(&mut stops, axis) {
            kept.insert(at, mm);
        } else {
            stops.remove(at);
            whole.into_iter().for_each(|whole| stops[at] = whole);
        }
    }
    set_aside(&mut stops, axis);
    stops
}

/// From edge to edge of an opening, unless the chain has that length.
pub fn opening(subject: &Subject, axis: Axis, ruler: &Ruler, chain: &[Stop]) -> Vec<Stop> {
    let mut edges: Vec<f64> = bend::openings(subject.detail, axis).map(|fold| fold.at.si * 1000.0).collect();
    edges.sort_by(f64::total_cmp);
    let [low, .., high] = edges[..] else { return Vec::new() };
    let ends = [low, high].map(|mm| ruler.at_mm(mm));
    let is_it = |pair: &[Stop]| (0..2).all(|n| (pair[n].at - ends[n]).abs() < 1e-6);
    if chain.windows(2).any(is_it) {
        return Vec::new();
    }
    let mut stops = measured(subject, ruler, &[low, high]);
    if set_aside(&mut stops, axis) { stops } else { Vec::new() }
}

/// Numbers that are longer than their lengths stand aside; whether all have room so.
fn set_aside(stops: &mut [Stop], axis: Axis) -> bool {
    // Where the last number ends that stands aside.
    let mut taken = f64::NEG_INFINITY;
    for n in 1..stops.len() {
        let (from, Stop { at, length, aside }) = (stops[n - 1].at, &mut stops[n]);
        let need = if axis == Axis::Up { LEAST } else { width(length, WORDS) + 2.0 * TICK + APART };
        *aside = *at - from < need;
        if *aside {
            let middle = (from + *at) / 2.0;
            if *at - from < TICKS || middle - need / 2.0 < taken {
                return false;
            }
            taken = middle + need / 2.0;
        }
    }
    true
}

/// Where pieces of the outer face, their cuts and the joints between them begin and end, mm.
fn edges_of_pieces(subject: &Subject, axis: Axis) -> Vec<f64> {
    let joints = subject.joints.iter().filter(|joint| joint.axis == axis).flat_map(|joint| joint.edges);
    of_pieces(subject.detail, axis, false).into_iter().chain(joints).map(millimetres).collect()
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
    Some([near, far].map(|places| measured(subject, ruler, &places)))
}

/// What a number on a level chain needs between two ticks, mm of paper.
fn level_room(length: &str) -> f64 {
    width(length, WORDS) + 2.0 * TICK + 0.4
}

/// The places, each with its length from the one before.
fn measured(subject: &Subject, ruler: &Ruler, places: &[f64]) -> Vec<Stop> {
    let before = |n: usize| n.checked_sub(1).map(|before| places[before]);
    places.iter().enumerate().map(|(n, mm)| stop(subject, ruler, before(n), *mm)).collect()
}

fn stop(subject: &Subject, ruler: &Ruler, before: Option<f64>, mm: f64) -> Stop {
    let length = before.map_or(String::new(), |before| subject.plain(mm - before));
    Stop { at: ruler.at_mm(mm), length, aside: false }
}

/// How wide the numbers of an upright chain are.
pub fn room(stops: &[Stop]) -> f64 {
    let aside = widest(stops, true);
    widest(stops, false) + if aside > 0.0 { aside + APART } else { 0.0 }
}

fn widest(stops: &[Stop], aside: bool) -> f64 {
    stops.iter().filter(|stop| stop.aside == aside).map(|stop| width(&stop.length, WORDS)).fold(0.0, f64::max)
}

pub fn upright(stops: &[Stop], x: f64, bottom: f64) -> Shape {
    let point = |stop: &Stop| Point::new(x, bottom - stop.at);
    let beside = x - 1.6 - widest(stops, false) - APART;
    let words = |a: Point, b: Point, stop: &Stop| {
        let middle = (a.y + b.y) / 2.0;
        let at = Point::new(if stop.aside { beside } else { x - 1.6 }, middle + WORDS / 2.0);
        let words = Shape::text(at, WORDS, stop.length.clone()).anchored(Anchor::End);
        // It has to be seen of which length a number beside the others is.
        let leader = Shape::line(vec![Point::new(x, middle), Point::new(beside + 0.6, middle)], LEAD);
        if stop.aside { vec![leader, words] } else { vec![words] }
    };
    chain(stops, &point, &words, Point::new(1.0, 0.0))
}

pub fn level(stops: &[Stop], left: f64, y: f64) -> Shape {
    let point = |stop: &Stop| Point::new(left + stop.at, y);
    let words = |a: Point, b: Point, stop: &Stop| {
        let foot = if stop.aside { y + 1.3 + WORDS } else { y - 1.0 };
        vec![Shape::text(Point::new((a.x + b.x) / 2.0, foot), WORDS, stop.length.clone()).anchored(Anchor::Middle)]
    };
    chain(stops, &point, &words, Point::new(0.0, -1.0))
}

/// A number that stands aside under a level chain lies under this place of it.
pub fn number_aside_over(stops: &[Stop], at: f64) -> bool {
    stops.windows(2).any(|pair| {
        let middle = (pair[0].at + pair[1].at) / 2.0;
        pair[1].aside && (middle - at).abs() < (width(&pair[1].length, WORDS) + APART) / 2.0 + 0.6
    })
}

fn chain(
    stops: &[Stop],
    point: &dyn Fn(&Stop) -> Point,
    words: &dyn Fn(Point, Point, &Stop) -> Vec<Shape>,
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
            shapes.extend(words(points[n - 1], *p, &stops[n]));
        }
    }
    Shape::group(Role::Dimension, "lengths along the face", shapes)
}
