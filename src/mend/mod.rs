//! Cures as edits of the text, proved before anyone sees them: each is made on a copy, the copy is reviewed, and only an
//! edit that clears its finding, brings no other and does no harm is offered.

mod add;
mod amount;
mod case;
mod data;
mod extend;
mod flash;
mod guard;
mod hold;
mod join;
mod layer;
mod let_in;
mod order;
mod outlet;
mod pair;
mod past;
mod reach;
mod relay;
mod stack;
mod swap;
mod take;
mod tally;
mod text;
mod verb;
mod waive;

use crate::facts::DetailFacts;
use crate::finding::{Edit, Finding};

pub use case::Case;
pub use data::unknown;
pub use text::apply;
pub use waive::waiver;

use data::verbs;
use pair::pairs;
use tally::{Tally, Verdict};

/// An edit that was proved.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Cure {
    /// What it does, as one would tell a colleague.
    pub title: String,
    pub edits: Vec<Edit>,
}

/// A copy after its review.
#[derive(Default)]
pub struct Trial {
    pub findings: Vec<Finding>,
    pub details: Vec<DetailFacts>,
}

/// So many copies are reviewed for one finding at most, so many with two edits, and so many once there is one to take: somebody waits.
const MOST_TRIED: usize = 48;
const MOST_PAIRS: usize = 20;
const MOST_AFTER: usize = 12;

/// So many cures are enough to choose from.
const MOST_OFFERED: usize = 4;

/// The cures of a finding, the likeliest first: single edits, and pairs of them where no single one does.
pub fn cures(case: &Case<'_>, review: &dyn Fn(&str) -> Trial) -> Vec<Cure> {
    let drafts = drafts(case);
    if drafts.is_empty() {
        return Vec::new();
    }
    let before = Tally::of(&review(&case.source.text).findings);
    let tried = |edits: &[Edit]| match apply(&case.source.text, edits).map(|text| review(&text)) {
        Some(trial) if guard::harmless(case, &trial) => before.verdict(&trial.findings, case.finding),
        _ => Verdict::Idle,
    };
    let (mut found, mut halves, mut first) = (Vec::new(), Vec::new(), MOST_TRIED);
    for (n, draft) in drafts.iter().enumerate().take(MOST_TRIED) {
        match tried(&draft.edits) {
            Verdict::Cures => {
                first = first.min(n);
                found.push(draft.clone());
            }
            Verdict::Half(brought) => halves.push((n, brought)),
            Verdict::Idle => {}
        }
        if found.len() == MOST_OFFERED || n >= first + MOST_AFTER {
            break;
        }
    }
    if !found.is_empty() {
        return found;
    }
    let pairs = pairs(case, &drafts, &halves).take(MOST_PAIRS);
    pairs.into_iter().filter(|cure| matches!(tried(&cure.edits), Verdict::Cures)).take(1).collect()
}

/// All edits that are worth a try.
fn drafts(case: &Case<'_>) -> Vec<Cure> {
    let own = case.finding.edits.iter().filter(|edit| edit.span.file == case.source.id);
    let mut drafts: Vec<Cure> =
        own.map(|edit| Cure { title: written(case, edit), edits: vec![edit.clone()] }).collect();
    for verb in verbs(case.pack, &case.finding.rule) {
        for draft in verb.drafts(case) {
            let given = draft.edits.iter().any(|edit| guard::changes_given(case, edit));
            if !given && !drafts.iter().any(|known| known.edits == draft.edits) {
                drafts.push(draft);
            }
        }
    }
    drafts
}

/// What an edit does that the reader of the text proposes.
fn written(case: &Case<'_>, edit: &Edit) -> String {
    let (old, new) = (case.source.at(edit.span), edit.text.trim());
    match (old.is_empty(), new.is_empty()) {
        (true, _) => format!("Add {new}"),
        (_, true) => format!("Take out {old}"),
        _ => format!("Change {old} to {new}"),
    }
}
