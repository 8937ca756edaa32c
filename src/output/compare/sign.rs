//! The mark of a finding in a list, as drawings have it.

use maud::{Markup, PreEscaped, html};

use crate::finding::Finding;
use crate::output::drawing::{self, Scene};

pub fn sign(number: usize, finding: &Finding) -> Markup {
    let scene = Scene { title: format!("Finding {number}"), ..drawing::alone(number, finding) };
    html! { span.sign { (PreEscaped(drawing::element(&scene))) } }
}
