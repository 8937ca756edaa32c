//! What stands around a drawing: its name, the names of pieces, the list of findings.

use crate::model::{Axis, Detail};
use crate::output::drawing::lettering::{HAIR, LINE, SMALL, THIN, TITLE, WORDS, wrap};
use crate::output::drawing::mark;
use crate::output::drawing::ruler::Ruler;
use crate::output::drawing::scene::{Ink, Pen, Point, Role, Shape};
use crate::output::drawing::subject::Subject;
use crate::output::visible;

/// Free paper around everything, mm.
pub const MARGIN: f64 = 5.0;

/// Distance of the lines of a name, mm.
pub const LABEL_LINE: f64 = 3.6;

/// `B1, base-of-wall: Board wall on the stem wall`
pub fn name(detail: &Detail) -> String {
    let title = detail.title.as_deref().map_or(String::new(), |title| format!(": {title}"));
    visible(&format!("{}, {}{title}", detail.name, detail.kind)).into_owned()
}

/// What the drawing shows, for those who do not see it.
pub fn description(subject: &Subject, pieces: &[usize]) -> String {
    let names: Vec<String> = pieces.iter().map(|p| spoken(subject.detail, *p)).collect();
    let findings = match subject.marks.len() {
        0 => "No findings.".to_owned(),
        1 => "One finding is marked.".to_owned(),
        n => format!("{n} findings are marked."),
    };
    format!("Pieces in order of installation: {}. {findings}", names.join("; "))
}

/// `3 strip, flash-tape`; the number is its place in the order of installation.
pub fn spoken(detail: &Detail, piece: usize) -> String {
    let of = &detail.pieces[piece];
    visible(&format!("{} {}, {}", piece + 1, of.name, of.material.name)).into_owned()
}

/// The same in lines of some width, with how it is fixed.
pub fn label(subject: &Subject, piece: usize, most: f64, covered: bool) -> Vec<String> {
    let of = &subject.detail.pieces[piece];
    let mut words = spoken(subject.detail, piece);
    if let Some(role) = &of.role {
        words.push_str(&format!(" ({})", visible(role)));
    }
    let how = [(of.rolled, "rolled"), (of.primed, "primed"), (of.inside, "inside face"), (covered, "covered")];
    for (_, word) in how.iter().filter(|(is, _)| *is) {
        words.push_str(&format!(", {word}"));
    }
    wrap(&words, WORDS, most)
}

/// The name of a piece beside the drawing, with a line to a dot on it.
pub fn named(piece: usize, path: Vec<Point>, first: Point, lines: &[String]) -> Shape {
    let mut shapes = Vec::new();
    if let Some(at) = path.first() {
        shapes.push(Shape::Circle { center: *at, radius: 0.45, pen: None, fill: Some(Ink::Dark) });
    }
    shapes.push(Shape::line(path, Pen::solid(HAIR, Ink::Dark)));
    for (n, line) in lines.iter().enumerate() {
        shapes.push(Shape::text(Point::new(first.x, first.y + n as f64 * LABEL_LINE), WORDS, line));
    }
    Shape::group(Role::Label(piece), "", shapes)
}

/// The head of the sheet: name of the detail, what the view is, the sheet it stands on. Returns where it ends.
pub fn heading(subject: &Subject, caption: &str, width: f64) -> (Vec<Shape>, f64) {
    let detail = subject.detail;
    let inner = width - 2.0 * MARGIN;
    let mut at = MARGIN + TITLE;
    let mut shapes = Vec::new();
    for line in wrap(&name(detail), TITLE, inner).into_iter().take(3) {
        shapes.push(Shape::text(Point::new(MARGIN, at), TITLE, line).bold());
        at += TITLE * 1.6;
    }
    let sheet = detail.sheet.as_deref().map_or(String::new(), |sheet| format!("sheet {}; ", visible(sheet)));
    for line in wrap(&format!("{sheet}{caption}"), SMALL, inner) {
        shapes.push(Shape::text(Point::new(MARGIN, at - 1.0), SMALL, line).inked(Ink::Dark));
        at += SMALL * 1.7;
    }
    (shapes, at)
}

/// The foot of the sheet: notes and findings. Returns where the sheet ends.
pub fn foot(subject: &Subject, unplaced: &[usize], top: f64, width: f64) -> (Vec<Shape>, f64) {
    let inner = width - 2.0 * MARGIN;
    let mut shapes = Vec::new();
    let mut at = top;
    for note in &subject.detail.notes {
        for line in wrap(&format!("Note: {}", visible(note)), WORDS, inner) {
            shapes.push(Shape::text(Point::new(MARGIN, at + WORDS), WORDS, line));
            at += LINE;
        }
    }
    if subject.marks.is_empty() {
        shapes.push(Shape::text(Point::new(MARGIN, at + WORDS), WORDS, "No findings."));
        return (shapes, at + LINE + MARGIN);
    }
    at += 1.0;
    let rule = vec![Point::new(MARGIN, at), Point::new(width - MARGIN, at)];
    shapes.push(Shape::line(rule, Pen::solid(THIN, Ink::Dark)));
    let (list, end) = mark::list(subject.marks, unplaced, MARGIN, at + 2.5, inner);
    shapes.extend(list);
    (shapes, end + MARGIN - 1.8)
}

/// A straight line with a kink every so often (ISO 128-2, line type 01 with zigzags).
pub fn zigzag(from: Point, to: Point) -> Vec<Point> {
    let (dx, dy) = (to.x - from.x, to.y - from.y);
    let length = (dx * dx + dy * dy).sqrt();
    let at = |along: f64, aside: f64| {
        let (ux, uy) = (dx / length.max(1e-9), dy / length.max(1e-9));
        Point::new(from.x + along * ux - aside * uy, from.y + along * uy + aside * ux)
    };
    let kinks = (length / 22.0).round().clamp(1.0, 30.0);
    let mut points = vec![from];
    for n in 0..kinks as usize {
        let middle = (n as f64 + 0.5) * length / kinks;
        points.extend([at(middle - 0.8, 0.0), at(middle - 0.35, -1.3), at(middle + 0.35, 1.3), at(middle + 0.8, 0.0)]);
    }
    points.push(to);
    points
}

/// Places on an axis with what stands there, from the low end: mm of paper and words.
pub fn levels(subject: &Subject, axis: Axis, ruler: &Ruler) -> Vec<(f64, String)> {
    let detail = subject.detail;
    let mut levels: Vec<(f64, String)> = ruler.edges.iter().map(|mm| (ruler.at_mm(*mm), subject.length(*mm))).collect();
    let mut add = |metres: f64, words: &str| {
        let at = ruler.at_mm(metres * 1000.0);
        match levels.iter_mut().find(|(level, _)| (*level - at).abs() < 1e-6) {
            Some((_, text)) => text.push_str(&format!(", {words}")),
            None => levels.push((at, format!("{}, {words}", subject.length(metres * 1000.0)))),
        }
    };
    for fold in detail.folds.iter().filter(|f| f.axis == axis) {
        add(fold.at.si, fold.kind.word());
    }
    if axis == Axis::Up {
        detail.grade.iter().for_each(|grade| add(grade.value.si, "grade"));
        let sheltered = detail.sheltered.unwrap_or_default();
        sheltered.low.iter().for_each(|low| add(low.si, "no rain above"));
        sheltered.high.iter().for_each(|high| add(high.si, "no rain below"));
    }
    levels.sort_by(|a, b| a.0.total_cmp(&b.0));
    levels
}
