//! What can be wrong with a rule file. Each is an error at its place, before any detail is read.

use crate::finding::Finding;
use crate::text::Span;

/// A finding in the place of a value; boxed, since it is large and seldom.
pub type Refusal = Box<Finding>;

pub fn problem(id: &'static str, span: Span, message: impl Into<String>) -> Finding {
    crate::finding::Id::from_word(id).expect("every id has a page").at(span, message)
}

pub fn refusal(id: &'static str, span: Span, message: impl Into<String>) -> Refusal {
    Box::new(problem(id, span, message))
}

/// Adds the nearest known name, when there is one.
pub fn suggest<'a>(finding: Finding, wanted: &str, known: impl IntoIterator<Item = &'a str>) -> Finding {
    match crate::text::nearest(wanted, known) {
        Some(near) => finding.fix(format!("Did you mean `{near}`?")),
        None => finding,
    }
}
