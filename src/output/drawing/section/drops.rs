//! The ways of drops in a section.

use crate::facts::face::{self, Coordinate, End, Fall, Step, StepKind};
use crate::facts::nanometres;
use crate::facts::vocabulary::Item;
use crate::model::Axis;
use crate::output::drawing::clip::between;
use crate::output::drawing::mark::{self, Mark};
use crate::output::drawing::paper::SPREAD;
use crate::output::drawing::scene::Point;
use crate::output::drawing::section::cut::Cut;
use crate::output::drawing::section::unit;
use crate::output::drawing::subject::Subject;
use crate::output::drawing::water::{Course, Fate};

/// One full way for each fate on the line; others are quiet.
pub fn courses(cut: &Cut) -> Vec<Course> {
    if cut.line.axis != Axis::Up {
        return Vec::new();
    }
    let falls = face::falls(&cut.subject.shape, &cut.subject.facts.face.cells, cut.line.cell);
    let mut falls: Vec<Fall> = falls.into_iter().filter(|f| f.lost.is_none() || f.end.is_damage()).collect();
    // What does harm first, then from the top down.
    let start = |fall: &Fall| fall.trail.first().map_or(0, |step| step.up);
    falls.sort_by_key(|fall| {
        (!fall.end.is_damage(), fall.lost.is_some(), std::cmp::Reverse((start(fall), fall.trail.len())))
    });
    let mut told: Vec<(End, Option<Coordinate>, [Coordinate; 2])> = Vec::new();
    let courses = falls.iter().map(|fall| {
        let wrong = first_wrong(cut.subject, fall);
        let at = wrong.map(|n| fall.trail[n].up);
        let span = [fall.trail.last().map_or(0, |step| step.up), start(fall)];
        // The same fate again beside a way that is told.
        let again = |(end, wrong, other): &(End, Option<Coordinate>, [Coordinate; 2])| {
            *end == fall.end && *wrong == at && span[0] < other[1] && other[0] < span[1]
        };
        // What may get in behind something that the rain above is led over is the lesser of the two.
        let behind = |fall: &Fall| fall.trail.first().is_some_and(|step| step.kind == StepKind::StartsBehind);
        let led = || falls.iter().any(|other| !behind(other) && start(other) > start(fall));
        let lesser = !fall.end.is_damage() && behind(fall) && led();
        let quiet = lesser || told.iter().any(again);
        if !quiet {
            told.push((fall.end, at, span));
        }
        course(cut, fall, wrong, quiet)
    });
    // Full ways last, over the quiet ones.
    let (quiet, full): (Vec<Course>, Vec<Course>) = courses.partition(|course| course.quiet);
    quiet.into_iter().chain(full).collect()
}

/// The step from which on the drop is where it may not be: where it does harm, or where a finding follows it.
pub fn first_wrong(subject: &Subject, fall: &Fall) -> Option<usize> {
    if let Some(at) = goes_astray(fall) {
        // Without a finding of that place nothing is drawn as wrong.
        let found = |step: &Step| {
            subject.marks.iter().any(|entry| mark::pieces(subject.detail, entry.finding).contains(&step.piece))
        };
        return fall.trail[at.saturating_sub(1)..].iter().any(found).then_some(at);
    }
    let behind = |s: &Step| matches!(s.kind, StepKind::PassesBehind | StepKind::SealLost);
    let told = |piece: usize| {
        let followed = subject.marks.iter().filter(|entry| !entry.finding.trail.is_empty());
        followed.into_iter().any(|entry| mark::pieces(subject.detail, entry.finding).first() == Some(&piece))
    };
    fall.trail.iter().position(|step| behind(step) && told(step.piece))
}

/// Where the way of a drop that does harm leaves the open.
pub fn goes_astray(fall: &Fall) -> Option<usize> {
    let behind = |s: &Step| matches!(s.kind, StepKind::PassesBehind | StepKind::SealLost);
    if fall.lost.is_some() {
        return Some(0);
    }
    if fall.end.is_damage() { fall.trail.iter().position(behind).or(fall.trail.len().checked_sub(1)) } else { None }
}

pub fn fate(fall: &Fall) -> Fate {
    match fall.end {
        End::Drains => Fate::Drips,
        End::Held => Fate::Trapped,
        _ => Fate::Wets,
    }
}

