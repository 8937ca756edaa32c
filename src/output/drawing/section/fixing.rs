//! What holds the pieces of a section and closes their joints: bonds, beads, fasteners; and weeps.

use crate::facts::face::Coordinate;
use crate::facts::nanometres;
use crate::model::{Axis, Extent, Fastening, Seal};
use crate::output::drawing::joint::Joint;
use crate::output::drawing::paper::{BEYOND, CASING, CUT, GRADE, LEADER, MEDIUM, SPREAD};
use crate::output::drawing::ruler::Ruler;
use crate::output::drawing::scene::{Ink, Pen, Point, Role, Shape};
use crate::output::drawing::section::cut::Cut;
use crate::output::drawing::section::line::Line;
use crate::quantity::Quantity;

/// Half the drawn thickness of a membrane, mm of paper.
const SKIN: f64 = 0.45;

/// The most signs of one kind in a row; more would be a solid line.
const MANY: usize = 60;

/// Short slanting strokes between pieces that are adhered to each other and lie on each other.
pub fn bonds(cut: &Cut) -> Vec<Shape> {
    let mut strokes = Vec::new();
    for (n, step) in cut.line.steps.iter().enumerate() {
        for pair in step.stack.windows(2).filter(|pair| cut.subject.bonded(pair[0], pair[1])) {
            let (from, to) = (outer(cut, pair[0], n), inner(cut, pair[1], n));
            if to - from > SPREAD {
                continue;
            }
            let ([a, b], [c, d]) = (cut.real(pair[0], &(n..n + 1)), cut.real(pair[1], &(n..n + 1)));
            let (low, high) = (a.max(c), b.min(d));
            // Near the ends of a step a draped piece leans, and the strokes would miss it.
            let count = ((high - low - 0.8) / 1.6).floor().clamp(0.0, 500.0) as usize;
            for stroke in 0..count {
                let along = low + 0.8 + 1.6 * stroke as f64;
                strokes.push(vec![cut.on(pair[1], n, along, from), cut.on(pair[1], n, along + 0.6, to)]);
            }
        }
    }
    if strokes.is_empty() {
        return Vec::new();
    }
    vec![Shape::group(Role::Bond, "adhered", vec![Shape::lines(strokes, Pen::solid(LEADER, Ink::Black))])]
}

/// Beads of sealant, cut across as disks.
pub fn beads(cut: &Cut) -> Vec<Shape> {
    let (detail, line) = (cut.subject.detail, cut.line);
    let mut shapes = Vec::new();
    for (index, seal) in detail.seals.iter().enumerate() {
        let (first, second) = (seal.first.index, seal.second.index);
        let words =
            format!("{} between {} and {}", seal.sealant.name, detail.pieces[first].name, detail.pieces[second].name);
        let here = |joint: &&Joint| joint.seal == index && joint.axis == line.axis && joint.across.overlaps(line.at);
        let open: Vec<Shape> =
            cut.subject.joints.iter().filter(here).flat_map(|joint| filled(cut, seal, joint)).collect();
        if !open.is_empty() {
            shapes.push(Shape::group(Role::Bead, words, open));
            continue;
        }
        let mut centers: Vec<Point> = Vec::new();
        match seal.at {
            Some((axis, at)) if axis == line.axis => centers.extend(placed(cut, first, second, at)),
            Some((_, at)) if !line.at.reaches(nanometres(at)) => {}
            // Seen along its length, or along the whole contact.
            _ => {
                for (n, step) in line.steps.iter().enumerate() {
                    let [low, high] = cut.places.along(n);
                    let neighbours = step.stack.windows(2).any(|w| w == [first, second] || w == [second, first]);
                    if neighbours {
                        let count = ((high - low) / 3.0).floor().clamp(1.0, MANY as f64);
                        let out = facing(cut, first, second, n);
                        let at = |k: usize| low + (k as f64 + 0.5) * (high - low) / count;
                        centers.extend((0..count as usize).map(|k| cut.on(second, n, at(k), out)));
                    }
                    let next = line.steps.get(n + 1).map_or(&[][..], |s| &s.stack[..]);
                    let has = |a: usize, b: usize| {
                        step.stack.contains(&a) && !step.stack.contains(&b) && next.contains(&b) && !next.contains(&a)
                    };
                    if has(first, second) || has(second, first) {
                        let piece = if has(first, second) { first } else { second };
                        centers.push(cut.on(piece, n, high, cut.places.middle(piece, n)));
                    }
                }
            }
        }
        let disk = |center: Point| Shape::Circle {
            center,
            radius: 0.8,
            pen: Some(Pen::solid(BEYOND, Ink::Black)),
            fill: Some(Ink::Gray),
        };
        if !centers.is_empty() {
            shapes.push(Shape::group(Role::Bead, words, centers.into_iter().map(disk).collect()));
        }
    }
    shapes
}

