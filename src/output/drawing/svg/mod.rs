//! A scene as SVG 1.1. Nothing else of the program knows that format.

mod look;
mod way;

pub use look::{GRID, classes, rgb};

use crate::output::drawing::scene::{Ink, Pen, Role, Scene, Shape};
use crate::output::visible;
use way::{Way, number};

/// A whole SVG file.
pub fn svg(scene: &Scene) -> String {
    format!("<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n{}", element(scene))
}

/// The `svg` element, to stand in a page: it has no ids, so that a page may have many.
pub fn element(scene: &Scene) -> String {
    let mut out = Out { text: String::with_capacity(16 * 1024), page: None };
    let paper = |length: f64| number(length / scene.scale);
    out.text.push_str(&format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{}mm\" height=\"{}mm\" viewBox=\"0 0 {} {}\" role=\"img\" \
         font-family=\"sans-serif\" stroke-linejoin=\"round\">\n<title>{}</title>\n<desc>{}</desc>\n",
        paper(scene.width),
        paper(scene.height),
        number(scene.width),
        number(scene.height),
        escape(&scene.title),
        escape(&scene.description)
    ));
    // White paper under it, so that it reads on any background.
    out.text.push_str(&format!(
        "<rect width=\"{}\" height=\"{}\" fill=\"#fff\"/>\n",
        number(scene.width),
        number(scene.height)
    ));
    out.unfilled(&scene.shapes);
    out.text.push_str("</svg>\n");
    out.text
}

/// Shapes of a drawing at a scale, to stand in a page within the `svg` of an image. A page has many: their lengths are whole numbers of
/// `GRID` to the millimeter of paper, their pens and letters are classes of its style, and there is nothing between elements, which a
/// browser would have to keep.
pub fn fragment(shapes: &[Shape], scale: f64) -> String {
    let mut out = Out { text: String::new(), page: Some(GRID / scale) };
    if !shapes.is_empty() {
        out.unfilled(shapes);
    }
    out.text.replace('\n', "")
}

struct Out {
    text: String,
    /// How many units of the page a millimeter of the building is; in a file by itself it is one.
    page: Option<f64>,
}

impl Out {
    /// All shapes of a drawing. Most are lines, so that what is filled says so.
    fn unfilled(&mut self, shapes: &[Shape]) {
        // What it shows is told by the title and the description of the image.
        self.text.push_str("<g fill=\"none\" aria-hidden=\"true\">\n");
        self.shapes(shapes);
        self.text.push_str("</g>\n");
    }

    fn shapes(&mut self, shapes: &[Shape]) {
        let mut seen = Vec::with_capacity(shapes.len());
        told(shapes, self.page.is_some(), &mut seen);
        let page = self.page.is_some();
        let same = |a: &&Shape, b: &&Shape| {
            dot(a).is_some() && dot(a) == dot(b)
                || stroke(a).is_some() && stroke(a) == stroke(b)
                || page && (ring(a).is_some() && ring(a) == ring(b) || is_label(a) && is_label(b))
        };
        for alike in seen.chunk_by(same) {
            let first = alike[0];
            match (dot(first), ring(first).filter(|_| page), stroke(first)) {
                _ if page && is_label(first) => self.labels(alike),
                (Some((radius, ink)), ..) if alike.len() > 1 => self.dots(alike, radius, ink),
                (_, Some((radius, pen)), _) => self.rings(alike, radius, pen),
                (.., Some(pen)) => self.strokes(alike, pen),
                _ => alike.iter().for_each(|shape| self.shape(shape)),
            }
        }
    }

    /// Lines of one pen as one path.
    fn strokes(&mut self, lines: &[&Shape], pen: Pen) {
        let mut way = self.way();
        for shape in lines {
            if let Shape::Path { runs, closed, .. } = shape {
                runs.iter().for_each(|run| way.run(run, *closed));
            }
        }
        if !way.data.is_empty() {
            let look = look::line(self.page, &Some(pen), &None, false);
            self.text.push_str(&format!("<path d=\"{}\"{look}/>\n", way.data));
        }
    }

    /// Labels beside each other as one group, with all of their leaders in one path, and so with their dots and circles.
    fn labels(&mut self, labels: &[&Shape]) {
        let own = |label: &&Shape| match label {
            Shape::Group { shapes, .. } => shapes.clone(),
            _ => Vec::new(),
        };
        let mut shapes: Vec<Shape> = labels.iter().flat_map(own).collect();
        shapes.sort_by_key(|shape| match shape {
            Shape::Path { .. } => 0,
            shape if dot(shape).is_some() => 1,
            Shape::Circle { .. } => 2,
            _ => 3,
        });
        self.text.push_str("<g class=\"label\">");
        self.shapes(&shapes);
        self.text.push_str("</g>\n");
    }

    /// Circles of one size as one path.
    fn rings(&mut self, rings: &[&Shape], radius: f64, pen: Pen) {
        let mut way = self.way();
        for shape in rings {
            if let Shape::Circle { center, .. } = shape {
                way.ring(*center, radius);
            }
        }
        let look = look::line(self.page, &Some(pen), &None, false);
        self.text.push_str(&format!("<path d=\"{}\"{look}/>\n", way.data));
    }

