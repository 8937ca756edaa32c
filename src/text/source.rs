//! One file's text with the name that findings show for it.

use std::sync::OnceLock;

use crate::text::{FileId, Lines, Position, Span};

/// A text and its shown name (a path relative to where the run began, with `/`).
///
/// ```
/// use headlap::{FileId, Source, Span};
///
/// let source = Source::new(FileId::detail(0), "walls.detail", "detail A1 base-of-wall\n");
/// assert_eq!(source.at(Span::new(source.id, 7, 9)), "A1");
/// assert_eq!(source.position(7).column, 8);
/// ```
#[derive(Debug)]
pub struct Source {
    /// Its number in the run.
    pub id: FileId,
    /// Its name as findings show it.
    pub name: String,
    /// All that stands in it.
    pub text: String,
    lines: OnceLock<Lines>,
    /// How long the text was, where only its lines are left.
    faded: Option<usize>,
}

impl Source {
    /// A carriage return alone becomes a line feed; all else stays as it is.
    pub fn new(id: FileId, name: impl Into<String>, text: impl Into<String>) -> Source {
        Source { id, name: name.into(), text: with_line_feeds(text.into()), lines: OnceLock::new(), faded: None }
    }

    /// Line starts, found on first use: a file without findings never needs them.
    pub fn lines(&self) -> &Lines {
        self.lines.get_or_init(|| Lines::of(&self.text))
    }

    /// The line and the column of a byte.
    pub fn position(&self, offset: usize) -> Position {
        match self.faded {
            Some(length) => self.lines().position_in_ascii(offset.min(length)),
            None => self.lines().position(&self.text, offset),
        }
    }

    /// The same without its words, where each byte of them is a character: places are all that most outputs show.
    pub(crate) fn faded(&self) -> Option<Source> {
        let lines = || Lines::of(&self.text).into();
        let length = self.text.len();
        let plain = self.faded.is_none() && self.text.is_ascii();
        plain.then(|| Source {
            id: self.id,
            name: self.name.clone(),
            text: String::new(),
            lines: lines(),
            faded: Some(length),
        })
    }

    /// The span of a range that another reader gave, such as that of TOML: inside of the text and on whole characters.
    pub(crate) fn span(&self, range: std::ops::Range<usize>) -> Span {
        let (mut start, mut end) = (range.start.min(self.text.len()), range.end.min(self.text.len()));
        while !self.text.is_char_boundary(start) {
            start -= 1;
        }
        while !self.text.is_char_boundary(end) {
            end += 1;
        }
        Span::new(self.id, start, end.max(start))
    }

    /// The words of a span; none where it does not fit the text.
    pub fn at(&self, span: Span) -> &str {
        self.text.get(span.range()).unwrap_or("")
    }
}

/// A carriage return alone ends a line, as old systems wrote it. It becomes a line feed, so that places stay as they are.
fn with_line_feeds(text: String) -> String {
    let alone = |bytes: &[u8], at: usize| bytes[at] == b'\r' && bytes.get(at + 1) != Some(&b'\n');
    let bytes = text.as_bytes();
    // Most files hold none, and most others only those of Windows.
    if !bytes.contains(&b'\r') || !(0..bytes.len()).any(|at| alone(bytes, at)) {
        return text;
    }
    let lone = |(at, letter): (usize, char)| if letter == '\r' && alone(bytes, at) { '\n' } else { letter };
    text.char_indices().map(lone).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn places_stay_when_the_words_are_gone() {
        for text in ["", "ab\ncd\r\n\ne", "\n", &"x".repeat(9000)] {
            let whole = Source::new(FileId::detail(0), "a", text);
            let faded = whole.faded().expect("ASCII");
            assert!(faded.text.is_empty());
            for at in 0..text.len() + 3 {
                assert_eq!(faded.position(at), whole.position(at), "{at}");
            }
        }
        assert!(Source::new(FileId::detail(0), "a", "\u{fc}").faded().is_none());
    }

    #[test]
    fn a_carriage_return_alone_ends_a_line() {
        let text = |text: &str| Source::new(FileId::detail(0), "a", text).text;
        assert_eq!(text("# a\rb\r\nc\r\rd\r"), "# a\nb\r\nc\n\nd\n");
        assert_eq!(text("a\r\nb\r\n"), "a\r\nb\r\n");
    }
}
