//! The drawings of a report: each once with its detail, and used from there by thumbnails and findings.

mod detail;
mod picture;
mod thumbnail;

pub use picture::{inline, part, plain, scaled, used};

use std::cmp::Reverse;
use std::collections::BTreeSet;

use foldhash::{HashMap, HashSet};
use maud::{Markup, PreEscaped, html};

use crate::facts::DetailFacts;
use crate::finding::Finding;
use crate::output::drawing::{self, Mark, Role, Scales, Scene, SectionLine, Shape, Subject};
use crate::output::html::Input;
use crate::output::visible;
use crate::text::FileId;
use crate::threads;
use detail::one;
use picture::{bar, core_of, picture};

/// No more details are drawn than this: a page has to stay a page. Of more than this those with the gravest findings are.
pub const MOST: usize = 220;

pub struct Drawings<'a> {
    pub details: Vec<Drawn<'a>>,
    /// The detail of each finding, by the finding's number.
    of: HashMap<usize, usize>,
    left_out: usize,
}

pub struct Drawn<'a> {
    pub facts: &'a DetailFacts,
    /// Numbers of its findings in the report.
    pub numbers: Vec<usize>,
    /// Section and elevation, each with its name on the page.
    pub views: Vec<(String, Scene)>,
    /// The joint of each finding that has one, enlarged.
    joints: Vec<(usize, Scene)>,
    /// What a page lays over the section beside a finding.
    over: Vec<(usize, Vec<Shape>)>,
}

impl<'a> Drawings<'a> {
    pub fn new(input: &Input<'a>) -> Drawings<'a> {
        let all: Vec<(&DetailFacts, Vec<Mark<'_>>)> = marked(input);
        let few = all.len() <= MOST;
        let wanted =
            |(facts, marks): &(&DetailFacts, Vec<Mark<'_>>)| (few || !marks.is_empty()) && drawing::drawable(facts);
        let mut drawn: Vec<usize> = (0..all.len()).filter(|index| wanted(&all[*index])).collect();
        let gravest = |index: &usize| all[*index].1.iter().map(|mark| (mark.finding.open(), mark.finding.level)).max();
        drawn.sort_by_key(|index| Reverse(gravest(index)));
        drawn.truncate(MOST);
        let drawn: HashSet<usize> = drawn.into_iter().collect();
        let left_out = all.len() - drawn.len();
        let mut of = HashMap::default();
        for (index, (_, marks)) in all.iter().enumerate() {
            for mark in marks {
                of.entry(mark.number).or_insert(index);
            }
        }
        let one = |index: usize| {
            let (facts, marks) = &all[index];
            Drawn::new(index, facts, marks, drawn.contains(&index))
        };
        Drawings { details: threads::map(0..all.len(), one), of, left_out }
    }

    /// The detail that a finding is about, by the finding's number.
    pub fn of(&self, number: usize) -> Option<&Drawn<'a>> {
        self.of.get(&number).map(|index| &self.details[*index])
    }

    /// A scale bar for each scale, to be used by all drawings of it.
    pub fn store(&self) -> Markup {
        let scales: BTreeSet<(Scales, u64)> = self
            .details
            .iter()
            .flat_map(|d| d.views.iter().map(|(_, scene)| (scales(d.facts), scene.scale as u64)))
            .collect();
        html! {
            svg.store aria-hidden="true" focusable="false" font-family="sans-serif" {
                defs { @for (scales, scale) in scales {
                    g id=(bar(scales, scale as f64)) { (PreEscaped(drawing::fragment(&drawing::bar(scale as f64, scales), scale as f64))) }
                } }
            }
        }
    }

    /// The joint of a finding, enlarged, and the drawing that shows it best.
    pub fn highlight(&self, finding: &Finding, number: usize) -> Markup {
        let Some(drawn) = self.of(number) else { return html! {} };
        debug_assert!(drawing::belongs(&drawn.facts.detail, finding));
        let marked = |scene: &Scene| !scene.groups(Role::Anchor(number)).is_empty();
        let view = drawn.views.iter().find(|(_, scene)| marked(scene)).or(drawn.views.first());
        let Some((name, scene)) = view else { return html! {} };
        let is_marked = marked(scene);
        let mut over = drawing::highlight(scene, number);
        // The first view is the one that the rest belongs to.
        if drawn.views.first().is_some_and(|(first, _)| first == name) {
            over.extend(drawn.over.iter().filter(|(n, _)| *n == number).flat_map(|(_, shapes)| shapes.iter().cloned()));
        }
        let path = if finding.trail.is_empty() { "" } else { " The water path is listed beside it." };
        let note = if is_marked { format!(" Finding {number} is marked.{path}") } else { String::new() };
        html! {
            @if let Some((_, joint)) = drawn.joints.iter().find(|(n, _)| *n == number) {
                figure.joint { (inline(joint, &format!("f{number}-joint"))) }
            }
            figure {
                (picture(scene, scales(drawn.facts), &note, &format!("f{number}-picture"), html! { (used(name)) (plain(&over, scene.scale)) }))
                figcaption {
                    (visible(&scene.title)) (scaled(scene, scales(drawn.facts))) ". "
                    @if is_marked { "Finding " (number) " is marked. " } @else { "Finding " (number) " is not on the drawing. " }
                    a href=(format!("#{}", anchor(drawn.facts))) { "All of " (visible(&drawn.facts.detail.name)) }
                }
            }
        }
    }

    /// Every detail with its drawings and its installation sequence; those without findings are folded.
    pub fn details(&self, input: &Input) -> Markup {
        html! {
            section #details aria-labelledby="details-title" {
                h2 #details-title { "Details" }
                @if self.details.is_empty() { p { "The files have no detail." } }
                @if self.left_out > 0 {
                    p { (self.left_out) " of " (self.details.len()) " details are not drawn here. A page of many details draws those with the gravest findings, up to " (MOST) ", and none with too many edges. `headlap draw` draws them all." }
                }
                @for drawn in self.details.iter().filter(|d| !d.views.is_empty()) { (one(input, drawn)) }
            }
        }
    }
}

/// All details, each with the findings that are about it.
fn marked<'a>(input: &Input<'a>) -> Vec<(&'a DetailFacts, Vec<Mark<'a>>)> {
    let mut by_file: HashMap<FileId, Vec<Mark<'a>>> = HashMap::default();
    for (index, finding) in input.report.findings.iter().enumerate() {
        let files = finding.related.iter().map(|related| related.span.file).chain([finding.span.file]);
        for file in files.collect::<HashSet<FileId>>() {
            by_file.entry(file).or_default().push(Mark::new(index + 1, finding));
        }
    }
    let details = input.checked.iter().flat_map(|checked| &checked.facts.details);
    let marks = |facts: &DetailFacts| {
        let here = by_file.get(&facts.detail.span.file).into_iter().flatten();
        here.filter(|mark| drawing::belongs(&facts.detail, mark.finding)).copied().collect()
    };
    details.map(|facts| (facts, marks(facts))).collect()
}

