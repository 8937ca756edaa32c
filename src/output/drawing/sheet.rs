//! A whole sheet for one detail: section, enlargement, elevation, notes, findings, order of work, title block.

use crate::output::drawing::front;
use crate::output::drawing::legend;
use crate::output::drawing::lettering::wrap;
use crate::output::drawing::mark;
use crate::output::drawing::page::{self, View};
use crate::output::drawing::paper::{LINE, MEMBRANE, SMALL, TITLE, WORDS};
use crate::output::drawing::ruler::SCALES;
use crate::output::drawing::scene::{Area, Ink, Pen, Point, Scene, Shape};
use crate::output::drawing::section::{self, Line, enlargement};
use crate::output::drawing::subject::Subject;
use crate::output::drawing::title::{self, Title, UNDER};
use crate::output::words::counted;
use crate::output::{sequence, visible};

/// A size of paper, lying.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Paper {
    A3,
    AnsiB,
}

impl Paper {
    pub fn from_word(word: &str) -> Option<Paper> {
        match word.to_lowercase().as_str() {
            "a3" => Some(Paper::A3),
            "ansi-b" => Some(Paper::AnsiB),
            _ => None,
        }
    }

    /// Width and height, mm (ISO 216; ASME Y14.1).
    pub fn size(self) -> [f64; 2] {
        match self {
            Paper::A3 => [420.0, 297.0],
            Paper::AnsiB => [431.8, 279.4],
        }
    }
}

/// The edge that is bound, and the others.
const BINDING: f64 = 20.0;
const EDGE: f64 = 10.0;

/// The strip below the views, with the order of work and the title block.
const STRIP: f64 = 46.0;

/// Width of the column of findings and signs on the far right, and of the elevation.
const COLUMN: f64 = legend::WIDTH;
const ELEVATION: f64 = 112.0;

/// Free paper around what stands on the sheet.
const GAP: f64 = 6.0;

/// The sheet of a detail, cut along `line` where it has one.
pub fn sheet(subject: &Subject, line: Option<&Line>, paper: Paper, title: &Title) -> Scene {
    let [width, height] = paper.size();
    let frame = Area::new(BINDING, EDGE, width - EDGE, height - EDGE);
    let mut shapes = vec![Shape::polygon(frame.corners(), Some(Pen::solid(MEMBRANE, Ink::Black)), None)];
    let views =
        Area::new(frame.left + GAP, frame.top + 4.0, frame.right - COLUMN - 2.0 * GAP, frame.bottom - STRIP - 4.0);
    let room = Area::new(views.left, views.top, views.right - ELEVATION - GAP, views.bottom - UNDER);
    let mut drawn: Vec<View> = Vec::new();
    let mut unplaced: Option<Vec<usize>> = None;
    if let Some(line) = line {
        let view = fitting(room.width(), room.height(), &|scale| section::view(subject, line, scale));
        unplaced = Some(view.unplaced.clone());
        put(subject, &mut shapes, &view, Point::new(room.left, room.top));
        drawn.push(view);
    }
    let joint = line.and_then(|line| {
        let open = subject.marks.iter().filter(|entry| entry.finding.open());
        open.into_iter().find_map(|entry| enlargement(subject, line, entry))
    });
    let side = views.right - ELEVATION;
    let taken = joint.as_ref().map_or(0.0, |view| view.height + GAP);
    let view = fitting(ELEVATION, room.height() - taken, &|scale| front::view(subject, scale, false));
    put(subject, &mut shapes, &view, Point::new(side, room.top));
    if let Some(joint) = joint {
        let at = Point::new(side + 4.0, room.top + view.height + UNDER + GAP / 2.0);
        shapes.extend(joint.shapes.iter().cloned().map(|shape| shape.moved(at.x, at.y)));
        drawn.push(joint);
    }
    drawn.push(view);

    let column = Area::new(frame.right - COLUMN - GAP, frame.top + GAP, frame.right - GAP, frame.bottom - STRIP - GAP);
    shapes.extend(findings(subject, &unplaced.unwrap_or_default(), column, &drawn));
    let strip = Area::new(frame.left, frame.bottom - STRIP, frame.right, frame.bottom);
    shapes.push(Shape::line(
        vec![Point::new(strip.left, strip.top), Point::new(strip.right, strip.top)],
        Pen::solid(MEMBRANE, Ink::Black),
    ));
    let block = Area::new(frame.right - 104.0, strip.top, frame.right, strip.bottom);
    shapes.extend(work(subject, Area::new(strip.left + GAP, strip.top + 3.0, block.left - GAP, strip.bottom - 2.0)));
    shapes.extend(title::block(subject, title, block));
    let name = page::name(subject.detail);
    let all: Vec<usize> = (0..subject.detail.pieces.len()).collect();
    let description = page::description(subject, &all);
    Scene { width, height, scale: 1.0, title: format!("Sheet of {name}"), description, shapes }
}

/// A view at the largest scale at which it fits; the smallest where none does.
fn fitting(width: f64, height: f64, view: &dyn Fn(f64) -> View) -> View {
    let mut scales = SCALES.into_iter();
    loop {
        let tried = view(scales.next().unwrap_or(SCALES[SCALES.len() - 1]));
        if tried.width <= width && tried.height <= height || tried.scale >= SCALES[SCALES.len() - 1] {
            return tried;
        }
    }
}

