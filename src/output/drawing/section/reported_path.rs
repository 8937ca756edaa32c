//! The water path that a finding reports, with the places of its steps on the section.

use crate::facts::face::{self, DropStep, Fall};
use crate::facts::vocabulary::Fact;
use crate::model::Axis;
use crate::output::drawing::mark::Mark;
use crate::output::drawing::scene::Point;
use crate::output::drawing::section::cut::Cut;
use crate::output::drawing::section::drops::{first_wrong, path};
use crate::output::drawing::subject::Subject;

/// The steps of a finding that a drop on the line takes too, with the numbers that they have in the finding, and whether the water goes wrong there. The same
/// water may go on elsewhere along the wall: what it does there has its number on the elevation.
pub fn steps_on(cut: &Cut, entry: &Mark) -> Vec<(usize, Point, bool)> {
    let Some(reported) = reported_path(cut.subject, entry).filter(|_| cut.line.axis == Axis::Up) else {
        return Vec::new();
    };
    let falls = face::falls(&cut.subject.shape, &cut.subject.facts.face.cells, cut.line.cell);
    let drawn = falls.iter().filter(|fall| fall.lost.is_none() || fall.end.is_damage());
    let alike = |fall: &Fall| numbered(&fall.trail, reported).into_iter().flatten().count();
    let Some(fall) = drawn.rev().max_by_key(|fall| alike(fall)).filter(|fall| alike(fall) > 1) else {
        return Vec::new();
    };
    let wrong = first_wrong(cut.subject, fall);
    let numbers = numbered(&fall.trail, reported);
    let steps = path(cut, fall, wrong, false).steps.into_iter();
    steps.filter_map(|(n, at)| Some((numbers[n - 1]?, at, wrong == Some(n - 1)))).collect()
}

/// The water path that an open finding reports.
pub fn reported_path<'f>(subject: &'f Subject, entry: &Mark) -> Option<&'f [DropStep]> {
    let reported = &entry.finding.trail;
    if reported.is_empty() || !entry.finding.open() {
        return None;
    }
    let events = subject.facts.face.drops.events.iter().enumerate();
    let same = |index: usize| {
        let trail = Fact::Drop(subject.facts, index).trail();
        trail.len() == reported.len() && trail.iter().zip(reported).all(|(step, other)| *step.message == *other.message)
    };
    let event = events.into_iter().find(|(index, _)| same(*index)).map(|(_, event)| event)?;
    event.worst().map(|end| subject.facts.face.drops.trail(end))
}

/// The number that the path of a finding has for each step of another path, in the same order.
fn numbered(trail: &[DropStep], reported: &[DropStep]) -> Vec<Option<usize>> {
    let mut from = 0;
    trail
        .iter()
        .map(|step| {
            let found = from + reported[from..].iter().position(|other| other == step)?;
            from = found + 1;
            Some(from)
        })
        .collect()
}
