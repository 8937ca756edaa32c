//! The water paths of a section.

use crate::facts::face::{Coordinate, DropStep, End, Fall, StepKind};
use crate::facts::nanometres;
use crate::model::Axis;
use crate::output::drawing::mark::{self, Mark};
use crate::output::drawing::paper::SPREAD;
use crate::output::drawing::rain;
use crate::output::drawing::section::cut::Cut;
use crate::output::drawing::section::flow::{
    end_at_side_wall, flow, from_crest, from_foot, inward, onto_tucked, place, run, stop_at_grade,
};
use crate::output::drawing::section::shelf;
use crate::output::drawing::subject::Subject;
use crate::output::drawing::water::{Fate, WaterPath};

/// One full path for each fate on the line; others are quiet.
pub fn paths(cut: &Cut) -> Vec<WaterPath> {
    if cut.line.axis != Axis::Up {
        return Vec::new();
    }
    let wrong = |fall: &Fall| first_wrong(cut.subject, fall).is_some();
    let falls = rain::drawn(cut.subject, &cut.subject.facts.face.cells, cut.line.cell, &wrong);
    let mut falls: Vec<Fall> = falls.into_iter().filter(|f| f.lost.is_none() || f.end.is_damage()).collect();
    // What does harm first, then from the top down.
    let start = |fall: &Fall| fall.trail.first().map_or(0, |step| step.up);
    falls.sort_by_key(|fall| {
        (!fall.end.is_damage(), fall.lost.is_some(), std::cmp::Reverse((start(fall), fall.trail.len())))
    });
    let mut drawn: Vec<(End, Option<Coordinate>, [Coordinate; 2])> = Vec::new();
    let paths = falls.iter().map(|fall| {
        let wrong = first_wrong(cut.subject, fall);
        let at = wrong.map(|n| fall.trail[n].up);
        let span = [fall.trail.last().map_or(0, |step| step.up), start(fall)];
        // The same fate again beside a path that is drawn.
        let again = |(end, wrong, other): &(End, Option<Coordinate>, [Coordinate; 2])| {
            *end == fall.end && *wrong == at && span[0] < other[1] && other[0] < span[1]
        };
        // What falls on a stoop and runs off it is the lesser.
        let on_shelf = || fall.trail.first().is_some_and(|step| shelf::is_shelf(cut.subject.detail, step.piece));
        let lesser = !fall.end.is_damage() && wrong.is_none() && on_shelf();
        let quiet = lesser || drawn.iter().any(again);
        if !quiet {
            drawn.push((fall.end, at, span));
        }
        path(cut, fall, wrong, quiet)
    });
    // Full paths last, over the quiet ones.
    let (quiet, full): (Vec<WaterPath>, Vec<WaterPath>) = paths.partition(|path| path.quiet);
    quiet.into_iter().chain(full).collect()
}

/// The step from which on the drop is where it may not be: where it does harm, or where a finding follows it.
pub fn first_wrong(subject: &Subject, fall: &Fall) -> Option<usize> {
    if let Some(at) = goes_astray(fall) {
        // Without a finding of that place nothing is drawn as wrong.
        let found = |step: &DropStep| {
            subject.marks.iter().any(|entry| mark::pieces(subject.detail, entry.finding).contains(&step.piece))
        };
        return fall.trail[at.saturating_sub(1)..].iter().any(found).then_some(at);
    }
    let behind = |s: &DropStep| matches!(s.kind, StepKind::PassesBehind | StepKind::SealLost);
    // What is said of a stoop is said of the joint at its wall, into which it leads water.
    let leads = |piece: usize, entry: &Mark| {
        entry.finding.open() && shelf::is_shelf(subject.detail, piece) && !shelf::falls_outward(subject.detail, piece)
    };
    let is_marked = |piece: usize| {
        let reported = subject.marks.iter().filter(|entry| !entry.finding.trail.is_empty() || leads(piece, entry));
        reported.into_iter().any(|entry| mark::pieces(subject.detail, entry.finding).first() == Some(&piece))
    };
    fall.trail.iter().position(|step| behind(step) && is_marked(step.piece))
}

/// Where the path of a drop that does harm leaves the open.
pub fn goes_astray(fall: &Fall) -> Option<usize> {
    let behind = |s: &DropStep| matches!(s.kind, StepKind::PassesBehind | StepKind::SealLost);
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
pub(super) const AHEAD: f64 = SPREAD / 2.0;

pub(super) fn path(cut: &Cut, fall: &Fall, wrong: Option<usize>, quiet: bool) -> WaterPath {
    // What no finding is made of is shown as far as it runs in the open, and quietly.
    let unfound = goes_astray(fall).filter(|_| wrong.is_none());
    let quiet = quiet || unfound.is_some();
    let mut path = WaterPath { fate: fate(fall), quiet, words: words(fall), ..WaterPath::default() };
    let mut on = fall.lost.map(|[_, on]| on);
    let mut height: Option<Coordinate> = fall.trail.first().map(|s| s.up);
    let shown = unfound.map_or(fall.trail.len(), |n| n + 1);
    for (n, step) in fall.trail.iter().enumerate().take(shown) {
        if let (Some(piece), Some(from)) = (on, height) {
            let astray = wrong.is_some_and(|w| n > w);
            let points = run(cut, piece, [from, ends_at(cut.subject, step)], !astray);
            if astray {
                path.wrong.extend(points);
            } else {
                onto_tucked(cut, piece, from, &mut path.clean, &points);
                flow(&mut path.clean, points);
            }
            if step.kind == StepKind::PassesBehind
                && wrong.is_none_or(|w| n < w)
                && let Some(over) = shelf::over(cut, step.piece, step.up)
            {
                path.clean.last_mut().into_iter().for_each(|run| run.extend(&over));
                break;
            }
        }
        let starts = matches!(step.kind, StepKind::StartsOn | StepKind::StartsBehind | StepKind::StartsIn);
        if starts || matches!(step.kind, StepKind::MovesOnto | StepKind::LandsOn) {
            on = Some(step.piece);
        }
        height = Some(step.up);
        if wrong == Some(n) {
            let here = on.and_then(|piece| place(cut, piece, step.up));
            path.wrong.extend(path.clean.last().and_then(|run| run.last()).copied().or(here));
            path.inward = on.and_then(|piece| inward(cut, piece, step.up));
        }
        let last = path.wrong.last().or(path.clean.last().and_then(|run| run.last())).copied();
        path.steps.extend(last.or_else(|| place(cut, step.piece, step.up)).map(|at| (n + 1, at)));
    }
    from_foot(cut, fall, &mut path.clean);
    from_crest(cut, &mut path.clean);
    end_at_side_wall(cut, &mut path.clean);
    stop_at_grade(cut, &mut path);
    path
}

/// The height at which a step of a path ends: what a piece leads off leaves it at its lower edge.
pub fn ends_at(subject: &Subject, step: &DropStep) -> Coordinate {
    let low = subject.detail.pieces[step.piece].up.low.map(nanometres);
    low.filter(|low| step.kind == StepKind::LedOff && *low < step.up).unwrap_or(step.up)
}
