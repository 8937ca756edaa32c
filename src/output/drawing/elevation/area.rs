//! Pieces of a face as areas, and where their names point.

use crate::facts::face::{OPEN_HIGH, OPEN_LOW};
use crate::model::{Extent, MaterialKind, Piece};
use crate::output::drawing::elevation::Plane;
use crate::output::drawing::hatch::{BLOCK, BRICK, Hatch, hatch_of};
use crate::output::drawing::page;
use crate::output::drawing::paper::{BEYOND, CUT, HATCH, MEDIUM};
use crate::output::drawing::scene::{Area, Dash, Ink, Pen, Point, Role, Shape};
use crate::output::drawing::section::is_sill;
use crate::output::drawing::subject::Subject;

/// Every piece of the outer face: its seen area, its seen edges as lines, its covered ones dashed.
pub fn pieces(subject: &Subject, plane: &Plane) -> Vec<Shape> {
    let outer: Vec<usize> = (0..subject.detail.pieces.len()).filter(|p| !subject.detail.pieces[*p].inside).collect();
    let mut fills = Vec::new();
    let mut covered = Vec::new();
    let mut seen = Vec::new();
    for piece in outer {
        let material = &subject.detail.pieces[piece].material;
        let words = page::accessible_name(subject, piece);
        let areas = areas(plane, piece);
        if !areas.is_empty() {
            let (ink, strokes) = match is_sill(subject.detail, &subject.detail.pieces[piece]) {
                true if hatch_of(material) == Hatch::Masonry && subject.detail.pieces[piece].layer.is_some() => {
                    (Ink::White, Strokes::Upright(BRICK[0] / plane.scale))
                }
                _ => paint(subject, piece, plane.scale),
            };
            let runs = areas.iter().map(|area| area.corners()).collect();
            // The thin rim closes the seams between cells.
            let pen = Some(Pen::solid(0.06, ink));
            let mut shapes = vec![Shape::Path { runs, closed: true, pen, fill: Some(ink) }];
            let lines: Vec<Vec<Point>> = areas.iter().flat_map(|area| strokes.on(*area)).collect();
            if !lines.is_empty() {
                shapes.push(Shape::lines(lines, Pen::solid(HATCH, Ink::Light)));
            }
            fills.push(Shape::group(Role::Piece(piece), words, shapes));
        }
        let edges = edges(plane, piece);
        let runs = |shown: bool| edges.iter().filter(|e| e.1 == shown).map(|e| e.0.to_vec()).collect::<Vec<_>>();
        covered.push(Shape::lines(runs(false), Pen::solid(BEYOND, Ink::Gray).dashed(Dash::Dashed)));
        let heavy = material.kind == Some(MaterialKind::Unit) || material.kind == Some(MaterialKind::Flashing);
        let lines = Shape::lines(runs(true), Pen::solid(if heavy { CUT } else { MEDIUM }, Ink::Black));
        seen.push(Shape::group(Role::Outline(piece), "", vec![lines]));
    }
    fills.push(Shape::group(Role::Covered, "covered edges", covered));
    fills.push(Shape::group(Role::Other, "edges", seen));
    fills
}

/// What is seen on the face of a material.
#[derive(Clone, Copy)]
enum Strokes {
    Plain,
    /// Upright lines so far apart: boards, and strips that are bonded, densely.
    Upright(f64),
    /// Level lines so far apart: the grain of a member that lies along the wall.
    Level(f64),
    /// Courses so high, of units so long, each half over the next.
    Courses(f64, f64),
    /// Courses so high of slates about so wide, each over two of the course below: their thickness is seen at their feet.
    Lapped(f64, f64),
}

/// What the foot of a slate is seen as, mm of paper.
const BUTT: f64 = 0.6;

