//! What can be wrong with a rule file. Each is an error at its place, before any detail is read.

use crate::finding::{Finding, Level};
use crate::text::Span;

/// The ids that errors of rule files carry, with their titles.
pub const PROBLEMS: [(&str, &str); 9] = [
    ("rule-syntax", "Rule file that cannot be read"),
    ("rule-key", "Key that a rule file does not have, or lacks"),
    ("rule-value", "Value that a rule file cannot hold there"),
    ("rule-name", "Name that nothing has"),
    ("rule-type", "Expression whose parts do not fit together"),
    ("rule-unused", "Constant that no expression uses"),
    ("rule-duplicate", "Two of one name"),
    ("rule-adjustment", "Adjustment that cannot be made"),
    ("rule-example", "Example that a rule does not bear out"),
];

/// A finding in the place of a value; boxed, since it is large and seldom.
pub type Refusal = Box<Finding>;

pub fn problem(id: &'static str, span: Span, message: impl Into<String>) -> Finding {
    let title = PROBLEMS.iter().find(|(known, _)| *known == id).map_or("", |(_, title)| title);
    Finding::new(id, title, Level::Error, span, message)
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
