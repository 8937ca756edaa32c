//! The signs that a drawing uses, explained in its corner.

use crate::model::MaterialKind;
use crate::output::drawing::paper::{BEYOND, CUT, LEADER, MEDIUM, MEMBRANE, SMALL, WATER};
use crate::output::drawing::scene::{Dash, Ink, Pen, Point, Role, Shape};
use crate::output::drawing::subject::Subject;

/// Width and height of a legend, mm.
pub const WIDTH: f64 = 66.0;

/// Distance of its lines.
const ROW: f64 = 4.0;

/// From the upper left corner; and how high it is.
pub fn legend(subject: &Subject, views: &[&[Shape]]) -> (Vec<Shape>, f64) {
    let rows = rows(subject, views);
    let mut shapes = vec![Shape::text(Point::new(0.0, SMALL), SMALL, "SIGNS").bold()];
    for (n, (sign, words)) in rows.iter().enumerate() {
        let y = 5.0 + n as f64 * ROW;
        shapes.extend(sign.iter().cloned().map(|shape| shape.moved(0.0, y)));
        shapes.push(Shape::text(Point::new(12.0, y + SMALL / 2.0), SMALL, *words));
    }
    (vec![Shape::group(Role::Other, "legend", shapes)], 5.0 + rows.len() as f64 * ROW)
}

fn rows(subject: &Subject, views: &[&[Shape]]) -> Vec<(Vec<Shape>, &'static str)> {
    let mut seen = Seen::default();
    views.iter().flat_map(|shapes| shapes.iter()).for_each(|shape| shape.each(&mut |s| seen.look(s)));
    let kind = |kind: MaterialKind| subject.detail.pieces.iter().any(|piece| piece.material.kind == Some(kind));
    let line = |pen: Pen| Shape::line(vec![Point::new(0.0, 0.0), Point::new(10.0, 0.0)], pen);
    let mut rows = Vec::new();
    let mut add = |is: bool, sign: Vec<Shape>, words: &'static str| {
        if is {
            rows.push((sign, words));
        }
    };
    add(seen.water, vec![line(Pen::solid(WATER, Ink::Water))], "water where it may run");
    let wrong = Pen { width: WATER, ink: Ink::Warm, dash: Dash::Wet };
    add(seen.wrong, vec![line(wrong)], "water where it may not be");
    add(kind(MaterialKind::Sheet), vec![line(Pen::solid(MEMBRANE, Ink::Black))], "sheet");
    let tape = vec![line(Pen::solid(1.1, Ink::Black)), line(Pen::solid(0.6, Ink::White))];
    add(kind(MaterialKind::Tape), tape, "tape");
    let liquid = vec![line(Pen::solid(1.1, Ink::Pale)), line(Pen::solid(MEMBRANE, Ink::Black).dashed(Dash::Dotted))];
    add(kind(MaterialKind::Coat), liquid, "applied as a liquid");
    let tick = |n: f64| vec![Point::new(2.0 + n, 0.7), Point::new(2.6 + n, -0.7)];
    let ticks = Shape::lines((0..4).map(|n| tick(1.6 * f64::from(n))).collect(), Pen::solid(LEADER, Ink::Black));
    add(seen.bond, vec![ticks], "adhered");
    let bead = Shape::Circle {
        center: Point::new(5.0, 0.0),
        radius: 0.8,
        pen: Some(Pen::solid(BEYOND, Ink::Black)),
        fill: Some(Ink::Gray),
    };
    add(!subject.detail.seals.is_empty(), vec![bead], "bead of sealant, or gasket");
    let head =
        vec![vec![Point::new(3.0, -1.0), Point::new(3.0, 1.0)], vec![Point::new(3.0, 0.0), Point::new(8.0, 0.0)]];
    let fastener = Shape::lines(head, Pen::solid(MEDIUM, Ink::Black));
    add(!subject.detail.fastenings.is_empty(), vec![fastener], "fasteners in rows");
    let hidden = line(Pen::solid(BEYOND, Ink::Dark).dashed(Dash::Dashed));
    add(seen.ledge, vec![hidden], "ledge, support not given");
    let gap = vec![
        Shape::line(vec![Point::new(0.0, -0.8), Point::new(10.0, -0.8)], Pen::solid(CUT, Ink::Black)),
        Shape::line(vec![Point::new(0.0, 0.8), Point::new(10.0, 0.8)], Pen::solid(CUT, Ink::Black)),
    ];
    add(true, gap, "gaps between membranes exaggerated");
    rows
}

#[derive(Default)]
struct Seen {
    water: bool,
    wrong: bool,
    bond: bool,
    ledge: bool,
}

impl Seen {
    fn look(&mut self, shape: &Shape) {
        match shape {
            Shape::Path { pen: Some(pen), closed: false, .. } => {
                self.water |= pen.ink == Ink::Water;
                self.wrong |= pen.dash == Dash::Wet;
            }
            Shape::Group { words, .. } => {
                self.bond |= words == "adhered";
                self.ledge |= words.starts_with("ledge");
            }
            _ => {}
        }
    }
}
