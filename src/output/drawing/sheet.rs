//! A whole sheet for one detail: section, enlargement, elevation, notes, findings, installation sequence, title block.

use crate::output::drawing::front;
use crate::output::drawing::front::Noted;
use crate::output::drawing::key;
use crate::output::drawing::legend;
use crate::output::drawing::lettering::wrap;
use crate::output::drawing::mark;
use crate::output::drawing::page::{self, View};
use crate::output::drawing::paper::{LINE, MEMBRANE, SMALL, TITLE, WORDS};
use crate::output::drawing::scale::Scales;
use crate::output::drawing::scene::{Area, Ink, Pen, Point, Scene, Shape};
use crate::output::drawing::section::{self, Line, enlargement};
use crate::output::drawing::subject::Subject;
use crate::output::drawing::title::{self, Title, UNDER};
use crate::output::sequence::{self, Step};
use crate::output::visible;
use crate::output::words::counted;

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

    /// The scales of who prints on it: a scale of inches is on the edge of every ruler beside a sheet of inches.
    fn scales(self, subject: &Subject) -> Scales {
        match self {
            Paper::A3 => subject.scales(),
            Paper::AnsiB => Scales::Inch,
        }
    }
}

/// The edge that is bound, and the others.
const BINDING: f64 = 20.0;
const EDGE: f64 = 10.0;

/// Height of the strip below the views with the installation sequence and the title block: more for a long sequence.
const STRIPS: [f64; 5] = [46.0, 54.0, 62.0, 74.0, 90.0];

/// Width of the title block.
const BLOCK: f64 = 104.0;

/// Width of the column of findings and signs on the far right, and the least that is kept for the elevation.
const COLUMN: f64 = legend::WIDTH;
const ELEVATION: f64 = 76.0;

/// Narrower elevations stand as far to the right as one of this width.
const SIDE: f64 = 100.0;

/// Free paper around what stands on the sheet.
const GAP: f64 = 6.0;

/// The sheet of a detail, cut along `line` where it has one.
pub fn sheet(subject: &Subject, line: Option<&Line>, paper: Paper, title: &Title) -> Scene {
    let [width, height] = paper.size();
    let frame = Area::new(BINDING, EDGE, width - EDGE, height - EDGE);
    let mut shapes = vec![Shape::polygon(frame.corners(), Some(Pen::solid(MEMBRANE, Ink::Black)), None)];
    let steps = sequence::sequence(subject.facts).steps;
    let block_left = frame.right - BLOCK;
    let (deep, work) = work(&steps, frame.left + GAP, block_left - GAP);
    let views =
        Area::new(frame.left + GAP, frame.top + 4.0, frame.right - COLUMN - 2.0 * GAP, frame.bottom - deep - 4.0);
    let room = Area::new(views.left, views.top, views.right - ELEVATION - GAP, views.bottom - UNDER);
    let mut drawn: Vec<View> = Vec::new();
    let mut unplaced: Option<Vec<usize>> = None;
    let scales = paper.scales(subject);
    let cut = line.map(|line| {
        fitting(scales, [room.width(), room.height()], section::least(subject, line), &|scale| {
            section::view(subject, line, scale, true)
        })
    });
    let joint = line.and_then(|line| {
        let open = subject.marks.iter().filter(|entry| entry.finding.open());
        open.into_iter().find_map(|entry| enlargement(subject, line, entry))
    });
    let least = cut.as_ref().map_or(0.0, |view| view.scale);
    let face = |scale| front::view(subject, scale, Noted::Numbers);
    let side = views.left + cut.as_ref().map_or(0.0, |view| view.width + GAP);
    let view = fitting(scales, [views.right - side, room.height()], least, &face);
    let side = side.max(views.right - view.width.max(SIDE));
    // The titles of views beside each other stand on one line.
    let (tops, row) = beside(cut.as_ref(), &view, room.height());
    // A little above the middle of the sheet.
    let room = Area { top: room.top + 0.35 * (room.height() - row).max(0.0), ..room };
    if let Some(cut) = cut {
        unplaced = Some(cut.unplaced.clone());
        put(subject, scales, &mut shapes, &cut, Point::new(room.left, room.top + tops[0]), room.top + row);
        drawn.push(cut);
    }
    put(subject, scales, &mut shapes, &view, Point::new(side, room.top + tops[1]), room.top + row);
    drawn.push(view);
    if let Some(key) = key::key(subject, line).filter(|_| room.top + row + UNDER + key::HIGH + GAP < views.bottom) {
        let at = Point::new(views.left, views.bottom - key::HIGH);
        shapes.extend(key.into_iter().map(|shape| shape.moved(at.x, at.y)));
    }

    let column = Area::new(frame.right - COLUMN - GAP, frame.top + GAP, frame.right - GAP, frame.bottom - deep - GAP);
    shapes.extend(findings(subject, &unplaced.unwrap_or_default(), column, &drawn, joint));
    let top = frame.bottom - deep;
    let rule = vec![Point::new(frame.left, top), Point::new(frame.right, top)];
    shapes.push(Shape::line(rule, Pen::solid(MEMBRANE, Ink::Black)));
    shapes.extend(work.into_iter().map(|shape| shape.moved(0.0, top + 3.0)));
    let block = Area::new(block_left, top, frame.right, frame.bottom);
    shapes.extend(title::block(&title::Entry::of(subject), title, block));
    let name = page::name(subject.detail);
    let all: Vec<usize> = (0..subject.detail.pieces.len()).collect();
    let description = page::description(subject, &all);
    Scene { width, height, scale: 1.0, title: format!("Sheet of {name}"), description, shapes }
}

