//! Shapes as elements.

use crate::output::drawing::scene::{Ink, Pen, Role, Shape};
use crate::output::drawing::svg::escape;
use crate::output::drawing::svg::group::{dot, is_label, ring, stroke, ungrouped};
use crate::output::drawing::svg::look;
use crate::output::drawing::svg::path_data::{PathData, number};

pub(super) struct Out {
    pub(super) text: String,
    /// How many units of the page a millimeter of the building is; in a file by itself it is one.
    pub(super) page: Option<f64>,
}

impl Out {
    /// All shapes of a drawing. Most are lines, so that what is filled says so.
    pub(super) fn unfilled(&mut self, shapes: &[Shape]) {
        // What it shows is said by the title and the description of the image.
        self.text.push_str("<g fill=\"none\" aria-hidden=\"true\">\n");
        self.shapes(shapes);
        self.text.push_str("</g>\n");
    }

    fn shapes(&mut self, shapes: &[Shape]) {
        let mut seen = Vec::with_capacity(shapes.len());
        ungrouped(shapes, self.page.is_some(), &mut seen);
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
        let mut path = self.path_data();
        for shape in lines {
            if let Shape::Path { runs, closed, .. } = shape {
                runs.iter().for_each(|run| path.run(run, *closed));
            }
        }
        if !path.data.is_empty() {
            let look = look::line(self.page, &Some(pen), &None, false);
            self.text.push_str(&format!("<path d=\"{}\"{look}/>\n", path.data));
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
        let mut path = self.path_data();
        for shape in rings {
            if let Shape::Circle { center, .. } = shape {
                path.ring(*center, radius);
            }
        }
        let look = look::line(self.page, &Some(pen), &None, false);
        self.text.push_str(&format!("<path d=\"{}\"{look}/>\n", path.data));
    }

    /// Dots of one size as one path: the round ends of lines of no length. A stippled wall has thousands.
    fn dots(&mut self, dots: &[&Shape], radius: f64, ink: Ink) {
        let mut path = self.path_data();
        for shape in dots {
            if let Shape::Circle { center, .. } = shape {
                path.dot(*center);
            }
        }
        let pen = Pen::solid(2.0 * radius, ink);
        let look = look::line(self.page, &Some(pen), &None, true);
        self.text.push_str(&format!("<path d=\"{}\"{look}/>\n", path.data));
    }

    fn shape(&mut self, shape: &Shape) {
        match shape {
            Shape::Path { runs, closed, pen, fill } => {
                let mut path = self.path_data();
                runs.iter().for_each(|run| path.run(run, *closed));
                if !path.data.is_empty() {
                    let rule = if runs.len() > 1 && fill.is_some() { " fill-rule=\"evenodd\"" } else { "" };
                    let look = look::line(self.page, pen, fill, false);
                    self.text.push_str(&format!("<path d=\"{}\"{rule}{look}/>\n", path.data));
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

    fn path_data(&self) -> PathData {
        let parts = self.page.map_or((100.0, true), |factor| (factor, false));
        PathData::new(parts.0, parts.1)
    }

    /// A length as it is written.
    fn length(&self, length: f64) -> String {
        self.page.map_or_else(|| number(length), |factor| number((length * factor).round()))
    }
}
