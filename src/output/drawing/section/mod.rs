//! The section: a detail seen from the side, or in plan, cut along one line and bent as the building is.

mod bead;
mod breaks;
mod cant;
mod cut;
mod drops;
mod eave;
mod ends;
mod enlarge;
mod fixing;
mod flow;
mod ground;
mod joint;
mod judged;
mod laid;
mod levels;
mod line;
mod masonry;
mod membrane;
mod names;
mod opening;
mod outline;
mod packing;
mod parapet;
mod part;
mod pipe;
mod place;
mod solid;
mod spine;
mod steps;
mod told;
mod unit;
mod words;

pub use cut::edges;
pub use drops::{ends_at, fate, first_wrong, goes_astray, words as drop_words};
pub use enlarge::enlargement;
pub use fixing::rows;
pub use line::{Line, axis};
pub use names::astray;
pub use parapet::bend;
pub use place::is_sill;
pub use steps::{beside, sign as step_sign};
pub use told::followed;

use crate::output::drawing::mark::{self, Mark};
use crate::output::drawing::page::{self, View};
use crate::output::drawing::ruler;
use crate::output::drawing::scene::{Scene, Shape};
use crate::output::drawing::subject::Subject;
use laid::Laid;

/// Room for the line, mm of paper.
const MOST: f64 = 185.0;

/// The section of a detail along `line`, with the marks of its findings.
pub fn section(subject: &Subject, line: &Line) -> Scene {
    let view = view(subject, line, scale(subject, line), false);
    let title = format!("{} of {}", view.name, page::name(subject.detail));
    let description = page::description(subject, &line.pieces());
    page::around(subject, view, title, description)
}

/// No section is drawn at a larger scale than this.
pub fn least(subject: &Subject, line: &Line) -> f64 {
    place::scale_of_thickest(subject, line)
}

/// The section without a head and a list of findings.
pub fn bare_section(subject: &Subject, line: &Line) -> Scene {
    let view = view(subject, line, scale(subject, line), false);
    let title = format!("{} of {}", view.name, page::name(subject.detail));
    page::bare(view, title, page::description(subject, &line.pieces()))
}

/// The same without the numbers of any water, and for each finding what a page lays over it where that finding is told: the numbers of its
/// water, and the circle of its enlargement.
pub fn plain_section(subject: &Subject, line: &Line) -> (Scene, Vec<(usize, Vec<Shape>)>) {
    let laid = Laid::new(subject, line, scale(subject, line), true);
    let over = subject.marks.iter().map(|entry| {
        let mut free = laid.free.clone();
        let shapes = laid.ring(entry, &mut free).into_iter().chain(laid.numbers(entry, &mut free)).collect();
        let scene = Scene { shapes, ..Scene::empty() };
        (entry.number, scene.at_scale(laid.view.scale).shapes)
    });
    let over = over.collect();
    let title = format!("{} of {}", laid.view.name, page::name(subject.detail));
    (page::bare(laid.view, title, page::description(subject, &line.pieces())), over)
}

/// The joint of a finding at full size, if it has one on the line.
pub fn joint(subject: &Subject, line: &Line, entry: &Mark) -> Option<Scene> {
    let view = enlargement(subject, line, entry)?;
    let title = format!("Joint of finding {} at full size", entry.number);
    Some(page::bare(view, title, mark::short(entry.finding)))
}

/// The largest scale at which the line fits into its room, and the thickest piece on it is drawn whole.
pub fn scale(subject: &Subject, line: &Line) -> f64 {
    ruler::scale(&cut::edges(subject, line), MOST, subject.scales()).max(least(subject, line))
}

/// The section alone, at a scale; with the circle of the enlargement where that stands beside it.
pub fn view(subject: &Subject, line: &Line, scale: f64, tied: bool) -> View {
    let laid = Laid::new(subject, line, scale, tied);
    let mut free = laid.free.clone();
    let open = || subject.marks.iter().filter(|entry| entry.finding.open());
    let ring = open().filter(|_| tied).find_map(|entry| laid.ring(entry, &mut free));
    let numbers = open().map(|entry| laid.numbers(entry, &mut free)).find(|numbers| !numbers.is_empty());
    let mut view = laid.view;
    view.shapes.extend(ring);
    view.shapes.extend(numbers.unwrap_or_default());
    view
}
