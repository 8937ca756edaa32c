//! Beads and gaskets on a face.

use crate::facts::face::Coordinate;
use crate::facts::nanometres;
use crate::model::Axis;
use crate::output::drawing::elevation::Plane;
use crate::output::drawing::joint::Joint;
use crate::output::drawing::page;
use crate::output::drawing::paper::BEYOND;
use crate::output::drawing::scene::{Area, Dash, Ink, Pen, Point, Role, Shape};
use crate::output::drawing::subject::Subject;

/// Beads as double dotted lines along their run, or around the whole contact when they have no place; under a piece that is seen as hidden
/// edges are. What seals the inside is not seen from outside at all.
pub fn beads(subject: &Subject, plane: &Plane) -> Vec<Shape> {
    let detail = subject.detail;
    let mut shapes = Vec::new();
    for (index, seal) in detail.seals.iter().enumerate() {
        let (first, second) = (seal.first.index, seal.second.index);
        if detail.pieces[first].inside || detail.pieces[second].inside {
            continue;
        }
        let words = page::seal_name(subject, seal);
        let open: Vec<Shape> = subject
            .joints
            .iter()
            .filter(|joint| joint.seal == index)
            .filter_map(|joint| filled(plane, joint))
            .collect();
        if !open.is_empty() {
            shapes.push(Shape::group(Role::Bead, words, open));
            continue;
        }
        let runs = match seal.at {
            Some((axis, at)) => placed(plane, first, second, axis, nanometres(at)),
            None => contact(plane, first, second),
        };
        let (seen, hidden): (Vec<Run>, Vec<Run>) = runs.into_iter().partition(|run| run.seen);
        let lines = |runs: Vec<Run>| runs.into_iter().map(|run| run.points).collect::<Vec<_>>();
        if !seen.is_empty() {
            let seen = lines(seen);
            let dark = Shape::lines(seen.clone(), Pen::solid(1.3, Ink::Dark).dashed(Dash::Dotted));
            let line = Shape::lines(seen, Pen::solid(BEYOND, Ink::Black));
            shapes.push(Shape::group(Role::Bead, words.clone(), vec![dark, line]));
        }
        if !hidden.is_empty() {
            let dashes = Shape::lines(lines(hidden), Pen::solid(BEYOND, Ink::Gray).dashed(Dash::Dashed));
            shapes.push(Shape::group(Role::Covered, format!("{words}, covered"), vec![dashes]));
        }
    }
    shapes
}

/// A stretch of a bead.
struct Run {
    points: Vec<Point>,
    /// On one side of it the one piece is seen and on the other side the other.
    seen: bool,
}

/// The bead in an open joint, where at least one of its sides is seen; nothing where both are covered or lie inside.
fn filled(plane: &Plane, joint: &Joint) -> Option<Shape> {
    let shown =
        |piece: &usize| plane.cells.block(*piece).iter().any(|(column, row)| plane.seen(column, row) == Some(*piece));
    joint.pieces.iter().any(shown).then_some(())?;
    let [low, high] = joint.edges;
    let across = joint.across;
    let area = match joint.axis {
        Axis::Up => Area::new(plane.x(across.low), plane.y(high), plane.x(across.high), plane.y(low)),
        Axis::Along => Area::new(plane.x(low), plane.y(across.high), plane.x(high), plane.y(across.low)),
    };
    Some(Shape::polygon(area.corners(), Some(Pen::solid(BEYOND, Ink::Black)), Some(Ink::Gray)))
}

/// A bead at a place runs where both pieces are at it, one over the other or edge to edge.
fn placed(plane: &Plane, first: usize, second: usize, axis: Axis, at: Coordinate) -> Vec<Run> {
    let cells = plane.cells;
    let (lines, steps) = match axis {
        Axis::Up => (cells.rows(), cells.columns()),
        Axis::Along => (cells.columns(), cells.rows()),
    };
    let extent = |line: usize| if axis == Axis::Up { cells.row(line) } else { cells.column(line) };
    let near: Vec<usize> = (0..lines).filter(|line| extent(*line).reaches(at)).collect();
    let mut runs: Vec<Run> = Vec::new();
    for step in 0..steps {
        let cell = |line: usize| if axis == Axis::Up { (step, line) } else { (line, step) };
        let there = |piece: usize| near.iter().any(|line| plane.cells.has(cell(*line).0, cell(*line).1, piece));
        if !(there(first) && there(second)) {
            continue;
        }
        let (from, to) = match axis {
            Axis::Up => {
                let (span, y) = (cells.column(step), plane.y(at));
                (Point::new(plane.x(span.low), y), Point::new(plane.x(span.high), y))
            }
            Axis::Along => {
                let (span, x) = (cells.row(step), plane.x(at));
                (Point::new(x, plane.y(span.low)), Point::new(x, plane.y(span.high)))
            }
        };
        let shows = |piece: usize| near.iter().any(|line| plane.seen(cell(*line).0, cell(*line).1) == Some(piece));
        let seen = shows(first) && shows(second);
        match runs.last_mut() {
            Some(run) if run.points.last() == Some(&from) && run.seen == seen => run.points.push(to),
            _ => runs.push(Run { points: vec![from, to], seen }),
        }
    }
    runs
}

/// The rim of what two pieces have in common, or the joint in which they meet.
fn contact(plane: &Plane, first: usize, second: usize) -> Vec<Run> {
    let mut runs = Vec::new();
    let inside = |c: Option<usize>, r: Option<usize>| match (c, r) {
        (Some(c), Some(r)) if c < plane.cells.columns() && r < plane.cells.rows() => Some((c, r)),
        _ => None,
    };
    let has = |cell: Option<(usize, usize)>, piece: usize| cell.is_some_and(|(c, r)| plane.cells.has(c, r, piece));
    for (c, r) in plane.cells.block(first).iter().filter(|(c, r)| plane.cells.has(*c, *r, first)) {
        let here = plane.cells.has(c, r, second);
        let area = plane.cell(c, r);
        let corners = area.corners();
        let sides = [
            (inside(Some(c), Some(r + 1)), [corners[0], corners[1]]),
            (inside(Some(c + 1), Some(r)), [corners[1], corners[2]]),
            (inside(Some(c), r.checked_sub(1)), [corners[3], corners[2]]),
            (inside(c.checked_sub(1), Some(r)), [corners[0], corners[3]]),
        ];
        for (beyond, line) in sides {
            let both = has(beyond, first) && has(beyond, second);
            let joint = !here && has(beyond, second) && !has(beyond, first);
            if beyond.is_some() && (here && !both || joint) {
                let shown = [plane.seen(c, r), beyond.and_then(|(c, r)| plane.seen(c, r))];
                let seen = [first, second].iter().all(|piece| shown.contains(&Some(*piece)));
                runs.push(Run { points: line.to_vec(), seen });
            }
        }
    }
    runs
}