/// The tone of a kind of material, and what is seen on it.
fn paint(subject: &Subject, piece: usize, scale: f64) -> (Ink, Strokes) {
    use MaterialKind::{Board, Cladding, Coat, Flashing, Frame, Sheet, Tape};
    let piece = &subject.detail.pieces[piece];
    let material = &piece.material;
    match (material.kind, hatch_of(material)) {
        (Some(Tape), _) => (Ink::White, Strokes::Upright(0.9)),
        (Some(Flashing), _) if material.adhesive.is_some() => (Ink::Pale, Strokes::Upright(0.9)),
        (Some(Flashing), _) => (Ink::Light, Strokes::Plain),
        (Some(Sheet | Coat), _) => (Ink::Pale, Strokes::Plain),
        (_, Hatch::Masonry) => (Ink::White, Strokes::Courses(BRICK[0] / scale, BRICK[1] / scale)),
        (_, Hatch::Block) => (Ink::White, Strokes::Courses(BLOCK[0] / scale, BLOCK[1] / scale)),
        (_, Hatch::Slate) => (Ink::White, Strokes::Lapped(5.0, 6.0)),
        (Some(Frame), _) if lies(piece) => (Ink::White, Strokes::Level(3.0)),
        // The joints of panels are farther apart than most details are wide.
        (_, Hatch::Plywood | Hatch::Osb) => (Ink::White, Strokes::Plain),
        (_, Hatch::Board | Hatch::Lumber | Hatch::Blocking) => (Ink::White, Strokes::Upright(3.0)),
        (Some(Board | Cladding | Frame), Hatch::Metal | Hatch::Other) => (Ink::White, Strokes::Upright(3.0)),
        _ => (Ink::White, Strokes::Plain),
    }
}

/// A ledger, a plate or a nailer lies along the wall; a stud and a post stand.
fn lies(piece: &Piece) -> bool {
    let long = |extent: Extent| extent.low.zip(extent.high).map_or(f64::INFINITY, |(low, high)| high.si - low.si);
    long(piece.along) > long(piece.up)
}

impl Strokes {
    fn on(self, area: Area) -> Vec<Vec<Point>> {
        let within = |apart: f64, low: f64, high: f64| (low / apart).ceil() as i64..=(high / apart).floor() as i64;
        match self {
            Strokes::Plain => Vec::new(),
            Strokes::Upright(apart) => {
                let line =
                    |n: i64| vec![Point::new(n as f64 * apart, area.top), Point::new(n as f64 * apart, area.bottom)];
                within(apart, area.left, area.right).map(line).collect()
            }
            Strokes::Level(apart) => {
                let line =
                    |n: i64| vec![Point::new(area.left, n as f64 * apart), Point::new(area.right, n as f64 * apart)];
                within(apart, area.top, area.bottom).map(line).collect()
            }
            Strokes::Courses(high, long) => {
                let level =
                    |n: i64| vec![Point::new(area.left, n as f64 * high), Point::new(area.right, n as f64 * high)];
                let mut lines: Vec<Vec<Point>> = within(high, area.top, area.bottom).map(level).collect();
                for course in (area.top / high).floor() as i64..=(area.bottom / high).floor() as i64 {
                    let (top, foot) =
                        ((course as f64 * high).max(area.top), ((course + 1) as f64 * high).min(area.bottom));
                    let aside = if course % 2 == 0 { 0.0 } else { long / 2.0 };
                    let joint = |n: i64| n as f64 * long + aside;
                    let joints = within(long, area.left - aside, area.right - aside).map(joint).filter(|_| top < foot);
                    lines.extend(joints.map(|x| vec![Point::new(x, top), Point::new(x, foot)]));
                }
                lines
            }
            Strokes::Lapped(high, long) => {
                let across = |y: f64| vec![Point::new(area.left, y), Point::new(area.right, y)];
                let feet = within(high, area.top, area.bottom).map(|n| across(n as f64 * high));
                let butts = within(high, area.top + BUTT, area.bottom + BUTT).map(|n| across(n as f64 * high - BUTT));
                let mut lines: Vec<Vec<Point>> = feet.chain(butts).collect();
                for course in (area.top / high).floor() as i64..=(area.bottom / high).floor() as i64 {
                    let top = (course as f64 * high).max(area.top);
                    let foot = ((course + 1) as f64 * high - BUTT).min(area.bottom);
                    // Every other slate is narrower, and each course begins elsewhere.
                    let joint =
                        |n: i64| (n as f64 + [0.0, 0.22][n.rem_euclid(2) as usize]) * long + aside(course) * long;
                    let near = (area.left / long).floor() as i64 - 2..=(area.right / long).ceil() as i64 + 1;
                    let joints = near.map(joint).filter(|x| top < foot && (area.left..=area.right).contains(x));
                    lines.extend(joints.map(|x| vec![Point::new(x, top), Point::new(x, foot)]));
                }
                lines
            }
        }
    }
}

/// How far along a course of slates begins, in parts of a slate: over no joint of the course below.
fn aside(course: i64) -> f64 {
    [0.0, 0.6, 0.3][course.rem_euclid(3) as usize]
}

