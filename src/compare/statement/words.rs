//! Words of a text: cut into statements, with each number and its unit as one word.

use std::iter::Peekable;

use super::{ItemText, PlainStatement};
use crate::quantity::parse_quantity;

pub(super) fn item<'t>(tokens: &mut Peekable<impl Iterator<Item = &'t str>>) -> Option<ItemText> {
    let mut open: Option<ItemText> = None;
    let (mut depth, mut words) = (0_usize, Vec::new());
    while let Some(token) = tokens.next() {
        match token {
            "{" => {
                depth += 1;
                if depth == 1 {
                    open =
                        PlainStatement::of(std::mem::take(&mut words)).map(|head| ItemText { head, body: Vec::new() });
                }
            }
            "}" => {
                depth = depth.saturating_sub(1);
                if depth <= 1 {
                    close(&mut words, &mut open);
                }
                if depth == 0 && open.is_some() {
                    return open;
                }
            }
            "\n" | ";" if depth >= 2 || tokens.peek() == Some(&"{") => {}
            "\n" | ";" if open.is_some() => close(&mut words, &mut open),
            "\n" | ";" => {
                if let Some(head) = PlainStatement::of(std::mem::take(&mut words)) {
                    return Some(ItemText { head, body: Vec::new() });
                }
            }
            word => words.push(word.to_owned()),
        }
    }
    close(&mut words, &mut open);
    open
}

fn close(words: &mut Vec<String>, open: &mut Option<ItemText>) {
    if let Some(item) = open {
        item.body.extend(PlainStatement::of(std::mem::take(words)));
    }
}

/// Words, texts in quotes, braces and breaks; comments are none, and breaks in a row are one.
pub(super) fn tokens(text: &str) -> impl Iterator<Item = &str> {
    let (mut at, mut broken) = (0, false);
    std::iter::from_fn(move || {
        loop {
            let rest = &text[at..];
            let first = rest.chars().next()?;
            let length = match first {
                '#' => rest.find('\n').unwrap_or(rest.len()),
                '"' => quoted(rest),
                '{' | '}' | ';' | ',' | '\n' => 1,
                _ if first.is_whitespace() => first.len_utf8(),
                _ => rest.find(|c: char| c.is_whitespace() || "#\"{};,".contains(c)).unwrap_or(rest.len()),
            };
            at += length;
            let token = match first {
                '\n' => !std::mem::replace(&mut broken, true),
                '#' => false,
                _ => !first.is_whitespace(),
            };
            if token {
                broken = first == '\n';
                return Some(&rest[..length]);
            }
        }
    })
}

fn quoted(rest: &str) -> usize {
    let mut escaped = false;
    for (at, letter) in rest.char_indices().skip(1) {
        match letter {
            '\n' => return at,
            '"' if !escaped => return at + 1,
            _ => escaped = letter == '\\' && !escaped,
        }
    }
    rest.len()
}

/// A number and its unit become one word, the same for the same length.
pub(super) fn in_one_unit(words: Vec<String>) -> Vec<String> {
    let mut said = Vec::with_capacity(words.len());
    let mut at = 0;
    while at < words.len() {
        let number = |word: &str| word.trim_start_matches('-').starts_with(|c: char| c.is_ascii_digit());
        let pair = words.get(at + 1).map(|unit| format!("{} {unit}", words[at]));
        let read = |text: &str| parse_quantity(text).ok().map(|q| format!("{:?} {:.9e}", q.dimension(), q.si));
        if number(&words[at]) || matches!(words[at].as_str(), "R" | "RSI") {
            if let Some(quantity) = pair.as_deref().and_then(read) {
                said.push(quantity);
                at += 2;
                continue;
            }
            said.push(read(&words[at]).unwrap_or_else(|| words[at].clone()));
        } else {
            said.push(words[at].clone());
        }
        at += 1;
    }
    said
}