/// The least depth that a bead is drawn with, mm of paper.
const SHALLOW: f64 = 0.8;

/// An open joint with its bead flush with the outer face of the shallower of its two sides, and the backer behind it.
fn filled(cut: &Cut, seal: &Seal, joint: &Joint) -> Vec<Shape> {
    let steps = 0..cut.line.steps.len();
    let side = |piece: usize, edge: Coordinate| {
        let at = |n: &usize| cut.line.steps[*n].stack.contains(&piece) && cut.line.steps[*n].extent.reaches(edge);
        let n = steps.clone().find(at)?;
        Some([inner(cut, piece, n), outer(cut, piece, n)])
    };
    let [low, high] = joint.edges.map(|edge| cut.ruler.at(edge));
    let (Some(lower), Some(upper)) = (side(joint.pieces[0], joint.edges[0]), side(joint.pieces[1], joint.edges[1]))
    else {
        return Vec::new();
    };
    let (face, back) = (lower[1].min(upper[1]), lower[0].max(upper[0]));
    let stated = seal.depth.map_or((high - low) / 2.0, |depth| depth.si * 1000.0 / cut.scale);
    let depth = stated.max(SHALLOW).min((face - back).max(SHALLOW));
    let leg = cut.spine.leg_from((low + high) / 2.0, 1.0);
    let bead = cut.spine.rectangle(leg, [low, high], [face - depth, face], [false, false]);
    let pen = Some(Pen::solid(BEYOND, Ink::Black));
    let mut shapes = vec![Shape::polygon(bead, pen, Some(Ink::Gray))];
    let radius = (high - low) / 2.0;
    if seal.backer.is_some() && radius > 0.2 && face - depth - 2.0 * radius >= back - 1e-9 {
        let center = cut.spine.raw(leg, (low + high) / 2.0, face - depth - radius);
        shapes.push(Shape::Circle { center, radius, pen, fill: Some(Ink::White) });
    }
    shapes
}

/// A bead at a place: between two pieces that lie on each other there, in the joint of two that meet edge to edge.
fn placed(cut: &Cut, first: usize, second: usize, place: Quantity) -> Option<Point> {
    let at = nanometres(place);
    let along = cut.ruler.at_mm(place.si * 1000.0);
    let n = cut.line.step_at(at);
    let both = |n: usize| cut.places.slot(first, n).is_some() && cut.places.slot(second, n).is_some();
    let below = n.checked_sub(1).filter(|_| cut.line.steps[n].extent.low == at);
    if let Some(n) = std::iter::once(n).chain(below).find(|n| both(*n)) {
        // A piece that turns into an opening takes its bead along.
        let turned = |p: usize| !std::ptr::eq(cut.spine_of(p, &cut.interval(p, n)), &cut.spine);
        let piece = if turned(first) { first } else { second };
        return Some(cut.on(piece, n, along, facing(cut, first, second, n).min(outer(cut, piece, n) + SKIN)));
    }
    let any = |piece: usize| cut.places.slot(piece, n).or_else(|| cut.places.slot(piece, n.checked_sub(1)?));
    any(first).and(any(second)).map(|[inner, outer]| cut.spine.at(along, (inner + outer) / 2.0))
}

/// How far a fastener is drawn into what holds it, mm of paper: nobody states its length.
const SHANK: f64 = 6.0;

