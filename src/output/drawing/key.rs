//! The section unfolded, as a small key: the elevation shows the face so, the section bent.

use crate::facts::bend::Leg;
use crate::facts::face::{Coordinate, Extent};
use crate::facts::nanometres;
use crate::model::{AssemblyKind, Axis, Detail, Piece};
use crate::output::drawing::paper::{BEYOND, CUT, SMALL};
use crate::output::drawing::ruler::Ruler;
use crate::output::drawing::scene::{Anchor, Ink, Pen, Point, Role, Shape};
use crate::output::drawing::section::{self, SectionLine};
use crate::output::drawing::subject::Subject;

/// How high it is with its title, and how wide with its words.
pub const HIGH: f64 = 46.0;
pub const SIZE: [f64; 2] = [36.0, HIGH];

/// Height of the strip, and its width.
const STRIP: f64 = 40.0;
const WIDE: f64 = 5.0;

/// Room for the heights of its folds.
const LEFT: f64 = 14.0;

/// A key to a section that is bent; nothing for one that is straight.
pub fn key(subject: &Subject, line: Option<&SectionLine>) -> Option<Vec<Shape>> {
    let line = line.filter(|line| line.axis == Axis::Up)?;
    let (bend, _) = section::bend(subject, line.axis);
    if bend.legs.len() < 2 {
        return None;
    }
    let ruler = Ruler::new(&section::edges(subject, line), 1.0, false);
    let y = |at: f64| HIGH - 1.0 - at / ruler.length().max(1e-9) * STRIP;
    let mut shapes = vec![Shape::text(Point::new(-LEFT, SMALL), SMALL, "UNFOLDED").bold()];
    for leg in &bend.legs {
        let (low, high) = (y(ruler.at(leg.extent.low)), y(ruler.at(leg.extent.high)));
        let rim = [(0.0, high), (WIDE, high), (WIDE, low), (0.0, low)].map(|(x, y)| Point::new(x, y)).to_vec();
        let lies = leg.heading.to_radians().sin().abs() < 0.7072;
        let fill = if lies { Ink::Pale } else { Ink::White };
        shapes.push(Shape::polygon(rim, Some(Pen::solid(BEYOND, Ink::Black)), Some(fill)));
        let words = match part(subject.detail, leg.extent, lies) {
            _ if lies && is_top(subject.detail, leg) => "top",
            Some(part) => part,
            None if lies => "level part",
            None => "upright part",
        };
        shapes.push(Shape::text(Point::new(WIDE + 2.0, (low + high + SMALL) / 2.0), SMALL, words));
    }
    for legs in bend.legs.windows(2) {
        let fold = y(ruler.at(legs[1].extent.low));
        shapes
            .push(Shape::line(vec![Point::new(-1.5, fold), Point::new(WIDE + 1.5, fold)], Pen::solid(CUT, Ink::Black)));
        let at = ruler_length(subject, legs[1].extent.low);
        shapes.push(Shape::text(Point::new(-2.5, fold + SMALL / 2.0), SMALL, at).anchored(Anchor::End));
    }
    let shapes = shapes.into_iter().map(|shape| shape.moved(LEFT, 0.0)).collect();
    Some(vec![Shape::group(Role::Other, "the section unfolded", shapes)])
}

/// The roof of a parapet is beyond its other face: what lies between its two folds is its top.
fn is_top(detail: &Detail, leg: &Leg) -> bool {
    &*detail.kind == "parapet" && leg.extent.length().is_some()
}

/// What a leg is a part of, by most of the layers on it: a roof that lies, or a wall that stands.
fn part(detail: &Detail, leg: Extent, lies: bool) -> Option<&'static str> {
    let on = |piece: &&Piece| {
        let low = piece.up.low.map_or(Coordinate::MIN, nanometres).max(leg.low);
        let high = piece.up.high.map_or(Coordinate::MAX, nanometres).min(leg.high);
        low < high
    };
    let kind = |piece: &Piece| piece.layer.map(|at| detail.joins[at.join].assembly.kind);
    let kinds: Vec<AssemblyKind> = detail.pieces.iter().filter(on).filter_map(kind).collect();
    let level = |kind: &AssemblyKind| matches!(kind, AssemblyKind::Roof | AssemblyKind::Floor | AssemblyKind::Ground);
    let count = |kind: &AssemblyKind| kinds.iter().filter(|other| *other == kind).count();
    let most = AssemblyKind::ALL.into_iter().filter(|kind| count(kind) > 0 && level(kind) == lies).max_by_key(count)?;
    Some(match most {
        AssemblyKind::Existing if &*detail.kind == "chimney" => "chimney",
        AssemblyKind::Existing => "existing part",
        kind => kind.word(),
    })
}

fn ruler_length(subject: &Subject, at: i64) -> String {
    subject.plain(crate::output::drawing::ruler::millimetres(at))
}
