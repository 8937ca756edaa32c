//! A scene as SVG 1.1. Nothing else of the program knows that format.

use std::fmt::Write;

use crate::output::drawing::paper::{
    BEYOND, CASING, CUT, GRADE, HATCH, LEADER, MEDIUM, MEMBRANE, SMALL, TITLE, WORDS, dashes,
};
use crate::output::drawing::scene::{Anchor, Ink, Pen, Point, Role, Scene, Shape};
use crate::output::visible;

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

/// Parts of a millimeter of paper that a page counts in: finer than its finest line is wide.
pub const GRID: f64 = 40.0;

/// Widths of pens and heights of letters that have a class on a page, mm of paper: `w0`, `w1` and so on, `t0` and so on.
const WIDTHS: [f64; 11] = [HATCH, LEADER, BEYOND, MEDIUM, CUT, 0.6, MEMBRANE, GRADE, 1.1, 1.2, CASING];
const HEIGHTS: [f64; 3] = [SMALL, WORDS, TITLE];

/// The style of the drawings of a page.
pub fn classes() -> String {
    let mut style = String::new();
    for ink in Ink::ALL {
        let (class, hex) = (letter(ink), hex(ink));
        style.push_str(&format!(".{class}{{stroke:{hex}}}.{}{{fill:{hex}}}", class.to_uppercase()));
    }
    for (n, width) in WIDTHS.into_iter().enumerate() {
        style.push_str(&format!(".w{n}{{stroke-width:{}}}", number(GRID * width)));
    }
    for (n, height) in HEIGHTS.into_iter().enumerate() {
        style.push_str(&format!(".t{n}{{font-size:{}px}}", number(GRID * height / CAPITAL)));
    }
    style.push_str(".am{text-anchor:middle}.ae{text-anchor:end}.fb{font-weight:bold}.cr{stroke-linecap:round}");
    style
}