/// Fasteners as they lie in the wall: a head, and a shank to behind the datum. They are drawn as if one row stood on
/// the line.
pub fn fastenings(cut: &Cut) -> Vec<Shape> {
    let detail = cut.subject.detail;
    let mut shapes = Vec::new();
    for fastening in detail.fastenings.iter().filter(|f| stands(f, cut.line)) {
        let own = if cut.line.axis == Axis::Up { fastening.up } else { fastening.along };
        let piece = fastening.piece.index;
        let (mut heads, mut shanks) = (Vec::new(), Vec::new());
        for at in rows(&own, fastening.every.si * 1000.0, &cut.ruler) {
            let n = cut.line.step_at((at * 1e6) as Coordinate);
            if cut.places.slot(piece, n).is_none() {
                continue;
            }
            let (along, head) = (cut.ruler.at_mm(at), outer(cut, piece, n));
            heads.push(vec![cut.on(piece, n, along - 1.4, head + 0.3), cut.on(piece, n, along + 1.4, head + 0.3)]);
            shanks.push(vec![cut.on(piece, n, along, head), cut.on(piece, n, along, (head - SHANK).min(-SHANK))]);
        }
        if !heads.is_empty() {
            let words = format!("{} through {}", fastening.fastener.name, detail.pieces[piece].name);
            let lines = vec![
                Shape::lines(shanks.clone(), Pen::solid(CASING, Ink::White)),
                Shape::lines(shanks, Pen::solid(CUT, Ink::Black)),
                Shape::lines(heads, Pen::solid(GRADE, Ink::Black)),
            ];
            shapes.push(Shape::group(Role::Fastening, words, lines));
        }
    }
    shapes
}

/// Weeps: an open slot through the outermost piece, with an arrow out.
pub fn weeps(cut: &Cut) -> Vec<Shape> {
    let weeps = cut.subject.detail.weeps.iter().filter(|_| cut.line.axis == Axis::Up);
    weeps
        .filter_map(|weep| {
            let up = weep.up?;
            let n = cut.line.step_at(nanometres(up));
            let piece = *cut.line.steps.get(n)?.stack.last()?;
            let [inner, outer] = cut.places.slot(piece, n)?;
            let along = cut.ruler.at_mm(up.si * 1000.0) + 0.9;
            let on = |along: f64, out: f64| cut.on(piece, n, along, out);
            let slot =
                vec![on(along - 0.9, inner), on(along - 0.9, outer), on(along + 0.9, outer), on(along + 0.9, inner)];
            let (from, to) = (on(along, inner - 1.0), on(along - 0.6, outer + 3.0));
            let barb = |side: f64| on(along - 0.6 + side, outer + 1.6);
            let runs = vec![vec![from, to], vec![barb(0.8), to, barb(-0.8)]];
            let shapes = vec![
                Shape::polygon(slot, Some(Pen::solid(LEADER, Ink::Black)), Some(Ink::White)),
                Shape::lines(runs, Pen::solid(MEDIUM, Ink::Water)),
            ];
            Some(Shape::group(Role::Weep, "weep", shapes))
        })
        .collect()
}

/// Positions of fasteners in mm of the building: from the written end on, or from the middle of what is shown.
pub fn rows(extent: &Extent, every: f64, ruler: &Ruler) -> Vec<f64> {
    let [low, high] = ruler.window();
    let from = extent.low.map_or(low, |q| (q.si * 1000.0).max(low));
    let to = extent.high.map_or(high, |q| (q.si * 1000.0).min(high));
    if every.is_nan() || every <= 0.0 || to < from {
        return Vec::new();
    }
    let count = ((to - from) / every + 1e-9).floor();
    let first = match (extent.low, extent.high) {
        (Some(_), _) => from,
        (None, Some(_)) => to - count * every,
        (None, None) => (from + to - count * every) / 2.0,
    };
    (0..=count.min(MANY as f64) as usize).map(|n| first + n as f64 * every).collect()
}

/// The field of fasteners reaches the line, and so does its piece.
pub fn stands(fastening: &Fastening, line: &Line) -> bool {
    let other = if line.axis == Axis::Up { fastening.along } else { fastening.up };
    let low = other.low.map_or(Coordinate::MIN, nanometres);
    let high = other.high.map_or(Coordinate::MAX, nanometres);
    low < line.at.high && line.at.low < high && line.has(fastening.piece.index)
}

/// The middle of the gap between two pieces of one step.
fn facing(cut: &Cut, a: usize, b: usize, step: usize) -> f64 {
    let (a, b) = if cut.places.middle(a, step) <= cut.places.middle(b, step) { (a, b) } else { (b, a) };
    (outer(cut, a, step) + inner(cut, b, step)) / 2.0
}

fn outer(cut: &Cut, piece: usize, step: usize) -> f64 {
    match cut.places.slot(piece, step) {
        Some(_) if cut.places.pieces[piece].thin => cut.places.middle(piece, step) + SKIN,
        Some([_, outer]) => outer,
        None => 0.0,
    }
}

fn inner(cut: &Cut, piece: usize, step: usize) -> f64 {
    match cut.places.slot(piece, step) {
        Some(_) if cut.places.pieces[piece].thin => cut.places.middle(piece, step) - SKIN,
        Some([inner, _]) => inner,
        None => 0.0,
    }
}
