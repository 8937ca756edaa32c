//! The title block of a sheet, and the title under a view.

use crate::output::drawing::lettering::{width, wrap};
use crate::output::drawing::page::View;
use crate::output::drawing::paper::{BEYOND, CUT, MEMBRANE, SMALL, TITLE, WORDS};
use crate::output::drawing::scale::Scales;
use crate::output::drawing::scene::{Anchor, Area, Ink, Pen, Point, Role, Scene, Shape};
use crate::output::drawing::subject::Subject;
use crate::output::{visible, words};

/// What a sheet says of itself besides its detail.
pub struct Title<'a> {
    pub project: &'a str,
    pub date: String,
}

/// Half of the bubble before the title of a view.
const BUBBLE: f64 = 6.0;

/// Room that the title of a view takes below it, mm.
const UNDER: f64 = 16.0;

/// What a title block names.
pub struct Entry {
    name: String,
    /// Open findings, and settled ones.
    status: (String, Option<String>),
    sheet: String,
    scale: &'static str,
    /// The unit of lengths.
    unit: &'static str,
}

impl Entry {
    pub fn of(subject: &Subject) -> Entry {
        let detail = subject.detail;
        let name = detail.title.as_deref().unwrap_or(&detail.kind);
        Entry {
            name: visible(&format!("{} {name}", detail.name)).into_owned(),
            status: status(subject),
            sheet: detail.sheet.as_deref().map_or("not numbered".into(), visible).into_owned(),
            scale: "as shown",
            unit: subject.unit(),
        }
    }

    /// Of the first sheet of a set.
    pub fn index(details: usize, status: String) -> Entry {
        let status = (status, Some(words::counted(details, "detail")));
        Entry { name: "Index of details".to_owned(), status, sheet: "Index".to_owned(), scale: "-", unit: "-" }
    }
}

/// The block fills an area in the corner of the sheet.
pub fn block(entry: &Entry, title: &Title, area: Area) -> Vec<Shape> {
    let rule = |y: f64| vec![Point::new(area.left, y), Point::new(area.right, y)];
    let mut shapes = vec![Shape::polygon(area.corners(), Some(Pen::solid(MEMBRANE, Ink::Black)), Some(Ink::White))];
    let x = area.left + 3.0;
    let inner = area.width() - 6.0;
    let mut y = area.top + 2.5;
    for line in wrap(&visible(title.project), WORDS, inner).into_iter().take(2) {
        shapes.push(Shape::text(Point::new(x, y + WORDS), WORDS, line));
        y += 4.0;
    }
    shapes.push(Shape::line(rule(y + 1.0), Pen::solid(BEYOND, Ink::Black)));
    y += 3.2;
    let foot = area.bottom - 9.0;
    let (height, lines) = named(&entry.name, inner, foot - 6.4 - y);
    for line in lines {
        shapes.push(Shape::text(Point::new(x, y + height), height, line).bold());
        y += height + 1.9;
    }
    shapes.push(Shape::line(rule(foot), Pen::solid(BEYOND, Ink::Black)));
    let (open, settled) = &entry.status;
    shapes.push(Shape::text(Point::new(x, foot - 2.4), WORDS, open.clone()));
    if let Some(settled) = settled {
        shapes
            .push(Shape::text(Point::new(area.right - 3.0, foot - 2.4), WORDS, settled.clone()).anchored(Anchor::End));
    }
    for (part, head, words) in [
        (0.0, "SHEET", entry.sheet.clone()),
        (0.32, "DATE", title.date.clone()),
        (0.58, "SCALE", entry.scale.to_owned()),
        (0.82, "LENGTHS", entry.unit.to_owned()),
    ] {
        let at = x + part * inner;
        shapes.push(Shape::text(Point::new(at, foot + 1.2 + SMALL), SMALL, head).inked(Ink::Dark));
        shapes.push(Shape::text(Point::new(at, foot + 4.2 + WORDS), WORDS, words));
    }
    vec![Shape::group(Role::Other, "title block", shapes)]
}

/// A name in letters so high that all of it has room; nobody issues a sheet whose title ends in mid-sentence.
fn named(name: &str, wide: f64, high: f64) -> (f64, Vec<String>) {
    // Bold letters are wider.
    let written = |height: f64| (height, wrap(name, height, 0.93 * wide));
    let fits = |(height, lines): &(f64, Vec<String>)| lines.len() as f64 * (height + 1.9) <= high + 1e-9;
    if let Some(whole) = [TITLE, WORDS, SMALL].map(written).into_iter().find(fits) {
        return whole;
    }
    let (height, mut lines) = written(SMALL);
    lines.truncate(((high / (height + 1.9)) as usize).max(1));
    lines.last_mut().into_iter().for_each(|last| last.push_str(" …"));
    (height, lines)
}

