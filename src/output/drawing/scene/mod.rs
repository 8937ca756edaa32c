//! What is on a drawing, before any file format.

mod area;
mod pen;
mod role;

pub use area::{Area, Point};
pub use pen::{Anchor, Dash, Ink, Pen};
pub use role::{Role, Symbol};

use crate::output::drawing::lettering;

/// A drawing in millimetres of the building, x to the right and y down.
///
/// On paper it is smaller by `scale` (5 for 1:5); text and pens are sized for paper, so in the scene they are larger by
/// as much.
#[derive(Clone, Debug, PartialEq)]
pub struct Scene {
    pub width: f64,
    pub height: f64,
    pub scale: f64,
    /// What the drawing is, in a few words.
    pub title: String,
    /// What it shows, for those who do not see it.
    pub description: String,
    pub shapes: Vec<Shape>,
}

#[derive(Clone, Debug, PartialEq)]
pub enum Shape {
    /// Runs of straight lines; closed ones bound areas, and an area within an area is a hole.
    Path {
        runs: Vec<Vec<Point>>,
        closed: bool,
        pen: Option<Pen>,
        fill: Option<Ink>,
    },
    Circle {
        center: Point,
        radius: f64,
        pen: Option<Pen>,
        fill: Option<Ink>,
    },
    /// `at` lies on the line that the letters stand on.
    Text {
        at: Point,
        height: f64,
        anchor: Anchor,
        bold: bool,
        ink: Ink,
        words: String,
    },
    /// Shapes that are one thing, with the words that a reader gets for it.
    Group {
        role: Role,
        words: String,
        shapes: Vec<Shape>,
    },
}

impl Shape {
    pub fn line(points: Vec<Point>, pen: Pen) -> Shape {
        Shape::Path { runs: vec![points], closed: false, pen: Some(pen), fill: None }
    }

    pub fn lines(runs: Vec<Vec<Point>>, pen: Pen) -> Shape {
        Shape::Path { runs, closed: false, pen: Some(pen), fill: None }
    }

    pub fn polygon(points: Vec<Point>, pen: Option<Pen>, fill: Option<Ink>) -> Shape {
        Shape::Path { runs: vec![points], closed: true, pen, fill }
    }

    /// A figure of four corners with its diagonals, the sign of lumber that is cut.
    pub fn crossed(corners: Vec<Point>, pen: Pen) -> [Shape; 2] {
        let cross = vec![vec![corners[0], corners[2]], vec![corners[1], corners[3]]];
        [Shape::polygon(corners, Some(pen), None), Shape::lines(cross, pen)]
    }

    pub fn text(at: Point, height: f64, words: impl Into<String>) -> Shape {
        Shape::Text { at, height, anchor: Anchor::Start, bold: false, ink: Ink::Black, words: words.into() }
    }

    pub fn anchored(self, to: Anchor) -> Shape {
        match self {
            Shape::Text { at, height, bold, ink, words, .. } => {
                Shape::Text { at, height, anchor: to, bold, ink, words }
            }
            other => other,
        }
    }

    pub fn bold(self) -> Shape {
        match self {
            Shape::Text { at, height, anchor, ink, words, .. } => {
                Shape::Text { at, height, anchor, bold: true, ink, words }
            }
            other => other,
        }
    }

    pub fn inked(self, ink: Ink) -> Shape {
        match self {
            Shape::Text { at, height, anchor, bold, words, .. } => Shape::Text { at, height, anchor, bold, ink, words },
            other => other,
        }
    }

    /// The room that words take, from the line they stand on up.
    pub fn room(&self) -> Option<Area> {
        let Shape::Text { at, height, anchor, words, .. } = self else { return None };
        let width = lettering::width(words, *height);
        let left = match anchor {
            Anchor::Start => at.x,
            Anchor::Middle => at.x - width / 2.0,
            Anchor::End => at.x - width,
        };
        Some(Area::new(left, at.y - height, left + width, at.y))
    }

    pub fn group(role: Role, words: impl Into<String>, shapes: Vec<Shape>) -> Shape {
        Shape::Group { role, words: words.into(), shapes }
    }

    /// All that it is made of, from the first drawn to the last; groups before their contents.
    pub fn each(&self, visit: &mut dyn FnMut(&Shape)) {
        visit(self);
        if let Shape::Group { shapes, .. } = self {
            shapes.iter().for_each(|shape| shape.each(visit));
        }
    }

    /// The same somewhere else.
    pub fn moved(mut self, x: f64, y: f64) -> Shape {
        self.each_place(&mut |p| *p = Point::new(p.x + x, p.y + y));
        self
    }

    pub fn each_place(&mut self, change: &mut dyn FnMut(&mut Point)) {
        match self {
            Shape::Path { runs, .. } => runs.iter_mut().flatten().for_each(change),
            Shape::Circle { center: at, .. } | Shape::Text { at, .. } => change(at),
            Shape::Group { shapes, .. } => shapes.iter_mut().for_each(|s| s.each_place(change)),
        }
    }

    fn enlarge(&mut self, factor: f64) {
        let pen_times = |pen: &mut Option<Pen>| {
            if let Some(pen) = pen {
                pen.width *= factor;
            }
        };
        match self {
            Shape::Path { runs, pen, .. } => {
                runs.iter_mut().flatten().for_each(|p| *p = p.times(factor));
                pen_times(pen);
            }
            Shape::Circle { center, radius, pen, .. } => {
                *center = center.times(factor);
                *radius *= factor;
                pen_times(pen);
            }
            Shape::Text { at, height, .. } => {
                *at = at.times(factor);
                *height *= factor;
            }
            Shape::Group { shapes, .. } => shapes.iter_mut().for_each(|s| s.enlarge(factor)),
        }
    }
}

impl Scene {
    /// A scene laid out in millimetres of paper at a scale, brought to millimetres of the building.
    /// Shapes that are laid over a drawing have no paper of their own.
    pub fn empty() -> Scene {
        let (title, description) = (String::new(), String::new());
        Scene { width: 0.0, height: 0.0, scale: 1.0, title, description, shapes: Vec::new() }
    }

    pub fn at_scale(mut self, scale: f64) -> Scene {
        self.shapes.iter_mut().for_each(|shape| shape.enlarge(scale));
        Scene { width: self.width * scale, height: self.height * scale, scale, ..self }
    }

    pub fn each(&self, visit: &mut dyn FnMut(&Shape)) {
        self.shapes.iter().for_each(|shape| shape.each(visit));
    }

    /// The groups of one role, in drawing order.
    pub fn groups(&self, wanted: Role) -> Vec<&[Shape]> {
        fn look<'a>(shapes: &'a [Shape], wanted: Role, found: &mut Vec<&'a [Shape]>) {
            for shape in shapes {
                if let Shape::Group { role, shapes, .. } = shape {
                    if *role == wanted {
                        found.push(shapes);
                    }
                    look(shapes, wanted, found);
                }
            }
        }
        let mut found = Vec::new();
        look(&self.shapes, wanted, &mut found);
        found
    }
}