pub fn words(fall: &Fall) -> String {
    let lost = if fall.lost.is_some() { ", if the seal is lost" } else { "" };
    format!("water{lost}: {}", fall.end.word())
}

/// How far in front of a membrane a drop is drawn.
const AHEAD: f64 = SPREAD / 2.0;

fn course(cut: &Cut, fall: &Fall, wrong: Option<usize>, quiet: bool) -> Course {
    // What no finding is made of is shown as far as it runs in the open, and quietly.
    let unfound = goes_astray(fall).filter(|_| wrong.is_none());
    let quiet = quiet || unfound.is_some();
    let mut course = Course { fate: fate(fall), quiet, words: words(fall), ..Course::default() };
    let mut on = fall.lost.map(|[_, on]| on);
    let mut height: Option<Coordinate> = fall.trail.first().map(|s| s.up);
    let shown = unfound.map_or(fall.trail.len(), |n| n + 1);
    for (n, step) in fall.trail.iter().enumerate().take(shown) {
        if let (Some(piece), Some(from)) = (on, height) {
            let points = run(cut, piece, from, ends_at(cut.subject, step));
            if wrong.is_some_and(|w| n > w) {
                course.wrong.extend(points);
            } else {
                flow(&mut course.clean, points);
            }
        }
        let starts = matches!(step.kind, StepKind::StartsOn | StepKind::StartsBehind | StepKind::StartsIn);
        if starts || matches!(step.kind, StepKind::MovesOnto | StepKind::LandsOn) {
            on = Some(step.piece);
        }
        height = Some(step.up);
        if wrong == Some(n) {
            let here = on.and_then(|piece| place(cut, piece, step.up));
            course.wrong.extend(course.clean.last().and_then(|run| run.last()).copied().or(here));
            course.inward = on.and_then(|piece| inward(cut, piece, step.up));
        }
        let last = course.wrong.last().or(course.clean.last().and_then(|run| run.last())).copied();
        course.steps.extend(last.or_else(|| place(cut, step.piece, step.up)).map(|at| (n + 1, at)));
    }
    from_crest(cut, &mut course.clean);
    stop_at_grade(cut, &mut course);
    course
}

/// The face leads every drop down its unfolded height. On a top that falls back to the roof, or beyond a ridge, that way would climb:
/// there the drop runs from the crest to the other side.
fn from_crest(cut: &Cut, runs: &mut Vec<Vec<Point>>) {
    let legs = 0..cut.spine.legs();
    if legs.into_iter().all(|leg| cut.spine.forward(leg).y < FALLS) {
        return;
    }
    let Some(first) = runs.first() else { return };
    let crest = (0..first.len()).min_by(|a, b| first[*a].y.total_cmp(&first[*b].y)).unwrap_or(0);
    if first.first().is_none_or(|start| start.y < first[crest].y + CLIMB) {
        return;
    }
    let mut back = runs.remove(0);
    let on = back.split_off(crest);
    back.push(on[0]);
    back.reverse();
    runs.insert(0, on);
    runs.insert(0, back);
    runs.retain(|run| run.len() > 1);
}

/// How much of its length a leg falls on the way up the line, to be no level one.
const FALLS: f64 = 0.005;

/// What is no climb but the thickness of things, mm of paper.
const CLIMB: f64 = 0.3;

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

/// The number that a finding's way has for each step of another, in the same order.
fn numbered(trail: &[Step], told: &[Step]) -> Vec<Option<usize>> {
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

/// The way that an open finding tells.
pub fn followed<'f>(subject: &'f Subject, entry: &Mark) -> Option<&'f [Step]> {
    let told = &entry.finding.trail;
    if told.is_empty() || !entry.finding.open() {
        return None;
    }
    let events = subject.facts.face.drops.events.iter().enumerate();
    let same = |index: usize| {
        let trail = Item::Drop(subject.facts, index).trail();
        trail.len() == told.len() && trail.iter().zip(told).all(|(step, other)| *step.message == *other.message)
    };
    let event = events.into_iter().find(|(index, _)| same(*index)).map(|(_, event)| event)?;
    event.worst().map(|end| subject.facts.face.drops.trail(end))
}

