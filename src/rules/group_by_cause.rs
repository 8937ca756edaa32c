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

/// The table of rules whose findings follow from those of another rule, with that rule, about one of the same pieces.
const CAUSES: &str = "causes";

/// The same where all of the pieces have to be those of the cause.
const CAUSES_OF_ALL: &str = "causes-of-all";

/// Leaves out a finding that follows from another one in the same item, about the same words or about one of the same pieces, or,
/// where one piece in common is too little, about all of them. A finding never gives way to a milder one or to a waived one.
pub fn leave_out_consequences(pack: &Pack, findings: &mut Vec<Finding>) {
    if findings.len() < 2 {
        return;
    }
    let one = causes(pack, CAUSES, findings);
    let all = causes(pack, CAUSES_OF_ALL, findings);
    if one.is_empty() && all.is_empty() {
        return;
    }
    let reporting: HashSet<&str> = one.values().flatten().copied().collect();
    // The gravest finding of each rule at each place and about each name of an item.
    let mut gravest: HashMap<(&str, Where<'_>, About<'_>), Level> = HashMap::default();
    for cause in findings.iter().filter(|cause| cause.waived.is_none() && reporting.contains(&*cause.rule)) {
        for about in abouts(cause) {
            let level = gravest.entry((&cause.rule, home(cause), about)).or_insert(cause.level);
            *level = cause.level.max(*level);
        }
    }
    let whole: HashSet<&str> = all.values().flatten().copied().collect();
    let mut named: HashMap<(&str, Where<'_>, &str), Vec<&Finding>> = HashMap::default();
    for cause in findings.iter().filter(|cause| whole.contains(&*cause.rule)) {
        for name in &cause.subject {
            named.entry((&cause.rule, home(cause), name)).or_default().push(cause);
        }
    }
    let follows = |finding: &Finding| {
        if finding.waived.is_some() {
            return false;
        }
        let graver =
            |rule: &str, about| gravest.get(&(rule, home(finding), about)).is_some_and(|level| *level >= finding.level);
        let of_one = |rule: &&str| abouts(finding).any(|about| graver(rule, about));
        let of_all = |rule: &&str| {
            let first = finding.subject.first().and_then(|name| named.get(&(*rule, home(finding), &**name)));
            first.is_some_and(|causes| causes.iter().any(|cause| holds_all(cause, finding)))
        };
        let found = |causes: &HashMap<&str, Vec<&'_ str>>, of: &dyn Fn(&&str) -> bool| {
            causes.get(&*finding.rule).is_some_and(|rules| rules.iter().any(of))
        };
        found(&one, &of_one) || found(&all, &of_all)
    };
    let kept: Vec<bool> = findings.iter().map(|finding| !follows(finding)).collect();
    let mut kept = kept.into_iter();
    findings.retain(|_| kept.next().unwrap_or(true));
}

/// The rows of a table about rules that have found something: of hundreds, few.
fn causes<'p>(pack: &'p Pack, table: &str, findings: &[Finding]) -> HashMap<&'p str, Vec<&'p str>> {
    let mut causes_of: HashMap<&str, Vec<&str>> = HashMap::default();
    let Some(table) = pack.tables.iter().find(|other| &*other.name == table) else { return causes_of };
    let found: HashSet<&str> = findings.iter().map(|finding| &*finding.rule).collect();
    for row in &table.rows {
        if let (Some(Some(Literal::Word(key))), Literal::Word(teller)) = (row.keys.first(), &row.value)
            && found.contains(&**key)
            && found.contains(&**teller)
        {
            causes_of.entry(key).or_default().push(teller);
        }
    }
    causes_of
}

/// Whether a finding is about nothing but pieces of another one that is as grave.
fn holds_all(cause: &Finding, finding: &Finding) -> bool {
    let graver = cause.waived.is_none() && cause.level >= finding.level;
    graver && finding.subject.iter().all(|name| cause.subject.contains(name))
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
