//! No line breaks between a number and its unit, however narrow a column is.

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

/// What reports print and no text may write: the results of the standards, and what rules say of a fall.
const PRINTED: [&str; 6] = ["m2K/W", "W/m2K", "L/(s m2)", "months", "month", "in per foot"];

/// Words of units that go on.
const BEGIN: [&str; 5] = ["in", "mm", "cm", "per", "s"];

/// Whether no line may break at a blank with these words before and after it: between a number and its unit, inside of a unit of
/// several words, and after a unit that is written before its number.
pub fn belongs(before: &str, after: &str) -> bool {
    let last = before.rsplit(|c: char| !c.is_alphanumeric()).next().unwrap_or_default();
    let mut symbols = UNITS.iter().filter(|unit| !unit.prefix).map(|unit| unit.symbol).chain(PRINTED);
    let number = before.ends_with(|c: char| c.is_ascii_digit());
    // Few words of a page are numbers, or begin a unit of several words.
    (number || BEGIN.contains(&last)) && symbols.any(|symbol| within(symbol, before, after))
        || after.starts_with(|c: char| c.is_ascii_digit())
            && UNITS.iter().any(|unit| unit.prefix && unit.symbol == last)
}

/// Whether the words continue a number with its unit, or a unit that began before.
fn within(symbol: &str, before: &str, after: &str) -> bool {
    let ends = |at: usize| !after[at..].starts_with(|c: char| c.is_alphanumeric() || c == '/');
    let mut starts = symbol.match_indices(' ').map(|(at, _)| at + 1).chain([0]);
    !symbol.is_empty()
        && starts.any(|start| {
            let (head, tail) = symbol.split_at(start);
            let word = tail.split(' ').next().unwrap_or(tail);
            let number = before
                .strip_suffix(head.trim_end())
                .map(|before| if head.is_empty() { before } else { before.trim_end() });
            number.is_some_and(|number| number.ends_with(|c: char| c.is_ascii_digit()))
                && after.starts_with(word)
                && ends(word.len())
        })
}
