//! Whatever a section cuts off has a break line there: no body ends in nothing.

use headlap::output::drawing::{self, Ink, Point, Role, Scene, SectionLine, Shape, Subject};
use headlap::review::Run;

use crate::drawing::{demo, run_folder};

/// Near enough to be the same line, mm of paper.
const NEAR: f64 = 0.3;

/// Shorter edges are parts of a miter, mm of paper.
const LEAST: f64 = 2.0;

/// The edges of a run, with the last one of what is closed.
fn segments(runs: &[Vec<Point>], closed: bool) -> Vec<[Point; 2]> {
    let of = |run: &Vec<Point>| {
        let mut all: Vec<[Point; 2]> = run.windows(2).map(|pair| [pair[0], pair[1]]).collect();
        if let (true, [first, .., last]) = (closed, &run[..]) {
            all.push([*last, *first]);
        }
        all
    };
    runs.iter().flat_map(of).collect()
}

/// How far a point lies from the straight line through a segment, and where along it.
fn from_line([a, b]: [Point; 2], p: Point) -> (f64, f64) {
    let (dx, dy) = (b.x - a.x, b.y - a.y);
    let long = dx.hypot(dy).max(1e-9);
    let (x, y) = (p.x - a.x, p.y - a.y);
    ((x * dy - y * dx).abs() / long, (x * dx + y * dy) / long)
}

/// One of the segments lies along the middle of an edge.
fn covered(edge: [Point; 2], by: &[[Point; 2]], near: f64) -> bool {
    let middle = Point::new((edge[0].x + edge[1].x) / 2.0, (edge[0].y + edge[1].y) / 2.0);
    by.iter().any(|other| {
        let long = (other[1].x - other[0].x).hypot(other[1].y - other[0].y);
        let (off, along) = from_line(*other, middle);
        let parallel = edge.iter().all(|p| from_line(*other, *p).0 < near);
        off < near && parallel && (-near..=long + near).contains(&along)
    })
}

/// The ends of bodies that are neither outlined nor broken off, with the name of their piece.
fn bare_ends(subject: &Subject, scene: &Scene) -> Vec<String> {
    let paper = |p: &Point| Point::new(p.x / scene.scale, p.y / scene.scale);
    let runs_of =
        |runs: &[Vec<Point>]| -> Vec<Vec<Point>> { runs.iter().map(|run| run.iter().map(paper).collect()).collect() };
    let mut breaks: Vec<[Point; 2]> = Vec::new();
    for group in scene.groups(Role::Break) {
        for shape in group {
            shape.each(&mut |shape| {
                if let Shape::Path { runs, closed: false, .. } = shape {
                    // A broken line is as long as from its first point to its last.
                    breaks.extend(runs_of(runs).iter().map(|run| [run[0], run[run.len() - 1]]));
                }
            });
        }
    }
    let mut bare = Vec::new();
    for (index, piece) in subject.detail.pieces.iter().enumerate() {
        let (mut bodies, mut lines) = (Vec::new(), breaks.clone());
        for shape in scene.groups(Role::Piece(index)).into_iter().flatten() {
            let Shape::Group { role: Role::Hatch(hatch), shapes, .. } = shape else {
                shape.each(&mut |shape| {
                    if let Shape::Path { runs, closed, pen: Some(_), .. } = shape {
                        let runs = runs_of(runs);
                        lines.extend(segments(&runs, *closed));
                        lines.extend(runs.iter().map(|run| [run[0], run[run.len() - 1]]));
                    }
                });
                continue;
            };
            if format!("{hatch:?}") == "Air" {
                continue;
            }
            if let Some(Shape::Path { runs, fill: Some(Ink::White), .. }) = shapes.first() {
                bodies.push(segments(&runs_of(runs), true));
            }
        }
        for (n, body) in bodies.iter().enumerate() {
            // Parts of one piece meet without a line.
            let others: Vec<[Point; 2]> =
                bodies.iter().enumerate().filter(|(m, _)| *m != n).flat_map(|(_, body)| body.clone()).collect();
            for edge in body {
                let long = (edge[1].x - edge[0].x).hypot(edge[1].y - edge[0].y);
                if long > LEAST && !covered(*edge, &lines, NEAR) && !covered(*edge, &others, NEAR) {
                    bare.push(format!("{} {:?}", piece.name, edge));
                }
            }
        }
    }
    bare
}

fn check(run: &Run) -> Vec<String> {
    let mut all = Vec::new();
    for facts in run.checked.iter().flat_map(|c| &c.facts.details) {
        let subject = Subject::new(facts, &[]);
        let Some(line) = SectionLine::principal(&subject) else { continue };
        let scene = drawing::bare_section(&subject, &line);
        all.extend(bare_ends(&subject, &scene).into_iter().map(|said| format!("{}: {said}", facts.detail.name)));
    }
    all
}

#[test]
fn whatever_is_cut_off_has_a_break_line() {
    let mut bare = check(demo());
    for set in ["22", "24", "28", "29", "33", "35"] {
        bare.extend(check(&run_folder(&format!("tests/trials/{set}"))));
    }
    assert!(bare.is_empty(), "{}: {:#?}", bare.len(), &bare[..bare.len().min(40)]);
}

/// It is no lighter than what lies beyond the cut, so that it is seen beside heavy outlines, and reaches past them.
#[test]
fn a_break_line_is_seen() {
    let run = run_folder("tests/trials/29/parapet.detail");
    let facts = run.checked.iter().flat_map(|c| &c.facts.details).next().expect("a detail");
    let subject = Subject::new(facts, &[]);
    let scene = drawing::bare_section(&subject, &SectionLine::principal(&subject).expect("a line"));
    let mut lines = 0;
    for shape in scene.groups(Role::Break).into_iter().flatten() {
        shape.each(&mut |shape| {
            if let Shape::Path { pen: Some(pen), .. } = shape {
                assert!(pen.width >= 0.25 * scene.scale - 1e-9, "{} mm", pen.width / scene.scale);
                lines += 1;
            }
        });
    }
    assert!(lines >= 2, "{lines}");
}
