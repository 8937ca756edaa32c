//! The layers of a finding, for the page that reports it.

use crate::facts::AssemblyFacts;
use crate::output::drawing::assembly::stack::{Stack, lies};
use crate::output::drawing::assembly::{LAYERS_HEIGHT, LYING_HEIGHT, bounds, description, drawn, list};
use crate::output::drawing::cloud;
use crate::output::drawing::paper::{CUT, MEMBRANE, SMALL, WORDS};
use crate::output::drawing::scene::{Anchor, Area, Ink, Pen, Point, Scene, Shape};
use crate::output::drawing::water::unit;
use crate::output::visible;
use crate::quantity::{Dimension, Quantity, base_unit};

/// The layers alone, those at fault in brackets with the number of the finding, and how each of them dries to either side.
pub fn layers(facts: &AssemblyFacts, at: &[usize], number: usize) -> Scene {
    let bounds = bounds(facts);
    let stack = stack(facts);
    let area = stack.area;
    let mut shapes = drawn(facts, &bounds, stack);
    let (list, listed) = list(facts, 4.0);
    shapes.extend(list.into_iter().map(|shape| shape.moved(-16.0, 0.0)));
    let count = facts.layers.len();
    let mut end = area.bottom + 4.0;
    for (n, layer) in at.iter().copied().filter(|layer| *layer < count).enumerate() {
        let part = part(stack, &bounds, layer);
        shapes.extend(bracket(stack, part, number));
        // How the others dry is not much different, and would be written over it.
        if n == 0 {
            shapes.extend(drying(facts, layer, stack, part));
        }
        end = area.bottom + if stack.lies() { 8.0 } else { 27.0 };
    }
    let words = |at: Point, words: &str, anchor| Shape::text(at, SMALL, words).anchored(anchor);
    let [inside, outside] = if stack.lies() {
        [0.0, 1.0].map(|depth| Point::new(area.left, beside(stack, depth)))
    } else {
        [area.left, area.right].map(|x| Point::new(x, area.top - 14.0))
    };
    shapes.push(words(inside, "inside", Anchor::Start));
    shapes.push(words(outside, "outside", if stack.lies() { Anchor::Start } else { Anchor::End }));
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

/// Clouds around layers of that drawing.
pub fn layer_clouds(facts: &AssemblyFacts, changed: &[usize]) -> Vec<Shape> {
    let (stack, bounds) = (stack(facts), bounds(facts));
    changed.iter().map(|layer| cloud::around(part(stack, &bounds, *layer))).collect()
}

fn stack(facts: &AssemblyFacts) -> Stack {
    let area = match lies(facts) {
        true => Area::new(20.0, 12.0, 98.0, 12.0 + LYING_HEIGHT),
        false => Area::new(4.0, 20.0, 98.0, 20.0 + LAYERS_HEIGHT),
    };
    Stack::new(facts, area)
}

/// Where a layer lies: layers are written outside first and drawn inside first.
fn part(stack: Stack, bounds: &[f64], layer: usize) -> Area {
    let count = bounds.len() - 1;
    stack.between(bounds[count - 1 - layer], bounds[count - layer])
}

/// Where words stand above or below layers that lie.
fn beside(stack: Stack, depth: f64) -> f64 {
    let y = stack.at(depth, 0.0).y;
    if y < stack.area.center().y { y - 2.0 } else { y + 2.0 + WORDS }
}

/// A bracket around a layer, with the number of the finding.
fn bracket(stack: Stack, part: Area, number: usize) -> Vec<Shape> {
    let area = stack.area;
    let (points, at) = if stack.lies() {
        let (top, bottom, right) = (part.top - 0.8, part.bottom + 0.8, area.right);
        let points = [(1.0, top), (3.5, top), (3.5, bottom), (1.0, bottom)];
        let at = Point::new(right + 5.8, part.center().y + WORDS / 2.0);
        (points.map(|(off, y)| Point::new(right + off, y)), at)
    } else {
        let (left, right) = (part.left - 0.8, part.right + 0.8);
        let points = [(left, 1.0), (left, 3.5), (right, 3.5), (right, 1.0)];
        let at = Point::new(part.center().x, area.bottom + 7.0);
        (points.map(|(x, off)| Point::new(x, area.bottom + off)), at)
    };
    vec![
        Shape::line(points.to_vec(), Pen::solid(MEMBRANE, Ink::Black)),
        Shape::text(at, WORDS, number.to_string()).anchored(Anchor::Middle).bold(),
    ]
}

/// How much a layer dries to either side: an arrow to that side, and words.
fn drying(facts: &AssemblyFacts, layer: usize, stack: Stack, part: Area) -> Vec<Shape> {
    let (area, mut shapes) = (stack.area, Vec::new());
    let sides = [(facts.dries_in(layer).ok(), 0.0, "in"), (facts.dries_out(layer).ok(), 1.0, "out")];
    for (n, (permeance, depth, word)) in sides.into_iter().enumerate() {
        let Some(value) = permeance else { continue };
        let amount = if value.is_infinite() {
            "freely".to_owned()
        } else {
            Quantity::from_si(value, base_unit(Dimension::Permeance)).to_string()
        };
        let text = format!("dries {word}: {amount}");
        let n = n as f64;
        let (from, to, words) = if stack.lies() {
            let x = area.right - 6.0 - 8.0 * n;
            let (from, to) = (Point::new(x, part.center().y), Point::new(x, stack.at(depth, 0.0).y));
            let at = Point::new(area.right, beside(stack, depth));
            (from, to, Shape::text(at, WORDS, text).anchored(Anchor::End))
        } else {
            let y = area.bottom + 11.0 + 8.0 * n;
            let (from, to) = (Point::new(part.center().x, y), Point::new(stack.at(depth, 0.0).x, y));
            // Beside it lies the list of the layers.
            (from, to, Shape::text(Point::new(area.left, y + 1.4 + WORDS), WORDS, text))
        };
        let (dx, dy) = unit(from, to);
        let head = |s: f64| Point::new(to.x - 2.2 * dx + s * dy, to.y - 2.2 * dy + s * dx);
        // White under it keeps it apart from the hatches.
        for pen in [Pen::solid(3.0 * CUT, Ink::White), Pen::solid(CUT, Ink::Black)] {
            shapes.push(Shape::lines(vec![vec![from, to], vec![head(1.1), to, head(-1.1)]], pen));
        }
        shapes.push(words);
    }
    shapes
}
