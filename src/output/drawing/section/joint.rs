//! What stands or lies in an opening beside what fills it: the dam at the back of a pan, the rod in a joint.

use std::ops::Range;

use crate::model::MaterialKind;
use crate::output::drawing::paper::{BEYOND, CUT, SPREAD};
use crate::output::drawing::scene::{Ink, Pen, Point, Shape};
use crate::output::drawing::section::bed::{LIP, is_dam};
use crate::output::drawing::section::cut::Cut;
use crate::output::drawing::section::opening::Opening;
use crate::output::drawing::section::spine::Spine;
use crate::output::drawing::section::unit;

/// A piece that lies within an opening; nothing for one that does not.
pub fn draw(cut: &Cut, index: usize) -> Option<Vec<Shape>> {
    let piece = &cut.subject.detail.pieces[index];
    let interval = cut.line.intervals(index).into_iter().next()?;
    opening(cut, &interval)?;
    let [low, high] = cut.real(index, &interval);
    if let Some(block) = block(cut, index) {
        return Some(vec![Shape::polygon(block, Some(Pen::solid(CUT, Ink::Black)), Some(Ink::White))]);
    }
    let narrow = cut.line.steps[interval.start].extent.length().is_some_and(|length| length <= LIP);
    let unit = (0..cut.line.steps.len()).find_map(|n| {
        let unit = |p: &&usize| cut.subject.detail.pieces[**p].material.kind == Some(MaterialKind::Unit);
        cut.line.steps[n].stack.iter().find(unit).and_then(|p| unit::front(cut, *p, n))
    });
    let joint = piece.material.kind == Some(MaterialKind::Fill) && interval.len() == 1 && narrow;
    let (_, face) = unit.filter(|_| joint)?;
    let radius = (high - low) / 2.0;
    let center = cut.spine.raw(cut.spine.leg_from((low + high) / 2.0, 1.0), (low + high) / 2.0, face - BEAD - radius);
    let pen = Some(Pen::solid(BEYOND, Ink::Black));
    Some(vec![Shape::Circle { center, radius, pen, fill: Some(Ink::White) }])
}

/// How deep the bead before a rod is drawn, mm of paper.
const BEAD: f64 = 1.6;

/// A dam that is thicker than a line stands on what lines the edge, as high as it is said to reach.
pub fn block(cut: &Cut, index: usize) -> Option<Vec<Point>> {
    let interval = cut.line.intervals(index).into_iter().next()?;
    let dam = is_dam(&cut.subject.detail.pieces[index]) && !cut.places.pieces[index].thin;
    let opening = opening(cut, &interval).filter(|opening| dam && opening.above)?;
    let [low, high] = cut.real(index, &interval);
    let spine: &Spine = &opening.spine;
    let leg = spine.leg_from(low, 1.0);
    let foot = SPREAD * unit::lining(cut, opening) as f64;
    let thick = cut.places.pieces[index].thickness.min(2.0 * (high - low));
    Some(spine.rectangle(leg, [low, low + thick], [foot, foot + high - low], [false, false]))
}

/// A dam of bent metal, a line that stands on the rear edge of its pan.
pub struct Upright<'c> {
    opening: &'c Opening,
    leg: usize,
    /// Where it stands, and how high the pan lies there.
    at: f64,
    foot: f64,
    middle: f64,
}

pub fn upright<'c>(cut: &'c Cut, index: usize, interval: &Range<usize>) -> Option<Upright<'c>> {
    let piece = &cut.subject.detail.pieces[index];
    let back = piece.role.as_deref() == Some("back-dam") && cut.places.pieces[index].thin;
    let opening = opening(cut, interval).filter(|opening| back && opening.above)?;
    let before = interval.start.checked_sub(1).filter(|n| opening.steps.contains(n))?;
    let pan = cut.line.steps[before].stack.iter().filter(|p| {
        let run = cut.interval(**p, before);
        cut.places.pieces[**p].thin && opening.takes(cut.subject, cut.line, &cut.places, **p, &run)
    });
    let foot = pan.map(|p| cut.places.middle(*p, before)).reduce(f64::max)?;
    let at = cut.places.along(interval.start)[0];
    let (leg, middle) = (opening.spine.leg_from(at, 1.0), cut.places.middle(index, interval.start));
    Some(Upright { opening, leg, at, foot, middle })
}

impl Upright<'_> {
    /// A length that its text counts on along the sill is one of its height, plumb however the pan falls.
    pub fn on(&self, along: f64, out: f64) -> Point {
        let foot = self.opening.spine.raw(self.leg, self.at - (out - self.middle), self.foot);
        Point::new(foot.x, foot.y - (along - self.at))
    }
}

/// The opening that a run of steps lies in.
fn opening<'c>(cut: &'c Cut, interval: &Range<usize>) -> Option<&'c Opening> {
    let within = |o: &&Opening| o.only.is_none() && o.steps.start <= interval.start && interval.end <= o.steps.end;
    cut.openings.iter().find(within)
}
