//! The page around everything.

use maud::{DOCTYPE, Markup, PreEscaped, html};

use crate::output::drawing;
use crate::output::html::drawings::Drawings;
use crate::output::html::{Input, Topics, assemblies, finding, front, sheet, summary};
use crate::output::{CAUTION, visible};

const STYLE: &str = include_str!("style.css");
const SCRIPT: &str = include_str!("filter.js");

/// Nothing is loaded, sent or run but the style and the script of this page, known by their SHA-256.
pub const POLICY: &str = "default-src 'none'; style-src 'sha256-h/ftSuM06nfavc6RlveAUejHxxuy/Cy4Jl9CcllCVPo='; \
script-src 'sha256-+ykTXv68TUd22T5VCk/45WdOaizUtbopzoNLcg9Ij1g='; base-uri 'none'; form-action 'none'";

pub fn page(input: &Input, topics: &Topics, drawings: &Drawings) -> Markup {
    let title = title(input);
    html! {
        (DOCTYPE)
        html lang="en" {
            head {
                meta charset="utf-8";
                meta http-equiv="Content-Security-Policy" content=(POLICY);
                meta name="viewport" content="width=device-width, initial-scale=1";
                meta name="generator" content=(format!("headlap {}", env!("CARGO_PKG_VERSION")));
                title { (title) }
                style { (PreEscaped(STYLE)) (PreEscaped(drawing::classes())) }
            }
            body {
                a.skip href="#findings" { "Skip to the findings" }
                (drawings.store())
                header {
                    h1 { (title) }
                    p { "Reviewed " (input.today.to_string()) " with headlap " (env!("CARGO_PKG_VERSION")) ", "
                        (crate::output::words::counted(input.report.files, "file")) "." }
                    nav.parts aria-label="Parts of the report" {
                        ul {
                            li { a href="#front" { "At a glance" } }
                            li { a href="#findings" { "Findings" } }
                            li { a href="#waivers" { "Waivers" } }
                            li { a href="#set" { "Drawing set" } }
                            li { a href="#summary" { "Summary" } }
                            li { a href="#details" { "Details" } }
                            li { a href="#assemblies" { "Assemblies" } }
                            li { a href="#sheet" { "Reviewer's sheet" } }
                        }
                    }
                }
                (front::list(input, drawings))
                main {
                    (front::front(input, drawings))
                    (finding::findings(input, topics, drawings))
                    (summary::waivers(input))
                    (summary::set(input))
                    (summary::summary(input, topics))
                    (drawings.details(input))
                    (assemblies::assemblies(input))
                    (sheet::sheet(input))
                }
                footer { p { strong { "Caution. " } (CAUTION) } }
                script { (PreEscaped(SCRIPT)) }
            }
        }
    }
}

/// The title of the first set, or what was reviewed.
fn title(input: &Input) -> String {
    let set = input.checked.iter().flat_map(|c| &c.sets).find_map(|set| set.title.as_deref());
    let of = set.map_or_else(|| "details".to_owned(), |set| visible(set).into_owned());
    format!("Review of {of}")
}
