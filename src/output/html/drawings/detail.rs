//! A detail of a report with its drawings and its installation sequence.

use maud::{Markup, html};

use crate::output::html::drawings::picture::{picture, scaled, whole};
use crate::output::html::drawings::{Drawn, anchor, scales};
use crate::output::html::{Input, prose};
use crate::output::{sequence, visible};

pub(super) fn one(input: &Input, drawn: &Drawn) -> Markup {
    let detail = &drawn.facts.detail;
    let title = detail.title.as_deref().map_or(String::new(), |title| format!(": {}", visible(title)));
    let clean = drawn.numbers.is_empty();
    let body = html! {
        p {
            @if let Some(source) = input.source(detail.name_span.file) { (crate::output::place::line_of(source, detail.name_span)) ". " }
            @if clean { "No findings." } @else {
                "Findings: " @for number in &drawn.numbers { a href=(format!("#f{number}")) { (number) } " " }
            }
        }
        div.views { @for (name, scene) in &drawn.views {
            figure { (picture(scene, scales(drawn.facts), "", &format!("{name}-picture"), whole(name, scene))) figcaption { (scene.title) (scaled(scene, scales(drawn.facts))) } }
        } }
        (work(drawn))
    };
    html! {
        article.detail.clean[clean] id=(anchor(drawn.facts)) aria-labelledby=(format!("{}-title", anchor(drawn.facts))) {
            h3 id=(format!("{}-title", anchor(drawn.facts))) { (visible(&detail.name)) ", " (visible(&detail.kind)) (title) }
            @if clean {
                // A browser with scripts keeps this as text until it is wanted: a page of many drawings opens in half the time.
                details { summary { "No findings: drawings and installation sequence of " (visible(&detail.name)) } noscript { (body) } }
            } @else { (body) }
        }
    }
}

fn work(drawn: &Drawn) -> Markup {
    let work = sequence::sequence(drawn.facts);
    html! {
        @if !work.steps.is_empty() {
            h4 { "Installation sequence" }
            @for problem in &work.problems { p { strong { "Cannot be built as drawn: " } (prose(problem)) } }
            @for limit in &work.limits { p { (prose(limit)) } }
            ol.work { @for step in &work.steps {
                li {
                    (prose(&step.act))
                    @if step.manner().next().is_some() || !step.hold.is_empty() || !step.cautions.is_empty() {
                        ul {
                            @for how in step.manner() { li { (prose(how)) } }
                            @for hold in &step.hold { li { strong { "Hold: " } (prose(hold)) } }
                            @for caution in &step.cautions { li { strong { "Caution: " } (prose(caution)) } }
                        }
                    }
                }
            } }
        }
    }
}
