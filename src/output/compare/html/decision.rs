//! The sheet of the reviewer: what the submittal answers for, and the decision.

use maud::{Markup, html};

use super::place;
use crate::output::compare::number::{Numbered, State};
use crate::output::compare::sign::sign;
use crate::output::compare::{Input, assemblies, drawings, from_to};
use crate::output::html::prose;
use crate::output::words::{capital, opened};
use crate::output::{sheet, visible};

/// What the submittal answers for, detail by detail: findings with their cures, and the section with its marks.
pub(super) fn held(input: &Input<'_>, all: &[Numbered]) -> Markup {
    let own: Vec<&Numbered> = all.iter().filter(|entry| matches!(entry.state, State::New | State::Worse)).collect();
    html! {
        @if !own.is_empty() {
            h2 { "New and worse findings" }
            @for own in own.chunk_by(|a, b| a.item() == b.item()) {
                @let name = own[0].item();
                section.group {
                h3 { (visible(name)) (called(input, name)) }
                ol.findings {
                    @for (entry, finding) in own.iter().filter_map(|entry| Some((entry, entry.submitted?))) {
                        li id=(format!("f{}", entry.number)) {
                            (sign(entry.number, finding)) " "
                            strong { (finding.level.word()) @if entry.issued.is_some() { ", worse" } ": " }
                            (prose(&opened(finding))) (place(finding, input.submitted))
                            @if let Some(old) = entry.issued { br; (visible(&from_to(old, finding))) }
                            @if let Some(fix) = &finding.fix { br; "To do: " (prose(fix)) }
                        }
                    }
                }
                @if input.detail(name).is_some() { (drawings::sides(input, all, name)) } @else { (assemblies::sides(input, all, name)) }
                }
            }
        }
    }
}

/// `, Stair window, sheet 2/A-520`
fn called(input: &Input<'_>, name: &str) -> Markup {
    let detail = input.detail(name).map(|facts| &facts.detail);
    let assembly = || input.comparison.assemblies.iter().find(|item| &*item.name == name);
    let title =
        detail.map_or_else(|| assembly().and_then(|item| item.title.as_deref()), |detail| detail.title.as_deref());
    html! {
        @if let Some(title) = title { ", " (visible(title)) }
        @if let Some(sheet) = detail.and_then(|detail| detail.sheet.as_deref()) { ", sheet " (visible(sheet)) }
    }
}

pub(super) fn decision(input: &Input<'_>) -> Markup {
    let (action, reason) = input.verdict();
    html! {
        @if !input.same() {
        h2 { "Reviewer's sheet" }
        p { "Proposed: " strong { (action.words()) } " (" (reason) ")." }
        ul.choice {
            @for action in sheet::Action::ALL { li { "☐ " (capital(action.words())) } }
        }
        p { "Decided by ______________________ date ____________ (the reviewer decides, not this program)" }
        }
    }
}
