//! A scene as SVG 1.1. Nothing else of the program knows that format.

use std::fmt::Write;

use crate::output::drawing::paper::dashes;
use crate::output::drawing::scene::{Anchor, Ink, Pen, Point, Role, Scene, Shape};
use crate::output::visible;

/// A whole SVG file.
pub fn svg(scene: &Scene) -> String {
    format!("<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n{}", element(scene))
}

/// The `svg` element, to stand in a page: it has no ids, so that a page may have many.
pub fn element(scene: &Scene) -> String {
    let mut out = Out(String::with_capacity(16 * 1024));
    let paper = |length: f64| number(length / scene.scale);
    out.0.push_str(&format!(
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
    out.0.push_str(&format!(
        "<rect width=\"{}\" height=\"{}\" fill=\"#fff\"/>\n",
        number(scene.width),
        number(scene.height)
    ));
    out.unfilled(&scene.shapes);
    out.0.push_str("</svg>\n");
    out.0
}

/// Shapes alone, to stand in a page within the `svg` of an image. A page has many: there is nothing between its elements, which a browser
/// would have to keep.
pub fn fragment(shapes: &[Shape]) -> String {
    let mut out = Out(String::new());
    if !shapes.is_empty() {
        out.unfilled(shapes);
    }
    out.0.replace('\n', "")
}

struct Out(String);

impl Out {
    /// All shapes of a drawing. Most are lines, so that what is filled says so.
    fn unfilled(&mut self, shapes: &[Shape]) {
        // What it shows is told by the title and the description of the image.
        self.0.push_str("<g fill=\"none\" aria-hidden=\"true\">\n");
        self.shapes(shapes);
        self.0.push_str("</g>\n");
    }

    fn shapes(&mut self, shapes: &[Shape]) {
        let mut seen = Vec::with_capacity(shapes.len());
        told(shapes, &mut seen);
        let same = |a: &&Shape, b: &&Shape| {
            dot(a).is_some() && dot(a) == dot(b) || stroke(a).is_some() && stroke(a) == stroke(b)
        };
        for alike in seen.chunk_by(same) {
            match (dot(alike[0]), stroke(alike[0])) {
                (Some((radius, ink)), _) if alike.len() > 1 => self.dots(alike, radius, ink),
                (_, Some(pen)) => self.strokes(alike, pen),
                _ => alike.iter().for_each(|shape| self.shape(shape)),
            }
        }
    }

    /// Lines of one pen as one path.
    fn strokes(&mut self, lines: &[&Shape], pen: Pen) {
        let mut data = String::new();
        for shape in lines {
            if let Shape::Path { runs, closed, .. } = shape {
                for run in runs.iter().filter(|run| !run.is_empty()) {
                    way(run, &mut data);
                    data.push_str(if *closed { "Z" } else { "" });
                }
            }
        }
        if !data.is_empty() {
            self.0.push_str(&format!("<path d=\"{data}\"{}/>\n", look(&Some(pen), &None)));
        }
    }

    /// Dots of one size as one path: the round ends of lines of no length. A stippled wall has thousands.
    fn dots(&mut self, dots: &[&Shape], radius: f64, ink: Ink) {
        let mut data = String::new();
        for shape in dots {
            if let Shape::Circle { center, .. } = shape {
                data.push_str(&format!("M{} {}h.01", number(center.x), number(center.y)));
            }
        }
        let (ink, wide) = (hex(ink), number(2.0 * radius));
        self.0.push_str(&format!(
            "<path d=\"{data}\" stroke=\"{ink}\" stroke-width=\"{wide}\" stroke-linecap=\"round\"/>\n"
        ));
    }

    fn shape(&mut self, shape: &Shape) {
        match shape {
            Shape::Path { runs, closed, pen, fill } => {
                let mut data = String::new();
                for run in runs.iter().filter(|run| !run.is_empty()) {
                    way(run, &mut data);
                    if *closed {
                        data.push('Z');
                    }
                }
                if !data.is_empty() {
                    let rule = if runs.len() > 1 && fill.is_some() { " fill-rule=\"evenodd\"" } else { "" };
                    self.0.push_str(&format!("<path d=\"{data}\"{rule}{}/>\n", look(pen, fill)));
                }
            }
            Shape::Circle { center, radius, pen, fill } => self.0.push_str(&format!(
                "<circle cx=\"{}\" cy=\"{}\" r=\"{}\"{}/>\n",
                number(center.x),
                number(center.y),
                number(*radius),
                look(pen, fill)
            )),
            Shape::Text { at, height, anchor, bold, ink, words } => {
                let anchor = match anchor {
                    Anchor::Start => "",
                    Anchor::Middle => " text-anchor=\"middle\"",
                    Anchor::End => " text-anchor=\"end\"",
                };
                let bold = if *bold { " font-weight=\"bold\"" } else { "" };
                self.0.push_str(&format!(
                    "<text x=\"{}\" y=\"{}\" font-size=\"{}\" fill=\"{}\"{anchor}{bold}>{}</text>\n",
                    number(at.x),
                    number(at.y),
                    // Capitals of common sans-serif faces are 0.72 of the size.
                    number(height / 0.72),
                    hex(*ink),
                    escape(words)
                ));
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
                self.0.push_str(&format!("<g class=\"{class}\"{key}>"));
                if !words.is_empty() {
                    self.0.push_str(&format!("<title>{}</title>", escape(words)));
                }
                self.0.push('\n');
                self.shapes(shapes);
                self.0.push_str("</g>\n");
            }
        }
    }
}

/// The shapes without groups that tell a reader nothing.
fn told<'a>(shapes: &'a [Shape], into: &mut Vec<&'a Shape>) {
    for shape in shapes {
        match shape {
            Shape::Group { role: Role::Hatch(_) | Role::Outline(_) | Role::Symbol(_), shapes, .. } => {
                told(shapes, into)
            }
            shape => into.push(shape),
        }
    }
}

fn look(pen: &Option<Pen>, fill: &Option<Ink>) -> String {
    let fill = fill.map_or(String::new(), |ink| format!(" fill=\"{}\"", hex(ink)));
    let Some(pen) = pen else { return fill };
    let unit = pen.width;
    let lengths: Vec<String> = dashes(pen.dash).iter().map(|l| number(l * unit)).collect();
    let dash = if lengths.is_empty() { String::new() } else { format!(" stroke-dasharray=\"{}\"", lengths.join(" ")) };
    format!("{fill} stroke=\"{}\" stroke-width=\"{}\"{dash}", hex(pen.ink), number(unit))
}

/// Our own inks. By lightness (CIE L*) they run 0, 25, 45, 68, 88, 100; water is 39 and warm 45, and both always come with a
/// line or a shape of their own.
fn hex(ink: Ink) -> &'static str {
    match ink {
        Ink::Black => "#000",
        Ink::Dark => "#3b3b3b",
        Ink::Gray => "#6a6a6a",
        Ink::Light => "#a6a6a6",
        Ink::Pale => "#e4e2dc",
        Ink::White => "#fff",
        Ink::Water => "#0f5fa8",
        Ink::Warm => "#c7370f",
    }
}

