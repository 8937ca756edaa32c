//! Cuts a text into the heads of its statements, its braces and its comments, in one pass over the bytes.

/// The tokens of a text, with byte offsets. Heads come without the blanks around them.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Token {
    /// The words of a statement up to the end of its line, a `;`, a brace or a comment.
    Head {
        start: usize,
        end: usize,
    },
    Open(usize),
    Close(usize),
    /// From its `#` to the end of the line.
    Comment {
        start: usize,
        end: usize,
    },
}

/// Bytes that end a head, or begin a text in quotes within it.
const ENDS: [bool; 256] = among(b"\n;{}#\"");

/// Bytes between tokens.
const APART: [bool; 256] = among(b" \t\r\n;");

/// A table to look bytes up in, since every byte of a library is looked up.
pub const fn among(marks: &[u8]) -> [bool; 256] {
    let mut table = [false; 256];
    let mut at = 0;
    while at < marks.len() {
        table[marks[at] as usize] = true;
        at += 1;
    }
    table
}

/// The tokens of a text from its start to its end.
#[derive(Clone, Debug)]
pub struct Scanner<'a> {
    text: &'a [u8],
    at: usize,
}

impl<'a> Scanner<'a> {
    pub fn of(text: &'a str) -> Scanner<'a> {
        // An editor on Windows may leave a byte-order mark.
        Scanner { text: text.as_bytes(), at: if text.starts_with('\u{FEFF}') { 3 } else { 0 } }
    }

    /// Where a text in quotes ends that begins at `start`: after its closing quote. One that does not close in its line
    /// ends there, before a brace that ends the line, since that brace was meant to open a block.
    fn quoted(&self, start: usize) -> usize {
        let mut at = start + 1;
        while let Some(byte) = self.text.get(at) {
            match byte {
                b'"' => return at + 1,
                b'\n' => break,
                b'\\' if self.text.get(at + 1).is_some_and(|next| *next != b'\n') => at += 2,
                _ => at += 1,
            }
        }
        let line = self.text[..at.min(self.text.len())].trim_ascii_end();
        if line.ends_with(b"{") && line.len() > start { line.len() - 1 } else { at.min(self.text.len()) }
    }
}

impl Iterator for Scanner<'_> {
    type Item = Token;

    fn next(&mut self) -> Option<Token> {
        loop {
            let rest = &self.text[self.at..];
            self.at += rest.iter().position(|byte| !APART[usize::from(*byte)]).unwrap_or(rest.len());
            // A no-break space, as word processors insert it.
            if !self.text[self.at..].starts_with(&[0xC2, 0xA0]) {
                break;
            }
            self.at += 2;
        }
        let start = self.at;
        match self.text.get(start)? {
            b'{' => {
                self.at += 1;
                Some(Token::Open(start))
            }
            b'}' => {
                self.at += 1;
                Some(Token::Close(start))
            }
            b'#' => {
                let rest = &self.text[start..];
                let line = rest.iter().position(|b| *b == b'\n').map_or(rest, |end| &rest[..end]);
                self.at = start + line.len();
                Some(Token::Comment { start, end: start + line.trim_ascii_end().len() })
            }
            _ => {
                loop {
                    let rest = &self.text[self.at..];
                    self.at += rest.iter().position(|byte| ENDS[usize::from(*byte)]).unwrap_or(rest.len());
                    match self.text.get(self.at) {
                        Some(b'"') => self.at = self.quoted(self.at),
                        _ => break,
                    }
                }
                Some(Token::Head { start, end: start + trimmed(&self.text[start..self.at]) })
            }
        }
    }
}

/// The length without the blanks at the end.
fn trimmed(mut head: &[u8]) -> usize {
    loop {
        head = head.trim_ascii_end();
        match head {
            [rest @ .., 0xC2, 0xA0] => head = rest,
            _ => return head.len(),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::{Scanner, Token};

    fn heads(text: &str) -> Vec<&str> {
        Scanner::of(text)
            .map(|token| match token {
                Token::Head { start, end } | Token::Comment { start, end } => &text[start..end],
                Token::Open(_) => "{",
                Token::Close(_) => "}",
            })
            .collect()
    }

    #[test]
    fn marks_inside_quotes_cut_nothing() {
        assert_eq!(
            heads("\u{FEFF}a \"#;{}\\\"\" b # c ; d\r\n\te{f;g }"),
            ["a \"#;{}\\\"\" b", "# c ; d", "e", "{", "f", "g", "}"]
        );
    }

    #[test]
    fn a_quote_that_does_not_close_costs_its_line_and_no_brace() {
        assert_eq!(heads("a \"b {\nc\n}"), ["a \"b", "{", "c", "}"]);
        assert_eq!(heads("a \"b\nc"), ["a \"b", "c"]);
        assert_eq!(heads("\"{"), ["\"", "{"]);
        assert_eq!(heads("a \"\\"), ["a \"\\"]);
    }
}
