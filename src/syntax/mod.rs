//! Text to document. Never fails: what cannot be read is a finding at its place, and the rest goes on.

mod build;
mod clause;
mod document;
mod form;
mod grammar;
mod measure;
mod message;
mod outline;
mod problem;
mod quick;
mod recover;
mod scan;
mod stray;

pub use clause::Slot;
pub use document::{Clause, Document, Extent, Hold, Item, Keyword, Names, Part, Statement};
pub use form::{Form, ITEMS, body as statements_of, with_article};
pub use grammar::accepts_file;
pub use measure::{Habit, Want, want_of};
pub use message::{Close, Message};
pub use problem::{MOST_OF_A_KIND, Problems, several, short};
pub use scan::{Scanner, Token};

use crate::finding::Finding;
use crate::text::Source;

/// Reads a text, with findings for all that could not be read (`syntax`, `wrong-unit`, `empty-extent`).
pub fn parse(source: &Source) -> (Document, Vec<Finding>) {
    let (document, problems) = read(source);
    (document, problems.finish(source.id))
}

/// The same, with findings that more can be added to.
pub fn read(source: &Source) -> (Document, Problems) {
    outline(source, true)
}

/// The same through the grammar alone, which defines the language: slower, and equal in every document and finding.
#[cfg_attr(sealed, expect(dead_code, reason = "the grammar alone, which tests hold the shortcut against"))]
pub fn read_by_grammar(source: &Source) -> (Document, Problems) {
    outline(source, false)
}

fn outline(source: &Source, quick: bool) -> (Document, Problems) {
    let mut outline = outline::Outline::of(&source.text, source.id, quick);
    outline.read();
    stray::refuse(&source.text, source.id, &mut outline.problems);
    (outline.document, outline.problems)
}

/// What a text in quotes says: without its quotes, `\"` and `\\` resolved.
pub fn unquoted(words: &str) -> String {
    let inner = words.strip_prefix('"').unwrap_or(words);
    let inner = inner.strip_suffix('"').unwrap_or(inner);
    if !inner.contains('\\') {
        return inner.to_owned();
    }
    let mut plain = String::with_capacity(inner.len());
    let mut letters = inner.chars().peekable();
    while let Some(letter) = letters.next() {
        match letter {
            '\\' if letters.peek().is_some_and(|next| matches!(next, '"' | '\\')) => plain.extend(letters.next()),
            letter => plain.push(letter),
        }
    }
    plain
}