/// The height at which a step of a way ends: what a piece leads off leaves it at its lower edge.
pub fn ends_at(subject: &Subject, step: &Step) -> Coordinate {
    let low = subject.detail.pieces[step.piece].up.low.map(nanometres);
    low.filter(|low| step.kind == StepKind::LedOff && *low < step.up).unwrap_or(step.up)
}

/// The course over a piece from one height to another, up or down.
fn run(cut: &Cut, piece: usize, from: Coordinate, to: Coordinate) -> Vec<Point> {
    let (low, high) = (from.min(to), from.max(to));
    let steps: Vec<usize> = (0..cut.line.steps.len())
        .filter(|n| cut.line.steps[*n].stack.contains(&piece))
        .filter(|n| cut.line.steps[*n].extent.low < high && low < cut.line.steps[*n].extent.high)
        .collect();
    let (Some(first), Some(last)) = (steps.first(), steps.last()) else { return Vec::new() };
    let mut way = cut.places.course(piece, *first..last + 1, AHEAD);
    // On a window it runs down the frame and the pane in one line.
    if let Some(([foot, top], out)) = unit::front(cut, piece, *first) {
        let (from, to) = (cut.places.along(*first)[0], cut.places.along(*last)[1]);
        // A frame that is set back stands on the edge of its opening.
        let from = if cut.interval(piece, *first).start == *first { from.min(foot) } else { from };
        way.retain(|p| p.0 < foot || p.0 > top);
        // Off its flange it steps out, not aslant.
        let flange = way.iter().rev().find(|p| p.0 < foot).map(|p| (foot, p.1));
        way.extend(flange);
        way.extend([(foot.max(from), out + AHEAD), (top.min(to), out + AHEAD)]);
        way.sort_by(|a, b| a.0.total_cmp(&b.0));
    }
    let mut points = cut.trace(piece, *first..last + 1, &way);
    if to < from {
        points.reverse();
    }
    points
}

/// From what hangs free a drop falls: it does not run back along the underside.
const FREE: f64 = 3.0;

/// Adds to the last run, or begins one where the way jumps to what stands farther in.
fn flow(runs: &mut Vec<Vec<Point>>, points: Vec<Point>) {
    let Some(first) = points.first().copied() else { return };
    match runs.last_mut() {
        Some(run) if run.last().is_some_and(|l| (l.y - first.y).abs() > 0.5 || (l.x - first.x).abs() <= FREE) => {
            run.extend(points);
        }
        _ => runs.push(points),
    }
}

fn place(cut: &Cut, piece: usize, up: Coordinate) -> Option<Point> {
    let n = step_with(cut, piece, up)?;
    let along = cut.ruler.at(up).clamp(cut.places.along(n)[0], cut.places.along(n)[1]);
    Some(cut.on(piece, n, along, cut.places.surface(piece, n) + AHEAD))
}

fn inward(cut: &Cut, piece: usize, up: Coordinate) -> Option<Point> {
    let n = step_with(cut, piece, up)?;
    let spine = cut.spine_of(piece, &cut.interval(piece, n));
    let out = spine.outward(spine.leg_from(cut.ruler.at(up), -1.0));
    let down = spine.forward(spine.leg_from(cut.ruler.at(up), -1.0));
    let d = Point::new(-out.x - 0.6 * down.x, -out.y - 0.6 * down.y);
    let length = (d.x * d.x + d.y * d.y).sqrt();
    Some(Point::new(d.x / length, d.y / length))
}

fn step_with(cut: &Cut, piece: usize, up: Coordinate) -> Option<usize> {
    let has = |n: &usize| cut.line.steps[*n].stack.contains(&piece) && cut.line.steps[*n].extent.reaches(up);
    (0..cut.line.steps.len()).find(has)
}

/// Below grade the ground takes over.
fn stop_at_grade(cut: &Cut, course: &mut Course) {
    let Some(grade) = cut.subject.detail.grade else { return };
    let y = cut.spine.at(cut.ruler.at_mm(grade.value.si * 1000.0), 0.0).y;
    course.clean.iter_mut().chain([&mut course.wrong]).for_each(|way| {
        let Some(n) = way.windows(2).position(|pair| pair[0].y < y - 1e-9 && pair[1].y >= y - 1e-9) else { return };
        let (a, b) = (way[n], way[n + 1]);
        way.truncate(n + 1);
        way.push(between(a, b, ((y - 1.2 - a.y) / (b.y - a.y)).max(0.0)));
    });
}
