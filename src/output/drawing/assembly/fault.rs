//! The layers of a finding, for the page that tells it.

use crate::facts::AssemblyFacts;
use crate::facts::vapor::PERM;
use crate::output::drawing::assembly::{LAYERS_HEIGHT, bounds, description, drawn, list};
use crate::output::drawing::paper::{CUT, MEMBRANE, SMALL, WORDS};
use crate::output::drawing::scene::{Anchor, Area, Ink, Pen, Point, Scene, Shape};
use crate::output::visible;

/// The layers alone, those at fault in brackets with the number of the finding, and how each of them dries to either side.
pub fn layers(facts: &AssemblyFacts, at: &[usize], number: usize) -> Scene {
    let bounds = bounds(facts);
    let area = Area::new(4.0, 20.0, 98.0, 20.0 + LAYERS_HEIGHT);
    let mut shapes = drawn(facts, &bounds, area);
    let (list, listed) = list(facts, 4.0);
    shapes.extend(list.into_iter().map(|shape| shape.moved(-16.0, 0.0)));
    let x = |n: usize| area.left + bounds[n] * area.width();
    let count = facts.layers.len();
    let mut end = area.bottom + 4.0;
    for layer in at.iter().copied().filter(|layer| *layer < count) {
        // Layers are written outside first and drawn inside first.
        let (left, right) = (x(count - 1 - layer) - 0.8, x(count - layer) + 0.8);
        let middle = (left + right) / 2.0;
        let bracket = vec![
            Point::new(left, area.bottom + 1.0),
            Point::new(left, area.bottom + 3.5),
            Point::new(right, area.bottom + 3.5),
            Point::new(right, area.bottom + 1.0),
        ];
        shapes.push(Shape::line(bracket, Pen::solid(MEMBRANE, Ink::Black)));
        let words = format!("{number}");
        shapes.push(Shape::text(Point::new(middle, area.bottom + 7.0), WORDS, words).anchored(Anchor::Middle).bold());
        for (n, (permeance, side, word)) in
            [(facts.dries_in(layer).ok(), -1.0, "in"), (facts.dries_out(layer).ok(), 1.0, "out")]
                .into_iter()
                .enumerate()
        {
            let Some(value) = permeance else { continue };
            let y = area.bottom + 11.5 + 6.0 * n as f64;
            let to = Point::new(if side < 0.0 { area.left } else { area.right }, y);
            shapes.push(Shape::line(vec![Point::new(middle, y), to], Pen::solid(CUT, Ink::Black)));
            let head = |s: f64| Point::new(to.x - side * 2.2, to.y + s);
            shapes.push(Shape::line(vec![head(1.1), to, head(-1.1)], Pen::solid(CUT, Ink::Black)));
            let amount = if value.is_infinite() { "freely".to_owned() } else { format!("{:.3} perm", value / PERM) };
            let text = format!("dries {word}: {amount}");
            shapes.push(Shape::text(Point::new(area.right + 4.0, y + WORDS / 2.0), WORDS, text));
        }
        end = area.bottom + 20.0;
    }
    let words =
        |x: f64, words: &str, anchor| Shape::text(Point::new(x, area.top - 14.0), SMALL, words).anchored(anchor);
    shapes.push(words(area.left, "inside", Anchor::Start));
    shapes.push(words(area.right, "outside", Anchor::End));
    let title = visible(&format!("Layers of {}", facts.assembly.name)).into_owned();
    Scene {
        width: 172.0,
        height: end.max(listed) + 4.0,
        scale: 1.0,
        title,
        description: description(facts, None),
        shapes,
    }
}
