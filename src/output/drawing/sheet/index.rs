//! The first sheet of a set: all others in their order.

use crate::output::drawing::lettering::wrap;
use crate::output::drawing::page;
use crate::output::drawing::paper::{MEMBRANE, TITLE, WORDS};
use crate::output::drawing::scene::{Area, Ink, Pen, Point, Scene, Shape};
use crate::output::drawing::sheet::work::STRIPS;
use crate::output::drawing::sheet::{BINDING, BLOCK, EDGE, GAP, Paper};
use crate::output::drawing::subject::Subject;
use crate::output::drawing::title::{self, Title};
use crate::output::visible;
use crate::output::words::counted;

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