/// Capitals of common sans-serif faces are so much of the size.
const CAPITAL: f64 = 0.72;

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
        let mut way = self.way();
        for shape in lines {
            if let Shape::Path { runs, closed, .. } = shape {
                runs.iter().for_each(|run| way.run(run, *closed));
            }
        }
        if !way.data.is_empty() {
            let look = self.look(&Some(pen), &None, false);
            self.text.push_str(&format!("<path d=\"{}\"{look}/>\n", way.data));
        }
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
        let look = self.look(&Some(pen), &None, true);
        self.text.push_str(&format!("<path d=\"{}\"{look}/>\n", way.data));
    }

    fn shape(&mut self, shape: &Shape) {
        match shape {
            Shape::Path { runs, closed, pen, fill } => {
                let mut way = self.way();
                runs.iter().for_each(|run| way.run(run, *closed));
                if !way.data.is_empty() {
                    let rule = if runs.len() > 1 && fill.is_some() { " fill-rule=\"evenodd\"" } else { "" };
                    let look = self.look(pen, fill, false);
                    self.text.push_str(&format!("<path d=\"{}\"{rule}{look}/>\n", way.data));
                }
            }
            Shape::Circle { center, radius, pen, fill } => {
                let [x, y, r] = [center.x, center.y, *radius].map(|length| self.length(length));
                let look = self.look(pen, fill, false);
                self.text.push_str(&format!("<circle cx=\"{x}\" cy=\"{y}\" r=\"{r}\"{look}/>\n"));
            }
            Shape::Text { at, words, .. } => {
                let [x, y] = [at.x, at.y].map(|length| self.length(length));
                let look = self.letters(shape);
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
                    // The page says how large the names of pieces are.
                    Some(_) if matches!(role, Role::Label(_)) => self.text.push_str("<g class=\"label\">"),
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
        Way { data: String::new(), factor: parts.0, hundredths: parts.1, at: None }
    }

    /// A length as it is written.
    fn length(&self, length: f64) -> String {
        self.page.map_or_else(|| number(length), |factor| number((length * factor).round()))
    }

    /// How the letters of a text look.
    fn letters(&self, text: &Shape) -> String {
        let Shape::Text { height, anchor, bold, ink, .. } = text else { return String::new() };
        let Some(factor) = self.page else {
            let anchor = match anchor {
                Anchor::Start => "",
                Anchor::Middle => " text-anchor=\"middle\"",
                Anchor::End => " text-anchor=\"end\"",
            };
            let bold = if *bold { " font-weight=\"bold\"" } else { "" };
            let size = number(height / CAPITAL);
            return format!(" font-size=\"{size}\" fill=\"{}\"{anchor}{bold}", hex(*ink));
        };
        let mut classes = vec![letter(*ink).to_uppercase()];
        let size = of(&HEIGHTS, height * factor / GRID).map(|n| format!("t{n}"));
        let own = if size.is_some() {
            String::new()
        } else {
            format!(" font-size=\"{}\"", number(height * factor / CAPITAL))
        };
        classes.extend(size);
        classes.extend(match anchor {
            Anchor::Start => None,
            Anchor::Middle => Some("am".to_owned()),
            Anchor::End => Some("ae".to_owned()),
        });
        classes.extend(bold.then(|| "fb".to_owned()));
        format!(" class=\"{}\"{own}", classes.join(" "))
    }

    /// How a line and what it bounds look.
    fn look(&self, pen: &Option<Pen>, fill: &Option<Ink>, round: bool) -> String {
        let dash = |pen: &Pen, factor: f64| {
            let lengths: Vec<String> = dashes(pen.dash).iter().map(|l| number(l * pen.width * factor)).collect();
            if lengths.is_empty() { String::new() } else { format!(" stroke-dasharray=\"{}\"", lengths.join(" ")) }
        };
        let Some(factor) = self.page else {
            let fill = fill.map_or(String::new(), |ink| format!(" fill=\"{}\"", hex(ink)));
            let Some(pen) = pen else { return fill };
            let ends = if round { " stroke-linecap=\"round\"" } else { "" };
            let (ink, width) = (hex(pen.ink), number(pen.width));
            return format!("{fill} stroke=\"{ink}\" stroke-width=\"{width}\"{}{ends}", dash(pen, 1.0));
        };
        let mut classes: Vec<String> = fill.iter().map(|ink| letter(*ink).to_uppercase()).collect();
        let mut own = String::new();
        if let Some(pen) = pen {
            classes.push(letter(pen.ink).to_owned());
            match of(&WIDTHS, pen.width * factor / GRID) {
                Some(n) => classes.push(format!("w{n}")),
                None => own.push_str(&format!(" stroke-width=\"{}\"", number(pen.width * factor))),
            }
            own.push_str(&dash(pen, factor));
            classes.extend(round.then(|| "cr".to_owned()));
        }
        if classes.is_empty() { own } else { format!(" class=\"{}\"{own}", classes.join(" ")) }
    }
}

/// The place of a size in a list of them.
fn of(sizes: &[f64], size: f64) -> Option<usize> {
    sizes.iter().position(|known| (known - size).abs() < 1e-6)
}

/// The shapes without groups that tell a reader nothing; on a page that is each group without words.
fn told<'a>(shapes: &'a [Shape], page: bool, into: &mut Vec<&'a Shape>) {
    for shape in shapes {
        match shape {
            Shape::Group { role: Role::Hatch(_) | Role::Outline(_) | Role::Symbol(_), shapes, .. } => {
                told(shapes, page, into)
            }
            Shape::Group { role: Role::Label(_), .. } => into.push(shape),
            Shape::Group { words, shapes, .. } if page && words.is_empty() => told(shapes, page, into),
            shape => into.push(shape),
        }
    }
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

/// The class of a line in an ink on a page; in a capital that of what is filled with it.
fn letter(ink: Ink) -> &'static str {
    match ink {
        Ink::Black => "k",
        Ink::Dark => "d",
        Ink::Gray => "g",
        Ink::Light => "l",
        Ink::Pale => "p",
        Ink::White => "n",
        Ink::Water => "u",
        Ink::Warm => "r",
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

/// Runs of lines as the data of a path: from point to point the way to the next, which is shorter to write.
struct Way {
    data: String,
    /// Parts of a millimeter of the building that are counted; written as hundredths of one, or whole.
    factor: f64,
    hundredths: bool,
    /// Where a page goes on from: there a run begins as far from the end of the last.
    at: Option<[i64; 2]>,
}

impl Way {
    fn run(&mut self, run: &[Point], closed: bool) {
        let Some((first, rest)) = run.split_first() else { return };
        let start = self.start(*first);
        let mut last = start;
        for (n, point) in rest.iter().enumerate() {
            let at = self.counted(*point);
            let step = [at[0] - last[0], at[1] - last[1]];
            last = at;
            self.step(n, step);
        }
        self.data.push_str(if closed { "Z" } else { "" });
        self.at = Some(if closed { start } else { last });
    }

    fn dot(&mut self, center: Point) {
        if self.hundredths {
            self.data.push_str(&format!("M{} {}h.01", number(center.x), number(center.y)));
        } else {
            self.at = Some(self.start(center));
            self.data.push_str("h0");
        }
    }

    fn start(&mut self, point: Point) -> [i64; 2] {
        let at = self.counted(point);
        let from = self.at.filter(|_| !self.hundredths);
        self.data.push(if from.is_some() { 'm' } else { 'M' });
        let from = from.unwrap_or([0, 0]);
        self.pair([at[0] - from[0], at[1] - from[1]]);
        at
    }

    /// The way to the next point of a run.
    fn step(&mut self, n: usize, [x, y]: [i64; 2]) {
        if self.hundredths {
            self.data.push_str(if n == 0 { "l" } else { "" });
            if n > 0 && x >= 0 {
                self.data.push(' ');
            }
            return self.pair([x, y]);
        }
        let is_letter = |c: char| c.is_ascii_alphabetic();
        match [x, y] {
            [_, 0] => {
                self.data.push('h');
                put(x, &mut self.data);
            }
            [0, _] => {
                self.data.push('v');
                put(y, &mut self.data);
            }
            _ => {
                // After the two numbers of a slanted line another may follow without its letter.
                let follows = self.data.rfind(is_letter).is_some_and(|at| self.data[at..].starts_with('l'));
                match follows {
                    true if x >= 0 => self.data.push(' '),
                    true => {}
                    false => self.data.push('l'),
                }
                self.pair([x, y]);
            }
        }
    }

    fn pair(&mut self, [x, y]: [i64; 2]) {
        let write = if self.hundredths { put_hundredths } else { put };
        write(x, &mut self.data);
        if y >= 0 {
            self.data.push(' ');
        }
        write(y, &mut self.data);
    }

    fn counted(&self, point: Point) -> [i64; 2] {
        [point.x, point.y].map(|value| if value.is_finite() { (value * self.factor).round() as i64 } else { 0 })
    }
}

fn put(value: i64, data: &mut String) {
    write!(data, "{value}").expect("a text takes what is written");
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