fn put(subject: &Subject, shapes: &mut Vec<Shape>, view: &View, at: Point) {
    shapes.extend(view.shapes.iter().cloned().map(|shape| shape.moved(at.x, at.y)));
    shapes.extend(title::under(subject, view, Point::new(at.x, at.y + view.height + 2.0)));
}

/// What was found, as far as the column has room, and the signs at its foot.
fn findings(subject: &Subject, unplaced: &[usize], column: Area, views: &[View]) -> Vec<Shape> {
    let seen: Vec<&[Shape]> = views.iter().map(|view| &view.shapes[..]).collect();
    let (signs, high) = legend::legend(subject, &seen);
    let foot = column.bottom - high;
    let mut shapes: Vec<Shape> = signs.into_iter().map(|shape| shape.moved(column.left, foot)).collect();
    let mut at = column.top;
    shapes.push(Shape::text(Point::new(column.left, at + WORDS), WORDS, "FINDINGS").bold());
    at += 6.0;
    if subject.marks.is_empty() {
        shapes.push(Shape::text(Point::new(column.left, at + WORDS), WORDS, "None."));
        at += LINE;
    }
    for (n, entry) in subject.marks.iter().enumerate() {
        let (list, end) = mark::list(std::slice::from_ref(entry), unplaced, column.left, at, column.width());
        if end > foot - 8.0 {
            let left = subject.marks.len() - n;
            let words = format!("and {left} more in the report");
            shapes.push(Shape::text(Point::new(column.left, at + WORDS), WORDS, words));
            at += LINE;
            break;
        }
        shapes.extend(list);
        at = end;
    }
    for note in &subject.detail.notes {
        let lines = wrap(&format!("Note: {}", visible(note)), WORDS, column.width());
        if at + lines.len() as f64 * LINE > foot - 4.0 {
            break;
        }
        for line in lines {
            shapes.push(Shape::text(Point::new(column.left, at + WORDS), WORDS, line));
            at += LINE;
        }
    }
    shapes
}

/// The order of work in columns.
fn work(subject: &Subject, area: Area) -> Vec<Shape> {
    let mut shapes = vec![Shape::text(Point::new(area.left, area.top + WORDS), WORDS, "ORDER OF WORK").bold()];
    let steps = sequence::sequence(subject.facts).steps;
    let columns = 3.0;
    let wide = area.width() / columns - 4.0;
    let (mut x, mut y) = (area.left, area.top + 6.5);
    for (n, step) in steps.iter().enumerate() {
        let lines = wrap(&format!("{}  {}", n + 1, visible(&step.act)), SMALL, wide);
        let high = lines.len() as f64 * 3.1 + 0.8;
        if y + high > area.bottom {
            (x, y) = (x + wide + 4.0, area.top + 6.5);
            if x + wide > area.right + 1.0 {
                let more = format!("and {} more", steps.len() - n);
                shapes.push(Shape::text(Point::new(area.right - 30.0, area.top + WORDS), SMALL, more));
                break;
            }
        }
        for line in lines {
            shapes.push(Shape::text(Point::new(x, y + SMALL), SMALL, line));
            y += 3.1;
        }
        y += 0.8;
    }
    shapes
}

/// A line of the index of a set.
pub struct IndexEntry {
    sheet: String,
    detail: String,
    open: usize,
}

impl IndexEntry {
    pub fn new(subject: &Subject) -> IndexEntry {
        let sheet = subject.detail.sheet.as_deref().map_or("-".to_owned(), |sheet| visible(sheet).into_owned());
        let open = subject.marks.iter().filter(|mark| mark.finding.open()).count();
        IndexEntry { sheet, detail: page::name(subject.detail), open }
    }
}

/// The first sheet of a set: all others in their order.
pub fn index(entries: &[&IndexEntry], paper: Paper, title: &Title) -> Scene {
    let [width, height] = paper.size();
    let frame = Area::new(BINDING, EDGE, width - EDGE, height - EDGE);
    let mut shapes = vec![Shape::polygon(frame.corners(), Some(Pen::solid(MEMBRANE, Ink::Black)), None)];
    let name = if title.project.is_empty() { "Details".into() } else { visible(title.project) };
    shapes.push(Shape::text(Point::new(frame.left + GAP, frame.top + 10.0), TITLE, name).bold());
    let said = format!("Index of details, {}", title.date);
    shapes.push(Shape::text(Point::new(frame.left + GAP, frame.top + 16.0), WORDS, said));
    let rows = ((frame.height() - 30.0) / 5.2).floor().max(1.0) as usize;
    let columns = entries.len().div_ceil(rows).max(1);
    let wide = (frame.width() - 2.0 * GAP) / columns as f64;
    for (n, entry) in entries.iter().enumerate() {
        let (x, y) = (frame.left + GAP + (n / rows) as f64 * wide, frame.top + 26.0 + (n % rows) as f64 * 5.2);
        let open = if entry.open == 0 { String::new() } else { format!(" - {} open", counted(entry.open, "finding")) };
        let words = wrap(&format!("{}{open}", entry.detail), WORDS, wide - 34.0).into_iter().next().unwrap_or_default();
        shapes.push(Shape::text(Point::new(x, y), WORDS, (n + 2).to_string()));
        shapes.push(Shape::text(Point::new(x + 8.0, y), WORDS, entry.sheet.clone()));
        shapes.push(Shape::text(Point::new(x + 30.0, y), WORDS, words));
    }
    let description = format!("{} in the order of their sheets.", counted(entries.len(), "detail"));
    Scene { width, height, scale: 1.0, title: "Index of details".to_owned(), description, shapes }
}
