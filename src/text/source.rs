//! One file's text with the name that findings show for it.

use std::sync::OnceLock;

use crate::text::{FileId, Lines, Position, Span};

/// A text and its shown name (a path relative to where the run began, with `/`).
#[derive(Debug)]
pub struct Source {
    pub id: FileId,
    pub name: String,
    pub text: String,
    lines: OnceLock<Lines>,
}

impl Source {
    pub fn new(id: FileId, name: impl Into<String>, text: impl Into<String>) -> Source {
        Source { id, name: name.into(), text: text.into(), lines: OnceLock::new() }
    }

    /// Line starts, found on first use: a file without findings never needs them.
    pub fn lines(&self) -> &Lines {
        self.lines.get_or_init(|| Lines::of(&self.text))
    }

    pub fn position(&self, offset: usize) -> Position {
        self.lines().position(&self.text, offset)
    }

    pub fn at(&self, span: Span) -> &str {
        self.text.get(span.range()).unwrap_or("")
    }
}
