//! The ways of drops on a face.

use crate::facts::face::{self, Fall, StepKind};
use crate::output::drawing::front::Plane;
use crate::output::drawing::lettering::{MEDIUM, THICK};
use crate::output::drawing::scene::{Dash, Ink, Pen, Point, Role, Shape};
use crate::output::drawing::subject::Subject;

/// One line for each different way, in the widest columns in which it is gone. A way that depends on a lost seal is
/// told only where it does harm.
pub fn draw(subject: &Subject, plane: &Plane) -> Vec<Shape> {
    let mut ways: Vec<(Fall, [f64; 2])> = Vec::new();
    for columns in plane.cells.alike_columns() {
        let left = plane.x(plane.cells.column(columns.start).low);
        let right = plane.x(plane.cells.column(columns.end - 1).high);
        for fall in face::falls(&subject.shape, plane.cells, columns.start) {
            if fall.lost.is_some() && !fall.end.is_damage() {
                continue;
            }
            match ways.iter_mut().find(|(known, _)| *known == fall) {
                Some((_, span)) if right - left > span[1] - span[0] => *span = [left, right],
                Some(_) => {}
                None => ways.push((fall, [left, right])),
            }
        }
    }
    // Ways of one column stand side by side.
    let count = ways.len();
    (0..count)
        .map(|n| {
            let (fall, span) = &ways[n];
            let beside: Vec<usize> = (0..count).filter(|m| ways[*m].1 == *span).collect();
            let place = beside.iter().position(|m| *m == n).unwrap_or(0);
            let part = (place as f64 + 1.0) / (beside.len() as f64 + 1.0);
            way(fall, span[0] + part * (span[1] - span[0]), plane)
        })
        .collect()
}

fn way(fall: &Fall, x: f64, plane: &Plane) -> Shape {
    let mut points: Vec<Point> = fall.trail.iter().map(|step| Point::new(x, plane.y(step.up))).collect();
    // What rises again does so beside its way down.
    let rises = fall.trail.last().is_some_and(|s| matches!(s.kind, StepKind::RunsOut | StepKind::Overtops));
    if let Some(last) = points.pop_if(|_| rises) {
        let foot = points.last().map_or(last.y, |p| p.y);
        points.extend([Point::new(x + 1.2, foot), Point::new(x + 1.2, last.y)]);
    }
    let pen = Pen::solid(THICK, Ink::Water);
    let pen = if fall.lost.is_some() { pen.dashed(Dash::Dashed) } else { pen };
    let mut shapes = vec![Shape::line(points.clone(), pen)];
    let turns = fall.trail.iter().skip(1).filter(|s| {
        matches!(
            s.kind,
            StepKind::PassesBehind | StepKind::SealLost | StepKind::MovesOnto | StepKind::LandsOn | StepKind::BacksUp
        )
    });
    shapes.extend(turns.map(|step| {
        // Where it passes behind something the dot is hollow: from there on it is not seen.
        let hollow = matches!(step.kind, StepKind::PassesBehind | StepKind::SealLost);
        Shape::Circle {
            center: Point::new(x, plane.y(step.up)),
            radius: 0.8,
            pen: Some(Pen::solid(MEDIUM, Ink::Water)),
            fill: Some(if hollow { Ink::White } else { Ink::Water }),
        }
    }));
    if let Some(end) = points.last() {
        shapes.extend(sign(*end, fall));
    }
    let how = if fall.lost.is_some() { "drop, if the seal is lost" } else { "drop" };
    Shape::group(Role::Drop, format!("{how}: {}", fall.end.word()), shapes)
}

/// An arrow for what leaves in the open, a cross in a ring for what does harm.
fn sign(at: Point, fall: &Fall) -> Vec<Shape> {
    if fall.end.is_damage() {
        let diagonal = |s: f64| vec![Point::new(at.x - 1.2, at.y - 1.2 * s), Point::new(at.x + 1.2, at.y + 1.2 * s)];
        return vec![
            Shape::Circle {
                center: at,
                radius: 1.9,
                pen: Some(Pen::solid(MEDIUM, Ink::Black)),
                fill: Some(Ink::White),
            },
            Shape::lines(vec![diagonal(1.0), diagonal(-1.0)], Pen::solid(THICK, Ink::Black)),
        ];
    }
    let down = if fall.trail.last().is_some_and(|s| s.kind == StepKind::RunsOut) { -1.0 } else { 1.0 };
    let tip = Point::new(at.x, at.y + 3.0 * down);
    let side = |s: f64| Point::new(tip.x + 0.9 * s, tip.y - 1.8 * down);
    vec![
        Shape::line(vec![at, tip], Pen::solid(THICK, Ink::Water)),
        Shape::polygon(vec![tip, side(1.0), side(-1.0)], None, Some(Ink::Water)),
    ]
}
