//! Markup in which no line breaks between a number and its unit, however narrow a column is.

use crate::quantity::UNITS;

/// What is inside of these stays as it is: code is copied from there, and drawings break their own lines.
const KEPT: [&str; 4] = ["pre", "svg", "script", "style"];

/// The same markup, with a space that breaks no line between each number and its unit.
pub fn unbroken(markup: &str) -> String {
    let mut out = String::with_capacity(markup.len() + markup.len() / 64);
    let mut rest = markup;
    while let Some(open) = rest.find('<') {
        words(&rest[..open], &mut out);
        rest = &rest[open..];
        let tag = rest[1..].split(|c: char| !c.is_ascii_alphanumeric()).next().unwrap_or_default();
        let end = match KEPT.iter().find(|kept| **kept == tag) {
            Some(kept) => rest.find(&format!("</{kept}>")),
            None => rest.find('>').map(|close| close + 1),
        };
        let (kept, after) = rest.split_at(end.unwrap_or(rest.len()));
        out.push_str(kept);
        rest = after;
    }
    words(rest, &mut out);
    out
}

/// Words between two tags.
fn words(text: &str, out: &mut String) {
    let mut done = 0;
    for (at, _) in text.match_indices(' ') {
        if belongs(&text[..at], &text[at + 1..]) {
            out.push_str(&text[done..at]);
            out.push('\u{a0}');
            done = at + 1;
        }
    }
    out.push_str(&text[done..]);
}

/// A number and its unit, or a unit that is written before its number.
fn belongs(before: &str, after: &str) -> bool {
    let word = after.split(|c: char| !c.is_alphanumeric() && !"/.%".contains(c)).next().unwrap_or_default();
    let unit = |word: &str, prefix: bool| {
        UNITS
            .iter()
            .any(|unit| unit.prefix == prefix && !word.is_empty() && unit.symbol.split(' ').next() == Some(word))
    };
    let last = before.rsplit(|c: char| !c.is_alphanumeric()).next().unwrap_or_default();
    before.ends_with(|c: char| c.is_ascii_digit()) && unit(word.trim_end_matches('.'), false)
        || word.starts_with(|c: char| c.is_ascii_digit()) && unit(last, true)
}
