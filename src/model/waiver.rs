//! An accepted deviation, with its reason.

use jiff::civil::Date;

use crate::model::Name;
use crate::text::Span;

#[derive(Clone, Debug)]
pub struct Waiver {
    pub rule: Name,
    pub rule_span: Span,
    /// Only findings that are about this name.
    pub on: Option<(Name, Span)>,
    pub because: String,
    pub by: Option<String>,
    /// The last day on which it counts.
    pub until: Option<Date>,
    pub span: Span,
}
