//! Pieces, ground, folds and breaks of a section.

use crate::model::{Axis, MaterialKind};
use crate::output::drawing::hatch::{Hatch, hatch, hatch_of};
use crate::output::drawing::lettering::{HEAVY, THICK, THIN};
use crate::output::drawing::page;
use crate::output::drawing::ruler::Ruler;
use crate::output::drawing::scene::{Dash, Ink, Pen, Point, Role, Shape};
use crate::output::drawing::section::frame::Frame;
use crate::output::drawing::section::line::Line;
use crate::output::drawing::section::place::Places;
use crate::output::drawing::subject::Subject;

/// Every piece on the line, thick ones first: membranes lie on them.
pub fn pieces(subject: &Subject, line: &Line, places: &Places, frame: &Frame) -> Vec<Shape> {
    let (thin, thick): (Vec<usize>, Vec<usize>) = line.pieces().into_iter().partition(|p| places.pieces[*p].thin);
    let piece = |index: usize| {
        let shapes = if places.pieces[index].thin {
            membrane(subject, index, line, places, frame)
        } else {
            body(subject, index, line, places, frame)
        };
        Shape::group(Role::Piece(index), page::spoken(subject.detail, index), shapes)
    };
    thick.into_iter().chain(thin).map(piece).collect()
}

fn body(subject: &Subject, index: usize, line: &Line, places: &Places, frame: &Frame) -> Vec<Shape> {
    let kind = hatch_of(&subject.detail.pieces[index].material);
    let mut shapes = Vec::new();
    for (first, last, out) in stretches(index, line, places) {
        let (low, high) = (places.along(first)[0], places.along(last)[1]);
        let area = frame.area([low, high], out);
        let fill = if kind == Hatch::Unit { Ink::Pale } else { Ink::White };
        shapes.push(Shape::polygon(area.corners(), None, Some(fill)));
        shapes.extend(hatch(area, kind, frame.runs()));
        let pen = Pen::solid(if kind == Hatch::Air { THIN } else { THICK }, Ink::Black);
        let corner = |along: f64, out: f64| frame.at(along, out);
        // Ends that run off the detail stay open.
        let open_low = line.steps[first].extent.low == crate::facts::face::OPEN_LOW;
        let open_high = line.steps[last].extent.high == crate::facts::face::OPEN_HIGH;
        let mut rim = vec![vec![corner(low, out[1]), corner(high, out[1])]];
        if !open_low {
            rim.push(vec![corner(low, out[0]), corner(low, out[1])]);
        }
        if !open_high {
            rim.push(vec![corner(high, out[0]), corner(high, out[1])]);
        }
        if places.pieces[index].cut_off {
            shapes.push(Shape::line(
                page::zigzag(corner(low, out[0]), corner(high, out[0])),
                Pen::solid(THIN, Ink::Dark),
            ));
        } else {
            rim.push(vec![corner(low, out[0]), corner(high, out[0])]);
        }
        shapes.push(Shape::lines(rim, pen));
    }
    shapes
}

/// Neighbouring steps in which a piece keeps its distance: the first, the last, and its faces there.
fn stretches(piece: usize, line: &Line, places: &Places) -> Vec<(usize, usize, [f64; 2])> {
    let mut stretches: Vec<(usize, usize, [f64; 2])> = Vec::new();
    for step in line.intervals(piece).into_iter().flatten() {
        let Some(slot) = places.slot(piece, step) else { continue };
        match stretches.last_mut() {
            Some((_, last, same)) if *last + 1 == step && *same == slot => *last = step,
            _ => stretches.push((step, step, slot)),
        }
    }
    stretches
}

