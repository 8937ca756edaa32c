//! The ground that a wall stands in, or a cover lies on.

use crate::facts::nanometres;
use crate::model::{AssemblyKind, Axis, Detail, Layer, MaterialKind};
use crate::output::drawing::hatch::{Hatch, hatch_of};
use crate::output::drawing::page;
use crate::output::drawing::paper::{BEYOND, CUT, EARTH, GRADE};
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
    let grounded = cut.places.ledge.filter(|ledge| ledge.grounded).map_or(0.0, |ledge| ledge.outer);
    let step = cut.line.step_at(nanometres(grade.value));
    let out = cut.places.reach(step)[1].max(grounded);
    let width = [out, out + 26.0];
    let deep = if cut.subject.detail.paved { (PAVING / cut.scale).clamp(LEAST, MOST) } else { 0.0 };
    let earth = |top: f64, width: [f64; 2]| {
        let polygon = cut.spine.rectangle(leg, [top - EARTH, top], width, [false, false]);
        hatched(&cut.spine, leg, &polygon, Hatch::Earth, cut.scale)
    };
    let mut shapes = match foot(cut, step, leg, out) {
        Some((foot, inner)) if deep == 0.0 && foot == at => earth(at, [inner, width[1]]),
        Some((foot, inner)) => [earth(at - deep, width), earth(foot, [inner, out])].concat(),
        None => earth(at - deep, width),
    };
    if cut.subject.detail.paved {
        let p = |along: f64, out: f64| cut.spine.raw(leg, along, out);
        let slab = vec![p(at, out), p(at - deep, out), p(at - deep, width[1])];
        let goes_on = page::zigzag(p(at, width[1]), p(at - deep, width[1]));
        shapes.extend([
            Shape::line(slab, Pen::solid(CUT, Ink::Black)),
            Shape::line(goes_on, Pen::solid(BEYOND, Ink::Dark)),
        ]);
    }
    let line = width.map(|out| cut.spine.raw(leg, at, out)).to_vec();
    shapes.push(Shape::line(line, Pen::solid(GRADE, Ink::Black)));
    let words = if cut.subject.detail.paved { "finished ground, paved" } else { "finished ground" };
    vec![Shape::group(Role::Ground, words, shapes)]
}

/// Where a body ends downward that stands on the ground in front of the wall, as a stoop does, and how far out the wall is below it.
fn foot(cut: &Cut, at_grade: usize, leg: usize, out: f64) -> Option<(f64, f64)> {
    let body = |piece: &&usize| cut.places.is_skin(**piece) && !cut.places.pieces[**piece].thin;
    let has = |n: usize| cut.line.steps[n].stack.iter().any(|p| body(&p));
    let below = (0..at_grade).rev().find(|n| !has(*n)).filter(|n| has(n + 1))?;
    let [low, high] = cut.places.along(below);
    let inner = cut.places.reach(below)[1];
    (low > cut.spine.span(leg)[0] - 1e-6 && inner < out).then_some((high, inner))
}

/// The depth of paving that nobody states, mm of the building (practice: a walk of 4 in), and the least and the most that it is drawn as.
const PAVING: f64 = 100.0;
const LEAST: f64 = 3.0;
const MOST: f64 = 8.0;

/// What a ground cover lies on.
fn bed(cut: &Cut) -> Vec<Shape> {
    let ground = cut.subject.detail.joins.iter().any(|join| join.assembly.kind == AssemblyKind::Ground);
    let lies = |leg: &usize| {
        let steps = (0..cut.line.steps.len()).filter(|n| cut.spine.leg_from(cut.places.along(*n)[0], 1.0) == *leg);
        cut.spine.lies(*leg) && steps.into_iter().all(|n| cut.depth(n) > -1e-6)
    };
    let legs = (0..cut.spine.legs()).filter(lies).filter(|_| ground);
    let under = under(cut.subject.detail);
    let band = |leg: usize| {
        let mut top = 0.0;
        let mut bands = Vec::new();
        for (kind, mm) in &under {
            let foot = top - (mm / cut.scale).max(LEAST);
            let polygon = cut.spine.rectangle(leg, cut.spine.span(leg), [foot, top], [false, false]);
            bands.push(Shape::group(
                Role::Hatch(*kind),
                "",
                [Shape::polygon(polygon.clone(), None, Some(Ink::White))]
                    .into_iter()
                    .chain(hatched(&cut.spine, leg, &polygon, *kind, cut.scale))
                    .collect(),
            ));
            bands.push(Shape::line(vec![polygon[0], polygon[3]], Pen::solid(BEYOND, Ink::Dark)));
            top = foot;
        }
        let polygon = cut.spine.rectangle(leg, cut.spine.span(leg), [top - EARTH, top], [false, false]);
        bands.extend(hatched(&cut.spine, leg, &polygon, Hatch::Earth, cut.scale));
        Shape::group(Role::Ground, "ground", bands)
    };
    legs.map(band).collect()
}

/// What the assembly of a ground cover has under it and no piece is: the hatch of each layer and its depth, mm of the building.
fn under(detail: &Detail) -> Vec<(Hatch, f64)> {
    let Some(join) = detail.joins.iter().position(|join| join.assembly.kind == AssemblyKind::Ground) else {
        return Vec::new();
    };
    let drawn = detail.pieces.iter().filter_map(|piece| piece.layer).filter(|at| at.join == join).map(|at| at.layer);
    let layers = &detail.joins[join].assembly.layers[..drawn.min().unwrap_or(0)];
    let of = |layer: &Layer| {
        let deep = layer.thickness.or(layer.material.thickness)?.si * 1000.0;
        (layer.material.kind == Some(MaterialKind::Mass)).then(|| (hatch_of(&layer.material), deep))
    };
    layers.iter().rev().filter_map(of).collect()
}
