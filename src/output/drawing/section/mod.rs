//! The section: a detail seen from the side, or in plan, cut along one line and bent as the building is.

mod backing;
mod battens;
mod bead;
mod bearing;
mod bed;
mod blocking;
mod breaks;
mod cant;
mod captions;
mod chimney;
mod contact;
mod cut;
mod dimensions;
mod draft;
mod drawn;
mod drops;
mod eave;
mod edges;
mod ended;
mod ends;
mod enlarge;
mod fixing;
mod flow;
mod focus;
mod foot;
mod found;
mod frame;
mod ground;
mod inside;
mod joint;
mod layout;
mod leaders;
mod levels;
mod line;
mod masonry;
mod membrane;
mod old_wall;
mod opening;
mod outline;
mod packing;
mod parapet;
mod part;
mod pipe;
mod place;
mod pointing;
mod reported_path;
mod shelf;
mod soil;
mod solid;
mod spine;
mod steps;
mod taken;
mod unit;
mod valley;

pub use draft::Draft;
pub use drops::{ends_at, fate, first_wrong, goes_astray, words as drop_words};
pub use edges::edges;
pub use enlarge::enlargement;
pub use fixing::rows;
pub use leaders::astray;
pub use levels::level_of;
pub use line::{SectionLine, axis};
pub use parapet::bend;
pub use place::is_sill;
pub use reported_path::reported_path;
pub use steps::{beside, sign as step_sign};

use crate::output::drawing::mark::{self, Mark};
use crate::output::drawing::note;
use crate::output::drawing::page::{self, View};
use crate::output::drawing::ruler;
use crate::output::drawing::scene::{Scene, Shape};
use crate::output::drawing::subject::Subject;
use layout::Layout;

/// Room for the line, mm of paper.
const MOST: f64 = 185.0;

/// The section of a detail along `line`, with the marks of its findings.
pub fn section(subject: &Subject, line: &SectionLine) -> Scene {
    let view = view(&Draft::new(subject, line, scale(subject, line)), false, note::WIDTH);
    let title = format!("{} of {}", view.name, page::name(subject.detail));
    let description = page::description(subject, &line.pieces());
    page::around(subject, view, title, description)
}

/// No section is drawn at a larger scale than this.
pub fn least(subject: &Subject, line: &SectionLine) -> f64 {
    place::scale_of_thickest(subject, line)
}

/// The section without a head and a list of findings.
pub fn bare_section(subject: &Subject, line: &SectionLine) -> Scene {
    let view = view(&Draft::new(subject, line, scale(subject, line)), false, note::WIDTH);
    let title = format!("{} of {}", view.name, page::name(subject.detail));
    page::bare(view, title, page::description(subject, &line.pieces()))
}

/// The same without the numbers of any water, and for each finding what a page lays over it beside that finding: the numbers of its
/// water, and the circle of its enlargement.
pub fn plain_section(subject: &Subject, line: &SectionLine) -> (Scene, Vec<(usize, Vec<Shape>)>) {
    let draft = Draft::new(subject, line, scale(subject, line));
    let layout = Layout::new(&draft, true, note::WIDTH);
    let over = subject.marks.iter().map(|entry| {
        let mut free = layout.free.clone();
        let shapes = layout.ring(entry, &mut free).into_iter().chain(layout.numbers(entry, &mut free)).collect();
        let scene = Scene { shapes, ..Scene::empty() };
        (entry.number, scene.at_scale(layout.view.scale).shapes)
    });
    let over = over.collect();
    let title = format!("{} of {}", layout.view.name, page::name(subject.detail));
    (page::bare(layout.view, title, page::description(subject, &line.pieces())), over)
}

/// The joint of a finding, enlarged, if it has one on the line.
pub fn joint(subject: &Subject, line: &SectionLine, entry: &Mark) -> Option<Scene> {
    let view = enlargement(subject, line, entry)?;
    let size = if view.scale > 1.0 { subject.scales().written(view.scale) } else { "full size".to_owned() };
    let title = format!("Joint of finding {} at {size}", entry.number);
    Some(page::bare(view, title, mark::short(entry.finding)))
}

/// The largest scale at which the line fits into its room, and the thickest piece on it is drawn whole.
pub fn scale(subject: &Subject, line: &SectionLine) -> f64 {
    ruler::scale(&edges(subject, line), MOST, subject.scales()).max(least(subject, line))
}

/// The section alone, with notes so wide; with the circle of the enlargement where that stands beside it.
pub fn view(draft: &Draft, tied: bool, wide: f64) -> View {
    let layout = Layout::new(draft, tied, wide);
    let mut free = layout.free.clone();
    let open = || draft.cut.subject.marks.iter().filter(|entry| entry.finding.open());
    let gravest = mark::gravest_first(draft.cut.subject.marks);
    let ring = gravest.into_iter().filter(|_| tied).find_map(|entry| layout.ring(entry, &mut free));
    let numbers = open().map(|entry| layout.numbers(entry, &mut free)).find(|numbers| !numbers.is_empty());
    let mut view = layout.view;
    view.shapes.extend(ring);
    view.shapes.extend(numbers.unwrap_or_default());
    view
}
