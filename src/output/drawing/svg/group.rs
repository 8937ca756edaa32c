//! Which shapes are written together, and which groups are written at all.

use crate::output::drawing::scene::{Ink, Pen, Role, Shape};

/// The shapes, without groups that name nothing; on a page those are all groups without words.
pub(super) fn ungrouped<'a>(shapes: &'a [Shape], page: bool, into: &mut Vec<&'a Shape>) {
    for shape in shapes {
        match shape {
            Shape::Group { role: Role::Hatch(_) | Role::Outline(_) | Role::Symbol(_), shapes, .. } => {
                ungrouped(shapes, page, into)
            }
            Shape::Group { role: Role::Label(_), .. } => into.push(shape),
            Shape::Group { role, words, shapes } if page && (words.is_empty() || !named(*role)) => {
                ungrouped(shapes, page, into)
            }
            shape => into.push(shape),
        }
    }
}

/// What a page says the name of where a pointer rests: a thousand words like "cut off here" only make it slow.
pub(super) fn named(role: Role) -> bool {
    use Role::{Anchor, Bead, Covered, Fastening, Label, Mark, Piece};
    matches!(role, Piece(_) | Label(_) | Mark(_) | Anchor(_) | Fastening | Bead | Covered)
}

/// Radius and ink of a circle without a rim.
pub(super) fn dot(shape: &Shape) -> Option<(f64, Ink)> {
    match shape {
        Shape::Circle { radius, pen: None, fill: Some(ink), .. } => Some((*radius, *ink)),
        _ => None,
    }
}

/// Radius and pen of a circle that is not filled.
pub(super) fn ring(shape: &Shape) -> Option<(f64, Pen)> {
    match shape {
        Shape::Circle { radius, pen: Some(pen), fill: None, .. } => Some((*radius, *pen)),
        _ => None,
    }
}

/// What stands beside a drawing for a piece.
pub(super) fn is_label(shape: &Shape) -> bool {
    matches!(shape, Shape::Group { role: Role::Label(_), words, .. } if words.is_empty())
}

/// The pen of lines that fill nothing.
pub(super) fn stroke(shape: &Shape) -> Option<Pen> {
    match shape {
        Shape::Path { pen: Some(pen), fill: None, .. } => Some(*pen),
        _ => None,
    }
}