/// A view at the largest scale, but none larger than `least`, at which it fits; the smallest where none does.
fn fitting(scales: Scales, [width, height]: [f64; 2], least: f64, view: &dyn Fn(f64) -> View) -> View {
    let last = scales.last();
    let mut tries = scales.all().iter().copied().filter(|scale| *scale >= least);
    loop {
        let tried = view(tries.next().unwrap_or(last));
        if tried.width <= width && tried.height <= height || tried.scale >= last {
            return tried;
        }
    }
}

/// A view, and its title below `foot`.
fn put(subject: &Subject, scales: Scales, shapes: &mut Vec<Shape>, view: &View, at: Point, foot: f64) {
    shapes.extend(view.shapes.iter().cloned().map(|shape| shape.moved(at.x, at.y)));
    shapes.extend(title::under(subject, scales, view, Point::new(at.x, foot + 2.0)));
}

/// Where two views beside each other begin, and where both end: a height of the one lies at the same height of the other if they have one
/// scale and there is room, else they end together.
fn beside(cut: Option<&View>, view: &View, most: f64) -> ([f64; 2], f64) {
    let high = cut.map_or(0.0, |cut| cut.height);
    let row = high.max(view.height);
    let ended = ([row - high, row - view.height], row);
    let same = cut.filter(|cut| cut.scale == view.scale).and_then(|cut| Some(cut.datum? - view.datum?));
    let Some(down) = same else { return ended };
    let tops = [(-down).max(0.0), down.max(0.0)];
    let row = (tops[0] + high).max(tops[1] + view.height);
    if row <= most { (tops, row) } else { ended }
}

/// What was found, as far as the column has room, the joint at fault at full size, and the signs at the foot.
fn findings(subject: &Subject, unplaced: &[usize], column: Area, views: &[View], joint: Option<View>) -> Vec<Shape> {
    let listed: Vec<Shape> = subject.marks.iter().map(|entry| mark::mark(Point::new(0.0, 0.0), *entry)).collect();
    let drawn = views.iter().chain(&joint).map(|view| &view.shapes[..]);
    let seen: Vec<&[Shape]> = drawn.chain([&listed[..]]).collect();
    let (signs, high) = legend::legend(subject, &seen);
    let foot = column.bottom - high;
    let mut shapes: Vec<Shape> = signs.into_iter().map(|shape| shape.moved(column.left, foot)).collect();
    let foot = match joint {
        Some(joint) => {
            let top = foot - joint.height - GAP;
            shapes.extend(joint.shapes.into_iter().map(|shape| shape.moved(column.left + 6.0, top)));
            top
        }
        None => foot,
    };
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

/// The installation sequence in columns from `left` to `right`, and how high a strip it needs.
fn work(steps: &[Step], left: f64, right: f64) -> (f64, Vec<Shape>) {
    let columns = 3.0;
    let wide = (right - left) / columns - 4.0;
    let lines: Vec<Vec<String>> = steps
        .iter()
        .enumerate()
        .map(|(n, step)| wrap(&format!("{}  {}", n + 1, visible(&step.act)), SMALL, wide))
        .collect();
    let mut last = (STRIPS[STRIPS.len() - 1], Vec::new());
    for deep in STRIPS {
        let (all, shapes) = columns_of(&lines, [left, right], wide, deep - 5.0);
        last = (deep, shapes);
        if all {
            break;
        }
    }
    last
}

/// Lines in columns of some height, and whether all of them found room.
fn columns_of(steps: &[Vec<String>], [left, right]: [f64; 2], wide: f64, high: f64) -> (bool, Vec<Shape>) {
    let mut shapes = vec![Shape::text(Point::new(left, WORDS), WORDS, "INSTALLATION SEQUENCE").bold()];
    let (mut x, mut y) = (left, 6.5);
    for (n, lines) in steps.iter().enumerate() {
        if y + lines.len() as f64 * 3.1 > high {
            (x, y) = (x + wide + 4.0, 6.5);
            if x + wide > right + 1.0 {
                let more = format!("and {} more", steps.len() - n);
                shapes.push(Shape::text(Point::new(right - 30.0, WORDS), SMALL, more));
                return (false, shapes);
            }
        }
        for line in lines {
            shapes.push(Shape::text(Point::new(x, y + SMALL), SMALL, line.clone()));
            y += 3.1;
        }
        y += 0.8;
    }
    (true, shapes)
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
    let rows = ((frame.height() - 30.0 - STRIPS[0]) / 5.2).floor().max(1.0) as usize;
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
    let block = Area::new(frame.right - BLOCK, frame.bottom - STRIPS[0], frame.right, frame.bottom);
    let open: usize = entries.iter().map(|entry| entry.open).sum();
    let status = if open == 0 { "No open findings".to_owned() } else { format!("Open: {}", counted(open, "finding")) };
    shapes.extend(title::block(&title::Entry::index(entries.len(), status), title, block));
    let description = format!("{} in the order of their sheets.", counted(entries.len(), "detail"));
    Scene { width, height, scale: 1.0, title: "Index of details".to_owned(), description, shapes }
}
