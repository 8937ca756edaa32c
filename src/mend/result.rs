//! The findings before an edit, held against those after it.

use std::collections::BTreeMap;

use crate::finding::Finding;

/// How many findings there are of each rule, item and subject. Places would not do as keys, since an edit moves them.
pub struct FindingCounts(BTreeMap<[String; 3], usize>);

/// What an edit did to a finding.
pub enum EditResult {
    /// The finding is gone, and no other has come.
    Cures,
    /// The finding is gone, and these have come.
    BringsOthers(Vec<Finding>),
    DoesNotCure,
}

impl FindingCounts {
    pub fn of(findings: &[Finding]) -> FindingCounts {
        let mut counts = FindingCounts(BTreeMap::new());
        for finding in findings.iter().filter(|finding| finding.open()) {
            *counts.0.entry(key(finding)).or_insert(0) += 1;
        }
        counts
    }

    /// An edit that makes text readable reveals findings that were there all along, and brings none of them. It may leave no more unreadable text.
    pub fn compare(&self, after: &[Finding], finding: &Finding) -> EditResult {
        let own = key(finding);
        if FindingCounts::of(after).count(&own) >= self.count(&own) {
            return EditResult::DoesNotCure;
        }
        let mut known = BTreeMap::new();
        let mut new = |other: &&Finding| {
            let known = known.entry(key(other)).or_insert(0);
            *known += 1;
            *known > self.count(&key(other)) && (other.unread() || !finding.unread())
        };
        let brought: Vec<Finding> =
            after.iter().filter(|other| other.open()).filter(|other| new(other)).cloned().collect();
        if brought.is_empty() { EditResult::Cures } else { EditResult::BringsOthers(brought) }
    }

    fn count(&self, key: &[String; 3]) -> usize {
        self.0.get(key).copied().unwrap_or(0)
    }
}

fn key(finding: &Finding) -> [String; 3] {
    let mut names: Vec<&str> = finding.subject.iter().map(|name| &**name).collect();
    names.sort_unstable();
    let about = if names.is_empty() { finding.message.clone() } else { names.join(" ") };
    [finding.rule.to_string(), finding.item.as_deref().unwrap_or("").to_owned(), about]
}
