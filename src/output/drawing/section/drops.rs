//! The ways of drops in a section.

use crate::facts::face::{self, Coordinate, Fall, StepKind};
use crate::output::drawing::lettering::{MEDIUM, THICK};
use crate::output::drawing::scene::{Dash, Ink, Pen, Point, Role, Shape};
use crate::output::drawing::section::frame::Frame;
use crate::output::drawing::section::line::Line;
use crate::output::drawing::section::place::Places;
use crate::output::drawing::subject::Subject;

/// Every different way on the line. A way that depends on a lost seal is told only where it does harm.
pub fn ways(subject: &Subject, line: &Line) -> Vec<Fall> {
    let falls = face::falls(&subject.shape, &subject.facts.face.cells, line.cell);
    falls.into_iter().filter(|fall| fall.lost.is_none() || fall.end.is_damage()).collect()
}

/// How far in front of a piece a drop is drawn, mm of paper: between one membrane and the next.
const AHEAD: f64 = 1.1;

/// The way as a line with a dot at each turn and a sign at its end.
pub fn draw(way: &Fall, line: &Line, places: &Places, frame: &Frame) -> Shape {
    let mut course: Vec<Point> = Vec::new();
    let mut turns: Vec<Point> = Vec::new();
    let mut on = way.lost.map(|[_, on]| on);
    let mut height: Option<Coordinate> = way.trail.first().map(|s| s.up);
    for step in &way.trail {
        if let (Some(piece), Some(from)) = (on, height) {
            run(piece, from, step.up, line, places, &mut course);
        }
        let starts = matches!(step.kind, StepKind::StartsOn | StepKind::StartsBehind | StepKind::StartsIn);
        if starts || matches!(step.kind, StepKind::MovesOnto | StepKind::LandsOn) {
            on = Some(step.piece);
        }
        height = Some(step.up);
        if let (Some(last), false) = (course.last(), starts) {
            turns.push(*last);
        }
    }
    let pen = Pen::solid(THICK, Ink::Water);
    let pen = if way.lost.is_some() { pen.dashed(Dash::Dashed) } else { pen };
    let course: Vec<Point> = course.into_iter().map(|p| frame.at(p.x, p.y)).collect();
    let mut shapes = Vec::new();
    for turn in turns.iter().take(turns.len().saturating_sub(1)) {
        let center = frame.at(turn.x, turn.y);
        shapes.push(Shape::Circle { center, radius: 0.7, pen: None, fill: Some(Ink::Water) });
    }
    if let Some(last) = course.last().copied() {
        let last_step = way.trail.last();
        shapes.extend(sign(last, last_step.map_or(StepKind::Drains, |s| s.kind), frame));
    }
    let words = if way.lost.is_some() {
        format!("drop, if the seal is lost: {}", way.end.word())
    } else {
        format!("drop: {}", way.end.word())
    };
    shapes.insert(0, Shape::line(course, pen));
    Shape::group(Role::Drop, words, shapes)
}

/// The course over a piece from one height to another, up or down.
fn run(piece: usize, from: Coordinate, to: Coordinate, line: &Line, places: &Places, course: &mut Vec<Point>) {
    let (low, high) = (from.min(to), from.max(to));
    let steps: Vec<usize> = (0..line.steps.len())
        .filter(|n| line.steps[*n].stack.contains(&piece))
        .filter(|n| line.steps[*n].extent.low < high && low < line.steps[*n].extent.high)
        .collect();
    let (Some(first), Some(last)) = (steps.first(), steps.last()) else { return };
    let mut points = places.course(piece, *first..last + 1, AHEAD);
    if to < from {
        points.reverse();
    }
    course.extend(points);
}

/// How it ends: an arrow where it leaves in the open, a cross where it does harm.
fn sign(at: Point, kind: StepKind, frame: &Frame) -> Vec<Shape> {
    let pen = Pen::solid(THICK, Ink::Water);
    let arrow = |to: Point| {
        let (dx, dy) = (to.x - at.x, to.y - at.y);
        let length = (dx * dx + dy * dy).sqrt().max(1e-9);
        let (dx, dy) = (dx / length, dy / length);
        let side = |turn: f64| Point::new(to.x - 1.8 * dx + turn * 0.9 * dy, to.y - 1.8 * dy - turn * 0.9 * dx);
        vec![Shape::line(vec![at, to], pen), Shape::polygon(vec![to, side(1.0), side(-1.0)], None, Some(Ink::Water))]
    };
    let cross = |at: Point| {
        let diagonal = |s: f64| vec![Point::new(at.x - 1.3, at.y - 1.3 * s), Point::new(at.x + 1.3, at.y + 1.3 * s)];
        Shape::lines(vec![diagonal(1.0), diagonal(-1.0)], Pen::solid(THICK, Ink::Black))
    };
    match kind {
        StepKind::Wets | StepKind::Behind => vec![
            Shape::Circle {
                center: at,
                radius: 1.9,
                pen: Some(Pen::solid(MEDIUM, Ink::Black)),
                fill: Some(Ink::White),
            },
            cross(at),
        ],
        StepKind::Enters | StepKind::Overtops => {
            let to = frame.shifted(at, -4.0, -2.0);
            let mut shapes = arrow(to);
            shapes.push(cross(to));
            shapes
        }
        StepKind::FallsOff => {
            let to = frame.shifted(at, 0.0, -4.5);
            let mut shapes = arrow(to);
            shapes.push(cross(to));
            shapes
        }
        StepKind::RunsOut => arrow(frame.shifted(at, 3.0, 0.5)),
        _ => arrow(frame.shifted(at, 0.0, -4.5)),
    }
}