/// The seen area of a piece, a rectangle for each run of rows in a column.
pub fn areas(plane: &Plane, piece: usize) -> Vec<Area> {
    let block = plane.cells.block(piece).clone();
    let mut areas: Vec<Area> = Vec::new();
    for column in block.columns {
        let mut below: Option<usize> = None;
        for row in block.rows.clone().filter(|row| plane.seen(column, *row) == Some(piece)) {
            let cell = plane.part(column, row, piece);
            match areas.last_mut() {
                Some(last) if below == row.checked_sub(1) && below.is_some() => last.top = cell.top,
                _ => areas.push(cell),
            }
            below = Some(row);
        }
    }
    areas
}

/// The edges of a piece, each with whether it is seen there.
fn edges(plane: &Plane, piece: usize) -> Vec<([Point; 2], bool)> {
    let block = plane.cells.block(piece).clone();
    let mut edges: Vec<([Point; 2], bool)> = Vec::new();
    let has = |column: Option<usize>, row: Option<usize>| match (column, row) {
        (Some(c), Some(r)) if c < plane.cells.columns() && r < plane.cells.rows() => plane.has(c, r, piece),
        _ => false,
    };
    let mut add = |from: Point, to: Point, seen: bool| match edges.last_mut() {
        Some((line, shown)) if *shown == seen && line[1] == from && straight(line[0], from, to) => line[1] = to,
        _ => edges.push(([from, to], seen)),
    };
    // Level edges along each row line, then upright ones along each column line.
    for row in block.rows.clone() {
        for (beyond, high) in [(row.checked_sub(1), false), (Some(row + 1), true)] {
            for column in block.columns.clone().filter(|c| has(Some(*c), Some(row)) && !has(Some(*c), beyond)) {
                let extent = plane.cells.row(row);
                let at = if high { extent.high } else { extent.low };
                if at != OPEN_LOW && at != OPEN_HIGH {
                    let cell = plane.part(column, row, piece);
                    let y = if high { cell.top } else { cell.bottom };
                    let seen = plane.seen(column, row) == Some(piece);
                    add(Point::new(cell.left, y), Point::new(cell.right, y), seen);
                }
            }
        }
    }
    for column in block.columns.clone() {
        for (beyond, high) in [(column.checked_sub(1), false), (Some(column + 1), true)] {
            for row in block.rows.clone().filter(|r| has(Some(column), Some(*r)) && !has(beyond, Some(*r))) {
                let extent = plane.cells.column(column);
                let at = if high { extent.high } else { extent.low };
                if at != OPEN_LOW && at != OPEN_HIGH {
                    let cell = plane.part(column, row, piece);
                    let x = if high { cell.right } else { cell.left };
                    let seen = plane.seen(column, row) == Some(piece);
                    add(Point::new(x, cell.bottom), Point::new(x, cell.top), seen);
                }
            }
        }
    }
    edges
}

fn straight(a: Point, b: Point, c: Point) -> bool {
    (a.x == b.x && b.x == c.x) || (a.y == b.y && b.y == c.y)
}

/// For each piece of the outer face that the names point at: the point, and whether the piece is seen there. From the
/// top down.
pub fn names(subject: &Subject, plane: &Plane) -> Vec<(usize, Point, bool)> {
    let mut names: Vec<(usize, Point, bool)> = Vec::new();
    for piece in (0..subject.detail.pieces.len()).filter(|p| !subject.detail.pieces[*p].inside) {
        let areas = areas(plane, piece);
        let largest = |areas: &[Area]| {
            areas.iter().copied().reduce(|a, b| if b.width() * b.height() > a.width() * a.height() { b } else { a })
        };
        let (area, seen) = match largest(&areas) {
            Some(area) => (area, true),
            None => match largest(&cells(plane, piece)) {
                Some(area) => (area, false),
                None => continue,
            },
        };
        // Different parts of equal areas, so that the points of pieces that cover each other do not coincide.
        let part = 0.3 + 0.4 * (piece % 7) as f64 / 6.0;
        let at = Point::new(area.left + 0.6 * area.width(), area.top + part * area.height());
        names.push((piece, at, seen));
    }
    names.sort_by(|a, b| a.1.y.total_cmp(&b.1.y).then(b.1.x.total_cmp(&a.1.x)));
    names
}

/// All cells of a piece, seen or not.
pub fn cells(plane: &Plane, piece: usize) -> Vec<Area> {
    let block = plane.cells.block(piece);
    block.iter().filter(|(c, r)| plane.has(*c, *r, piece)).map(|(c, r)| plane.part(c, r, piece)).collect()
}
