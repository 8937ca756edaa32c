//! The one place that knows lines and columns.

/// Where each line of a text begins.
#[derive(Clone, Debug)]
pub struct Lines {
    starts: Vec<u32>,
    /// How many characters begin before each stretch of so many bytes, for texts with long lines: a line of megabytes may
    /// have findings from end to end.
    marks: Vec<u32>,
}

const STRETCH: usize = 4096;

/// A place as people count it: both numbers start at 1, columns count characters.
///
/// ```
/// use headlap::{FileId, Position, Source};
///
/// let source = Source::new(FileId::detail(0), "a.detail", "# ü\nx");
/// assert_eq!(source.position(5), Position { line: 2, column: 1 });
/// ```
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Position {
    /// From 1.
    pub line: usize,
    /// From 1, in characters.
    pub column: usize,
}

impl Lines {
    /// Of a text as it stands.
    pub fn of(text: &str) -> Lines {
        let mut starts = vec![0];
        starts.extend(text.bytes().enumerate().filter(|(_, b)| *b == b'\n').map(|(i, _)| i as u32 + 1));
        starts.shrink_to_fit();
        let ends = starts[1..].iter().copied().chain([text.len() as u32]);
        let long = starts.iter().zip(ends).any(|(start, end)| (end - start) as usize > STRETCH);
        let mut marks = Vec::new();
        if long {
            let stretches = text.as_bytes().chunks(STRETCH);
            marks
                .extend(stretches.scan(0, |before, stretch| Some(std::mem::replace(before, *before + begun(stretch)))));
        }
        Lines { starts, marks }
    }

    /// How many characters begin in a part of the text.
    fn characters(&self, text: &str, part: std::ops::Range<usize>) -> usize {
        let before = |offset: usize| {
            let stretch = offset / STRETCH;
            let marked = self.marks.get(stretch).map(|mark| (*mark, stretch * STRETCH));
            let (count, from) = marked.unwrap_or((0, 0));
            (count + begun(&text.as_bytes()[from..offset])) as usize
        };
        match part.len() > STRETCH && !self.marks.is_empty() {
            true => before(part.end) - before(part.start),
            false => text[part].chars().count(),
        }
    }

    /// How many there are; an empty text has one.
    pub fn count(&self) -> usize {
        self.starts.len()
    }

    /// The line (from 0) that holds a byte offset; an offset past the end lies in the last line.
    pub fn line_at(&self, offset: usize) -> usize {
        self.starts.partition_point(|s| *s as usize <= offset).saturating_sub(1)
    }

    /// The bytes of a line (from 0) without its line break.
    pub fn range(&self, text: &str, line: usize) -> std::ops::Range<usize> {
        let start = self.starts.get(line).map_or(text.len(), |s| *s as usize);
        let end = self.starts.get(line + 1).map_or(text.len(), |s| *s as usize);
        let body = text[start..end].trim_end_matches('\n').trim_end_matches('\r');
        start..start + body.len()
    }

    /// The line and the column of a byte; one past the end lies at the end.
    pub fn position(&self, text: &str, offset: usize) -> Position {
        let offset = floor_boundary(text, offset);
        let line = self.line_at(offset);
        let start = self.starts[line] as usize;
        Position { line: line + 1, column: self.characters(text, start..offset) + 1 }
    }

    /// The same of a text that is ASCII and not here.
    pub(super) fn position_in_ascii(&self, offset: usize) -> Position {
        let line = self.line_at(offset);
        Position { line: line + 1, column: offset - self.starts[line] as usize + 1 }
    }

    /// Line and column from 0, the column in UTF-16 units, as editors count.
    pub fn utf16(&self, text: &str, offset: usize) -> (usize, usize) {
        let offset = floor_boundary(text, offset);
        let line = self.line_at(offset);
        let start = self.starts[line] as usize;
        (line, text[start..offset].encode_utf16().count())
    }
}

/// How many characters of UTF-8 begin among these bytes.
fn begun(bytes: &[u8]) -> u32 {
    bytes.iter().filter(|byte| **byte & 0xC0 != 0x80).count() as u32
}

fn floor_boundary(text: &str, offset: usize) -> usize {
    let mut offset = offset.min(text.len());
    while !text.is_char_boundary(offset) {
        offset -= 1;
    }
    offset
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn columns_count_characters_and_editors_count_utf16() {
        let text = "ab\r\né𝄞x\n";
        let lines = Lines::of(text);
        let x = text.find('x').unwrap();
        assert_eq!(lines.position(text, x), Position { line: 2, column: 3 });
        assert_eq!(lines.utf16(text, x), (1, 3));
        assert_eq!(&text[lines.range(text, 0)], "ab");
        assert_eq!(lines.position(text, 999), Position { line: 3, column: 1 });
    }

    #[test]
    fn columns_of_long_lines_are_those_of_short_ones() {
        let text = format!("ab\n{}x\n{}y", "é𝄞z".repeat(3000), "e".repeat(4096));
        let lines = Lines::of(&text);
        for at in (0..text.len()).filter(|at| text.is_char_boundary(*at)).step_by(97) {
            let start = text[..at].rfind('\n').map_or(0, |newline| newline + 1);
            assert_eq!(lines.position(&text, at).column, text[start..at].chars().count() + 1, "{at}");
        }
    }
}
