//! Sheets as one PDF file, in true millimeters, with text that stays text.

use miniz_oxide::deflate::compress_to_vec_zlib;
use pdf_writer::types::LineJoinStyle;
use pdf_writer::{Content, Filter, Finish, Name, Pdf, Rect, Ref, Str, TextStr};

use crate::output::drawing::lettering::width;
use crate::output::drawing::paper::dashes;
use crate::output::drawing::scene::{Anchor, Ink, Pen, Point, Scene, Shape};
use crate::output::drawing::svg::rgb;
use crate::output::visible;

/// How hard pages are packed, of 10.
const PACKING: u8 = 6;

/// Points in a millimeter.
const POINT: f64 = 72.0 / 25.4;

/// One file of these pages, each with its name in the outline.
pub fn pdf(pages: &[(String, Scene)], title: &str) -> Vec<u8> {
    let mut pdf = Pdf::new();
    let mut next = 0;
    let mut fresh = || {
        next += 1;
        Ref::new(next)
    };
    let (catalog, tree, plain, bold, outline, info) = (fresh(), fresh(), fresh(), fresh(), fresh(), fresh());
    let ids: Vec<[Ref; 3]> = pages.iter().map(|_| [fresh(), fresh(), fresh()]).collect();
    pdf.catalog(catalog).pages(tree).outlines(outline).lang(TextStr("en"));
    pdf.document_info(info).title(TextStr(title)).creator(TextStr("headlap"));
    pdf.pages(tree).kids(ids.iter().map(|id| id[0])).count(pages.len() as i32);
    for (id, name) in [(plain, &b"Helvetica"[..]), (bold, &b"Helvetica-Bold"[..])] {
        pdf.type1_font(id).base_font(Name(name)).encoding_predefined(Name(b"WinAnsiEncoding"));
    }
    if let (Some(first), Some(last)) = (ids.first(), ids.last()) {
        pdf.outline(outline).first(first[2]).last(last[2]).count(ids.len() as i32);
    }
    for (n, ((name, scene), [page, content, item])) in pages.iter().zip(&ids).enumerate() {
        let paper = |length: f64| (length / scene.scale * POINT) as f32;
        let mut sheet = pdf.page(*page);
        sheet.media_box(Rect::new(0.0, 0.0, paper(scene.width), paper(scene.height))).parent(tree).contents(*content);
        sheet.resources().fonts().pair(Name(b"F"), plain).pair(Name(b"B"), bold);
        sheet.finish();
        let mut out = Out(Content::new());
        let k = (POINT / scene.scale) as f32;
        out.0.transform([k, 0.0, 0.0, -k, 0.0, paper(scene.height)]);
        out.0.set_line_join(LineJoinStyle::RoundJoin);
        scene.shapes.iter().for_each(|shape| out.shape(shape));
        let packed = compress_to_vec_zlib(&out.0.finish(), PACKING);
        pdf.stream(*content, &packed).filter(Filter::FlateDecode);
        let mut entry = pdf.outline_item(*item);
        entry.parent(outline).title(TextStr(name));
        if n > 0 {
            entry.prev(ids[n - 1][2]);
        }
        if let Some(after) = ids.get(n + 1) {
            entry.next(after[2]);
        }
        entry.dest().page(*page).fit();
    }
    pdf.finish()
}

struct Out(Content);

