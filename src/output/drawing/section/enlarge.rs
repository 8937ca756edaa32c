//! The joint at fault at full size, in a circle.

use crate::output::drawing::clip;
use crate::output::drawing::free::Free;
use crate::output::drawing::mark::{self, Mark, RADIUS};
use crate::output::drawing::page::View;
use crate::output::drawing::paper::{BEYOND, CIRCLE, WORDS};
use crate::output::drawing::scene::{Anchor, Area, Ink, Pen, Point, Shape};
use crate::output::drawing::section::cut::Cut;
use crate::output::drawing::section::line::Line;
use crate::output::drawing::section::names::place_of;
use crate::output::drawing::section::{body, drops, steps};
use crate::output::drawing::subject::Subject;

/// Corners of the circle's outline.
const CORNERS: usize = 72;

/// The joint of a finding on a line, if it has one there.
pub fn enlargement(subject: &Subject, line: &Line, entry: &Mark) -> Option<View> {
    let cut = Cut::new(subject, line, 1.0);
    let at_joint = place_of(&cut, entry)?;
    let radius = CIRCLE / 2.0;
    let middle = Point::new(radius + 1.0, radius + 1.0);
    let outline: Vec<Point> = (0..CORNERS)
        .map(|n| {
            let angle = n as f64 / CORNERS as f64 * std::f64::consts::TAU;
            Point::new(middle.x + radius * angle.cos(), middle.y + radius * angle.sin())
        })
        .collect();
    let shown = body(&cut).into_iter().map(|shape| shape.moved(middle.x - at_joint.x, middle.y - at_joint.y));
    let mut shapes: Vec<Shape> = shown.filter_map(|shape| clip::shape(&shape, &outline, false)).collect();
    shapes.push(Shape::Circle { center: middle, radius, pen: Some(Pen::solid(BEYOND, Ink::Black)), fill: None });
    let sign = Point::new(middle.x + 9.0, middle.y - 7.0);
    shapes.push(mark::pointer(entry.number, vec![sign, middle]));
    shapes.push(mark::mark(sign, *entry));
    let mut free = Free::of(&[]);
    free.take(Area::new(sign.x - RADIUS, sign.y - RADIUS, sign.x + RADIUS, sign.y + RADIUS));
    let within = |at: Point| Point::new(at.x + middle.x - at_joint.x, at.y + middle.y - at_joint.y);
    let inside = |at: &Point| (at.x - middle.x).hypot(at.y - middle.y) < radius - 4.0;
    let steps =
        drops::told(&cut).into_iter().map(|(n, at, wrong)| (n, within(at), wrong)).filter(|(_, at, _)| inside(at));
    shapes.extend(steps::beside(steps.collect(), &mut free));
    let foot = Point::new(middle.x, 2.0 * radius + 3.0 + WORDS);
    shapes.push(Shape::text(foot, WORDS, "Enlargement 1:1").anchored(Anchor::Middle));
    let side = 2.0 * radius + 2.0;
    Some(View {
        name: "Enlargement",
        shapes,
        width: side,
        height: side + WORDS + 3.0,
        scale: 1.0,
        caption: "full size; gaps between membranes exaggerated".to_owned(),
        unplaced: Vec::new(),
    })
}

/// What the enlargement shows, on the section: a thin circle around the joint of the first open finding.
pub fn ring(cut: &Cut, scale: f64) -> Option<Shape> {
    let entry = cut.subject.marks.iter().find(|entry| entry.finding.open() && place_of(cut, entry).is_some())?;
    let center = place_of(cut, entry)?;
    let radius = (CIRCLE / 2.0 / scale).max(RADIUS);
    Some(Shape::Circle { center, radius, pen: Some(Pen::solid(BEYOND, Ink::Dark)), fill: None })
}
