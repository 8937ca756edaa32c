//! The water paths on an elevation, with the signs of the section.

use crate::facts::bend::{Bend, Leg};
use crate::facts::face::{Coordinate, Fall, StepKind};
use crate::model::Axis;
use crate::output::drawing::elevation::Plane;
use crate::output::drawing::elevation::side_wall::turn_along;
use crate::output::drawing::rain;
use crate::output::drawing::scene::{Point, Shape};
use crate::output::drawing::section::{drop_words, ends_at, fate, first_wrong, goes_astray, reported_path};
use crate::output::drawing::subject::Subject;
use crate::output::drawing::water::{self, WaterPath};

/// One full line for each fate and for each side of a crest, in the widest columns in which it is met; others are quiet. A path that depends on a lost seal is drawn
/// only where it does harm.
///
/// The path that the first finding reports is drawn in full where it runs; the second part are its steps, by their numbers.
pub fn draw(subject: &Subject, plane: &Plane) -> (Vec<Shape>, Vec<(usize, Point, bool)>) {
    let open = subject.marks.iter().filter(|entry| entry.finding.open());
    let reported = open.into_iter().find_map(|entry| reported_path(subject, entry));
    let mut paths: Vec<(Fall, [f64; 2])> = Vec::new();
    for columns in plane.cells.alike_columns() {
        let left = plane.x(plane.cells.column(columns.start).low);
        let right = plane.x(plane.cells.column(columns.end - 1).high);
        let wrong = |fall: &Fall| first_wrong(subject, fall).is_some();
        for fall in rain::drawn(subject, plane.cells, columns.start, &wrong) {
            if fall.lost.is_some() && !fall.end.is_damage() {
                continue;
            }
            match paths.iter_mut().find(|(known, _)| *known == fall) {
                Some((_, span)) if right - left > span[1] - span[0] => *span = [left, right],
                Some(_) => {}
                None => paths.push((fall, [left, right])),
            }
        }
    }
    // Ways of one column stand side by side, left of its middle, where the names do not point.
    let place = |n: usize| {
        let span = paths[n].1;
        let beside: Vec<usize> = (0..paths.len()).filter(|m| paths[*m].1 == span).collect();
        let place = beside.iter().position(|m| *m == n).unwrap_or(0);
        span[0] + (place as f64 + 1.0) / (beside.len() as f64 + 1.0) * (span[1] - span[0]) * 0.9
    };
    let start = |fall: &Fall| fall.trail.first().map_or(0, |step| step.up);
    let mut order: Vec<usize> = (0..paths.len()).collect();
    order.sort_by(|a, b| {
        let key = |n: usize| {
            let fall = &paths[n].0;
            (reported.is_none_or(|reported| reported != fall.trail), !fall.end.is_damage(), fall.lost.is_some())
        };
        let wide = |n: usize| paths[n].1[1] - paths[n].1[0];
        // As on the section, from the top down.
        key(*a)
            .cmp(&key(*b))
            .then(start(&paths[*b].0).cmp(&start(&paths[*a].0)))
            .then(paths[*b].0.trail.len().cmp(&paths[*a].0.trail.len()))
            .then(wide(*b).total_cmp(&wide(*a)))
    });
    let mut fates: Vec<(_, [Coordinate; 2])> = Vec::new();
    let mut steps = Vec::new();
    let (mut quiet, mut under, mut over) = (Vec::new(), Vec::new(), Vec::new());
    for n in order {
        let fall = &paths[n].0;
        let wrong = first_wrong(subject, fall);
        let to_roof = fall.trail.last().is_some_and(|end| end.up > fall.trail[0].up);
        let key = (fall.end, to_roof, wrong.map(|w| (fall.trail[w].up, fall.trail[w].piece)));
        let ups = || fall.trail.iter().map(|step| step.up);
        let span = [ups().min().unwrap_or(0), ups().max().unwrap_or(0)];
        // The same fate again beside a path that is drawn.
        let again = fates.iter().any(|(known, other)| *known == key && span[0] < other[1] && other[0] < span[1]);
        if !again {
            fates.push((key, span));
        }
        let path = path(fall, wrong, again, place(n), plane, subject);
        if steps.is_empty() && reported.is_some_and(|reported| reported == fall.trail) {
            steps.extend(path.steps.iter().map(|(step, at)| (*step, *at, wrong == Some(step - 1))));
        }
        let (_, above) = water::draw(&path);
        let below = water::hidden(&path);
        under.extend(below);
        if again { quiet.extend(above) } else { over.extend(above) }
    }
    (quiet.into_iter().chain(under).chain(over).collect(), steps)
}

