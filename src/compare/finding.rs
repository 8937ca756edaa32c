//! Findings against findings.

use crate::compare::Renames;
use crate::finding::Finding;
use crate::model::Name;
use crate::report::Report;

/// What a submittal does to the findings. Waived ones count as none.
pub struct FindingChanges<'a> {
    pub new: Vec<&'a Finding>,
    pub gone: Vec<&'a Finding>,
    pub unchanged: Vec<&'a Finding>,
}

/// A finding is the same one when the rule, the item and the names that it is about are, whatever its line; names of the
/// issued side are taken as the submittal has them.
pub fn changed_findings<'a>(issued: &'a Report, submitted: &'a Report, renames: &Renames) -> FindingChanges<'a> {
    let open = |report: &'a Report| report.findings.iter().filter(|finding| finding.open());
    let now = |item: Option<&Name>, name: &Name| {
        let of_piece = item.and_then(|item| renames.pieces.get(&(item.clone(), name.clone())));
        of_piece.or_else(|| renames.items.get(name)).unwrap_or(name).clone()
    };
    let mut before: Vec<(&Finding, Key)> = open(issued)
        .map(|finding| {
            let item = finding.item.as_ref();
            let subject = finding.subject.iter().map(|name| now(item, name)).collect();
            (finding, (finding.rule.clone(), item.map(|item| now(None, item)), subject))
        })
        .collect();
    let mut changes = FindingChanges { new: Vec::new(), gone: Vec::new(), unchanged: Vec::new() };
    for finding in open(submitted) {
        let same = before.iter().position(|(_, (rule, item, subject))| {
            *rule == finding.rule && *item == finding.item && *subject == finding.subject
        });
        match same {
            Some(at) => {
                before.remove(at);
                changes.unchanged.push(finding);
            }
            None => changes.new.push(finding),
        }
    }
    changes.gone = before.into_iter().map(|(finding, _)| finding).collect();
    changes
}

/// Rule, item and subject, as the submittal names them.
type Key = (Name, Option<Name>, Vec<Name>);
