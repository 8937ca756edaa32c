//! All that can be wrong with files and with the list of known findings, each message with its id and what to do about it.

use crate::finding::{Finding, Id};
use crate::project::{KnownEntry, Unread};
use crate::text::Span;

/// What is wrong with a file, or with an entry of the list. The code that finds it builds the variant; its wording is here.
#[derive(Clone, Debug)]
pub enum Message<'a> {
    /// A file of details.
    Unreadable {
        why: &'a Unread,
    },
    UnreadableList {
        list: &'a str,
        why: &'a str,
    },
    NotAList {
        list: &'a str,
        why: &'a str,
    },
    /// An entry for text that cannot be read.
    RefusedEntry {
        entry: &'a KnownEntry,
    },
    EntryGone {
        entry: &'a KnownEntry,
    },
}

impl Message<'_> {
    /// The finding at the words at fault.
    pub fn at(self, span: Span) -> Finding {
        match self {
            Message::Unreadable { why } => {
                let finding = Id::Unreadable.at(span, format!("this file could not be checked: {}", why.words()));
                match why.fix() {
                    Some(fix) => finding.fix(fix),
                    None => finding,
                }
            }
            Message::UnreadableList { list, why } => {
                Id::KnownFindings.at(span, format!("{list}: {why}")).fix(write_anew(list))
            }
            Message::NotAList { list, why } => {
                Id::KnownFindings.at(span, format!("this is not a list of known findings: {why}")).fix(write_anew(list))
            }
            Message::RefusedEntry { entry } => Id::KnownFindingRefused
                .at(
                    span,
                    format!(
                        "{} cannot be a known finding: {} holds text that cannot be read",
                        entry.rule,
                        place(entry)
                    ),
                )
                .fix("Correct the text, then take the entry off the list: `headlap known prune PATH`."),
            Message::EntryGone { entry } => Id::KnownFindingGone
                .at(span, format!("the known {} in {} no longer occurs: {}", entry.rule, place(entry), entry.message))
                .fix("Take it off the list, or it will go unnoticed when it comes back: `headlap known prune PATH`."),
        }
    }
}

/// `D1 of a.detail`
fn place(entry: &KnownEntry) -> String {
    entry.item.as_ref().map_or(entry.file.clone(), |item| format!("{item} of {}", entry.file))
}

fn write_anew(list: &str) -> String {
    format!("Restore the list from version control, or write a new one: `headlap review PATH --write-known {list}`.")
}
