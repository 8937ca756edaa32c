//! All places along a line at which something is.

use crate::facts::face::Coordinate;
use crate::facts::nanometres;
use crate::model::Axis;
use crate::output::drawing::section::line::SectionLine;
use crate::output::drawing::section::{eave, ends, fixing, parapet};
use crate::output::drawing::subject::Subject;
use crate::quantity::Quantity;

/// Edges of pieces and of what is stated besides, and the ends of what is shown.
pub fn edges(subject: &Subject, line: &SectionLine) -> Vec<Coordinate> {
    let detail = subject.detail;
    let mut edges: Vec<Coordinate> = line.steps.iter().flat_map(|s| [s.extent.low, s.extent.high]).collect();
    let open = subject.joints.iter().filter(|joint| joint.axis == line.axis && joint.across.overlaps(line.at));
    edges.extend(open.flat_map(|joint| joint.edges));
    let (bend, top) = parapet::bend(subject, line.axis);
    edges.extend(ends::ends(subject, line, &bend));
    edges.extend(top.iter().flat_map(|top| unbroken(top.from, top.to)));
    edges.extend(parapet::level_top(&bend).into_iter().flat_map(|[from, to]| unbroken(from, to)));
    let mut add = |at: &Quantity| edges.push(nanometres(*at));
    detail.folds.iter().filter(|f| f.axis == line.axis).for_each(|f| add(&f.at));
    detail.seals.iter().filter_map(|s| s.at.as_ref()).filter(|at| at.0 == line.axis).for_each(|at| add(&at.1));
    for fastening in detail.fastenings.iter().filter(|f| fixing::stands(f, line)) {
        let extent = if line.axis == Axis::Up { fastening.up } else { fastening.along };
        [extent.low, extent.high].iter().flatten().for_each(&mut add);
    }
    if line.axis == Axis::Up {
        let sheltered = detail.sheltered.unwrap_or_default();
        detail.grade.iter().for_each(|grade| add(&grade.value));
        eave::said(detail).iter().for_each(&mut add);
        [sheltered.low, sheltered.high].iter().flatten().for_each(&mut add);
        detail.weeps.iter().filter_map(|w| w.up.as_ref()).for_each(add);
    }
    edges.extend(parapet::level_ends(detail, &bend, &edges).into_iter().flatten());
    edges
}

/// Places between two others so near to each other that no stretch between them is left out: a parapet is as wide as it is.
fn unbroken(from: Coordinate, to: Coordinate) -> impl Iterator<Item = Coordinate> {
    (from..to).step_by(NEAR).skip(1).chain([to])
}

/// Nearer to each other than any stretch that is left out, nm.
const NEAR: usize = 300_000_000;
