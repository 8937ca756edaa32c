//! Sentences on a page.

use maud::{Markup, html};

use crate::output::visible;

/// A sentence of a finding or a step: what stands in backticks there, a name or words to write, has a face of its own here.
pub fn prose(text: &str) -> Markup {
    let text = visible(text);
    let parts: Vec<&str> = text.split('`').collect();
    html! {
        @for (n, part) in parts.iter().enumerate() {
            @match (n % 2 == 1, n + 1 < parts.len()) {
                (true, true) => code { (part) },
                // Nothing closes it.
                (true, false) => { "`" (part) },
                (false, _) => (part),
            }
        }
    }
}
