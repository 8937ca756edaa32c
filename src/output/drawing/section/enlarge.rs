//! The joint at fault in a circle, at full size where that shows enough of it.

use crate::output::drawing::clip;
use crate::output::drawing::free::Free;
use crate::output::drawing::mark::{self, Mark, RADIUS};
use crate::output::drawing::page::View;
use crate::output::drawing::paper::{BEYOND, CIRCLE, MEDIUM, WORDS};
use crate::output::drawing::scene::{Anchor, Area, Ink, Pen, Point, Role, Shape, Symbol};
use crate::output::drawing::section::cut::Cut;
use crate::output::drawing::section::draft::body;
use crate::output::drawing::section::focus::{Focus, focus};
use crate::output::drawing::section::found::place_of;
use crate::output::drawing::section::line::SectionLine;
use crate::output::drawing::section::{reported_path, steps};
use crate::output::drawing::subject::Subject;

/// Corners of the circle's outline.
const CORNERS: usize = 72;

/// The joint of a finding on a line, if it has one there.
pub fn enlargement(subject: &Subject, line: &SectionLine, entry: &Mark) -> Option<View> {
    let focus = focus(subject, line, entry)?;
    let subject = &subject.enlarged();
    let cut = Cut::new(subject, line, focus.scale);
    let at_joint = focus.on(&cut, entry)?;
    let place = place_of(&cut, entry)?;
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
    let place = Point::new(place.x + middle.x - at_joint.x, place.y + middle.y - at_joint.y);
    let [from_middle, rim] = [(place.x - middle.x).hypot(place.y - middle.y), radius - RADIUS - 1.0];
    let place = if from_middle < rim { place } else { middle };
    // Within the circle, and on the right above its place where that has room.
    let side = if place.x > middle.x + 1.0 { -9.0 } else { 9.0 };
    let up = if place.y < middle.y - 8.0 { 7.0 } else { -7.0 };
    let sign = Point::new(place.x + side, place.y + up);
    shapes.push(mark::pointer(entry.number, vec![sign, place]));
    shapes.push(mark::mark(sign, *entry));
    let mut free = Free::of(&[]);
    free.take(Area::new(sign.x - RADIUS, sign.y - RADIUS, sign.x + RADIUS, sign.y + RADIUS));
    let within = |at: Point| Point::new(at.x + middle.x - at_joint.x, at.y + middle.y - at_joint.y);
    let inside = |at: &Point| (at.x - middle.x).hypot(at.y - middle.y) < radius - 4.0;
    let steps = reported_path::steps_on(&cut, entry)
        .into_iter()
        .map(|(n, at, wrong)| (n, within(at), wrong))
        .filter(|(_, at, _)| inside(at));
    let numbers = steps::beside(steps.collect(), &mut free, &shapes, 1.0);
    shapes.extend(numbers);
    let foot = Point::new(middle.x, 2.0 * radius + 3.0 + WORDS);
    let scale = subject.scales().written(focus.scale);
    shapes.push(Shape::text(foot, WORDS, format!("{LETTER}   Enlargement {scale}")).anchored(Anchor::Middle).bold());
    let side = 2.0 * radius + 2.0;
    Some(View {
        name: "Enlargement",
        shapes,
        width: side,
        height: side + WORDS + 3.0,
        scale: focus.scale,
        datum: None,
        middle: None,
        caption: format!("{scale}; membrane gaps exaggerated"),
        explained: Vec::new(),
        unplaced: Vec::new(),
    })
}

/// How far off the circle its letter may stand, mm, the best first.
const OFF: [f64; 4] = [2.6, 5.5, 8.5, 12.0];

/// What ties an enlargement to its circle.
const LETTER: &str = "A";

/// What the enlargement of a finding shows, on the section: a thin circle around its joint, with the letter of the enlargement.
pub fn ring(
    cut: &Cut,
    entry: &Mark,
    moved: &dyn Fn(Point) -> Point,
    free: &mut Free,
    drawn: &[Shape],
) -> Option<Shape> {
    let focus = focus(cut.subject, cut.line, entry)?;
    let center = moved(focus.on(cut, entry)?);
    let radius = reach(cut, &focus);
    let on_circle = |n: usize, far: f64| {
        let angle = (n as f64 * 30.0 - 60.0).to_radians();
        Point::new(center.x + far * angle.cos(), center.y + far * angle.sin())
    };
    let room = |n: usize, off: f64| {
        let Point { x, y } = on_circle(n, radius + off);
        Area::new(x - 1.3, y - WORDS / 2.0 - 0.2, x + 1.3, y + WORDS / 2.0 + 0.2)
    };
    // On white paper if there is some, else where the least is drawn; off the circle it has a line to it.
    let rooms = OFF.into_iter().flat_map(|off| (0..12).map(move |n| (n, off)));
    let free_rooms = rooms.filter(|(n, off)| free.has(room(*n, *off)) && room(*n, *off).left > 0.0);
    let (n, off) = free_rooms.min_by_key(|(n, off)| crossings(drawn, room(*n, *off))).unwrap_or((0, OFF[0]));
    let place = room(n, off);
    free.take(place);
    let foot = Point::new(place.center().x, place.center().y + WORDS / 2.0);
    let mut shapes = vec![Shape::Circle { center, radius, pen: Some(Pen::solid(MEDIUM, Ink::Black)), fill: None }];
    if off > OFF[0] {
        let tie = vec![on_circle(n, radius), on_circle(n, radius + off - 2.0)];
        shapes.push(Shape::line(tie, Pen::solid(BEYOND, Ink::Black)));
    }
    shapes.push(Shape::polygon(place.corners(), None, Some(Ink::White)));
    shapes.push(Shape::text(foot, WORDS, LETTER).anchored(Anchor::Middle).bold());
    Some(Shape::group(Role::Symbol(Symbol::Enlarged), "enlarged", shapes))
}

/// The room of the circle that `ring` draws for the first open finding that has a joint here.
pub fn circle(cut: &Cut, moved: &dyn Fn(Point) -> Point) -> Option<Area> {
    let open = cut.subject.marks.iter().filter(|entry| entry.finding.open());
    let of = |entry: &Mark| focus(cut.subject, cut.line, entry).and_then(|focus| Some((focus, focus.on(cut, entry)?)));
    let (focus, center) = open.into_iter().find_map(of)?;
    let (radius, center) = (reach(cut, &focus), moved(center));
    Some(Area::new(center.x - radius, center.y - radius, center.x + radius, center.y + radius))
}

/// The radius of that circle.
fn reach(cut: &Cut, focus: &Focus) -> f64 {
    (CIRCLE / 2.0 * focus.scale / cut.scale).max(RADIUS)
}

/// How many lines of shapes run through an area.
pub(super) fn crossings(shapes: &[Shape], area: Area) -> usize {
    let mut count = 0;
    let through = |pair: &&[Point]| area.meets(pair[0], pair[1]);
    for shape in shapes {
        shape.each(&mut |shape| {
            if let Shape::Path { runs, .. } = shape {
                count += runs.iter().flat_map(|run| run.windows(2)).filter(through).count();
            }
        });
    }
    count
}