/// The same as parts of red, green and blue.
pub fn rgb(ink: Ink) -> [f32; 3] {
    let digits = hex(ink).trim_start_matches('#');
    let part = |n: usize| {
        let digits = if digits.len() == 3 { digits[n..n + 1].repeat(2) } else { digits[2 * n..2 * n + 2].to_owned() };
        u8::from_str_radix(&digits, 16).map_or(0.0, |part| f32::from(part) / 255.0)
    };
    [part(0), part(1), part(2)]
}

/// Radius and ink of a circle without a rim.
fn dot(shape: &Shape) -> Option<(f64, Ink)> {
    match shape {
        Shape::Circle { radius, pen: None, fill: Some(ink), .. } => Some((*radius, *ink)),
        _ => None,
    }
}

/// The pen of lines that fill nothing.
fn stroke(shape: &Shape) -> Option<Pen> {
    match shape {
        Shape::Path { pen: Some(pen), fill: None, .. } => Some(*pen),
        _ => None,
    }
}

/// A run of lines: its start, and from point to point the way to the next, which is shorter to write.
fn way(run: &[Point], data: &mut String) {
    let hundredths = |value: f64| if value.is_finite() { (value * 100.0).round() as i64 } else { 0 };
    let mut last = (0, 0);
    for (n, point) in run.iter().enumerate() {
        let at = (hundredths(point.x), hundredths(point.y));
        data.push_str(match n {
            0 => "M",
            1 => "l",
            _ => "",
        });
        for (k, value) in [at.0 - last.0, at.1 - last.1].into_iter().enumerate() {
            if (k == 1 || n > 1) && value >= 0 {
                data.push(' ');
            }
            put_hundredths(value, data);
        }
        last = at;
    }
}

/// Hundredths of a millimetre of the building are enough.
fn number(value: f64) -> String {
    let value = if value.is_finite() { value } else { 0.0 };
    let text = format!("{value:.2}");
    match text.trim_end_matches('0').trim_end_matches('.') {
        "-0" => "0".to_owned(),
        text => text.to_owned(),
    }
}

/// The same of a whole number of hundredths. A drawing has thousands of them, and to write fractions takes several times as long.
fn put_hundredths(value: i64, data: &mut String) {
    let (whole, part) = (value.unsigned_abs() / 100, value.unsigned_abs() % 100);
    let sign = if value < 0 { "-" } else { "" };
    let written = match part {
        0 => write!(data, "{sign}{whole}"),
        part if part % 10 == 0 => write!(data, "{sign}{whole}.{}", part / 10),
        part => write!(data, "{sign}{whole}.{part:02}"),
    };
    written.expect("a text takes what is written");
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
