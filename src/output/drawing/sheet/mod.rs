//! A whole sheet for one detail: section, enlargement, elevation, notes, findings, installation sequence, title block.

mod arrange;
mod column;
mod index;
mod size;
mod spot;
mod tried;
mod work;

pub use index::{IndexEntry, index};
pub use size::Paper;

use crate::output::drawing::key;
use crate::output::drawing::legend;
use crate::output::drawing::mark;
use crate::output::drawing::page::{self, View};
use crate::output::drawing::paper::MEMBRANE;
use crate::output::drawing::scale::Scales;
use crate::output::drawing::scene::{Area, Ink, Pen, Point, Scene, Shape};
use crate::output::drawing::section::{SectionLine, enlargement};
use crate::output::drawing::subject::Subject;
use crate::output::drawing::title::{self, Title};
use crate::output::sequence;
use arrange::{Placed, Views};
use tried::Tried;

/// The edge that is bound, and the others.
const BINDING: f64 = 20.0;
const EDGE: f64 = 10.0;

/// Width of the title block.
const BLOCK: f64 = 104.0;

/// Width of the column of findings and signs on the far right.
const COLUMN: f64 = legend::WIDTH;

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
    let scales = paper.scales(subject);
    let key = key::key(subject, line);
    let joint = line.and_then(|line| {
        mark::gravest_first(subject.marks).into_iter().find_map(|entry| enlargement(subject, line, entry))
    });
    let kept = if key.is_some() { key::HIGH + GAP } else { 0.0 };
    let arranged = Views { tried: Tried::new(subject, line), scales, area: views, kept };
    let beside = arranged.beside();
    // Below each other they leave room for the key, or stand beside each other after all.
    let place =
        |placed: &[Placed]| key.as_ref().and_then(|_| spot::lowest(&drawn(subject, scales, placed), views, key::SIZE));
    let below = arranged.below(&beside).filter(|below| key.is_none() || place(below).is_some());
    let placed = below.unwrap_or(beside);
    let at = place(&placed);
    shapes.extend(drawn(subject, scales, &placed));
    if let Some((key, at)) = key.zip(at) {
        shapes.extend(key.into_iter().map(|shape| shape.moved(at.x, at.y)));
    }

    let column = Area::new(frame.right - COLUMN - GAP, frame.top + GAP, frame.right - GAP, frame.bottom - deep - GAP);
    let unplaced = if placed.len() > 1 { placed[0].view.unplaced.clone() } else { Vec::new() };
    let seen: Vec<&View> = placed.iter().map(|placed| &*placed.view).chain(&joint).collect();
    shapes.extend(column::findings(subject, &unplaced, column, &seen, joint.as_ref()));
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

/// The views at their places, with their titles.
fn drawn(subject: &Subject, scales: Scales, placed: &[Placed]) -> Vec<Shape> {
    let mut shapes = Vec::new();
    for Placed { view, at, foot } in placed {
        shapes.extend(view.shapes.iter().cloned().map(|shape| shape.moved(at.x, at.y)));
        shapes.extend(title::under(subject, scales, view, Point::new(at.x, foot + 2.0)));
    }
    shapes
}
