//! What a change of a text brings and takes, held against what it should.

use std::collections::{BTreeMap, BTreeSet};

use headlap::finding::Finding;

/// How often each rule reports each item; a waived finding counts apart.
pub type Counts = BTreeMap<(String, String), usize>;

pub fn counts<'f>(findings: impl IntoIterator<Item = &'f Finding>) -> Counts {
    let mut counts = Counts::new();
    for finding in findings {
        let rule =
            if finding.waived.is_some() { format!("{} (waived)", finding.rule) } else { finding.rule.to_string() };
        let item = finding.item.as_deref().unwrap_or_default().to_owned();
        *counts.entry((rule, item)).or_default() += 1;
    }
    counts
}

/// The rules that report more in `after`, with their items.
pub fn added(before: &Counts, after: &Counts) -> BTreeSet<(String, String)> {
    let more = |key: &(String, String), count: &usize| *count > before.get(key).copied().unwrap_or_default();
    after.iter().filter(|(key, count)| more(key, count)).map(|(key, _)| key.clone()).collect()
}

/// What came of one seeded defect.
#[derive(Debug, Default, PartialEq)]
pub struct Outcome {
    /// None of the rules that had to report it did.
    pub missed: bool,
    /// Rules that were not expected.
    pub strange: Vec<String>,
}

/// One of `brings` has to come, for the item that was changed; besides them only `also` may. Nothing has to come where
/// `brings` is empty.
pub fn judge(item: &str, came: &BTreeSet<(String, String)>, brings: &[&str], also: &[(&str, &str)]) -> Outcome {
    let expected = |rule: &str| brings.contains(&rule) || also.iter().any(|(id, _)| *id == rule);
    let found = came.iter().any(|(rule, about)| brings.contains(&rule.as_str()) && (item == "set" || about == item));
    Outcome {
        missed: !brings.is_empty() && !found,
        strange: came
            .iter()
            .filter(|(rule, _)| !expected(rule))
            .map(|(rule, item)| format!("{rule} ({item})"))
            .collect(),
    }
}

#[test]
fn a_miss_is_not_taken_for_a_false_alarm() {
    let came = |rule: &str| BTreeSet::from([(rule.to_owned(), "D".to_owned())]);
    let also: &[(&str, &str)] = &[("b", "the same cause")];
    assert_eq!(judge("D", &came("a"), &["a"], also), Outcome::default());
    assert_eq!(judge("D", &came("b"), &["a"], also), Outcome { missed: true, strange: vec![] });
    assert!(judge("E", &came("a"), &["a"], also).missed, "it speaks about something else");
    assert_eq!(judge("D", &came("c"), &[], also), Outcome { missed: false, strange: vec!["c (D)".to_owned()] });
}

#[test]
fn a_rule_that_speaks_once_more_is_new() {
    let once = Counts::from([(("a".to_owned(), "D".to_owned()), 1)]);
    let twice = Counts::from([(("a".to_owned(), "D".to_owned()), 2)]);
    assert_eq!((added(&once, &twice).len(), added(&twice, &once).len(), added(&once, &once).len()), (1, 0, 0));
}
