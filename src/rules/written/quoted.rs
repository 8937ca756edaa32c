//! A string of a rule file that can map its bytes back to those of the file, so that an error inside it has an exact place.

use std::borrow::Cow;

use serde::{Deserialize, Serialize};

use crate::text::{FileId, Span};

#[derive(Clone, Debug, Serialize, Deserialize)]
pub struct Quoted<'s> {
    #[serde(borrow)]
    pub text: Cow<'s, str>,
    /// The string with its quotes.
    pub whole: Span,
    #[serde(skip)]
    origin: Origin,
}

#[derive(Clone, Debug, Default)]
enum Origin {
    /// The text is in the file unchanged, from this byte on.
    Verbatim(u32),
    /// The byte of the file for each byte of the text, and one for its end.
    Mapped(Vec<u32>),
    /// Unknown: errors point to the whole string.
    #[default]
    Whole,
}

impl<'s> Quoted<'s> {
    /// From what the TOML reader gives: the decoded text and the range of the string in the file.
    pub fn new(file: FileId, source: &str, text: Cow<'s, str>, range: std::ops::Range<usize>) -> Quoted<'s> {
        let whole = Span::new(file, range.start, range.end);
        let raw = source.get(range.clone()).unwrap_or("");
        let (skipped, body) = body_of(raw);
        let start = range.start + skipped;
        let origin = if body == text {
            Origin::Verbatim(start as u32)
        } else {
            let map = escapes(body, start as u32);
            if map.len() == text.len() + 1 { Origin::Mapped(map) } else { Origin::Whole }
        };
        Quoted { text, whole, origin }
    }

    /// The place in the file of the bytes `from..to` of the text.
    pub fn span(&self, from: usize, to: usize) -> Span {
        let file = self.whole.file;
        match &self.origin {
            Origin::Verbatim(start) => Span::new(file, *start as usize + from, *start as usize + to),
            Origin::Mapped(map) => match (map.get(from), map.get(to)) {
                (Some(from), Some(to)) => Span { file, start: *from, end: *to },
                _ => self.whole,
            },
            Origin::Whole => self.whole,
        }
    }
}

/// Bytes before the body (quotes, and the line break that TOML drops), and the body.
fn body_of(raw: &str) -> (usize, &str) {
    for quotes in ["'''", "\"\"\""] {
        if let Some(body) = raw.strip_prefix(quotes).and_then(|b| b.strip_suffix(quotes)) {
            let dropped = if body.starts_with("\r\n") { 2 } else { usize::from(body.starts_with('\n')) };
            return (3 + dropped, &body[dropped..]);
        }
    }
    match raw.len() {
        0 | 1 => (0, raw),
        n => (1, raw.get(1..n - 1).unwrap_or("")),
    }
}

/// Walks the escapes of a basic string: the place of each decoded byte, and of the end.
fn escapes(body: &str, start: u32) -> Vec<u32> {
    let mut map = Vec::with_capacity(body.len() + 1);
    let mut rest = body.char_indices().peekable();
    while let Some((at, c)) = rest.next() {
        let place = start + at as u32;
        if c != '\\' {
            map.extend(std::iter::repeat_n(place, c.len_utf8()));
            continue;
        }
        let digits = match rest.next().map(|(_, c)| c) {
            Some('u') => 4,
            Some('U') => 8,
            Some('x') => 2,
            Some(c) if c.is_whitespace() => {
                while rest.next_if(|(_, c)| c.is_whitespace()).is_some() {}
                continue;
            }
            _ => {
                map.push(place);
                continue;
            }
        };
        let code: String = rest.by_ref().take(digits).map(|(_, c)| c).collect();
        let decoded = u32::from_str_radix(&code, 16).ok().and_then(char::from_u32);
        map.extend(std::iter::repeat_n(place, decoded.map_or(1, char::len_utf8)));
    }
    map.push(start + body.len() as u32);
    map
}
