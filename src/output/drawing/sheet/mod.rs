//! A whole sheet for one detail: section, enlargement, elevation, notes, findings, installation sequence, title block.

mod column;
mod index;
mod size;
mod spot;
mod work;

pub use index::{IndexEntry, index};
pub use size::Paper;

use crate::output::drawing::elevation;
use crate::output::drawing::elevation::Noted;
use crate::output::drawing::key;
use crate::output::drawing::legend;
use crate::output::drawing::note;
use crate::output::drawing::page::{self, View};
use crate::output::drawing::paper::MEMBRANE;
use crate::output::drawing::scale::Scales;
use crate::output::drawing::scene::{Area, Ink, Pen, Point, Scene, Shape};
use crate::output::drawing::section::{self, SectionLine, enlargement};
use crate::output::drawing::subject::Subject;
use crate::output::drawing::title::{self, Title, UNDER};
use crate::output::sequence;

/// The edge that is bound, and the others.
const BINDING: f64 = 20.0;
const EDGE: f64 = 10.0;

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
pub fn sheet(subject: &Subject, line: Option<&SectionLine>, paper: Paper, title: &Title) -> Scene {
    let [width, height] = paper.size();
    let frame = Area::new(BINDING, EDGE, width - EDGE, height - EDGE);
    let mut shapes = vec![Shape::polygon(frame.corners(), Some(Pen::solid(MEMBRANE, Ink::Black)), None)];
    let steps = sequence::sequence(subject.facts).steps;
    let block_left = frame.right - BLOCK;
    let (deep, work) = work::work(&steps, frame.left + GAP, block_left - GAP);
    let views =
        Area::new(frame.left + GAP, frame.top + 4.0, frame.right - COLUMN - 2.0 * GAP, frame.bottom - deep - 4.0);
    let room = Area::new(views.left, views.top, views.right - ELEVATION - GAP, views.bottom - UNDER);
    let mut drawn: Vec<View> = Vec::new();
    let mut unplaced: Option<Vec<usize>> = None;
    let scales = paper.scales(subject);
    let cut = line.map(|line| {
        let least = section::least(subject, line);
        let noted = |wide: f64| fitting(scales, room, least, &|scale| section::view(subject, line, scale, true, wide));
        // Where the names are too high even so, numbers: the installation sequence has the names.
        let columns = [note::WIDTH, note::WIDER, note::NUMBER];
        columns.into_iter().map(noted).find(|view| fits(view, room)).unwrap_or_else(|| noted(note::NONE))
    });
    let joint = line.and_then(|line| {
        let open = subject.marks.iter().filter(|entry| entry.finding.open());
        open.into_iter().find_map(|entry| enlargement(subject, line, entry))
    });
    let least = cut.as_ref().map_or(0.0, |view| view.scale);
    let face = |scale| elevation::view(subject, scale, Noted::Numbers);
    let side = views.left + cut.as_ref().map_or(0.0, |view| view.width + GAP);
    let view = fitting(scales, Area { left: side, right: views.right, ..room }, least, &face);
    let side = side.max(views.right - view.width.max(SIDE));
    // The titles of views beside each other stand on one line.
    let (tops, row) = beside(cut.as_ref(), &view, room.height());
    let key = key::key(subject, line);
    // A little above the middle of the sheet, and above the key where there is room for both.
    let spare = (room.height() - row).max(0.0);
    let kept = if key.is_some() { key::HIGH + GAP } else { 0.0 };
    let room = Area { top: room.top + (0.35 * spare).min((spare - kept).max(0.0)), ..room };
    if let Some(cut) = cut {
        unplaced = Some(cut.unplaced.clone());
        put(subject, scales, &mut shapes, &cut, Point::new(room.left, room.top + tops[0]), room.top + row);
        drawn.push(cut);
    }
    put(subject, scales, &mut shapes, &view, Point::new(side, room.top + tops[1]), room.top + row);
    drawn.push(view);
    if let Some((key, at)) = key.and_then(|key| Some((key, spot::lowest(&shapes[1..], views, key::SIZE)?))) {
        shapes.extend(key.into_iter().map(|shape| shape.moved(at.x, at.y)));
    }

    let column = Area::new(frame.right - COLUMN - GAP, frame.top + GAP, frame.right - GAP, frame.bottom - deep - GAP);
    shapes.extend(column::findings(subject, &unplaced.unwrap_or_default(), column, &drawn, joint));
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
fn fitting(scales: Scales, room: Area, least: f64, view: &dyn Fn(f64) -> View) -> View {
    let last = scales.last();
    let mut tries = scales.all().iter().copied().filter(|scale| *scale >= least);
    loop {
        let tried = view(tries.next().unwrap_or(last));
        if fits(&tried, room) || tried.scale >= last {
            return tried;
        }
    }
}

fn fits(view: &View, room: Area) -> bool {
    view.width <= room.width() && view.height <= room.height()
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
