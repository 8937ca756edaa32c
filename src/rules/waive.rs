//! Waivers: which findings they cover, and which waivers cover nothing.

use jiff::civil::Date;

use crate::finding::{Finding, Waived};
use crate::model::{Name, Waiver};
use crate::rules::Pack;

/// What became of a waiver.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct WaiverOutcome {
    /// Its last day is past, so it covers nothing.
    pub expired: bool,
    /// Some finding matches it.
    pub matched: bool,
}

/// Marks the findings that waivers cover; gives the outcome of each waiver, in their order.
///
/// A waiver is written in a detail or an assembly, `home`. It covers the findings of its rule there or, with `on NAME`, those
/// that are about NAME. Only findings of rules can be waived; an error in the text has to be fixed. Findings and waivers have
/// to come from one include tree, since they are matched by name.
pub fn waive(pack: &Pack, findings: &mut [Finding], waivers: &[(Name, &Waiver)], today: Date) -> Vec<WaiverOutcome> {
    let mut outcomes = Vec::with_capacity(waivers.len());
    for (home, waiver) in waivers {
        let expired = waiver.until.is_some_and(|until| until < today);
        let mut matched = false;
        for finding in findings.iter_mut().filter(|finding| covers(waiver, home, finding)) {
            if pack.rule(&finding.rule).is_none() {
                continue;
            }
            matched = true;
            if !expired && finding.waived.is_none() {
                let Waiver { because, by, until, .. } = *waiver;
                let waived = Waived { because: because.clone(), by: by.clone(), until: *until };
                finding.waived = Some(Box::new(waived));
            }
        }
        outcomes.push(WaiverOutcome { expired, matched });
    }
    outcomes
}

fn covers(waiver: &Waiver, home: &Name, finding: &Finding) -> bool {
    finding.rule == waiver.rule
        && finding.item.as_ref() == Some(home)
        && waiver.on.as_ref().is_none_or(|(name, _)| finding.subject.contains(name))
}
