//! What holds the pieces of a section and closes their joints: bonds, beads, fasteners; and weeps.

use crate::facts::face::Coordinate;
use crate::model::{Axis, Extent, Fastening};
use crate::output::drawing::lettering::{HAIR, MEDIUM, THIN};
use crate::output::drawing::ruler::Ruler;
use crate::output::drawing::scene::{Ink, Pen, Point, Role, Shape};
use crate::output::drawing::section::frame::Frame;
use crate::output::drawing::section::line::Line;
use crate::output::drawing::section::place::Places;
use crate::output::drawing::subject::Subject;

/// Half the drawn thickness of a membrane, mm of paper.
const SKIN: f64 = 0.7;

/// The most signs of one kind in a row; more would be a solid line.
const MANY: usize = 60;

/// Short slanting strokes between pieces that are adhered to each other.
pub fn bonds(subject: &Subject, line: &Line, places: &Places, frame: &Frame) -> Vec<Shape> {
    let mut strokes = Vec::new();
    for (n, step) in line.steps.iter().enumerate() {
        for pair in step.stack.windows(2).filter(|pair| subject.bonded(pair[0], pair[1])) {
            let (from, to) = (outer(places, pair[0], n), inner(places, pair[1], n));
            let [low, high] = places.along(n);
            // Near the ends of a step a draped piece leans, and the strokes would miss it.
            let count = ((high - low - 0.8) / 1.6).floor().clamp(0.0, 500.0) as usize;
            for stroke in 0..count {
                let along = low + 0.8 + 1.6 * stroke as f64;
                strokes.push(vec![frame.at(along, from), frame.at(along + 0.6, to)]);
            }
        }
    }
    if strokes.is_empty() {
        return Vec::new();
    }
    vec![Shape::group(Role::Other, "adhered", vec![Shape::lines(strokes, Pen::solid(HAIR, Ink::Black))])]
}

/// Beads of sealant, cut across as disks.
pub fn beads(subject: &Subject, line: &Line, ruler: &Ruler, places: &Places, frame: &Frame) -> Vec<Shape> {
    let detail = subject.detail;
    let mut shapes = Vec::new();
    for seal in &detail.seals {
        let (first, second) = (seal.first.index, seal.second.index);
        let mut centers: Vec<Point> = Vec::new();
        match seal.at {
            Some((axis, at)) if axis == line.axis => {
                let along = ruler.at_mm(at.si * 1000.0);
                centers.extend(between(line, places, first, second, nanometres(at.si)).map(|out| frame.at(along, out)));
            }
            Some((_, at)) if !line.at.reaches(nanometres(at.si)) => {}
            // Seen along its length, or along the whole contact.
            _ => {
                for (n, step) in line.steps.iter().enumerate() {
                    let [low, high] = places.along(n);
                    let neighbours = step.stack.windows(2).any(|w| w == [first, second] || w == [second, first]);
                    if neighbours {
                        let count = ((high - low) / 3.0).floor().clamp(1.0, MANY as f64);
                        let out = facing(places, first, second, n);
                        let at = |k: usize| low + (k as f64 + 0.5) * (high - low) / count;
                        centers.extend((0..count as usize).map(|k| frame.at(at(k), out)));
                    }
                    let next = line.steps.get(n + 1).map_or(&[][..], |s| &s.stack[..]);
                    let has = |a: usize, b: usize| {
                        step.stack.contains(&a) && !step.stack.contains(&b) && next.contains(&b) && !next.contains(&a)
                    };
                    if has(first, second) || has(second, first) {
                        let piece = if has(first, second) { first } else { second };
                        centers.push(frame.at(high, places.middle(piece, n)));
                    }
                }
            }
        }
        let disk = |center: Point| Shape::Circle {
            center,
            radius: 0.95,
            pen: Some(Pen::solid(THIN, Ink::Black)),
            fill: Some(Ink::Gray),
        };
        let words =
            format!("{} between {} and {}", seal.sealant.name, detail.pieces[first].name, detail.pieces[second].name);
        if !centers.is_empty() {
            shapes.push(Shape::group(Role::Other, words, centers.into_iter().map(disk).collect()));
        }
    }
    shapes
}

