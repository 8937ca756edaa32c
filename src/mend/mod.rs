//! Cures as edits of the text, proved before anyone sees them: each is made on a copy, the copy is reviewed, and only an
//! edit that clears its finding and brings no other is offered.

mod add;
mod amount;
mod case;
mod data;
mod extend;
mod flash;
mod join;
mod layer;
mod order;
mod past;
mod swap;
mod take;
mod text;
mod waive;

use crate::finding::{Edit, Finding};

pub use case::Case;
pub use data::unknown;
pub use text::apply;
pub use waive::waiver;

use data::verbs;

/// An edit that was proved.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Cure {
    /// What it does, as one would tell a colleague.
    pub title: String,
    pub edits: Vec<Edit>,
}

/// So many copies are reviewed for one finding at most, and so many with two edits: somebody waits.
const MOST_TRIED: usize = 60;
const MOST_PAIRS: usize = 24;

/// So many cures are enough to choose from.
const MOST_OFFERED: usize = 4;

/// The cures of a finding, the likeliest first: single edits, and pairs of them where no single one does.
pub fn cures(case: &Case<'_>, review: &dyn Fn(&str) -> Vec<Finding>) -> Vec<Cure> {
    let drafts = drafts(case);
    if drafts.is_empty() {
        return Vec::new();
    }
    let before = Tally::of(&review(&case.source.text));
    let tried = |edits: &[Edit]| match apply(&case.source.text, edits).map(|text| Tally::of(&review(&text))) {
        Some(after) => after.verdict(&before, case.finding),
        None => Verdict::Idle,
    };
    let (mut found, mut halves) = (Vec::new(), Vec::new());
    for (n, draft) in drafts.iter().enumerate().take(MOST_TRIED) {
        match tried(&draft.edits) {
            Verdict::Cures => found.push(draft.clone()),
            Verdict::Half => halves.push(n),
            Verdict::Idle => {}
        }
        if found.len() == MOST_OFFERED {
            break;
        }
    }
    if !found.is_empty() {
        return found;
    }
    let all = 0..drafts.len();
    let mut pairs: Vec<(usize, usize)> = all.clone().flat_map(|n| (n + 1..all.end).map(move |m| (n, m))).collect();
    // What clears the finding and brings another lacks one more edit.
    pairs.sort_by_key(|(n, m)| !halves.contains(n) && !halves.contains(m));
    let both = pairs.into_iter().take(MOST_PAIRS).map(|(n, m)| Cure {
        title: format!("{}, and {}", drafts[n].title, lower(&drafts[m].title)),
        edits: [&drafts[n].edits[..], &drafts[m].edits[..]].concat(),
    });
    both.filter(|cure| tried(&cure.edits) == Verdict::Cures).take(1).collect()
}

/// All edits that are worth a try.
fn drafts(case: &Case<'_>) -> Vec<Cure> {
    let own = case.finding.edits.iter().filter(|edit| edit.span.file == case.source.id);
    let mut drafts: Vec<Cure> =
        own.map(|edit| Cure { title: written(case, edit), edits: vec![edit.clone()] }).collect();
    for verb in verbs(case.pack, &case.finding.rule) {
        for draft in verb.drafts(case) {
            if !drafts.iter().any(|known| known.edits == draft.edits) {
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

fn lower(title: &str) -> String {
    let mut letters = title.chars();
    letters.next().map_or(String::new(), |first| first.to_lowercase().chain(letters).collect())
}

/// How many findings there are of each kind: places move with an edit, names and rules stay.
struct Tally(std::collections::BTreeMap<[String; 3], (usize, bool)>);

impl Tally {
    fn of(findings: &[Finding]) -> Tally {
        let mut tally = Tally(std::collections::BTreeMap::new());
        for finding in findings.iter().filter(|finding| finding.open()) {
            tally.0.entry(key(finding)).or_insert((0, finding.unread())).0 += 1;
        }
        tally
    }

    /// Where text could not be read before, what is found in it now was there all along, but no more text may be unreadable.
    fn verdict(&self, before: &Tally, finding: &Finding) -> Verdict {
        let count = |tally: &Tally, key: &[String; 3]| tally.0.get(key).map_or(0, |(count, _)| *count);
        let own = key(finding);
        if count(self, &own) >= count(before, &own) {
            return Verdict::Idle;
        }
        let new = |(key, (now, unread)): (&[String; 3], &(usize, bool))| {
            *now > count(before, key) && (*unread || !finding.unread())
        };
        if self.0.iter().any(new) { Verdict::Half } else { Verdict::Cures }
    }
}

/// What an edit did.
#[derive(PartialEq)]
enum Verdict {
    /// The finding is gone, and no other has come.
    Cures,
    /// The finding is gone, and another has come.
    Half,
    Idle,
}

fn key(finding: &Finding) -> [String; 3] {
    let mut names: Vec<&str> = finding.subject.iter().map(|name| &**name).collect();
    names.sort_unstable();
    let about = if names.is_empty() { finding.message.clone() } else { names.join(" ") };
    [finding.rule.to_string(), finding.item.as_deref().unwrap_or("").to_owned(), about]
}
