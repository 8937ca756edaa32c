//! Reads a text into a document. It never fails: what cannot be read becomes a finding at its place, and reading goes on after
//! it.

mod build;
mod clause;
mod diagnostics;
mod document;
mod form;
mod grammar;
mod measure;
mod message;
mod parser;
#[cfg_attr(sealed, expect(dead_code, reason = "the build script writes it"))]
mod prepared;
mod quick;
mod recover;
mod scan;
mod stray;

pub use clause::ClauseKind;
pub use diagnostics::{Diagnostics, MOST_OF_A_KIND, several, short};
pub use document::{Clause, Document, Extent, Hold, Item, Keyword, PlacedClause, Statement, StatementNames};
pub use form::{Form, ITEMS, body as statements_of, with_article};
pub use grammar::accepts_file;
pub use measure::{Habit, Want, want_of};
pub use message::{Close, Message};
pub use prepared::{PreparedText, prepare, read_prepared};
pub use scan::{Scanner, Token};

use crate::finding::Finding;
use crate::text::Source;

/// Reads a text, with findings for all that could not be read (`syntax`, `wrong-unit`, `empty-extent`).
pub fn parse(source: &Source) -> (Document, Vec<Finding>) {
    let (document, problems) = read(source);
    (document, problems.finish(source.id))
}

/// The same, with findings that more can be added to.
pub fn read(source: &Source) -> (Document, Diagnostics) {
    parse_with(source, true)
}

/// The same with the grammar alone, which defines the language. It is slower and gives the same document and findings.
#[cfg_attr(sealed, expect(dead_code, reason = "the grammar alone, which tests hold the shortcut against"))]
pub fn read_by_grammar(source: &Source) -> (Document, Diagnostics) {
    parse_with(source, false)
}

fn parse_with(source: &Source, quick: bool) -> (Document, Diagnostics) {
    let mut parser = parser::Parser::of(&source.text, source.id, quick);
    parser.read();
    stray::refuse(&source.text, source.id, &mut parser.problems);
    (parser.document, parser.problems)
}

/// The contents of a text in quotes, with `\"` and `\\` resolved.
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
