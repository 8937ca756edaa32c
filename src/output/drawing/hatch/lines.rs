//! The lines of the indications, in mm of paper.

use crate::output::drawing::hatch::Runs;
use crate::output::drawing::paper::HATCH;
use crate::output::drawing::scene::{Area, Ink, Pen, Point, Shape};

/// Lines at 45 degrees, `apart` from each other, clipped to the area: up to the right for a `slope` of 1.
pub(super) fn slanted(area: Area, apart: f64, slope: f64) -> Vec<Vec<Point>> {
    // Points of a line share x + slope * y; lines of different areas are in step.
    let step = apart * std::f64::consts::SQRT_2;
    let ends: Vec<f64> = area.corners().into_iter().map(|p| p.x + slope * p.y).collect();
    let (low, high) = ends.iter().fold((f64::MAX, f64::MIN), |(l, h), e| (l.min(*e), h.max(*e)));
    let first = (low / step).ceil() as i64;
    let last = (high / step).floor() as i64;
    (first..=last)
        .filter_map(|n| {
            let sum = n as f64 * step;
            let y = |x: f64| (sum - x) / slope;
            let x = |y: f64| sum - slope * y;
            let (y1, y2) = (y(area.left), y(area.right));
            let (from, to) = (y1.clamp(area.top, area.bottom), y2.clamp(area.top, area.bottom));
            let line = vec![Point::new(x(from), from), Point::new(x(to), to)];
            ((from - to).abs() > 1e-6).then_some(line)
        })
        .collect()
}

/// Pairs of lines at 45 degrees, as steel has them: `apart` from each other, the two of a pair aside by so much.
pub(super) fn paired(area: Area, apart: f64, aside: f64) -> Vec<Vec<Point>> {
    let mut lines = slanted(area, apart, 1.0);
    let beside = Area { left: area.left - aside, right: area.right - aside, ..area };
    let moved = |line: Vec<Point>| line.into_iter().map(|p| Point::new(p.x + aside, p.y)).collect();
    lines.extend(slanted(beside, apart, 1.0).into_iter().map(moved));
    lines
}

/// Slates or shingles on each other: each lies on the one below and reaches under the one above.
pub(super) fn lapped(area: Area, runs: Runs) -> Vec<Vec<Point>> {
    let (low, high) = if runs == Runs::Level { (area.left, area.right) } else { (area.top, area.bottom) };
    let numbers = (low / SLATE).floor() as i64 - 1..=(high / SLATE).floor() as i64;
    let line = |n: i64| {
        let foot = n as f64 * SLATE;
        let (from, to) = (foot.max(low), (foot + SLATE).min(high));
        // From the face at its foot to the bed at its head.
        let part = |at: f64| (at - foot) / SLATE;
        let p = |at: f64| match runs {
            Runs::Level => Point::new(at, area.bottom - part(at) * area.height()),
            Runs::Upright => Point::new(area.right - part(at) * area.width(), at),
        };
        (from < to).then(|| vec![p(from), p(to)])
    };
    numbers.filter_map(line).collect()
}

/// Length of a slate on paper.
const SLATE: f64 = 9.0;

pub(super) fn grain(area: Area, runs: Runs, apart: f64) -> Vec<Vec<Point>> {
    let across = if runs == Runs::Upright { area.width() } else { area.height() };
    let count = (across / apart).round().max(2.0) as usize;
    (1..count)
        .map(|n| {
            let part = n as f64 / count as f64;
            match runs {
                Runs::Upright => {
                    let x = area.left + part * area.width();
                    vec![Point::new(x, area.top), Point::new(x, area.bottom)]
                }
                Runs::Level => {
                    let y = area.top + part * area.height();
                    vec![Point::new(area.left, y), Point::new(area.right, y)]
                }
            }
        })
        .collect()
}

