//! The steps of a way that a finding tells, on the section.

use crate::facts::face::{self, DropStep, Fall};
use crate::facts::vocabulary::Fact;
use crate::model::Axis;
use crate::output::drawing::mark::Mark;
use crate::output::drawing::scene::Point;
use crate::output::drawing::section::cut::Cut;
use crate::output::drawing::section::drops::{course, first_wrong};
use crate::output::drawing::subject::Subject;

/// The steps of a finding that a drop on the line takes too, numbered as the finding tells them; and whether it goes wrong there. The same
/// water may go on elsewhere along the wall: what it does there has its number on the elevation.
pub fn told(cut: &Cut, entry: &Mark) -> Vec<(usize, Point, bool)> {
    let Some(told) = followed(cut.subject, entry).filter(|_| cut.line.axis == Axis::Up) else { return Vec::new() };
    let falls = face::falls(&cut.subject.shape, &cut.subject.facts.face.cells, cut.line.cell);
    let drawn = falls.iter().filter(|fall| fall.lost.is_none() || fall.end.is_damage());
    let alike = |fall: &Fall| numbered(&fall.trail, told).into_iter().flatten().count();
    let Some(fall) = drawn.rev().max_by_key(|fall| alike(fall)).filter(|fall| alike(fall) > 1) else {
        return Vec::new();
    };
    let wrong = first_wrong(cut.subject, fall);
    let numbers = numbered(&fall.trail, told);
    let steps = course(cut, fall, wrong, false).steps.into_iter();
    steps.filter_map(|(n, at)| Some((numbers[n - 1]?, at, wrong == Some(n - 1)))).collect()
}

/// The way that an open finding tells.
pub fn followed<'f>(subject: &'f Subject, entry: &Mark) -> Option<&'f [DropStep]> {
    let told = &entry.finding.trail;
    if told.is_empty() || !entry.finding.open() {
        return None;
    }
    let events = subject.facts.face.drops.events.iter().enumerate();
    let same = |index: usize| {
        let trail = Fact::Drop(subject.facts, index).trail();
        trail.len() == told.len() && trail.iter().zip(told).all(|(step, other)| *step.message == *other.message)
    };
    let event = events.into_iter().find(|(index, _)| same(*index)).map(|(_, event)| event)?;
    event.worst().map(|end| subject.facts.face.drops.trail(end))
}

/// The number that a finding's way has for each step of another, in the same order.
fn numbered(trail: &[DropStep], told: &[DropStep]) -> Vec<Option<usize>> {
    let mut from = 0;
    trail
        .iter()
        .map(|step| {
            let found = from + told[from..].iter().position(|other| other == step)?;
            from = found + 1;
            Some(from)
        })
        .collect()
}
