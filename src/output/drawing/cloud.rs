//! Clouds around what changed, as revisions are marked on drawings.

use std::f64::consts::PI;

use crate::output::drawing::paper::{CUT, MEMBRANE};
use crate::output::drawing::scene::{Area, Ink, Pen, Point, Role, Scene, Shape};

/// Width of one arc, and free paper between the cloud and what it holds, mm.
const ARC: f64 = 6.0;
const OFF: f64 = 2.5;

/// How far a cloud around an end reaches along its piece, mm.
const END: f64 = 5.0;

/// What changed on a drawing.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Changed {
    Piece(usize),
    /// Of a piece, whether its low end has moved, and its high one.
    Ends(usize, [bool; 2]),
    /// What joins two pieces, where they lie on each other.
    Joint([usize; 2]),
}

/// A cloud around each thing that changed; what lies on each other shares one.
pub fn clouds(scene: &Scene, changed: &[Changed]) -> Vec<Shape> {
    let mut areas: Vec<Area> = Vec::new();
    let parts = |piece: usize| scene.groups(Role::Piece(piece)).into_iter().flatten().cloned().collect::<Vec<_>>();
    let whole = |piece: usize| Area::around(&parts(piece)).map(|area| grown(area, OFF * scale(scene)));
    for changed in changed {
        match *changed {
            Changed::Piece(piece) => areas.extend(whole(piece)),
            Changed::Ends(piece, moved) => match ends_of(&parts(piece)) {
                Some(at) => {
                    let moved = at.into_iter().zip(moved).filter(|(_, moved)| *moved);
                    areas.extend(moved.map(|(at, _)| grown(at, END * scale(scene))));
                }
                None => areas.extend(whole(piece)),
            },
            Changed::Joint(pieces) => match pieces.map(whole) {
                [Some(one), Some(other)] if one.overlaps(other) => areas.push(common(one, other)),
                others => areas.extend(others.into_iter().flatten()),
            },
        }
    }
    // What overlaps is one cloud.
    let mut joined: Vec<Area> = Vec::new();
    for mut area in areas {
        while let Some(at) = joined.iter().position(|other| other.overlaps(area)) {
            area = area.with(joined.swap_remove(at));
        }
        joined.push(area);
    }
    let sheet = Area::new(0.0, 0.0, scene.width, scene.height);
    joined.into_iter().map(|area| cloud(within(area, sheet, ARC * scale(scene)), scale(scene))).collect()
}

/// A cloud around a part of a drawing at full size.
pub fn around(area: Area) -> Shape {
    cloud(grown(area, OFF), 1.0)
}

/// Where a piece begins and ends on a section: a line is drawn from its low end on, and so is the outline of a body, with the two
/// corners of its low end first.
fn ends_of(shapes: &[Shape]) -> Option<[Area; 2]> {
    let mut runs: Vec<(bool, Vec<Point>)> = Vec::new();
    for shape in shapes {
        shape.each(&mut |shape| {
            if let Shape::Path { runs: own, closed, .. } = shape {
                runs.extend(own.iter().filter(|run| run.len() > 1).map(|run| (*closed, run.clone())));
            }
        });
    }
    let around = |points: &[Point]| points.iter().fold(Area::at(points[0]), |area, p| area.with(Area::at(*p)));
    match runs.first()? {
        (true, corners) if corners.len() == 4 => Some([around(&corners[..2]), around(&corners[2..])]),
        (true, _) => None,
        (false, line) => Some([around(&line[..1]), around(&line[line.len() - 1..])]),
    }
}

fn scale(scene: &Scene) -> f64 {
    scene.scale
}

fn grown(area: Area, by: f64) -> Area {
    Area::new(area.left - by, area.top - by, area.right + by, area.bottom + by)
}

/// Where two areas overlap.
fn common(one: Area, other: Area) -> Area {
    Area::new(
        one.left.max(other.left),
        one.top.max(other.top),
        one.right.min(other.right),
        one.bottom.min(other.bottom),
    )
}

fn within(area: Area, sheet: Area, edge: f64) -> Area {
    let edge = edge / 2.0;
    Area::new(
        area.left.max(sheet.left + edge),
        area.top.max(sheet.top + edge),
        area.right.min(sheet.right - edge),
        area.bottom.min(sheet.bottom - edge),
    )
}

/// Arcs that bulge outward all around.
fn cloud(area: Area, scale: f64) -> Shape {
    let corners = area.corners();
    let mut points = Vec::new();
    for (n, from) in corners.iter().enumerate() {
        let to = corners[(n + 1) % corners.len()];
        let (dx, dy) = (to.x - from.x, to.y - from.y);
        let length = dx.hypot(dy);
        let count = (length / (ARC * scale)).round().max(1.0);
        for arc in 0..count as usize {
            let along = |part: f64| (arc as f64 + part) / count;
            let bulge = 0.5 * length / count;
            points.extend((0..8).map(|step| {
                // Half a circle, flattened: from one end of the arc to the other.
                let turn = PI * f64::from(step) / 8.0;
                let part = along(0.5 - 0.5 * turn.cos());
                let out = 0.6 * bulge.min(0.5 * ARC * scale) * (turn.sin());
                Point::new(
                    from.x + part * dx + out * dy / length.max(1e-9),
                    from.y + part * dy - out * dx / length.max(1e-9),
                )
            }));
        }
    }
    points.push(points[0]);
    let lines = vec![
        Shape::line(points.clone(), Pen::solid(MEMBRANE * 1.4 * scale, Ink::White)),
        Shape::line(points, Pen::solid(CUT * scale, Ink::Warm)),
    ];
    Shape::group(Role::Other, "changed", lines)
}