/// Fasteners as they lie in the wall: a head, and a shank to behind the datum. They are drawn as if one row stood on
/// the line.
pub fn fastenings(subject: &Subject, line: &Line, ruler: &Ruler, places: &Places, frame: &Frame) -> Vec<Shape> {
    let detail = subject.detail;
    let mut shapes = Vec::new();
    for fastening in &detail.fastenings {
        if !stands(fastening, line) {
            continue;
        }
        let own = if line.axis == Axis::Up { fastening.up } else { fastening.along };
        let piece = fastening.piece.index;
        let mut strokes = Vec::new();
        for at in rows(&own, fastening.every.si * 1000.0, ruler) {
            let n = line.step_at((at * 1e6) as Coordinate);
            if places.slot(piece, n).is_none() {
                continue;
            }
            let (along, head) = (ruler.at_mm(at), outer(places, piece, n));
            strokes.push(vec![frame.at(along - 1.0, head), frame.at(along + 1.0, head)]);
            strokes.push(vec![frame.at(along, head), frame.at(along, -5.0_f64.min(head))]);
        }
        if !strokes.is_empty() {
            let words = format!("{} through {}", fastening.fastener.name, detail.pieces[piece].name);
            let lines = Shape::lines(strokes, Pen::solid(MEDIUM, Ink::Black));
            shapes.push(Shape::group(Role::Other, words, vec![lines]));
        }
    }
    shapes
}

/// Weeps: an arrow out through the outermost piece.
pub fn weeps(subject: &Subject, line: &Line, ruler: &Ruler, places: &Places, frame: &Frame) -> Vec<Shape> {
    let weeps = subject.detail.weeps.iter().filter(|_| line.axis == Axis::Up);
    weeps
        .filter_map(|weep| {
            let up = weep.up?;
            let n = line.step_at(nanometres(up.si));
            let piece = *line.steps.get(n)?.stack.last()?;
            let [inner, outer] = places.slot(piece, n)?;
            let along = ruler.at_mm(up.si * 1000.0) + 0.9;
            let (from, to) = (frame.at(along, inner - 1.0), frame.at(along - 0.6, outer + 3.0));
            let barb = |side: f64| frame.at(along - 0.6 + side, outer + 1.6);
            let runs = vec![vec![from, to], vec![barb(0.8), to, barb(-0.8)]];
            Some(Shape::group(Role::Other, "weep", vec![Shape::lines(runs, Pen::solid(MEDIUM, Ink::Water))]))
        })
        .collect()
}

/// Positions of fasteners in mm of the building: from the written end on, or from the middle of what is shown.
pub fn rows(extent: &Extent, every: f64, ruler: &Ruler) -> Vec<f64> {
    let [low, high] = ruler.window();
    let from = extent.low.map_or(low, |q| (q.si * 1000.0).max(low));
    let to = extent.high.map_or(high, |q| (q.si * 1000.0).min(high));
    if every.is_nan() || every <= 0.0 || to < from {
        return Vec::new();
    }
    let count = ((to - from) / every + 1e-9).floor();
    let first = match (extent.low, extent.high) {
        (Some(_), _) => from,
        (None, Some(_)) => to - count * every,
        (None, None) => (from + to - count * every) / 2.0,
    };
    (0..=count.min(MANY as f64) as usize).map(|n| first + n as f64 * every).collect()
}

/// The field of fasteners reaches the line, and so does its piece.
pub fn stands(fastening: &Fastening, line: &Line) -> bool {
    let other = if line.axis == Axis::Up { fastening.along } else { fastening.up };
    let low = other.low.map_or(Coordinate::MIN, |q| nanometres(q.si));
    let high = other.high.map_or(Coordinate::MAX, |q| nanometres(q.si));
    low < line.at.high && line.at.low < high && line.has(fastening.piece.index)
}

/// Where a bead lies between two pieces: between them if they lie on each other at that place, in the joint if they
/// meet edge to edge.
fn between(line: &Line, places: &Places, first: usize, second: usize, at: Coordinate) -> Option<f64> {
    let n = line.step_at(at);
    let both = |n: usize| places.slot(first, n).is_some() && places.slot(second, n).is_some();
    if both(n) {
        return Some(facing(places, first, second, n));
    }
    if n > 0 && line.steps[n].extent.low == at && both(n - 1) {
        return Some(facing(places, first, second, n - 1));
    }
    let any = |piece: usize| places.slot(piece, n).or_else(|| places.slot(piece, n.checked_sub(1)?));
    any(first).and(any(second)).map(|[inner, outer]| (inner + outer) / 2.0)
}

/// The middle of the gap between two pieces of one step.
fn facing(places: &Places, a: usize, b: usize, step: usize) -> f64 {
    let (a, b) = if places.middle(a, step) <= places.middle(b, step) { (a, b) } else { (b, a) };
    (outer(places, a, step) + inner(places, b, step)) / 2.0
}

fn outer(places: &Places, piece: usize, step: usize) -> f64 {
    match places.slot(piece, step) {
        Some(_) if places.pieces[piece].thin => places.middle(piece, step) + SKIN,
        Some([_, outer]) => outer,
        None => 0.0,
    }
}

fn inner(places: &Places, piece: usize, step: usize) -> f64 {
    match places.slot(piece, step) {
        Some(_) if places.pieces[piece].thin => places.middle(piece, step) - SKIN,
        Some([inner, _]) => inner,
        None => 0.0,
    }
}

fn nanometres(metres: f64) -> Coordinate {
    (metres * 1e9).round() as Coordinate
}
