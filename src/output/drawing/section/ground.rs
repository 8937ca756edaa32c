//! The ground that a wall stands in, or a cover lies on.

use crate::facts::nanometres;
use crate::model::{AssemblyKind, Axis};
use crate::output::drawing::hatch::Hatch;
use crate::output::drawing::paper::{EARTH, GRADE};
use crate::output::drawing::scene::{Ink, Pen, Role, Shape};
use crate::output::drawing::section::cut::Cut;
use crate::output::drawing::section::solid::hatched;

/// Finished ground, outside.
pub fn ground(cut: &Cut) -> Vec<Shape> {
    if cut.line.axis != Axis::Up {
        return Vec::new();
    }
    let Some(grade) = cut.subject.detail.grade else { return bed(cut) };
    let at = cut.ruler.at_mm(grade.value.si * 1000.0);
    let leg = cut.spine.leg_from(at, -1.0);
    let out = cut.places.reach(cut.line.step_at(nanometres(grade.value)))[1];
    let out = cut.places.ledge.filter(|ledge| ledge.grounded).map_or(out, |ledge| out.max(ledge.outer));
    let width = [out, out + 26.0];
    let polygon = cut.spine.rectangle(leg, [at - EARTH, at], width, [false, false]);
    let mut shapes = hatched(&cut.spine, leg, &polygon, Hatch::Earth, cut.scale);
    let line = width.map(|out| cut.spine.raw(leg, at, out)).to_vec();
    shapes.push(Shape::line(line, Pen::solid(GRADE, Ink::Black)));
    vec![Shape::group(Role::Ground, "finished ground", shapes)]
}

/// What a ground cover lies on.
fn bed(cut: &Cut) -> Vec<Shape> {
    let ground = cut.subject.detail.joins.iter().any(|join| join.assembly.kind == AssemblyKind::Ground);
    let lies = |leg: &usize| {
        let steps = (0..cut.line.steps.len()).filter(|n| cut.spine.leg_from(cut.places.along(*n)[0], 1.0) == *leg);
        cut.spine.lies(*leg) && steps.into_iter().all(|n| cut.depth(n) > -1e-6)
    };
    let legs = (0..cut.spine.legs()).filter(lies).filter(|_| ground);
    let band = |leg: usize| {
        let polygon = cut.spine.rectangle(leg, cut.spine.span(leg), [-EARTH, 0.0], [false, false]);
        Shape::group(Role::Ground, "ground", hatched(&cut.spine, leg, &polygon, Hatch::Earth, cut.scale))
    };
    legs.map(band).collect()
}
