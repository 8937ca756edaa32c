//! Group codes: a number that says what the next line is, and that line.

use std::fmt::Display;

use crate::output::drawing::scene::Point;
use crate::output::visible;

#[derive(Default)]
pub struct Codes {
    pub text: String,
    last: u64,
}

/// Handles below this are given out by name in `file`.
const FIRST: u64 = 0x100;

impl Codes {
    pub fn put(&mut self, code: u16, value: impl Display) {
        self.text.push_str(&format!("{code:>3}\n{value}\n"));
    }

    pub fn all(&mut self, codes: &[(u16, &str)]) {
        codes.iter().for_each(|(code, value)| self.put(*code, value));
    }

    pub fn real(&mut self, code: u16, value: f64) {
        let value = if value.is_finite() { value } else { 0.0 };
        // There is no number of minus nothing.
        self.put(code, format!("{:.6}", if value.abs() < 5e-7 { 0.0 } else { value }));
    }

    /// A point in the plane; its codes are 10 apart.
    pub fn point(&mut self, code: u16, at: Point) {
        self.real(code, at.x);
        self.real(code + 10, at.y);
        self.real(code + 20, 0.0);
    }

    /// A handle that nothing else has.
    pub fn handle(&mut self) -> String {
        self.last = self.last.max(FIRST) + 1;
        format!("{:X}", self.last)
    }

    /// Begins an entity.
    pub fn entity(&mut self, kind: &str, owner: &str, layer: &str, class: &str) {
        let handle = self.handle();
        self.all(&[(0, kind), (5, &handle), (330, owner), (100, "AcDbEntity"), (8, layer), (100, class)]);
    }

    /// What is greater than all handles.
    pub fn seed(&self) -> String {
        format!("{:X}", self.last.max(FIRST) + 1)
    }
}

/// Words as the format has them: ASCII, other letters by number, and nothing that it takes for a sign of its own.
pub fn words(text: &str) -> String {
    let mut encoded = String::with_capacity(text.len());
    for c in visible(text).chars() {
        match c {
            '^' => encoded.push_str("^ "),
            '%' if encoded.ends_with('%') => encoded.push_str(" %"),
            ' '..='~' => encoded.push(c),
            c => c.encode_utf16(&mut [0; 2]).iter().for_each(|unit| encoded.push_str(&format!("\\U+{unit:04X}"))),
        }
    }
    encoded
}

#[cfg(test)]
mod tests {
    use super::words;

    #[test]
    fn words_are_plain_letters() {
        assert_eq!(words("Gr\u{fc}n 50 %% ^"), "Gr\\U+00FCn 50 % % ^ ");
        assert!(!words("a\n  0\nEOF\n").contains('\n'), "no file says what comes next");
    }
}
