//! What is drawn as a line: sheets, tapes, flashings, what is spread on.

use crate::model::{Axis, Material, MaterialKind};
use crate::output::drawing::page;
use crate::output::drawing::paper::MEMBRANE;
use crate::output::drawing::scene::{Dash, Ink, Pen, Point, Role, Shape, Symbol};
use crate::output::drawing::section::cut::Cut;

/// A sheet is a solid line, a tape a double one, self-adhered flashing a filled band, formed metal solid with its drip, and what is spread
/// on as a liquid a dotted band.
pub fn pieces(cut: &Cut) -> Vec<Shape> {
    let thin = |p: &usize| cut.places.pieces[*p].thin;
    let piece = |index: usize| {
        let shapes = cut.line.intervals(index).into_iter().flat_map(|interval| one(cut, index, interval)).collect();
        Shape::group(Role::Piece(index), page::accessible_name(cut.subject, index), shapes)
    };
    cut.line.pieces().into_iter().filter(thin).map(piece).collect()
}

fn one(cut: &Cut, index: usize, interval: std::ops::Range<usize>) -> Vec<Shape> {
    let piece = &cut.subject.detail.pieces[index];
    let first = interval.start;
    let line = cut.places.face_line(index, interval.clone(), 0.0);
    let traced = cut.trace(index, interval, &line);
    let stroke = |width: f64, ink: Ink| Shape::line(traced.clone(), Pen::solid(width, ink));
    let drawn = match piece.material.kind {
        Some(MaterialKind::Tape) => vec![stroke(1.1, Ink::Black), stroke(0.6, Ink::White)],
        Some(MaterialKind::Flashing) if piece.material.adhesive.is_some() => {
            vec![stroke(1.2, Ink::Black), stroke(0.7, Ink::Light)]
        }
        Some(MaterialKind::Coat) => vec![
            stroke(1.1, Ink::Pale),
            Shape::line(traced.clone(), Pen::solid(MEMBRANE, Ink::Black).dashed(Dash::Dotted)),
        ],
        _ => vec![stroke(MEMBRANE, Ink::Black)],
    };
    let mut shapes = match symbol(&piece.material) {
        Some(symbol) => vec![Shape::group(Role::Symbol(symbol), "", drawn)],
        None => drawn,
    };
    if piece.drip && cut.line.axis == Axis::Up {
        let [low, _] = cut.real(index, &cut.interval(index, first));
        let out = line.first().map_or(0.0, |(_, out)| *out);
        let lip: Vec<Point> =
            [(low, out), (low - 1.4, out + 1.5)].map(|(along, out)| cut.on(index, first, along, out)).to_vec();
        shapes.push(Shape::line(lip, Pen::solid(MEMBRANE, Ink::Black)));
    }
    shapes
}

/// What the legend calls the line of a material.
fn symbol(material: &Material) -> Option<Symbol> {
    match material.kind? {
        MaterialKind::Sheet => Some(Symbol::Sheet),
        MaterialKind::Tape => Some(Symbol::Tape),
        MaterialKind::Coat => Some(Symbol::Liquid),
        MaterialKind::Flashing if material.adhesive.is_some() => Some(Symbol::SelfAdhered),
        MaterialKind::Flashing => Some(Symbol::Metal),
        _ => None,
    }
}
