//! Beads and fields of fasteners on a face.

use crate::facts::face::Coordinate;
use crate::facts::nanometres;
use crate::model::Axis;
use crate::output::drawing::elevation::Plane;
use crate::output::drawing::joint::Joint;
use crate::output::drawing::paper::{BEYOND, CASING, CUT, MEDIUM};
use crate::output::drawing::scene::{Area, Dash, Ink, Pen, Point, Role, Shape};
use crate::output::drawing::section::rows;
use crate::output::drawing::subject::Subject;

/// Beads as double dotted lines along their run, or around the whole contact when they have no place.
pub fn beads(subject: &Subject, plane: &Plane) -> Vec<Shape> {
    let detail = subject.detail;
    let mut shapes = Vec::new();
    for (index, seal) in detail.seals.iter().enumerate() {
        let (first, second) = (seal.first.index, seal.second.index);
        let words =
            format!("{} between {} and {}", seal.sealant.name, detail.pieces[first].name, detail.pieces[second].name);
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
        if runs.is_empty() {
            continue;
        }
        let dark = Shape::lines(runs.clone(), Pen::solid(1.3, Ink::Dark).dashed(Dash::Dotted));
        let line = Shape::lines(runs, Pen::solid(BEYOND, Ink::Black));
        shapes.push(Shape::group(Role::Bead, words, vec![dark, line]));
    }
    shapes
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
fn placed(plane: &Plane, first: usize, second: usize, axis: Axis, at: Coordinate) -> Vec<Vec<Point>> {
    let cells = plane.cells;
    let (lines, steps) = match axis {
        Axis::Up => (cells.rows(), cells.columns()),
        Axis::Along => (cells.columns(), cells.rows()),
    };
    let extent = |line: usize| if axis == Axis::Up { cells.row(line) } else { cells.column(line) };
    let near: Vec<usize> = (0..lines).filter(|line| extent(*line).reaches(at)).collect();
    let mut runs: Vec<Vec<Point>> = Vec::new();
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
        match runs.last_mut() {
            Some(run) if run.last() == Some(&from) => run.push(to),
            _ => runs.push(vec![from, to]),
        }
    }
    runs
}

/// The rim of what two pieces have in common, or the joint in which they meet.
fn contact(plane: &Plane, first: usize, second: usize) -> Vec<Vec<Point>> {
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
                runs.push(line.to_vec());
            }
        }
    }
    runs
}

/// Fasteners as upright crosses where they go through their piece; gray where something covers them.
pub fn fastenings(subject: &Subject, plane: &Plane) -> Vec<Shape> {
    let detail = subject.detail;
    let mut shapes = Vec::new();
    for fastening in &detail.fastenings {
        let (piece, every) = (fastening.piece.index, fastening.every.si * 1000.0);
        let (mut open, mut covered) = (Vec::new(), Vec::new());
        for up in rows(&fastening.up, every, plane.up) {
            for along in rows(&fastening.along, every, plane.along) {
                let (column, row) = (column_at(plane, along), row_at(plane, up));
                if !plane.has(column, row, piece) {
                    continue;
                }
                let at = Point::new(plane.left + plane.along.at_mm(along), plane.bottom - plane.up.at_mm(up));
                let cross = [
                    vec![Point::new(at.x - 1.4, at.y), Point::new(at.x + 1.4, at.y)],
                    vec![Point::new(at.x, at.y - 1.4), Point::new(at.x, at.y + 1.4)],
                ];
                if plane.seen(column, row) == Some(piece) { open.extend(cross) } else { covered.extend(cross) }
            }
        }
        let mut strokes = Vec::new();
        if !covered.is_empty() {
            strokes.push(Shape::lines(covered, Pen::solid(MEDIUM, Ink::Gray)));
        }
        if !open.is_empty() {
            strokes.push(Shape::lines(open.clone(), Pen::solid(CASING, Ink::White)));
            strokes.push(Shape::lines(open, Pen::solid(CUT, Ink::Black)));
        }
        if !strokes.is_empty() {
            let words = format!("{} through {}", fastening.fastener.name, detail.pieces[piece].name);
            shapes.push(Shape::group(Role::Fastening, words, strokes));
        }
    }
    shapes
}

fn column_at(plane: &Plane, mm: f64) -> usize {
    let at = (mm * 1e6) as Coordinate;
    (0..plane.cells.columns()).find(|c| at < plane.cells.column(*c).high).unwrap_or(0)
}

fn row_at(plane: &Plane, mm: f64) -> usize {
    let at = (mm * 1e6) as Coordinate;
    (0..plane.cells.rows()).find(|r| at < plane.cells.row(*r).high).unwrap_or(0)
}
