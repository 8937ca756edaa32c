//! All details at a glance, as on a contact sheet.

use maud::{Markup, html};

use crate::output::html::Input;
use crate::output::html::drawings::{Drawings, Drawn};
use crate::output::{visible, words};

/// All details with a small picture each, its name, what was found, and where it stands: pictures of one kind look alike.
pub fn contact(input: &Input, drawings: &Drawings) -> Markup {
    html! {
        h3 { "All details" }
        ul.contact { @for drawn in &drawings.details {
            @let detail = &drawn.facts.detail;
            li.found[open(input, drawn) > 0] {
                a href=(format!("#{}", drawn.anchor())) {
                    (drawn.thumbnail())
                    span { (visible(&detail.name)) (state(input, drawn)) }
                    @if let Some(title) = &detail.title { span.title { (visible(title)) } }
                    @if let Some(sheet) = &detail.sheet { span.on { (visible(sheet)) } }
                }
            }
        } }
    }
}

fn open(input: &Input, drawn: &Drawn) -> usize {
    drawn.numbers.iter().filter(|number| input.report.findings[**number - 1].open()).count()
}

/// ` ✓ no findings`, `: 2 findings`, ` ✓ 1 waived`
fn state(input: &Input, drawn: &Drawn) -> Markup {
    let own = drawn.numbers.iter().map(|number| &input.report.findings[number - 1]);
    html! {
        @match (open(input, drawn), drawn.numbers.is_empty()) {
            (0, true) => " ✓ no findings",
            (0, false) => { " ✓ " (words::accepted(own)) },
            (open, _) => { ": " strong { (words::counted(open, "finding")) } },
        }
    }
}
