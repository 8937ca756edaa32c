//! Findings against findings.

use foldhash::HashMap;

use crate::compare::waiver::Brought;
use crate::compare::{Renames, waiver};
use crate::finding::Finding;
use crate::model::Name;
use crate::quantity::{Quantity, parse_quantity};
use crate::report::Report;

/// What a submittal does to the findings. What the issued details waive counts as none.
#[derive(Default)]
pub struct FindingChanges<'a> {
    pub new: Vec<&'a Finding>,
    /// The issued finding, and the submitted one, which misses its limit by more.
    pub worse: Vec<(&'a Finding, &'a Finding)>,
    pub gone: Vec<&'a Finding>,
    /// The issued finding and the submitted one.
    pub unchanged: Vec<(&'a Finding, &'a Finding)>,
    /// Waived or known on the side that has it; on both, the issued one first.
    pub accepted: Vec<(Option<&'a Finding>, Option<&'a Finding>)>,
    /// Text that could not be read, on either side: what changed there is not known.
    pub unread_issued: Vec<&'a Finding>,
    pub unread: Vec<&'a Finding>,
}

impl<'a> FindingChanges<'a> {
    /// What the submittal answers for: new findings, and those that it makes worse.
    pub fn held(&self) -> Vec<&'a Finding> {
        self.new.iter().copied().chain(self.worse.iter().map(|(_, finding)| *finding)).collect()
    }
}

/// A finding is the same one when the rule, the item and the names that it is about are, whatever its line; names of the
/// issued side are taken as the submittal has them. A waiver that the submittal brings acquits nothing.
pub fn changed_findings<'a>(
    issued: &'a Report,
    submitted: &'a Report,
    renames: &Renames,
    brought: &[Brought],
) -> FindingChanges<'a> {
    let now = |item: Option<&Name>, name: &Name| {
        let of_piece = item.and_then(|item| renames.pieces.get(&(item.clone(), name.clone())));
        of_piece.or_else(|| renames.items.get(name)).unwrap_or(name).clone()
    };
    let mut taken = vec![false; issued.findings.len()];
    let mut before: HashMap<Key, Vec<usize>> = HashMap::default();
    for (at, finding) in issued.findings.iter().enumerate().rev() {
        let item = finding.item.as_ref();
        let subject = finding.subject.iter().map(|name| now(item, name)).collect();
        before.entry((finding.rule.clone(), item.map(|item| now(None, item)), subject)).or_default().push(at);
    }
    let unread = |report: &'a Report| report.findings.iter().filter(|finding| finding.unread()).collect();
    let mut changes =
        FindingChanges { unread_issued: unread(issued), unread: unread(submitted), ..FindingChanges::default() };
    for finding in &submitted.findings {
        let key: Key = (finding.rule.clone(), finding.item.clone(), finding.subject.clone());
        let old = before.get_mut(&key).and_then(Vec::pop).map(|at| {
            taken[at] = true;
            &issued.findings[at]
        });
        if !finding.open() && !waiver::acquits_in_vain(finding, brought) {
            changes.accepted.push((old, Some(finding)));
            continue;
        }
        match old {
            Some(old) if is_worse(old, finding) => changes.worse.push((old, finding)),
            Some(old) => changes.unchanged.push((old, finding)),
            None => changes.new.push(finding),
        }
    }
    for (finding, _) in issued.findings.iter().zip(taken).filter(|(_, taken)| !taken) {
        if finding.open() {
            changes.gone.push(finding);
        } else {
            changes.accepted.push((Some(finding), None));
        }
    }
    changes
}

/// Rule, item and subject, as the submittal names them.
type Key = (Name, Option<Name>, Vec<Name>);

/// A number moved away from one that stayed, which is the limit that it misses.
fn is_worse(issued: &Finding, submitted: &Finding) -> bool {
    let number = |text: &str| parse_quantity(text.split(" (").next().unwrap_or(text)).ok();
    let both = submitted.values.iter().filter_map(|(name, new)| {
        let (_, old) = issued.values.iter().find(|(known, _)| known == name)?;
        Some((number(old)?, number(new)?))
    });
    let both: Vec<(Quantity, Quantity)> = both.collect();
    let same = |(old, new): &&(Quantity, Quantity)| (old.si - new.si).abs() <= 1e-9 * old.si.abs().max(new.si.abs());
    both.iter().filter(|pair| !same(pair)).any(|(old, new)| {
        let limits = both.iter().filter(same).filter(|(limit, _)| limit.dimension() == old.dimension());
        limits.into_iter().any(|(limit, _)| (new.si - limit.si).abs() > (old.si - limit.si).abs())
    })
}
