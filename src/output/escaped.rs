//! JSON that steers no terminal: what `visible` spells out for people is escaped here, and means the same to programs.

use std::io::{self, Write};

use serde::Serialize;
use serde_json::Serializer;
use serde_json::ser::{CompactFormatter, Formatter, PrettyFormatter};

use crate::output::visible::steers;

/// Writes a value with line breaks and indentation.
pub fn pretty(value: &impl Serialize, out: &mut dyn Write) -> io::Result<()> {
    Ok(value.serialize(&mut Serializer::with_formatter(out, Escaped(PrettyFormatter::new())))?)
}

/// Writes a value on one line.
pub fn line(value: &impl Serialize, out: &mut dyn Write) -> io::Result<()> {
    Ok(value.serialize(&mut Serializer::with_formatter(out, Escaped(CompactFormatter)))?)
}

struct Escaped<F>(F);

impl<F: Formatter> Formatter for Escaped<F> {
    fn write_string_fragment<W: ?Sized + Write>(&mut self, out: &mut W, fragment: &str) -> io::Result<()> {
        let mut rest = fragment;
        while let Some((at, steering)) = rest.char_indices().find(|(_, c)| steers(*c)) {
            self.0.write_string_fragment(out, &rest[..at])?;
            for unit in steering.encode_utf16(&mut [0; 2]) {
                write!(out, "\\u{unit:04x}")?;
            }
            rest = &rest[at + steering.len_utf8()..];
        }
        self.0.write_string_fragment(out, rest)
    }

    /// Zero has no sign: it comes of rounding, and means nothing.
    fn write_f64<W: ?Sized + Write>(&mut self, out: &mut W, value: f64) -> io::Result<()> {
        self.0.write_f64(out, if value == 0.0 { 0.0 } else { value })
    }

    fn begin_array<W: ?Sized + Write>(&mut self, out: &mut W) -> io::Result<()> {
        self.0.begin_array(out)
    }

    fn end_array<W: ?Sized + Write>(&mut self, out: &mut W) -> io::Result<()> {
        self.0.end_array(out)
    }

    fn begin_array_value<W: ?Sized + Write>(&mut self, out: &mut W, first: bool) -> io::Result<()> {
        self.0.begin_array_value(out, first)
    }

    fn end_array_value<W: ?Sized + Write>(&mut self, out: &mut W) -> io::Result<()> {
        self.0.end_array_value(out)
    }

    fn begin_object<W: ?Sized + Write>(&mut self, out: &mut W) -> io::Result<()> {
        self.0.begin_object(out)
    }

    fn end_object<W: ?Sized + Write>(&mut self, out: &mut W) -> io::Result<()> {
        self.0.end_object(out)
    }

    fn begin_object_key<W: ?Sized + Write>(&mut self, out: &mut W, first: bool) -> io::Result<()> {
        self.0.begin_object_key(out, first)
    }

    fn end_object_key<W: ?Sized + Write>(&mut self, out: &mut W) -> io::Result<()> {
        self.0.end_object_key(out)
    }

    fn begin_object_value<W: ?Sized + Write>(&mut self, out: &mut W) -> io::Result<()> {
        self.0.begin_object_value(out)
    }

    fn end_object_value<W: ?Sized + Write>(&mut self, out: &mut W) -> io::Result<()> {
        self.0.end_object_value(out)
    }
}

#[cfg(test)]
mod tests {
    #[test]
    fn zero_has_no_sign() {
        let mut out = Vec::new();
        super::line(&[-0.0, 0.0, -1.5], &mut out).expect("memory takes it");
        assert_eq!(out, b"[0.0,0.0,-1.5]");
    }

    #[test]
    fn what_is_escaped_is_read_back() {
        let words = vec!["a\u{1b}[31m\u{9b}\u{202E}\u{E0041}\"\\é\u{200D}", "", "\u{7f}"];
        for write in [super::pretty, super::line] {
            let mut out = Vec::new();
            write(&words, &mut out).expect("memory takes it");
            let out = String::from_utf8(out).expect("UTF-8");
            assert!(
                !out.contains(['\u{1b}', '\u{9b}', '\u{202E}', '\u{E0041}', '\u{7f}']) && out.contains("é\u{200D}")
            );
            assert_eq!(serde_json::from_str::<Vec<String>>(&out).expect("JSON"), words);
        }
    }
}