/// Open findings by level, and how many are settled.
fn status(subject: &Subject) -> (String, Option<String>) {
    use crate::finding::Level;
    let open = |level| subject.marks.iter().filter(|m| m.finding.open() && m.finding.level == level).count();
    let parts: Vec<String> = [(Level::Error, "error"), (Level::Warning, "warning"), (Level::Note, "note")]
        .into_iter()
        .map(|(level, word)| (open(level), word))
        .filter(|(count, _)| *count > 0)
        .map(|(count, word)| words::counted(count, word))
        .collect();
    let settled = subject.marks.iter().filter(|m| !m.finding.open()).count();
    let open = if parts.is_empty() { "No open findings".to_owned() } else { format!("Open: {}", parts.join(", ")) };
    (open, (settled > 0).then(|| format!("waived: {settled}")))
}

/// A bubble with the number of the detail over its sheet, the name of the view, and a bar of 50 mm of the building's lengths.
pub fn under(subject: &Subject, scales: Scales, view: &View, at: Point) -> Vec<Shape> {
    let center = Point::new(at.x + BUBBLE, at.y + BUBBLE);
    let (number, sheet) = match subject.detail.sheet.as_deref().and_then(|sheet| sheet.split_once('/')) {
        Some((number, sheet)) => (visible(number).into_owned(), visible(sheet).into_owned()),
        None => (visible(&subject.detail.name).into_owned(), "-".to_owned()),
    };
    // A name that has no room in the bubble stands before that of the view.
    let room = 2.0 * BUBBLE - 1.0;
    let named =
        !view.name.starts_with("Elevation") && width(&number, SMALL * 0.8) >= room && width(&number, WORDS) < NAME;
    let before = if named { format!("{number}   ") } else { String::new() };
    let [number, sheet] =
        [number, sheet].map(|words| if width(&words, SMALL * 0.8) < room { words } else { "-".to_owned() });
    let fit = |words: &str| if width(words, WORDS) < room - 1.0 { WORDS } else { SMALL * 0.8 };
    let right = center.x + BUBBLE + 2.0;
    let name = format!("{before}{}   {}", view.name.to_uppercase(), scales.written(view.scale));
    let size = if width(&name, WORDS) > LONG { SMALL } else { WORDS };
    let long = width(&name, size).max(52.0);
    let rule = vec![Point::new(center.x - BUBBLE, center.y), Point::new(right + long, center.y)];
    let mut shapes = vec![
        Shape::Circle { center, radius: BUBBLE, pen: Some(Pen::solid(CUT, Ink::Black)), fill: Some(Ink::White) },
        Shape::line(rule, Pen::solid(CUT, Ink::Black)),
        Shape::text(Point::new(center.x, center.y - 1.4), fit(&number), number).anchored(Anchor::Middle).bold(),
        Shape::text(Point::new(center.x, center.y + 1.2 + SMALL), fit(&sheet), sheet).anchored(Anchor::Middle),
        Shape::text(Point::new(right, center.y - 1.4), size, name).bold(),
    ];
    shapes.extend(scale_bar(view.scale, subject.scales(), Point::new(right, center.y + 2.0)));
    let line = |n: usize| Point::new(at.x, at.y + UNDER - 1.4 + (n as f64 + 0.6) * EXPLAINED);
    let explained = view.explained.iter().enumerate();
    shapes.extend(explained.map(|(n, words)| Shape::text(line(n), SMALL, words.clone()).inked(Ink::Dark)));
    shapes
}

/// Room that the title of a view takes below it with what is said of the view there, mm.
pub fn room(view: &View) -> f64 {
    UNDER + view.explained.len() as f64 * EXPLAINED
}

/// Distance of the lines that explain a view.
const EXPLAINED: f64 = 3.1;

/// The most room that the name of a detail has in the title of a view, mm.
const NAME: f64 = 50.0;

/// A longer title of a view is written smaller, mm: it would run into the column beside it.
const LONG: f64 = 66.0;

/// A bar that is 50 mm long, or 2 in, and says what that is on the building.
fn scale_bar(scale: f64, scales: Scales, at: Point) -> Vec<Shape> {
    let (long, whole) = scales.bar(scale);
    let bar = |from: f64, to: f64, fill: Ink| {
        let area = Area::new(at.x + from, at.y, at.x + to, at.y + 1.2);
        Shape::polygon(area.corners(), Some(Pen::solid(BEYOND, Ink::Black)), Some(fill))
    };
    let foot = at.y + 2.2 + SMALL;
    vec![
        bar(0.0, long / 2.0, Ink::Black),
        bar(long / 2.0, long, Ink::White),
        Shape::text(Point::new(at.x, foot), SMALL, "0"),
        Shape::text(Point::new(at.x + long, foot), SMALL, whole).anchored(Anchor::End),
    ]
}

/// Room for a scale bar below a drawing, mm of paper.
pub const BAR: f64 = 8.0;

/// A scale bar, to be put into the room below a drawing: it stays true however large the drawing is shown.
pub fn bar(scale: f64, scales: Scales) -> Vec<Shape> {
    let shapes = scale_bar(scale, scales, Point::new(2.0, 1.6));
    Scene { shapes, ..Scene::empty() }.at_scale(scale).shapes
}
