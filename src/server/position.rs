//! Places as the protocol counts them: lines and columns from 0, columns in bytes of UTF-8 or in units of UTF-16.

use lsp_types::{Position, PositionEncodingKind, Range};

use crate::text::{Source, Span};

/// How columns are counted, agreed on when a session begins.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Encoding {
    Utf8,
    #[default]
    Utf16,
}

impl Encoding {
    /// UTF-8 where the client knows it; every client knows UTF-16.
    pub fn agreed(offered: &[PositionEncodingKind]) -> Encoding {
        if offered.contains(&PositionEncodingKind::UTF8) { Encoding::Utf8 } else { Encoding::Utf16 }
    }

    pub fn kind(self) -> PositionEncodingKind {
        match self {
            Encoding::Utf8 => PositionEncodingKind::UTF8,
            Encoding::Utf16 => PositionEncodingKind::UTF16,
        }
    }

    fn width(self, letter: char) -> usize {
        match self {
            Encoding::Utf8 => letter.len_utf8(),
            Encoding::Utf16 => letter.len_utf16(),
        }
    }

    pub fn length(self, text: &str) -> u32 {
        text.chars().map(|letter| self.width(letter)).sum::<usize>() as u32
    }

    pub fn position(self, source: &Source, offset: usize) -> Position {
        let text = &source.text;
        let mut offset = offset.min(text.len());
        while !text.is_char_boundary(offset) {
            offset -= 1;
        }
        let line = source.lines().line_at(offset);
        let start = source.lines().range(text, line).start;
        Position { line: line as u32, character: self.length(&text[start..offset]) }
    }

    pub fn range(self, source: &Source, span: Span) -> Range {
        Range {
            start: self.position(source, span.range().start),
            end: self.position(source, span.range().end.max(span.range().start)),
        }
    }

    /// A place past the end of its line is that end; a line past the last one is the end of the text.
    pub fn offset(self, source: &Source, position: Position) -> usize {
        let (text, lines) = (&source.text, source.lines());
        let line = position.line as usize;
        if line >= lines.count() {
            return text.len();
        }
        let range = lines.range(text, line);
        let mut left = position.character as usize;
        for (at, letter) in text[range.clone()].char_indices() {
            let width = self.width(letter);
            if left < width {
                return range.start + at;
            }
            left -= width;
        }
        range.end
    }

    /// Bytes of the text, never turned round.
    pub fn bytes(self, source: &Source, range: Range) -> std::ops::Range<usize> {
        let (start, end) = (self.offset(source, range.start), self.offset(source, range.end));
        start..end.max(start)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::text::FileId;

    #[test]
    fn places_go_there_and_back_in_both_encodings() {
        let source = Source::new(FileId::detail(0), "a", "é𝄞x\r\nzö\n");
        let x = source.text.find('x').expect("there");
        for (encoding, column) in [(Encoding::Utf8, 6), (Encoding::Utf16, 3)] {
            let place = encoding.position(&source, x);
            assert_eq!((place.line, place.character), (0, column));
            for (at, _) in source.text.char_indices().filter(|(_, letter)| !"\r\n".contains(*letter)) {
                assert_eq!(encoding.offset(&source, encoding.position(&source, at)), at);
            }
            let past = Position { line: 0, character: 99 };
            assert_eq!(encoding.offset(&source, past), x + 1, "before the line break");
            assert_eq!(encoding.offset(&source, Position { line: 99, character: 0 }), source.text.len());
        }
        let inside = Position { line: 0, character: 2 };
        assert_eq!(Encoding::Utf16.offset(&source, inside), 2, "half of a letter is its start");
    }
}
