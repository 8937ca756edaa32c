//! Findings that have one cause are told once.

use std::collections::hash_map::Entry;

use foldhash::HashMap;

use crate::finding::Finding;
use crate::rules::Pack;
use crate::rules::expression::Literal;

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

/// The table that names, for a rule, one that reports the cause of what it finds.
const TOLD_BY: &str = "told-by";

/// Leaves out what follows from another finding of the same item, about the same words or one of the same pieces. Nothing gives
/// way to a milder finding, or to one that was waived.
pub fn keep_causes(pack: &Pack, findings: &mut Vec<Finding>) {
    let Some(table) = pack.tables.iter().find(|table| &*table.name == TOLD_BY) else { return };
    let word = |literal: &Literal| match literal {
        Literal::Word(word) => Some(word.to_string()),
        _ => None,
    };
    let tellers = |rule: &str| -> Vec<String> {
        let of = |keys: &[Option<Literal>]| matches!(keys.first(), Some(Some(Literal::Word(key))) if **key == *rule);
        table.rows.iter().filter(|row| of(&row.keys)).filter_map(|row| word(&row.value)).collect()
    };
    let follows = |finding: &Finding| {
        let tellers = if finding.waived.is_none() { tellers(&finding.rule) } else { Vec::new() };
        !tellers.is_empty()
            && findings.iter().any(|cause| {
                cause.waived.is_none()
                    && cause.level >= finding.level
                    && cause.item == finding.item
                    && cause.span.file == finding.span.file
                    && (cause.span == finding.span || cause.subject.iter().any(|name| finding.subject.contains(name)))
                    && tellers.iter().any(|rule| **rule == *cause.rule)
            })
    };
    let kept: Vec<bool> = findings.iter().map(|finding| !follows(finding)).collect();
    let mut kept = kept.into_iter();
    findings.retain(|_| kept.next().unwrap_or(true));
}