/// One cross over the section of a member, as a ledger on edge has it; crosses side by side only where it runs on much farther.
pub(super) fn crosses(area: Area, runs: Runs, both: bool) -> Vec<Vec<Point>> {
    let (along, across) = match runs {
        Runs::Upright => (area.height(), area.width()),
        Runs::Level => (area.width(), area.height()),
    };
    let count = (along / (SLENDER * across.max(1.0))).ceil().clamp(1.0, 200.0) as usize;
    let mut lines = Vec::with_capacity(2 * count);
    for n in 0..count {
        let (from, to) = (n as f64 / count as f64, (n + 1) as f64 / count as f64);
        let part = match runs {
            Runs::Upright => Area { top: area.top + from * along, bottom: area.top + to * along, ..area },
            Runs::Level => Area { left: area.left + from * along, right: area.left + to * along, ..area },
        };
        lines.push(vec![Point::new(part.left, part.top), Point::new(part.right, part.bottom)]);
        if both {
            lines.push(vec![Point::new(part.left, part.bottom), Point::new(part.right, part.top)]);
        }
    }
    lines
}

/// No section of lumber is so many times as deep as it is wide.
const SLENDER: f64 = 10.0;

/// Bed joints across a layer of masonry.
pub(super) fn courses(area: Area, runs: Runs, apart: f64) -> Vec<Vec<Point>> {
    let (low, high) = if runs == Runs::Upright { (area.top, area.bottom) } else { (area.left, area.right) };
    let numbers = (low / apart).ceil() as i64..=(high / apart).floor() as i64;
    let line = |at: f64| match runs {
        Runs::Upright => vec![Point::new(area.left, at), Point::new(area.right, at)],
        Runs::Level => vec![Point::new(at, area.top), Point::new(at, area.bottom)],
    };
    numbers.map(|n| line(n as f64 * apart)).collect()
}

/// Fibers along a board: waves beside each other.
pub(super) fn fibres(area: Area, runs: Runs) -> Vec<Vec<Point>> {
    let (along, across) = match runs {
        Runs::Upright => (area.height(), area.width()),
        Runs::Level => (area.width(), area.height()),
    };
    let count = (across / 2.6).round().clamp(1.0, 60.0) as usize;
    let swing = (0.3 * across / count as f64).min(0.7);
    let steps = (along / 0.8).ceil().clamp(2.0, 600.0) as usize;
    let fibre = |n: usize| {
        let middle = (n as f64 + 0.5) / count as f64 * across;
        let point = |step: usize| {
            let at = step as f64 / steps as f64 * along;
            let aside = middle + swing * (at * 1.4 + n as f64).sin();
            match runs {
                Runs::Upright => Point::new(area.left + aside, area.top + at),
                Runs::Level => Point::new(area.left + at, area.top + aside),
            }
        };
        (0..=steps).map(point).collect()
    };
    (0..count).map(fibre).collect()
}

/// Short strands that lie more or less along a board.
pub(super) fn flakes(area: Area, runs: Runs) -> Vec<Vec<Point>> {
    let inner = inset(area, 0.1);
    let strand = |(at, seed): (Point, u32)| {
        let turn = (f64::from(seed & 0xFF) / 256.0 - 0.5) * 0.7;
        let (along, aside) = (0.6 * turn.cos(), 0.6 * turn.sin());
        let (x, y) = if runs == Runs::Upright { (aside, along) } else { (along, aside) };
        vec![Point::new(at.x - x, at.y - y), Point::new(at.x + x, at.y + y)]
    };
    let strands = scattered(area, 1.1).into_iter().map(strand);
    strands.filter(|strand| strand.iter().all(|p| inner.contains(*p))).collect()
}

/// Beads side by side.
pub(super) fn beads(area: Area) -> Vec<Shape> {
    let inner = inset(area, 0.5);
    let rim = Some(Pen::solid(HATCH, Ink::Dark));
    let points = scattered(area, 1.9).into_iter().filter(|(at, _)| inner.contains(*at));
    points.map(|(center, _)| Shape::Circle { center, radius: 0.45, pen: rim, fill: None }).collect()
}

/// Round stones of different sizes.
pub(super) fn stones(area: Area) -> Vec<Shape> {
    let rim = Some(Pen::solid(HATCH, Ink::Dark));
    let mut shapes = Vec::new();
    for (center, seed) in scattered(area, 3.4) {
        let radius = 0.7 + f64::from(seed & 0x7F) / 160.0;
        if inset(area, radius + 0.1).contains(center) {
            shapes.push(Shape::Circle { center, radius, pen: rim, fill: None });
        }
    }
    shapes
}

