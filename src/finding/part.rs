//! What a finding points to and brings along: other places, steps of a drop, edits, the waiver.

use std::sync::Arc;

use crate::text::Span;

/// Another place that has a part in a finding.
///
/// ```
/// use headlap::{FileId, Related, Span};
///
/// let related = Related { span: Span::new(FileId::detail(0), 0, 4), message: "the other piece".into() };
/// assert_eq!(related.span.range().len(), 4);
/// ```
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Related {
    /// Where it is.
    pub span: Span,
    /// What part it has.
    pub message: Arc<str>,
}

/// One step of a water path.
///
/// ```
/// let step = headlap::Step { span: None, message: "passes behind course-1 at 850 mm".into() };
/// assert!(step.message.contains("behind"));
/// ```
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Step {
    /// The statement of the piece that the drop is on.
    pub span: Option<Span>,
    /// In plain words, with the height in the author's unit: "passes behind course-1 at 850 mm".
    pub message: Arc<str>,
}

/// A replacement of some words by others.
///
/// ```
/// use headlap::{Edit, FileId, Span};
///
/// let edit = Edit { span: Span::new(FileId::detail(0), 8, 11), text: "150".into() };
/// let mut text = String::from("up from 100 mm");
/// text.replace_range(edit.span.range(), &edit.text);
/// assert_eq!(text, "up from 150 mm");
/// ```
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Edit {
    /// The words that go.
    pub span: Span,
    /// The words that come.
    pub text: String,
}

/// The accepted deviation that covers a finding.
///
/// ```
/// let waived = headlap::Waived { because: "The eave covers it.".into(), by: None, until: None };
/// assert!(waived.until.is_none());
/// ```
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct Waived {
    /// Why it was accepted.
    pub because: String,
    /// Who accepted it.
    pub by: Option<String>,
    /// The last day on which it holds.
    pub until: Option<jiff::civil::Date>,
}
