//! What is found before an edit and after it.

use std::collections::BTreeMap;

use crate::finding::Finding;

/// How many findings there are of each kind: places move with an edit, names and rules stay.
pub struct Tally(BTreeMap<[String; 3], usize>);

/// What an edit did.
pub enum Verdict {
    /// The finding is gone, and no other has come.
    Cures,
    /// The finding is gone, and these have come.
    Half(Vec<Finding>),
    Idle,
}

impl Tally {
    pub fn of(findings: &[Finding]) -> Tally {
        let mut tally = Tally(BTreeMap::new());
        for finding in findings.iter().filter(|finding| finding.open()) {
            *tally.0.entry(key(finding)).or_insert(0) += 1;
        }
        tally
    }

    /// Where text could not be read before, what is found in it now was there all along, but no more text may be unreadable.
    pub fn verdict(&self, after: &[Finding], finding: &Finding) -> Verdict {
        let own = key(finding);
        if Tally::of(after).count(&own) >= self.count(&own) {
            return Verdict::Idle;
        }
        let mut known = BTreeMap::new();
        let mut new = |other: &&Finding| {
            let known = known.entry(key(other)).or_insert(0);
            *known += 1;
            *known > self.count(&key(other)) && (other.unread() || !finding.unread())
        };
        let brought: Vec<Finding> =
            after.iter().filter(|other| other.open()).filter(|other| new(other)).cloned().collect();
        if brought.is_empty() { Verdict::Cures } else { Verdict::Half(brought) }
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
