//! The reviewer's sheet: the action that the open findings justify, in the trade's words. The reviewer decides.

use crate::finding::Finding;
use crate::finding::Level;
use crate::output::words::counted;

/// The four usual stamps of a submittal review.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Action {
    NoExceptionsTaken,
    MakeCorrectionsNoted,
    ReviseAndResubmit,
    Rejected,
}

impl Action {
    pub const ALL: [Action; 4] =
        [Action::NoExceptionsTaken, Action::MakeCorrectionsNoted, Action::ReviseAndResubmit, Action::Rejected];

    pub fn words(self) -> &'static str {
        match self {
            Action::NoExceptionsTaken => "no exceptions taken",
            Action::MakeCorrectionsNoted => "make corrections noted",
            Action::ReviseAndResubmit => "revise and resubmit",
            Action::Rejected => "rejected",
        }
    }
}

/// The action that open findings justify, with the reason. Notes ask for nothing; warnings can be corrected by note; an
/// error wants a new drawing; what cannot be read cannot be reviewed.
pub fn proposal<'a>(findings: impl IntoIterator<Item = &'a Finding>) -> (Action, String) {
    let open: Vec<&Finding> = findings.into_iter().filter(|finding| finding.open()).collect();
    let unread = open.iter().filter(|finding| finding.unread()).count();
    proposal_of(open, unread)
}

/// The same for findings that count whether or not they are accepted, and a number of places that cannot be read.
pub fn proposal_of<'a>(findings: impl IntoIterator<Item = &'a Finding>, unread: usize) -> (Action, String) {
    let (mut errors, mut warnings, mut notes) = (0, 0, 0);
    for finding in findings.into_iter().filter(|finding| !finding.unread()) {
        match finding.level {
            Level::Error => errors += 1,
            Level::Warning => warnings += 1,
            Level::Note => notes += 1,
        }
    }
    match (unread, errors, warnings, notes) {
        (0, 0, 0, 0) => (Action::NoExceptionsTaken, "nothing was found".into()),
        (0, 0, 0, notes) => (Action::NoExceptionsTaken, format!("{}, nothing to correct", counted(notes, "note"))),
        (0, 0, warnings, _) => {
            (Action::MakeCorrectionsNoted, format!("{} to correct, no errors", counted(warnings, "warning")))
        }
        (0, errors, ..) => (
            Action::ReviseAndResubmit,
            format!("{}: built like this, it leaks water or air, or stays wet", counted(errors, "error")),
        ),
        (unread, ..) => {
            (Action::Rejected, format!("{} cannot be read, so the review is incomplete", counted(unread, "place")))
        }
    }
}

/// The sheet as lines of text; the decision and the signature stay open.
pub fn lines((action, reason): (Action, String)) -> Vec<String> {
    let mut lines = vec!["Reviewer's sheet".to_string(), format!("  proposed: {} ({reason})", action.words())];
    lines.extend(Action::ALL.iter().map(|action| format!("  [ ] {}", action.words())));
    lines.push(
        "  decided by ______________________   date ____________   (the reviewer decides, not this program)".into(),
    );
    lines
}