    /// Dots of one size as one path: the round ends of lines of no length. A stippled wall has thousands.
    fn dots(&mut self, dots: &[&Shape], radius: f64, ink: Ink) {
        let mut way = self.way();
        for shape in dots {
            if let Shape::Circle { center, .. } = shape {
                way.dot(*center);
            }
        }
        let pen = Pen::solid(2.0 * radius, ink);
        let look = look::line(self.page, &Some(pen), &None, true);
        self.text.push_str(&format!("<path d=\"{}\"{look}/>\n", way.data));
    }

    fn shape(&mut self, shape: &Shape) {
        match shape {
            Shape::Path { runs, closed, pen, fill } => {
                let mut way = self.way();
                runs.iter().for_each(|run| way.run(run, *closed));
                if !way.data.is_empty() {
                    let rule = if runs.len() > 1 && fill.is_some() { " fill-rule=\"evenodd\"" } else { "" };
                    let look = look::line(self.page, pen, fill, false);
                    self.text.push_str(&format!("<path d=\"{}\"{rule}{look}/>\n", way.data));
                }
            }
            Shape::Circle { center, radius, pen, fill } => {
                let [x, y, r] = [center.x, center.y, *radius].map(|length| self.length(length));
                let look = look::line(self.page, pen, fill, false);
                self.text.push_str(&format!("<circle cx=\"{x}\" cy=\"{y}\" r=\"{r}\"{look}/>\n"));
            }
            Shape::Text { at, words, .. } => {
                let [x, y] = [at.x, at.y].map(|length| self.length(length));
                let look = look::letters(self.page, shape);
                self.text.push_str(&format!("<text x=\"{x}\" y=\"{y}\"{look}>{}</text>\n", escape(words)));
            }
            Shape::Group { role, words, shapes } => {
                let (class, key) = match role {
                    Role::Piece(n) => ("piece", Some(n)),
                    Role::Label(n) => ("label", Some(n)),
                    Role::Mark(n) => ("mark", Some(n)),
                    Role::Anchor(n) => ("anchor", Some(n)),
                    Role::Drop => ("drop", None),
                    Role::Dimension | Role::Length => ("dimension", None),
                    _ => ("other", None),
                };
                let key = key.map_or(String::new(), |n| format!(" data-n=\"{n}\""));
                match self.page {
                    None => self.text.push_str(&format!("<g class=\"{class}\"{key}>")),
                    Some(_) => self.text.push_str("<g>"),
                }
                if !words.is_empty() {
                    self.text.push_str(&format!("<title>{}</title>", escape(words)));
                }
                self.text.push('\n');
                self.shapes(shapes);
                self.text.push_str("</g>\n");
            }
        }
    }

    fn way(&self) -> Way {
        let parts = self.page.map_or((100.0, true), |factor| (factor, false));
        Way::new(parts.0, parts.1)
    }

    /// A length as it is written.
    fn length(&self, length: f64) -> String {
        self.page.map_or_else(|| number(length), |factor| number((length * factor).round()))
    }
}

/// The shapes without groups that tell a reader nothing; on a page that is each group without words.
fn told<'a>(shapes: &'a [Shape], page: bool, into: &mut Vec<&'a Shape>) {
    for shape in shapes {
        match shape {
            Shape::Group { role: Role::Hatch(_) | Role::Outline(_) | Role::Symbol(_), shapes, .. } => {
                told(shapes, page, into)
            }
            Shape::Group { role: Role::Label(_), .. } => into.push(shape),
            Shape::Group { role, words, shapes } if page && (words.is_empty() || !named(*role)) => {
                told(shapes, page, into)
            }
            shape => into.push(shape),
        }
    }
}

/// What a page says the name of where a pointer rests: a thousand words like "cut off here" only make it slow.
fn named(role: Role) -> bool {
    use Role::{Anchor, Bead, Covered, Fastening, Label, Mark, Piece};
    matches!(role, Piece(_) | Label(_) | Mark(_) | Anchor(_) | Fastening | Bead | Covered)
}

/// Radius and ink of a circle without a rim.
fn dot(shape: &Shape) -> Option<(f64, Ink)> {
    match shape {
        Shape::Circle { radius, pen: None, fill: Some(ink), .. } => Some((*radius, *ink)),
        _ => None,
    }
}

/// Radius and pen of a circle that is not filled.
fn ring(shape: &Shape) -> Option<(f64, Pen)> {
    match shape {
        Shape::Circle { radius, pen: Some(pen), fill: None, .. } => Some((*radius, *pen)),
        _ => None,
    }
}

/// What stands beside a drawing for a piece.
fn is_label(shape: &Shape) -> bool {
    matches!(shape, Shape::Group { role: Role::Label(_), words, .. } if words.is_empty())
}

/// The pen of lines that fill nothing.
fn stroke(shape: &Shape) -> Option<Pen> {
    match shape {
        Shape::Path { pen: Some(pen), fill: None, .. } => Some(*pen),
        _ => None,
    }
}

/// Text from files, with what steers a reader spelled out and what means something to XML escaped.
fn escape(text: &str) -> String {
    let mut escaped = String::with_capacity(text.len());
    for c in visible(text).chars() {
        match c {
            '&' => escaped.push_str("&amp;"),
            '<' => escaped.push_str("&lt;"),
            '>' => escaped.push_str("&gt;"),
            '"' => escaped.push_str("&quot;"),
            '\'' => escaped.push_str("&#39;"),
            // Not allowed in XML at all.
            '\u{FFFE}' | '\u{FFFF}' => escaped.push(char::REPLACEMENT_CHARACTER),
            c => escaped.push(c),
        }
    }
    escaped
}
