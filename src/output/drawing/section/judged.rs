//! The lengths of a section that are judged: its laps, each at its joint.

use crate::facts::face::{Lap, Run};
use crate::model::Axis;
use crate::output::drawing::dimension::{self, Dimension};
use crate::output::drawing::mark;
use crate::output::drawing::scene::{Area, Point, Shape};
use crate::output::drawing::section::cut::Cut;

/// As many as a drawing can bear.
const MANY: usize = 5;

/// Free paper between a piece and its dimension line, and from one line to the next.
const OFF: f64 = 5.0;
const NEXT: f64 = 4.0;

/// Laps on the line, the failing ones first, each on the outer side where it covers nothing of another.
pub fn dimensions(cut: &Cut, body: &[Shape]) -> Vec<Shape> {
    let whole = Area::around(body).unwrap_or(Area::new(0.0, 0.0, 0.0, 0.0));
    let mut found: Vec<Dimension> = Vec::new();
    for lap in &cut.subject.facts.face.laps {
        found.extend(of(cut, lap));
    }
    found.sort_by_key(|dimension| !dimension.failing);
    found.dedup_by(|a, b| a.ends == b.ends);
    found.truncate(MANY);
    let mut rooms: Vec<Area> = Vec::new();
    let mut shapes = Vec::new();
    for dimension in found {
        let clear = clear(&dimension, whole);
        let mut placed = None;
        for n in 0..12 {
            let (room, shape) = dimension::draw(&dimension, clear + OFF + n as f64 * NEXT);
            let lines = Area::around(std::slice::from_ref(&shape)).map_or(room, |area| area.with(room));
            if rooms.iter().all(|other| !other.overlaps(lines)) {
                placed = Some((lines, shape));
                break;
            }
        }
        if let Some((room, shape)) = placed {
            rooms.push(room);
            shapes.push(shape);
        }
    }
    shapes
}

/// How far beyond its ends the drawing reaches on the side of a dimension.
fn clear(dimension: &Dimension, whole: Area) -> f64 {
    let side = dimension.side;
    let reach = |p: Point| p.x * side.x + p.y * side.y;
    let far = dimension.ends.iter().map(|p| reach(*p)).fold(f64::MIN, f64::max);
    let limit = whole.corners().into_iter().map(reach).fold(f64::MIN, f64::max);
    // In a bent drawing the far leg is none of it.
    (limit - far).clamp(0.0, 14.0)
}

fn of(cut: &Cut, lap: &Lap) -> Option<Dimension> {
    let run = if cut.line.axis == Axis::Up { Run::Head } else { Run::Side };
    let (over, under) = (lap.over, lap.under);
    let pieces = &cut.subject.detail.pieces;
    let failing = cut.subject.marks.iter().find_map(|entry| {
        let about = mark::pieces(cut.subject.detail, entry.finding);
        let value = |name: &str| entry.finding.values.iter().find(|(n, _)| &**n == name).map(|(_, v)| v.to_string());
        let limit = value("limit").filter(|_| about.contains(&over) && about.contains(&under))?;
        value("length").map(|length| format!("{}, needs {}", cut.subject.bare(&length), cut.subject.bare(&limit)))
    });
    let membranes = cut.places.pieces[over].thin && cut.places.pieces[under].thin;
    let shown = lap.run == run && (failing.is_some() || membranes && lap.contact);
    if !shown || pieces[over].inside || pieces[under].inside {
        return None;
    }
    let both = |n: &usize| {
        let stack = &cut.line.steps[*n].stack;
        stack.contains(&over) && stack.contains(&under)
    };
    let steps: Vec<usize> = (0..cut.line.steps.len()).filter(both).collect();
    let (first, last) = (*steps.first()?, *steps.last()?);
    if last + 1 - first != steps.len() {
        return None;
    }
    let [low, high] = [cut.places.along(first)[0], cut.places.along(last)[1]];
    let (a, b) = (cut.spine.leg_from(low, 1.0), cut.spine.leg_from(high, -1.0));
    let turned = |piece: usize| !std::ptr::eq(cut.spine_of(piece, &cut.interval(piece, first)), &cut.spine);
    // A lap around a corner is no straight length.
    if a != b || turned(over) || turned(under) || high - low < 1e-6 {
        return None;
    }
    let out = cut.places.surface(over, last);
    let ends = [low, high].map(|along| cut.spine.raw(a, along, out));
    let length = lap_length(cut, first, last);
    let words = failing.clone().unwrap_or_else(|| cut.subject.plain(length));
    Some(Dimension { ends, side: cut.spine.outward(a), words, failing: failing.is_some() })
}

/// mm of the building.
fn lap_length(cut: &Cut, first: usize, last: usize) -> f64 {
    let (low, high) = (cut.line.steps[first].extent.low, cut.line.steps[last].extent.high);
    (high as f64 - low as f64) * 1e-6
}