/// The loops of a batt, from face to face.
pub(super) fn loops(area: Area, runs: Runs) -> Vec<Point> {
    let (along, across) = match runs {
        Runs::Upright => (area.height(), area.width()),
        Runs::Level => (area.width(), area.height()),
    };
    let waves = (along / (0.6 * across).clamp(2.5, 14.0)).ceil().clamp(1.0, 400.0);
    let steps = (waves as usize) * 28;
    (0..=steps)
        .map(|n| {
            let part = n as f64 / steps as f64;
            let turn = part * waves * std::f64::consts::TAU;
            // The waves overhang, so that they end in bulbs.
            let along = (part * along + 0.16 * (along / waves) * (2.0 * turn).sin()).clamp(0.0, along);
            let across = across * (0.5 - 0.46 * turn.cos());
            match runs {
                Runs::Upright => Point::new(area.left + across, area.top + along),
                Runs::Level => Point::new(area.left + along, area.top + across),
            }
        })
        .collect()
}

/// One point in each square of a grid, off its middle by an amount that depends on the square alone: the same drawing
/// comes out every time.
fn scattered(area: Area, apart: f64) -> Vec<(Point, u32)> {
    let squares = |low: f64, high: f64| (low / apart).floor() as i64..=(high / apart).floor() as i64;
    let mut points = Vec::new();
    for column in squares(area.left, area.right) {
        for row in squares(area.top, area.bottom) {
            let mut seed = (column as u32).wrapping_mul(0x9E37_79B1) ^ (row as u32).wrapping_mul(0x85EB_CA77);
            seed ^= seed >> 15;
            seed = seed.wrapping_mul(0x2C1B_3C6D);
            seed ^= seed >> 12;
            let part = |bits: u32| f64::from(bits & 0xFF) / 256.0;
            let at = Point::new((column as f64 + part(seed)) * apart, (row as f64 + part(seed >> 8)) * apart);
            points.push((at, seed >> 16));
        }
    }
    points
}

pub(super) fn dots(area: Area, apart: f64, radius: f64) -> Vec<Shape> {
    let inner = inset(area, radius + 0.1);
    let points = scattered(area, apart).into_iter().filter(|(at, _)| inner.contains(*at));
    points.map(|(center, _)| Shape::Circle { center, radius, pen: None, fill: Some(Ink::Dark) }).collect()
}

pub(super) fn triangles(area: Area) -> Vec<Shape> {
    let inner = inset(area, 0.9);
    let points = scattered(area, 5.5).into_iter().filter(|(at, _)| inner.contains(*at));
    points
        .map(|(at, seed)| {
            let turn = f64::from(seed & 0xFF) / 256.0 * std::f64::consts::TAU;
            let corner = |n: f64| {
                let angle = turn + n * std::f64::consts::TAU / 3.0;
                Point::new(at.x + 0.75 * angle.cos(), at.y + 0.75 * angle.sin())
            };
            Shape::polygon(vec![corner(0.0), corner(1.0), corner(2.0)], Some(Pen::solid(HATCH, Ink::Dark)), None)
        })
        .collect()
}

/// Groups of three strokes, each at right angles to its neighbors.
pub(super) fn strokes(area: Area) -> Vec<Vec<Point>> {
    const SIDE: f64 = 3.3;
    let fit = |length: f64| ((length / SIDE).floor() as usize, (length % SIDE) / 2.0);
    let ((columns, left), (rows, top)) = (fit(area.width()), fit(area.height()));
    let mut lines = Vec::new();
    for (column, row) in (0..columns).flat_map(|column| (0..rows).map(move |row| (column, row))) {
        let x = area.left + left + (column as f64 + 0.5) * SIDE;
        let y = area.top + top + (row as f64 + 0.5) * SIDE;
        let lean = if (column + row) % 2 == 0 { 1.0 } else { -1.0 };
        for aside in [-0.55, 0.0, 0.55] {
            let (x, y) = (x + aside, y + lean * aside);
            lines.push(vec![Point::new(x - 0.9, y + 0.9 * lean), Point::new(x + 0.9, y - 0.9 * lean)]);
        }
    }
    lines
}

fn inset(area: Area, by: f64) -> Area {
    Area::new(area.left + by, area.top + by, area.right - by, area.bottom - by)
}