impl<'a> Drawn<'a> {
    fn new(index: usize, facts: &'a DetailFacts, marks: &[Mark<'_>], draw: bool) -> Drawn<'a> {
        let numbers = marks.iter().map(|mark| mark.number).collect();
        let (mut views, mut joints, mut over) = (Vec::new(), Vec::new(), Vec::new());
        if draw {
            let subject = Subject::new(facts, marks);
            if let Some(line) = SectionLine::principal(&subject) {
                let (section, own) = drawing::plain_section(&subject, &line);
                over = own;
                views.push((format!("d{index}-section"), section));
                joints.extend(marks.iter().filter_map(|m| Some((m.number, drawing::joint(&subject, &line, m)?))));
            }
            views.push((format!("d{index}-face"), drawing::bare_elevation(&subject)));
        }
        Drawn { facts, numbers, views, joints, over }
    }

    pub fn anchor(&self) -> String {
        anchor(self.facts)
    }

    /// A small picture of the first view, to be found by eye and not read.
    pub fn thumbnail(&self) -> Markup {
        html! {
            @if let Some((name, scene)) = self.views.first() {
                svg.thumb viewBox=(part(scene, thumbnail::shown(scene))) font-family="sans-serif" aria-hidden="true" focusable="false" {
                    (used(&core_of(name)))
                }
            }
        }
    }
}

fn scales(facts: &DetailFacts) -> Scales {
    Scales::of(facts.length_unit.symbol)
}

/// The place in the file distinguishes details of the same name.
fn anchor(facts: &DetailFacts) -> String {
    let span = facts.detail.name_span;
    format!("detail-{}-{}", span.file.0, span.start)
}
