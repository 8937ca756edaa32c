//! Pieces that are thicker than a line, cut across.

use crate::model::MaterialKind;
use crate::output::drawing::clip::{self, Half};
use crate::output::drawing::hatch::{Hatch, Runs, hatch, hatch_of};
use crate::output::drawing::page;
use crate::output::drawing::paper::{BEYOND, CUT};
use crate::output::drawing::scene::{Area, Ink, Pen, Point, Role, Shape};
use crate::output::drawing::section::cut::Cut;
use crate::output::drawing::section::line::Step;
use crate::output::drawing::section::masonry::{bed_of, is_rowlock, throat};
use crate::output::drawing::section::outline::{Outline, fall, outline};
use crate::output::drawing::section::part::{Part, parts};
use crate::output::drawing::section::place::juts;
use crate::output::drawing::section::spine::Spine;
use crate::output::drawing::section::{bed, cant, joint, pipe, unit};

/// Every solid piece on the line.
pub fn pieces(cut: &Cut) -> Vec<Shape> {
    let solid = |p: &usize| !cut.places.pieces[*p].thin && !pipe::passes(cut, *p);
    let piece = |index: usize| {
        let shapes = match cut.subject.detail.pieces[index].material.kind {
            _ if cut.places.pieces[index].cant => cant::draw(cut, index),
            Some(MaterialKind::Unit) => unit::draw(cut, index),
            _ => bed::draw(cut, index).or_else(|| joint::draw(cut, index)).unwrap_or_else(|| body(cut, index)),
        };
        Shape::group(Role::Piece(index), page::accessible_name(cut.subject, index), shapes)
    };
    cut.line.pieces().into_iter().filter(solid).map(piece).collect()
}

/// The outlines of a piece that is drawn as a body; none of one that has a form of its own.
pub(super) fn outlines(cut: &Cut, index: usize) -> Vec<Vec<Point>> {
    let own_form = cut.places.pieces[index].cant
        || cut.places.pieces[index].thin
        || cut.subject.detail.pieces[index].material.kind == Some(MaterialKind::Unit)
        || pipe::passes(cut, index)
        || bed::draw(cut, index).or_else(|| joint::draw(cut, index)).is_some();
    if own_form {
        return Vec::new();
    }
    parts(cut, index).iter().map(|part| outline(cut, index, part).corners).filter(|o| o.len() > 2).collect()
}

fn body(cut: &Cut, index: usize) -> Vec<Shape> {
    let on_edge = is_rowlock(cut, index);
    let kind = if on_edge { Hatch::Brick } else { hatch_of(&cut.subject.detail.pieces[index].material) };
    let mut shapes = Vec::new();
    for part in parts(cut, index) {
        let outline = outline(cut, index, &part);
        let polygon = &outline.corners;
        if polygon.len() < 3 {
            continue;
        }
        let mut filled = vec![Shape::polygon(polygon.clone(), None, Some(Ink::White))];
        filled.extend(hatched(&cut.spine, part.leg, polygon, kind, cut.scale));
        shapes.push(Shape::group(Role::Hatch(kind), "", filled));
        shapes.extend(rim(cut, index, &part, &outline, kind));
        shapes.extend(throat(cut, index, &part));
        shapes.extend(
            fall(cut, index, &part).filter(|_| on_edge).map(|fall| bed_of(cut, &part, fall)).into_iter().flatten(),
        );
        if cut.places.pieces[index].broken || covered(cut, index) {
            shapes.extend(broken(cut, &part, polygon));
        }
    }
    shapes
}

/// A hatch laid along a leg, within an outline.
pub fn hatched(spine: &Spine, leg: usize, polygon: &[Point], kind: Hatch, scale: f64) -> Vec<Shape> {
    let local: Vec<(f64, f64)> = polygon.iter().map(|p| spine.local(leg, *p)).collect();
    let fold =
        |pick: fn(&(f64, f64)) -> f64, best: fn(f64, f64) -> f64, first: f64| local.iter().map(pick).fold(first, best);
    let area = Area::new(
        fold(|p| p.0, f64::min, f64::MAX),
        fold(|p| p.1, f64::min, f64::MAX),
        fold(|p| p.0, f64::max, f64::MIN),
        fold(|p| p.1, f64::max, f64::MIN),
    );
    let whole = matches!(kind, Hatch::Concrete | Hatch::Gravel | Hatch::Eps);
    let placed = hatch(area, kind, Runs::Level, scale).into_iter().map(|mut shape| {
        shape.each_place(&mut |p| *p = spine.raw(leg, p.x, p.y));
        shape
    });
    placed.filter_map(|shape| clip::shape(&shape, polygon, whole)).collect()
}

