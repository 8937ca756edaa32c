//! The steps of a water path, with the numbers that they have in the finding.

use crate::output::drawing::free::Free;
use crate::output::drawing::mark::Mark;
use crate::output::drawing::paper::{BEYOND, RING, SMALL};
use crate::output::drawing::scene::{Anchor, Area, Ink, Pen, Point, Role, Shape, Symbol};
use crate::output::drawing::section::cut::Cut;
use crate::output::drawing::section::enlarge::crossings;
use crate::output::drawing::section::reported_path;
use crate::output::drawing::water;

/// Half the width of the drop that a number stands in, mm.
const DROP: f64 = 1.7;

/// How far beside the path it may stand, in the order of preference.
const BESIDE: [f64; 10] = [4.0, -4.0, 7.5, -7.5, 11.0, -11.0, 15.0, -15.0, 19.0, -19.0];

/// The numbers of a finding whose path is drawn, each beside its place; one that finds no room is left to the words.
pub fn numbers(
    cut: &Cut,
    entry: &Mark,
    moved: &dyn Fn(Point) -> Point,
    free: &mut Free,
    drawn: &[Shape],
) -> Vec<Shape> {
    let steps = reported_path::steps_on(cut, entry).into_iter();
    beside(steps.map(|(number, at, wrong)| (number, moved(at), wrong)).collect(), free, drawn, 1.0)
}

/// Numbers beside their places on the paper, at a scale: where they cover the least of what is drawn.
pub fn beside(steps: Vec<(usize, Point, bool)>, free: &mut Free, drawn: &[Shape], scale: f64) -> Vec<Shape> {
    let mut shapes = Vec::new();
    for (number, at, wrong) in steps {
        let room = |by: f64| {
            let (x, half) = (at.x + by, DROP * scale);
            Area::new(x - half, at.y - 2.0 * half, x + half, at.y + half)
        };
        // Beside the ring and its arrow, where it goes wrong.
        let off = if wrong { RING } else { 0.0 };
        let beside = BESIDE.map(|by| scale * (by + off.copysign(by)));
        let rooms = beside.into_iter().filter(|by| free.has(room(*by)));
        let Some(by) = rooms.min_by_key(|by| crossings(drawn, room(*by))) else { continue };
        free.take(room(by));
        let center = Point::new(at.x + by, at.y);
        let tie = vec![at, Point::new(center.x - by.signum() * DROP * scale, at.y)];
        let mut own = vec![Shape::line(tie, Pen::solid(BEYOND * scale, Ink::Warm))];
        own.extend(sign(center, &number.to_string(), scale));
        let own = vec![Shape::group(Role::Symbol(Symbol::Step), "", own)];
        shapes.push(Shape::group(Role::Drop, format!("step {number} of the water"), own));
    }
    shapes
}

/// A number in a drop.
pub fn sign(center: Point, number: &str, scale: f64) -> Vec<Shape> {
    let pen = Some(Pen::solid(BEYOND * scale, Ink::Warm));
    let height = 0.8 * SMALL * scale;
    let words = Shape::text(Point::new(center.x, center.y + height / 2.0), height, number);
    vec![
        Shape::polygon(water::outline(center, DROP * scale), pen, Some(Ink::White)),
        words.anchored(Anchor::Middle).bold(),
    ]
}
