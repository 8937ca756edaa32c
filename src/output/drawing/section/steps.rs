//! The steps of a way that water takes, numbered as the finding tells them.

use crate::output::drawing::free::Free;
use crate::output::drawing::paper::{BEYOND, RING, SMALL};
use crate::output::drawing::scene::{Anchor, Area, Ink, Pen, Point, Role, Shape};
use crate::output::drawing::section::cut::Cut;
use crate::output::drawing::section::drops;

/// Half the size of a number's disk, mm.
const DISK: f64 = 1.7;

/// How far beside the way it may stand, in the order of preference.
const BESIDE: [f64; 6] = [4.0, -4.0, 7.5, -7.5, 11.0, -11.0];

/// The numbers of the first open finding whose way is drawn, each beside its place; one that finds no room is left to the words.
pub fn numbers(cut: &Cut, moved: &dyn Fn(Point) -> Point, free: &mut Free) -> Vec<Shape> {
    beside(drops::told(cut).into_iter().map(|(number, at, wrong)| (number, moved(at), wrong)).collect(), free)
}

/// Numbers beside their places on the paper.
pub fn beside(steps: Vec<(usize, Point, bool)>, free: &mut Free) -> Vec<Shape> {
    let mut shapes = Vec::new();
    for (number, at, wrong) in steps {
        let room = |by: f64| Area::new(at.x + by - DISK, at.y - DISK, at.x + by + DISK, at.y + DISK);
        // Beside the ring and its arrow, where it goes wrong.
        let off = if wrong { RING } else { 0.0 };
        let beside = BESIDE.map(|by| by + off.copysign(by));
        let Some(by) = beside.into_iter().find(|by| free.has(room(*by))) else { continue };
        free.take(room(by));
        let center = Point::new(at.x + by, at.y);
        let tie = vec![at, Point::new(center.x - by.signum() * DISK, at.y)];
        let words = Shape::text(Point::new(center.x, center.y + 0.4 * SMALL), 0.8 * SMALL, number.to_string());
        shapes.push(Shape::group(
            Role::Drop,
            format!("step {number} of the water"),
            vec![
                Shape::line(tie, Pen::solid(BEYOND, Ink::Warm)),
                Shape::Circle {
                    center,
                    radius: DISK,
                    pen: Some(Pen::solid(BEYOND, Ink::Warm)),
                    fill: Some(Ink::White),
                },
                words.anchored(Anchor::Middle).bold(),
            ],
        ));
    }
    shapes
}