/// A stretch left out of the depth of a piece: a white band between two broken lines in its middle.
fn broken(cut: &Cut, part: &Part, polygon: &[Point]) -> Vec<Shape> {
    let spine = &cut.spine;
    let middle = (part.out[0] + part.out[1]) / 2.0;
    let along: Vec<f64> = polygon.iter().map(|p| spine.local(part.leg, *p).0).collect();
    let ends = [along.iter().copied().fold(f64::MAX, f64::min), along.iter().copied().fold(f64::MIN, f64::max)];
    let band = spine.rectangle(part.leg, ends, [middle - 1.0, middle + 1.0], [false, false]);
    let band = Shape::polygon(band, None, Some(Ink::White));
    let line = |out: f64| page::zigzag(spine.raw(part.leg, ends[0], out), spine.raw(part.leg, ends[1], out));
    let lines = Shape::lines(vec![line(middle - 1.0), line(middle + 1.0)], Pen::solid(BEYOND, Ink::Dark));
    [band, lines].into_iter().filter_map(|shape| clip::shape(&shape, polygon, false)).collect()
}

/// What of an edge, which runs from so far out to so far out, lies beside a stretch.
fn beside([p, q]: [Point; 2], [from, to]: [f64; 2], [low, high]: [f64; 2]) -> Vec<Vec<Point>> {
    let at = |out: f64| clip::between(p, q, (out - from) / (to - from));
    let (inner, outer) = (from.min(to), from.max(to));
    let runs = [[inner, low], [high, outer]].into_iter().filter(|[a, b]| b - a > 1e-6);
    runs.map(|run| run.map(at).to_vec()).collect()
}

/// It stands out of the wall, nobody says how far.
fn stands_out(cut: &Cut, index: usize) -> bool {
    let piece = &cut.subject.detail.pieces[index];
    cut.places.is_skin(index) && cut.places.pieces[index].cut_off && juts(cut.subject.detail, piece)
}

/// Something is dressed down over its outer end: that is drawn, and a stretch before it left out.
fn covered(cut: &Cut, index: usize) -> bool {
    let over = |step: &Step| {
        let mut on_it = step.stack.iter().skip_while(|p| **p != index).skip(1);
        on_it.any(|p| cut.places.pieces[*p].thin)
    };
    stands_out(cut, index) && cut.line.steps.iter().any(over)
}

/// The cut outline without the ends that run off, and with a broken line where nobody said how thick the piece is.
fn rim(cut: &Cut, index: usize, part: &Part, outline: &Outline, kind: Hatch) -> Vec<Shape> {
    let spine = &cut.spine;
    let polygon = &outline.corners;
    let cut_off = cut.places.pieces[index].cut_off;
    // What stands out of the wall ends at that, and runs on outside.
    let end = usize::from(stands_out(cut, index));
    let cut_off = cut_off && !covered(cut, index);
    let mut runs = Vec::new();
    let mut broken = Vec::new();
    for (n, p) in polygon.iter().enumerate() {
        let q = polygon[(n + 1) % polygon.len()];
        let (a, b) = (spine.local(part.leg, *p), spine.local(part.leg, q));
        let on = |along: f64| (a.0 - along).abs() < 1e-6 && (b.0 - along).abs() < 1e-6;
        let unknown = (a.1 - part.out[end]).abs() < 1e-6 && (b.1 - part.out[end]).abs() < 1e-6;
        let joins = |half: &Half| [*p, q].iter().all(|at| half.depth(*at).abs() < 1e-6);
        let runs_off = part.open[0] && on(part.along[0]) || part.open[1] && on(part.along[1]);
        if runs_off || outline.miters.iter().any(joins) {
            continue;
        }
        let end = [0, 1].into_iter().find(|end| on(part.along[*end]) && part.joins[*end].is_some());
        if let Some(out) = end.and_then(|end| part.joins[end]) {
            runs.extend(beside([*p, q], [a.1, b.1], out));
            continue;
        }
        let goes_on = outline.cut_off.as_ref().is_some_and(joins);
        if cut_off && unknown || goes_on {
            broken.push(page::zigzag(*p, q));
        } else {
            runs.push(vec![*p, q]);
        }
    }
    // Air has no edges of its own, what stands beside it ends it; a screen or a net has some.
    if kind == Hatch::Air && cut.subject.detail.pieces[index].layer.is_some() {
        return Vec::new();
    }
    // A heavy outline on both sides would leave nothing of a slate.
    let pen = Pen::solid(if matches!(kind, Hatch::Air | Hatch::Slate) { BEYOND } else { CUT }, Ink::Black);
    let mut shapes = vec![Shape::lines(runs, pen)];
    if !broken.is_empty() {
        shapes.push(Shape::lines(broken, Pen::solid(BEYOND, Ink::Dark)));
    }
    shapes
}