/// Sheets are lines; tapes and self-adhered flashings are bands; formed metal is a heavy line; what is spread on as a
/// liquid is a dotted band.
fn membrane(subject: &Subject, index: usize, line: &Line, places: &Places, frame: &Frame) -> Vec<Shape> {
    let piece = &subject.detail.pieces[index];
    let mut shapes = Vec::new();
    for interval in line.intervals(index) {
        let low = places.along(interval.start)[0];
        let lowest = places.middle(index, interval.start);
        let course: Vec<Point> = places.course(index, interval, 0.0).into_iter().map(|p| frame.at(p.x, p.y)).collect();
        let stroke = |width: f64, ink: Ink| Shape::line(course.clone(), Pen::solid(width, ink));
        match piece.material.kind {
            Some(MaterialKind::Tape) => shapes.extend([stroke(1.3, Ink::Black), stroke(0.75, Ink::White)]),
            Some(MaterialKind::Flashing) if piece.material.adhesive.is_some() => {
                shapes.extend([stroke(1.5, Ink::Black), stroke(0.95, Ink::Light)]);
            }
            Some(MaterialKind::Flashing) => shapes.push(stroke(HEAVY, Ink::Black)),
            Some(MaterialKind::Coat) => shapes.extend([
                stroke(1.3, Ink::Light),
                Shape::line(course.clone(), Pen::solid(THICK, Ink::Black).dashed(Dash::Dotted)),
            ]),
            _ => shapes.push(stroke(THICK, Ink::Black)),
        }
        if piece.drip && frame.axis == Axis::Up {
            let lip = vec![frame.at(low, lowest), frame.at(low - 1.4, lowest + 1.5)];
            shapes.push(Shape::line(lip, Pen::solid(HEAVY, Ink::Black)));
        }
    }
    shapes
}

/// Finished ground, outside.
pub fn ground(subject: &Subject, ruler: &Ruler, places: &Places, frame: &Frame) -> Vec<Shape> {
    let Some(grade) = subject.detail.grade.filter(|_| frame.axis == Axis::Up) else { return Vec::new() };
    let at = ruler.at_mm(grade.value.si * 1000.0);
    let out = [0.0, places.reach[1] + 6.0];
    let area = frame.area([(at - 5.0).max(0.0), at], out);
    let mut shapes = hatch(area, Hatch::Earth, frame.runs());
    shapes.push(Shape::line(vec![frame.at(at, out[0]), frame.at(at, out[1])], Pen::solid(HEAVY, Ink::Black)));
    vec![Shape::group(Role::Other, "finished ground", shapes)]
}

pub fn folds(subject: &Subject, line: &Line, ruler: &Ruler, places: &Places, frame: &Frame) -> Vec<Shape> {
    let folds = subject.detail.folds.iter().filter(|fold| fold.axis == line.axis);
    let ends = [places.reach[0] - 2.5, places.reach[1] + 4.0];
    folds
        .map(|fold| {
            let at = ruler.at_mm(fold.at.si * 1000.0);
            let pen = Pen::solid(THIN, Ink::Dark).dashed(Dash::Chain);
            Shape::line(vec![frame.at(at, ends[0]), frame.at(at, ends[1])], pen)
        })
        .collect()
}

/// Zigzag lines where a stretch is broken out and where the detail is cut off.
pub fn breaks(ruler: &Ruler, places: &Places, frame: &Frame) -> Vec<Shape> {
    let ends = [places.reach[0] - 2.0, places.reach[1] + 2.0];
    let across = |at: f64| page::zigzag(frame.at(at, ends[0]), frame.at(at, ends[1]));
    let thin = Pen::solid(THIN, Ink::Dark);
    let mut shapes = vec![Shape::lines(vec![across(0.0), across(ruler.length())], thin)];
    for stretch in ruler.breaks() {
        let middle = (stretch.paper[0] + stretch.paper[1]) / 2.0;
        let gap = frame.area([middle - 1.0, middle + 1.0], ends);
        shapes.push(Shape::polygon(gap.corners(), None, Some(Ink::White)));
        shapes.push(Shape::lines(vec![across(middle - 1.0), across(middle + 1.0)], thin));
    }
    vec![Shape::group(Role::Other, "cut off here", shapes)]
}
