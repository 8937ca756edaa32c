//! Cures as edits of the text, proved before anyone sees them. Each edit is made on a copy, and the copy is reviewed. Only an edit that clears
//! its finding, brings no other and does no harm is offered.

mod add;
mod amount;
mod assembly;
mod bond;
mod contact;
mod context;
mod control_layer;
mod edit_kind;
mod extend;
mod extent;
mod fasten;
mod flashing;
mod guard;
mod lap;
mod material;
mod order;
mod outlet;
mod pair;
mod reglet;
mod relay;
mod remove;
mod result;
mod seal;
mod tables;
mod text;
mod title;
mod waive;

use crate::facts::DetailFacts;
use crate::finding::{Edit, Finding};

pub use context::Context;
pub use extent::Bound;
pub use tables::unknown_edits;
pub use text::apply;
pub use title::{InstallationOrder, Title};
pub use waive::waiver;

use pair::pairs;
use result::{EditResult, FindingCounts};
use tables::edit_kinds;

/// Edits of the text that belong together. [`cures`] returns only those that were proved.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Cure {
    pub title: String,
    pub edits: Vec<Edit>,
}

/// What the review of an edited copy gave.
#[derive(Default)]
pub struct ReviewedCopy {
    pub findings: Vec<Finding>,
    pub details: Vec<DetailFacts>,
}

/// Somebody waits for the cures, so the number of copies that are reviewed for one finding is limited: with single edits, with pairs of them,
/// and after the first cure was found.
const MOST_TRIED: usize = 48;
const MOST_PAIRS: usize = 20;
const MOST_AFTER: usize = 12;

/// A longer list is no easier to choose from.
const MOST_OFFERED: usize = 4;

/// The cures of a finding, the likeliest first: single edits, and pairs of them where no single one will do.
pub fn cures(context: &Context<'_>, review: &dyn Fn(&str) -> ReviewedCopy) -> Vec<Cure> {
    let drafts = drafts(context);
    if drafts.is_empty() {
        return Vec::new();
    }
    let before = FindingCounts::of(&review(&context.source.text).findings);
    let result_of = |edits: &[Edit]| match apply(&context.source.text, edits).map(|text| review(&text)) {
        Some(copy) if guard::harmless(context, &copy) => before.compare(&copy.findings, context.finding),
        _ => EditResult::DoesNotCure,
    };
    let (mut found, mut partial, mut first) = (Vec::new(), Vec::new(), MOST_TRIED);
    for (n, draft) in drafts.iter().enumerate().take(MOST_TRIED) {
        match result_of(&draft.edits) {
            EditResult::Cures => {
                first = first.min(n);
                found.push(draft.clone());
            }
            EditResult::BringsOthers(brought) => partial.push((n, brought)),
            EditResult::DoesNotCure => {}
        }
        if found.len() == MOST_OFFERED || n >= first + MOST_AFTER {
            break;
        }
    }
    if !found.is_empty() {
        return found;
    }
    let pairs = pairs(context, &drafts, &partial).take(MOST_PAIRS);
    pairs.into_iter().filter(|cure| matches!(result_of(&cure.edits), EditResult::Cures)).take(1).collect()
}

/// All edits that are worth a try, the likeliest first.
fn drafts(context: &Context<'_>) -> Vec<Cure> {
    let own = context.finding.edits.iter().filter(|edit| edit.span.file == context.source.id);
    let mut drafts: Vec<Cure> = own.map(|edit| Cure::new(title(context, edit), vec![edit.clone()])).collect();
    for edit_kind in edit_kinds(context.pack, &context.finding.rule) {
        for draft in (edit_kind.drafts)(context) {
            let given = draft.edits.iter().any(|edit| guard::changes_given(context, edit));
            if !given && !drafts.iter().any(|known| known.edits == draft.edits) {
                drafts.push(draft);
            }
        }
    }
    drafts
}

/// The title of an edit that comes with the finding, as for a misspelled name.
fn title<'a>(context: &Context<'a>, edit: &'a Edit) -> Title<'a> {
    let (old, new) = (context.source.at(edit.span), edit.text.trim());
    match (old.is_empty(), new.is_empty()) {
        (true, _) => Title::AddText { new },
        (_, true) => Title::RemoveText { old },
        _ => Title::ReplaceText { old, new },
    }
}

impl Cure {
    fn new(title: Title<'_>, edits: Vec<Edit>) -> Cure {
        Cure { title: title.words(), edits }
    }
}
