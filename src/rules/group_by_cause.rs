//! Findings with the same cause are reported once.

use std::collections::hash_map::Entry;

use foldhash::{HashMap, HashSet};

use crate::finding::{Finding, Level, Said};
use crate::rules::Pack;
use crate::rules::written::Literal;
use crate::text::{FileId, Span};

/// Merges the findings of a rule with `per` that have the same cause in the same item. The one that comes first in the text
/// stays, whatever order they arrive in; the others become related places, and the finding is about their names too. Waivers
/// have to be applied before: a waived finding was accepted by itself and is not merged with one that was not.
pub fn group_by_cause(findings: &mut Vec<Finding>) {
    if findings.iter().all(|finding| finding.cause.is_none()) {
        return;
    }
    let mut known = HashMap::default();
    let mut grouped: Vec<Finding> = Vec::with_capacity(findings.len());
    for mut finding in findings.drain(..) {
        let Some(cause) = finding.cause.take() else {
            grouped.push(finding);
            continue;
        };
        let home = (finding.rule.clone(), finding.item.clone(), finding.span.file);
        match known.entry((home, cause, finding.waived.clone())) {
            Entry::Occupied(first) => join(&mut grouped[*first.get()], finding),
            Entry::Vacant(free) => {
                free.insert(grouped.len());
                grouped.push(finding);
            }
        }
    }
    *findings = grouped;
}

fn join(first: &mut Finding, finding: Finding) {
    let later = if finding.span < first.span { std::mem::replace(first, finding) } else { finding };
    let Said { span, message, subject, related, .. } = later.into();
    for name in subject {
        if !first.subject.contains(&name) {
            first.subject.push(name);
        }
    }
    first.relate(span, message);
    related.into_iter().for_each(|related| first.relate(related.span, related.message));
}

/// The table of rules whose findings follow from those of another rule, with that rule.
const CAUSES: &str = "causes";

/// Leaves out a finding that follows from another one in the same item, about the same words or about one of the same pieces. A
/// finding never gives way to a milder one or to a waived one.
pub fn leave_out_consequences(pack: &Pack, findings: &mut Vec<Finding>) {
    if findings.len() < 2 {
        return;
    }
    let Some(table) = pack.tables.iter().find(|table| &*table.name == CAUSES) else { return };
    // Of hundreds of rows, few are about rules that have found something.
    let found: HashSet<&str> = findings.iter().map(|finding| &*finding.rule).collect();
    let mut causes_of: HashMap<&str, Vec<&str>> = HashMap::default();
    for row in &table.rows {
        if let (Some(Some(Literal::Word(key))), Literal::Word(teller)) = (row.keys.first(), &row.value)
            && found.contains(&**key)
            && found.contains(&**teller)
        {
            causes_of.entry(key).or_default().push(teller);
        }
    }
    if causes_of.is_empty() {
        return;
    }
    let reporting: HashSet<&str> = causes_of.values().flatten().copied().collect();
    // The gravest finding of each rule at each place and about each name of an item.
    let mut causes: HashMap<(&str, Where<'_>, About<'_>), Level> = HashMap::default();
    for cause in findings.iter().filter(|cause| cause.waived.is_none() && reporting.contains(&*cause.rule)) {
        for about in abouts(cause) {
            let level = causes.entry((&cause.rule, home(cause), about)).or_insert(cause.level);
            *level = cause.level.max(*level);
        }
    }
    let follows = |finding: &Finding| {
        let causes_of = causes_of.get(&*finding.rule).filter(|_| finding.waived.is_none());
        let graver =
            |rule: &str, about| causes.get(&(rule, home(finding), about)).is_some_and(|level| *level >= finding.level);
        causes_of.is_some_and(|causes_of| causes_of.iter().any(|rule| abouts(finding).any(|about| graver(rule, about))))
    };
    let kept: Vec<bool> = findings.iter().map(|finding| !follows(finding)).collect();
    let mut kept = kept.into_iter();
    findings.retain(|_| kept.next().unwrap_or(true));
}

/// The item and the file that a finding belongs to.
type Where<'f> = (Option<&'f str>, FileId);

/// What two findings of an item can have in common.
#[derive(PartialEq, Eq, Hash)]
enum About<'f> {
    Words(Span),
    Name(&'f str),
}

fn home(finding: &Finding) -> Where<'_> {
    (finding.item.as_deref(), finding.span.file)
}

fn abouts(finding: &Finding) -> impl Iterator<Item = About<'_>> {
    std::iter::once(About::Words(finding.span)).chain(finding.subject.iter().map(|name| About::Name(name)))
}
