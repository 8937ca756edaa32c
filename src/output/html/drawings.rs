//! The drawings of a report: each once in a store, shown wherever a finding needs it, with its mark lit.

use maud::{Markup, PreEscaped, html};

use crate::facts::DetailFacts;
use crate::finding::Finding;
use crate::output::drawing::{self, Line, Mark, Role, Scene, Subject};
use crate::output::html::Input;
use crate::output::{sequence, visible};

/// With more details than this only those with findings are drawn: a page has to stay a page.
const MOST: usize = 150;

pub struct Drawings<'a> {
    details: Vec<Drawn<'a>>,
    left_out: usize,
}

struct Drawn<'a> {
    facts: &'a DetailFacts,
    /// Numbers of its findings in the report.
    numbers: Vec<usize>,
    /// Section and face, each with the name of its place in the store.
    views: Vec<(String, Scene)>,
}

impl<'a> Drawings<'a> {
    pub fn new(input: &Input<'a>) -> Drawings<'a> {
        let all: Vec<&DetailFacts> = input.checked.iter().flat_map(|c| &c.facts.details).collect();
        let few = all.len() <= MOST;
        let mut drawings = Drawings { details: Vec::new(), left_out: 0 };
        for (index, facts) in all.into_iter().enumerate() {
            let numbered = input.report.findings.iter().enumerate().map(|(n, finding)| Mark { number: n + 1, finding });
            let marks: Vec<Mark> = numbered.filter(|m| drawing::belongs(&facts.detail, m.finding)).collect();
            let numbers = marks.iter().map(|m| m.number).collect();
            let draw = (few || !marks.is_empty()) && drawing::drawable(facts);
            if !draw {
                drawings.left_out += 1;
            }
            let mut views = Vec::new();
            if draw {
                let subject = Subject::new(facts, &marks);
                let line = Line::telling(&subject);
                views.extend(line.map(|line| (format!("d{index}-section"), drawing::section(&subject, &line))));
                views.push((format!("d{index}-face"), drawing::front(&subject)));
            }
            drawings.details.push(Drawn { facts, numbers, views });
        }
        drawings
    }

    /// All drawings, to be used by name.
    pub fn store(&self) -> Markup {
        html! {
            svg.store aria-hidden="true" focusable="false" font-family="sans-serif" stroke-linejoin="round" {
                @for (name, scene) in self.details.iter().flat_map(|d| &d.views) {
                    symbol id=(name) viewBox=(view_box(scene)) { (PreEscaped(drawing::fragment(&scene.shapes))) }
                }
            }
        }
    }

    /// The drawing that shows a finding best, with its mark lit.
    pub fn lit(&self, finding: &Finding, number: usize) -> Markup {
        let Some(drawn) = self.details.iter().find(|d| d.numbers.contains(&number)) else { return html! {} };
        debug_assert!(drawing::belongs(&drawn.facts.detail, finding));
        let shows = |(_, scene): &&(String, Scene)| !scene.groups(Role::Anchor(number)).is_empty();
        let view = drawn.views.iter().find(shows).or(drawn.views.first());
        let Some((name, scene)) = view else { return html! {} };
        let title = format!("{}, finding {number} marked", scene.title);
        html! {
            figure {
                (picture(name, scene, &title, &format!("f{number}-picture"), &drawing::fragment(&drawing::lit(scene, number))))
                figcaption { "Finding " (number) " is ringed. " a href=(format!("#{}", anchor(drawn.facts))) { "Both drawings of " (visible(&drawn.facts.detail.name)) } }
            }
        }
    }

    /// Every detail with its drawings and its order of work.
    pub fn details(&self, input: &Input) -> Markup {
        html! {
            section #details aria-labelledby="details-title" {
                h2 #details-title { "Details" }
                @if self.details.is_empty() { p { "The files hold no detail." } }
                @if self.left_out > 0 {
                    p { (self.left_out) " of " (self.details.len()) " details are not drawn here: they have no findings, or too many edges. The command draw draws them one by one." }
                }
                @for drawn in self.details.iter().filter(|d| !d.views.is_empty()) { (one(input, drawn)) }
            }
        }
    }
}

fn one(input: &Input, drawn: &Drawn) -> Markup {
    let detail = &drawn.facts.detail;
    let work = sequence::sequence(drawn.facts);
    let title = detail.title.as_deref().map_or(String::new(), |title| format!(": {}", visible(title)));
    html! {
        article id=(anchor(drawn.facts)) aria-labelledby=(format!("{}-title", anchor(drawn.facts))) {
            h3 id=(format!("{}-title", anchor(drawn.facts))) { (visible(&detail.name)) ", " (visible(&detail.kind)) (title) }
            p {
                @if let Some(source) = input.source(detail.name_span.file) { (crate::output::place::line_of(source, detail.name_span)) ". " }
                @if drawn.numbers.is_empty() { "No findings." } @else {
                    "Findings: " @for number in &drawn.numbers { a href=(format!("#f{number}")) { (number) } " " }
                }
            }
            @for (name, scene) in &drawn.views { figure { (picture(name, scene, &scene.title, &format!("{name}-picture"), "")) } }
            @if !work.steps.is_empty() {
                h4 { "Order of work" }
                @for problem in &work.problems { p { strong { "Cannot be built so: " } (visible(problem)) } }
                @for limit in &work.limits { p { (visible(limit)) } }
                ol { @for step in &work.steps {
                    li {
                        (visible(&step.act))
                        @if !step.how.is_empty() || !step.hold.is_empty() || !step.cautions.is_empty() {
                            ul {
                                @for how in &step.how { li { (visible(how)) } }
                                @for hold in &step.hold { li { strong { "Hold: " } (visible(hold)) } }
                                @for caution in &step.cautions { li { strong { "Caution: " } (visible(caution)) } }
                            }
                        }
                    }
                } }
            }
        }
    }
}

/// A drawing of the store, with more laid over it.
fn picture(name: &str, scene: &Scene, title: &str, id: &str, over: &str) -> Markup {
    html! {
        svg role="img" viewBox=(view_box(scene)) aria-labelledby=(format!("{id}-title {id}-words")) {
            title id=(format!("{id}-title")) { (title) }
            desc id=(format!("{id}-words")) { (scene.description) }
            use href=(format!("#{name}")) width=(format!("{:.3}", scene.width)) height=(format!("{:.3}", scene.height)) {}
            (PreEscaped(over))
        }
    }
}

fn view_box(scene: &Scene) -> String {
    format!("0 0 {:.3} {:.3}", scene.width, scene.height)
}

/// Bytes of the file tell details of one name apart.
fn anchor(facts: &DetailFacts) -> String {
    let span = facts.detail.name_span;
    format!("detail-{}-{}", span.file.0, span.start)
}
