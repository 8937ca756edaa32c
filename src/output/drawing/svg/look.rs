//! How lines, areas and letters look: by attributes in a file by itself, by classes on a page.

use crate::output::drawing::paper::{
    BEYOND, CASING, CUT, GRADE, HATCH, LEADER, MEDIUM, MEMBRANE, SMALL, TITLE, WORDS, dashes,
};
use crate::output::drawing::scene::{Anchor, Ink, Pen, Shape};
use crate::output::drawing::svg::path_data::number;

/// Parts of a millimeter of paper that a page counts in: finer than its finest line is wide.
pub const GRID: f64 = 20.0;

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

/// How the letters of a text look; `page` is how many units of a page a millimeter of the building is, if it stands on one.
pub(super) fn letters(page: Option<f64>, text: &Shape) -> String {
    let Shape::Text { height, anchor, bold, ink, .. } = text else { return String::new() };
    let Some(factor) = page else {
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
    let own =
        if size.is_some() { String::new() } else { format!(" font-size=\"{}\"", number(height * factor / CAPITAL)) };
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
pub(super) fn line(page: Option<f64>, pen: &Option<Pen>, fill: &Option<Ink>, round: bool) -> String {
    let dash = |pen: &Pen, factor: f64| {
        let lengths: Vec<String> = dashes(pen.dash).iter().map(|l| number(l * pen.width * factor)).collect();
        if lengths.is_empty() { String::new() } else { format!(" stroke-dasharray=\"{}\"", lengths.join(" ")) }
    };
    let Some(factor) = page else {
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

/// The place of a size in a list of them.
fn of(sizes: &[f64], size: f64) -> Option<usize> {
    sizes.iter().position(|known| (known - size).abs() < 1e-6)
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