impl Out {
    fn shape(&mut self, shape: &Shape) {
        match shape {
            Shape::Path { runs, closed, pen, fill } => {
                let mut any = false;
                for run in runs.iter().filter(|run| !run.is_empty()) {
                    for (n, p) in run.iter().enumerate() {
                        if n == 0 {
                            self.0.move_to(p.x as f32, p.y as f32)
                        } else {
                            self.0.line_to(p.x as f32, p.y as f32)
                        };
                    }
                    if *closed {
                        self.0.close_path();
                    }
                    any = true;
                }
                if any {
                    self.paint(pen, fill);
                }
            }
            Shape::Circle { center, radius, pen, fill } => {
                self.circle(*center, *radius);
                self.paint(pen, fill);
            }
            Shape::Text { at, height, anchor, bold, ink, words } => {
                let words = visible(words);
                let size = height / 0.72;
                let wide = width(&words, *height);
                // The letters of the page are narrower than the room that is kept for them; at a middle or an end they are placed by
                // what they take.
                let taken = words.chars().map(|c| helvetica(c, *bold)).sum::<f64>() * size;
                let x = match anchor {
                    Anchor::Start => at.x,
                    Anchor::Middle => at.x - taken / 2.0,
                    Anchor::End => at.x - taken,
                };
                let narrow = (wide / taken.max(1e-9)).min(1.0);
                let [r, g, b] = rgb(*ink);
                self.0.set_fill_rgb(r, g, b);
                self.0.begin_text();
                self.0.set_font(Name(if *bold { b"B" } else { b"F" }), size as f32);
                self.0.set_text_matrix([narrow as f32, 0.0, 0.0, -1.0, x as f32, at.y as f32]);
                let bytes: Vec<u8> = words.chars().map(ansi).collect();
                self.0.show(Str(&bytes));
                self.0.end_text();
            }
            Shape::Group { shapes, .. } => shapes.iter().for_each(|shape| self.shape(shape)),
        }
    }

    fn paint(&mut self, pen: &Option<Pen>, fill: &Option<Ink>) {
        if let Some(ink) = fill {
            let [r, g, b] = rgb(*ink);
            self.0.set_fill_rgb(r, g, b);
        }
        if let Some(pen) = pen {
            let [r, g, b] = rgb(pen.ink);
            self.0.set_stroke_rgb(r, g, b);
            self.0.set_line_width(pen.width as f32);
            self.0.set_dash_pattern(dashes(pen.dash).iter().map(|l| (l * pen.width) as f32), 0.0);
        }
        match (pen.is_some(), fill.is_some()) {
            (true, true) => self.0.fill_even_odd_and_stroke(),
            (false, true) => self.0.fill_even_odd(),
            (true, false) => self.0.stroke(),
            (false, false) => self.0.end_path(),
        };
    }

    /// Four curves; they leave a true circle by 0.03 % of its radius.
    fn circle(&mut self, c: Point, radius: f64) {
        let k = 0.5523 * radius;
        let p = |x: f64, y: f64| ((c.x + x) as f32, (c.y + y) as f32);
        let (x, y) = p(radius, 0.0);
        self.0.move_to(x, y);
        for [a, b, d] in [
            [p(radius, k), p(k, radius), p(0.0, radius)],
            [p(-k, radius), p(-radius, k), p(-radius, 0.0)],
            [p(-radius, -k), p(-k, -radius), p(0.0, -radius)],
            [p(k, -radius), p(radius, -k), p(radius, 0.0)],
        ] {
            self.0.cubic_to(a.0, a.1, b.0, b.1, d.0, d.1);
        }
        self.0.close_path();
    }
}

/// A letter in the encoding of the page; what it does not have is a question mark.
fn ansi(c: char) -> u8 {
    match c {
        ' '..='~' | '\u{A0}'..='\u{FF}' => c as u8,
        '…' => 0x85,
        '‘' => 0x91,
        '’' => 0x92,
        '“' => 0x93,
        '”' => 0x94,
        '•' => 0x95,
        '–' => 0x96,
        '—' => 0x97,
        _ => b'?',
    }
}

/// About how wide a letter of the standard font is, in parts of its size.
fn helvetica(c: char, bold: bool) -> f64 {
    let wide = match c {
        'i' | 'j' | 'l' | '\'' | '|' => 0.22,
        'f' | 't' | 'r' | ' ' | '.' | ',' | ':' | ';' | '!' | '/' | '(' | ')' | '[' | ']' | '-' => 0.3,
        'm' | 'M' | 'W' | '%' | '@' | '…' | '—' => 0.87,
        'w' => 0.72,
        'c' | 'k' | 's' | 'v' | 'x' | 'y' | 'z' | 'J' => 0.5,
        c if c.is_ascii_uppercase() => 0.69,
        _ => 0.556,
    };
    if bold { wide * 1.06 } else { wide }
}
