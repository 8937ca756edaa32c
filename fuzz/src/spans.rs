//! Spans lie inside of their text, on boundaries of characters.

use headlap::finding::Finding;
use headlap::text::{Source, Span};

pub fn inside(span: Span, source: &Source, what: &dyn std::fmt::Debug) {
    let range = span.range();
    assert!(range.start <= range.end && source.text.get(range.clone()).is_some(), "{range:?} of {what:?}");
}

/// Every place of a finding, in the source that `source_of` gives for it.
pub fn all_inside<'s>(finding: &Finding, source_of: &dyn Fn(Span) -> Option<&'s Source>) {
    let related = finding.related.iter().map(|related| related.span);
    let trail = finding.trail.iter().filter_map(|step| step.span);
    let edits = finding.edits.iter().map(|edit| edit.span);
    for span in std::iter::once(finding.span).chain(related).chain(trail).chain(edits) {
        let source = source_of(span).unwrap_or_else(|| panic!("no source for {span:?} of {finding:?}"));
        inside(span, source, finding);
    }
    assert!(!finding.message.is_empty(), "{finding:?}");
}
