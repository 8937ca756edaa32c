//! Findings that have one cause are told once.

use std::collections::hash_map::Entry;

use foldhash::HashMap;

use crate::finding::Finding;

/// Makes one finding of those that a rule with `per` has of one cause in one home; the first place carries it, in whatever
/// order they came; the others are related to it, and it is about their names too. What is waived has been accepted for
/// itself, and is told apart from what is not, so that waivers come first.
pub fn gather(findings: &mut Vec<Finding>) {
    if findings.iter().all(|finding| finding.cause.is_none()) {
        return;
    }
    let mut known = HashMap::default();
    let mut told: Vec<Finding> = Vec::with_capacity(findings.len());
    for mut finding in findings.drain(..) {
        let Some(cause) = finding.cause.take() else {
            told.push(finding);
            continue;
        };
        let home = (finding.rule.clone(), finding.item.clone(), finding.span.file);
        match known.entry((home, cause, finding.waived.clone())) {
            Entry::Occupied(first) => join(&mut told[*first.get()], finding),
            Entry::Vacant(free) => {
                free.insert(told.len());
                told.push(finding);
            }
        }
    }
    *findings = told;
}

fn join(first: &mut Finding, finding: Finding) {
    let later = if finding.span < first.span { std::mem::replace(first, finding) } else { finding };
    for name in later.subject {
        if !first.subject.contains(&name) {
            first.subject.push(name);
        }
    }
    first.relate(later.span, later.message);
    later.related.into_iter().for_each(|related| first.relate(related.span, related.message));
}
