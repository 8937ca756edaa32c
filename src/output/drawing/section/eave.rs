//! The warm side of the wall below a roof, from which the reach of an ice barrier is measured.

use crate::facts::face::Coordinate;
use crate::facts::nanometres;
use crate::model::{AssemblyKind, Axis, Detail, FoldKind, MaterialKind};
use crate::output::drawing::paper::FOLD;
use crate::output::drawing::scene::{Point, Role, Shape};
use crate::output::drawing::section::cut::Cut;
use crate::quantity::Quantity;

/// How far the line stands out above the roof and runs on below it, mm of paper.
const ABOVE: f64 = 4.0;
const BELOW: f64 = 12.0;

/// What the line is called.
pub const WORDS: &str = "warm side of the wall";

/// A plumb line through the roof.
pub fn wall_line(cut: &Cut) -> Option<Shape> {
    let [top, foot] = ends(cut)?;
    Some(Shape::group(Role::Fold, WORDS, vec![Shape::line(vec![top, foot], FOLD)]))
}

/// From where to where it runs.
pub fn ends(cut: &Cut) -> Option<[Point; 2]> {
    let at = place(cut)?;
    let along = cut.ruler.at(at);
    let leg = cut.spine.leg_from(along, 1.0);
    let step = cut.line.step_at(at);
    let roof = cut.spine.lies(leg) && cut.spine.outward(leg).y < -0.1;
    let x = cut.spine.raw(leg, along, 0.0).x;
    let y = |out: f64| cut.spine.raw(leg, along, out).y;
    roof.then(|| [Point::new(x, y(cut.places.reach(step)[1]) - ABOVE), Point::new(x, y(cut.depth(step)) + BELOW)])
}

/// Where it is on the line, if that shows it.
fn place(cut: &Cut) -> Option<Coordinate> {
    let said = said(cut.subject.detail).filter(|_| cut.line.axis == Axis::Up)?;
    let [low, high] = cut.ruler.window();
    Some(nanometres(said)).filter(|_| (low..=high).contains(&(said.si * 1000.0)))
}

/// Where it is said to be, by a detail, or by the roof whose eave it shows.
pub fn said(detail: &Detail) -> Option<Quantity> {
    let eave = detail.folds.iter().any(|fold| fold.kind == FoldKind::Eave);
    let roofs = detail.joins.iter().filter(|join| eave && join.assembly.kind == AssemblyKind::Roof);
    detail.wall_line.or_else(|| roofs.filter_map(|join| join.assembly.wall_line).next()).map(|said| said.value)
}

/// The sheet that is adhered to the roof from its edge to beyond that line, and where it ends.
pub fn barrier(cut: &Cut) -> Option<(usize, [Coordinate; 2])> {
    let from = place(cut).filter(|_| ends(cut).is_some())?;
    let reaches = |piece: &usize| {
        let of = &cut.subject.detail.pieces[*piece];
        let high = of.up.high.map(nanometres).filter(|high| *high > from)?;
        let sheet = of.material.kind == Some(MaterialKind::Sheet) && of.material.adhesive.is_some() && !of.inside;
        (sheet && of.up.low.is_some_and(|low| nanometres(low) < from)).then_some((*piece, [from, high]))
    };
    cut.line.pieces().iter().find_map(reaches)
}
