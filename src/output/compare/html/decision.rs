//! The sheet of the reviewer: what the submittal answers for, and the decision.

use maud::{Markup, html};

use super::place;
use crate::output::compare::number::{Numbered, State};
use crate::output::compare::{Input, drawings, from_to};
use crate::output::{sheet, visible};

/// What the submittal answers for, detail by detail: findings with their cures, and the section with its marks.
pub(super) fn held(input: &Input<'_>, all: &[Numbered]) -> Markup {
    let own: Vec<&Numbered> = all.iter().filter(|entry| matches!(entry.state, State::New | State::Worse)).collect();
    html! {
        @if !own.is_empty() {
            h2 { "New and worse findings" }
            @for own in own.chunk_by(|a, b| a.item() == b.item()) {
                @let name = own[0].item();
                @let facts = input.detail(name);
                h3 {
                    (visible(name))
                    @if let Some(title) = facts.and_then(|facts| facts.detail.title.as_deref()) { ", " (visible(title)) }
                    @if let Some(sheet) = facts.and_then(|facts| facts.detail.sheet.as_deref()) { ", sheet " (visible(sheet)) }
                }
                ol start=(own[0].number) {
                    @for (entry, finding) in own.iter().filter_map(|entry| Some((entry, entry.submitted?))) {
                        li {
                            strong { (finding.level.word()) @if entry.issued.is_some() { ", worse" } ": " }
                            (visible(&finding.message)) (place(finding, input.submitted))
                            @if let Some(old) = entry.issued { br; (visible(&from_to(old, finding))) }
                            @if let Some(fix) = &finding.fix { br; "To do: " (visible(fix)) }
                        }
                    }
                }
                (drawings::sides(input, all, name))
            }
        }
    }
}

pub(super) fn decision(input: &Input<'_>) -> Markup {
    let (action, reason) = input.verdict();
    html! {
        @if !input.same() {
        h2 { "Reviewer's sheet" }
        p { "Proposed: " strong { (action.words()) } " (" (reason) ")." }
        ul {
            @for action in sheet::Action::ALL { li { "☐ " (action.words()) } }
        }
        p { "Decided by ______________________ date ____________ (the reviewer decides, not this program)" }
        }
    }
}
