//! A comparison of a submittal with the issued details.

mod assemblies;
mod drawings;
mod html;
mod json;
mod narrated;
mod number;
mod sign;
mod standing;
mod text;

pub use html::html;
pub use json::json;
pub use text::text;

use jiff::civil::Date;

use crate::compare::{Brought, Comparison, ItemChange};
use crate::facts::DetailFacts;
use crate::finding::Finding;
use crate::output::sheet::{self, Action};
use crate::report::{Checked, Report};
use crate::text::set_off;

/// What the sheet is made from.
pub struct Input<'a> {
    pub comparison: &'a Comparison<'a>,
    pub issued: &'a Report,
    pub submitted: &'a Report,
    /// The issued files with their facts, to be drawn.
    pub before: &'a [Checked],
    /// The submitted ones.
    pub checked: &'a [Checked],
    /// Settings that the submittal brings, in words. They do not count.
    pub settings: &'a [String],
    pub project: Option<&'a str>,
    /// Of the submittal, as the office counts them.
    pub number: Option<&'a str>,
    pub date: Date,
}

impl Input<'_> {
    /// The action that the submittal's own findings justify, with the reason: old ones are not held against it.
    fn proposal(&self) -> (Action, String) {
        let findings = &self.comparison.findings;
        let unread = findings.unread.len() + findings.unread_issued.len();
        let (action, mut reason) = sheet::proposal_of(findings.held(), unread);
        let details = &self.comparison.details;
        let missing: Vec<&str> = details.iter().filter(|item| item.removed).map(|item| &*item.name).collect();
        if !missing.is_empty() {
            reason.push_str(&format!("; not submitted: {}", missing.join(", ")));
        }
        (action, reason)
    }

    /// The same for people, with what the issued details have open and the submittal leaves so.
    fn verdict(&self) -> (Action, String) {
        let (action, reason) = self.proposal();
        let Some(stands) = standing::words(&self.comparison.findings) else { return (action, reason) };
        let held = self.comparison.findings.held();
        let reason = if held.is_empty() && action == Action::NoExceptionsTaken {
            "the changes bring nothing to correct".to_owned()
        } else {
            reason
        };
        (action, format!("{reason}; {stands}"))
    }

    /// The submittal changes nothing, and all of it could be read.
    fn same(&self) -> bool {
        let findings = &self.comparison.findings;
        self.comparison.is_empty() && findings.unread.is_empty() && findings.unread_issued.is_empty()
    }

    /// `Project Millrace Library annex, submittal 12, 2026-05-31`
    fn heading(&self) -> String {
        let project = self.project.map(|name| format!("project {name}"));
        let number = self.number.map(|number| format!("submittal {number}"));
        let parts: Vec<String> = project.into_iter().chain(number).chain([self.date.to_string()]).collect();
        crate::output::words::capital(&parts.join(", "))
    }

    fn detail(&self, name: &str) -> Option<&DetailFacts> {
        detail_of(self.checked, name)
    }

    /// The issued detail of which the submittal has this one.
    fn issued_detail(&self, name: &str) -> Option<&DetailFacts> {
        let item = self.comparison.details.iter().find(|item| &*item.name == name);
        detail_of(self.before, item.and_then(|item| item.was.as_deref()).unwrap_or(name))
    }
}

fn detail_of<'a>(checked: &'a [Checked], name: &str) -> Option<&'a DetailFacts> {
    checked.iter().flat_map(|checked| &checked.facts.details).find(|facts| &*facts.detail.name == name)
}

/// `Sill at the stair window, sheet A-501, section 07 27 00`
fn about(item: &ItemChange) -> String {
    let title = item.title.clone();
    let sheet = item.sheet.as_ref().map(|sheet| format!("sheet {sheet}"));
    let sections = (!item.sections.is_empty()).then(|| {
        format!("{} {}", if item.sections.len() == 1 { "section" } else { "sections" }, item.sections.join("; "))
    });
    title.into_iter().chain(sheet).chain(sections).collect::<Vec<_>>().join(", ")
}

/// What an unread place keeps from being known, on either side.
const UNREAD: &str = "Text that could not be read was not compared. Correct it and compare again.";

/// Why a waiver of the submittal is listed.
const BROUGHT: &str =
    "The submittal contains these. They were not applied: the issued settings and waivers judge both sides.";

/// ``D1 waives short-head-lap on `wrap`: "reason" (by KL, until 2027-01-31)``
fn waives(brought: &Brought) -> String {
    let waiver = &brought.waiver;
    let on = waiver.on.as_ref().map_or(String::new(), |(name, _)| format!(" on {}", set_off(name)));
    let by = waiver.by.as_ref().map(|by| format!("by {by}"));
    let until = waiver.until.map(|until| format!("until {until}"));
    let who: Vec<String> = by.into_iter().chain(until).collect();
    let who = if who.is_empty() { String::new() } else { format!(" ({})", who.join(", ")) };
    format!("{} waives {}{on}: \"{}\"{who}", brought.home, waiver.rule, waiver.because)
}

/// `length 40 mm, issued 60 mm`: the numbers of a finding that changed.
fn from_to(issued: &Finding, submitted: &Finding) -> String {
    let changed = submitted.values.iter().filter_map(|(name, new)| {
        let (_, old) = issued.values.iter().find(|(known, old)| known == name && old != new)?;
        Some(format!("{old} issued, {new} submitted"))
    });
    changed.collect::<Vec<_>>().join("; ")
}
