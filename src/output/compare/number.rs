//! One number for each finding of a comparison, in the lists of the page and on its drawings.

use crate::compare::FindingChanges;
use crate::finding::Finding;
use crate::model::Detail;
use crate::output::drawing::{self, Mark};

/// A finding of either side or of both.
pub struct Numbered<'a> {
    pub number: usize,
    pub state: State,
    pub issued: Option<&'a Finding>,
    pub submitted: Option<&'a Finding>,
}

/// What a submittal does to a finding.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum State {
    New,
    Worse,
    Gone,
    Unchanged,
    /// Waived or known: it counts nowhere.
    Accepted,
}

impl State {
    /// What a drawing says of it; of a waived one it says so itself.
    fn word(self) -> Option<&'static str> {
        match self {
            State::New => Some("new"),
            State::Worse => Some("worse"),
            State::Gone => Some("gone from the submittal"),
            State::Unchanged => Some("unchanged"),
            State::Accepted => None,
        }
    }
}

/// Whether the submittal answers for a finding that a drawing marks so.
pub fn held(state: Option<&'static str>) -> bool {
    [State::New, State::Worse].map(State::word).contains(&state)
}

impl<'a> Numbered<'a> {
    /// The finding as the newer side has it.
    pub fn finding(&self) -> Option<&'a Finding> {
        self.submitted.or(self.issued)
    }

    pub fn item(&self) -> &'a str {
        self.finding().and_then(|finding| finding.item.as_deref()).unwrap_or("")
    }
}

/// All that could be read: first what the submittal answers for, detail by detail, then what is gone, what stays, what is waived.
pub fn numbered<'a>(findings: &FindingChanges<'a>) -> Vec<Numbered<'a>> {
    let entry = |state, issued, submitted| Numbered { number: 0, state, issued, submitted };
    let worse = findings.worse.iter().map(|(old, new)| entry(State::Worse, Some(*old), Some(*new)));
    let mut all: Vec<Numbered> =
        worse.chain(findings.new.iter().map(|new| entry(State::New, None, Some(*new)))).collect();
    let mut homes: Vec<&str> = Vec::new();
    for home in all.iter().map(Numbered::item) {
        if !homes.contains(&home) {
            homes.push(home);
        }
    }
    all.sort_by_key(|entry| homes.iter().position(|home| *home == entry.item()));
    all.extend(findings.gone.iter().map(|old| entry(State::Gone, Some(*old), None)));
    all.extend(findings.unchanged.iter().map(|(old, new)| entry(State::Unchanged, Some(*old), Some(*new))));
    all.extend(findings.accepted.iter().map(|(old, new)| entry(State::Accepted, *old, *new)));
    all.retain(|entry| entry.finding().is_some_and(|finding| !finding.unread()));
    all.iter_mut().zip(1..).for_each(|(entry, number)| entry.number = number);
    all
}

/// The findings of a detail on its own side.
pub fn marks<'a>(
    all: &[Numbered<'a>],
    detail: &Detail,
    side: fn(&Numbered<'a>) -> Option<&'a Finding>,
) -> Vec<Mark<'a>> {
    let own = all.iter().filter_map(|entry| Some((entry, side(entry)?)));
    let own = own.filter(|(_, finding)| drawing::belongs(detail, finding));
    own.map(|(entry, finding)| Mark { number: entry.number, finding, state: entry.state.word() }).collect()
}
