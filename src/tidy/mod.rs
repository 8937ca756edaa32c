//! One layout for a text: indentation, columns, the order of clauses. What it says stays, and so does every comment.

mod clause;
mod ends;
mod row;
mod tree;
mod words;

pub use ends::as_before;

use std::collections::HashMap;

use crate::finding::Finding;
use crate::syntax::{Document, Statement, parse};
use crate::text::Source;

/// The text in its layout: two blanks of indentation, columns in runs of like statements, one order of clauses, at most
/// one blank line in a row, line ends as in the first line. Formatting a formatted text changes nothing.
///
/// ```
/// use headlap::{FileId, Source, tidy};
///
/// let source = Source::new(FileId::detail(0), "a.detail", "assembly  W1   wall {\n layer   plywood 12 mm\n}\n");
/// assert!(tidy(&source).expect("it can be read").starts_with("assembly W1 wall {\n  layer plywood"));
/// ```
///
/// # Errors
/// The findings of a text that cannot be read whole: what was not understood must not be moved.
pub fn tidy(source: &Source) -> Result<String, Vec<Finding>> {
    let (document, findings) = parse(source);
    if !findings.is_empty() {
        return Err(findings);
    }
    let statements = by_place(&document);
    let mut rows = row::rows(&source.text, &statements, tree::read(&source.text));
    row::align(&mut rows);
    let text = row::print(&rows);
    let first = source.text.split_inclusive('\n').next().unwrap_or("");
    Ok(if first.ends_with("\r\n") { text.replace('\n', "\r\n") } else { text })
}

/// Every statement by the byte that it begins at.
fn by_place(document: &Document) -> HashMap<usize, &Statement> {
    let all = document.items.iter().flat_map(|item| std::iter::once(&item.head).chain(&item.body));
    all.map(|statement| (statement.span.range().start, statement)).collect()
}
