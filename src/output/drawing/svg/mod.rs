//! A scene as SVG 1.1. Nothing else of the program knows that format.

mod group;
mod look;
mod out;
mod path_data;

pub use look::{GRID, classes, rgb};

use crate::output::drawing::scene::{Scene, Shape};
use crate::output::visible;
use out::Out;
use path_data::number;

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