fn path(fall: &Fall, wrong: Option<usize>, quiet: bool, x: f64, plane: &Plane, subject: &Subject) -> WaterPath {
    let unfound = goes_astray(fall).filter(|_| wrong.is_none());
    let quiet = quiet || unfound.is_some();
    let mut path =
        WaterPath { fate: fate(fall), quiet, words: drop_words(fall), clean: vec![Vec::new()], ..WaterPath::default() };
    let grade = subject.detail.grade.map(|grade| plane.bottom - plane.up.at_mm(grade.value.si * 1000.0));
    let shown = unfound.map_or(fall.trail.len(), |n| n + 1);
    for (n, step) in fall.trail.iter().enumerate().take(shown) {
        let y = plane.y(ends_at(subject, step)).min(grade.map_or(f64::MAX, |grade| grade - 1.2));
        let rises = n + 1 == fall.trail.len() && rising(fall);
        let run = if wrong.is_some_and(|w| n > w) { &mut path.wrong } else { &mut path.clean[0] };
        if let (true, Some(foot)) = (rises, run.last().copied()) {
            run.extend([Point::new(x + 1.6, foot.y), Point::new(x + 1.6, y)]);
        } else {
            run.push(Point::new(x, y));
        }
        let last = run.last().copied();
        path.steps.extend(last.map(|at| (n + 1, at)));
        if wrong == Some(n) {
            path.wrong.push(Point::new(x, y));
        }
    }
    // Nothing of the depth is seen: the arrow points where the water goes on behind.
    path.inward = path.wrong.first().map(|at| {
        let next = path.wrong.iter().find(|p| (p.x - at.x).hypot(p.y - at.y) > 1e-6);
        let (x, y) = next.map_or((0.0, 1.0), |next| water::unit(*at, *next));
        Point::new(x, y)
    });
    from_crest(subject, plane, &mut path);
    if path.wrong.is_empty() && !rising(fall) {
        turn_along(subject, plane, &mut path.clean[0]);
    }
    path
}

/// What rises again does so beside its path down.
fn rising(fall: &Fall) -> bool {
    fall.trail.last().is_some_and(|step| matches!(step.kind, StepKind::RunsOut | StepKind::Overtops))
}

/// The facts lead every drop down the unfolded face. On a top that falls back to the roof water runs from its crest to either side.
fn from_crest(subject: &Subject, plane: &Plane, path: &mut WaterPath) {
    let bend = Bend::new(subject.facts, Axis::Up);
    let falls = |leg: &Leg| leg.heading.to_radians().sin() < -FALLS;
    let Some(legs) = bend.legs.windows(2).find(|legs| !falls(&legs[0]) && falls(&legs[1])) else { return };
    let crest = plane.y(legs[1].extent.low);
    let run = &mut path.clean[0];
    if run.first().is_none_or(|start| start.y >= crest - 1e-9) || run.last().is_none_or(|end| end.y <= crest + 1e-9) {
        return;
    }
    let (start, at) = (run[0], Point::new(run[0].x, crest));
    run.retain(|point| point.y > crest + 1e-9);
    run.insert(0, at);
    path.clean.insert(0, vec![at, start]);
}

/// A leg that falls less than this for each meter is level.
const FALLS: f64 = 0.005;
