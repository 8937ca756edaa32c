//! What holds the pieces of a section: bonds and fasteners; and weeps.

use crate::facts::face::Coordinate;
use crate::facts::nanometres;
use crate::model::{Axis, Extent, Fastening};
use crate::output::drawing::page;
use crate::output::drawing::paper::{CASING, CUT, GRADE, LEADER, MEDIUM, SPREAD};
use crate::output::drawing::ruler::Ruler;
use crate::output::drawing::scene::{Ink, Pen, Role, Shape};
use crate::output::drawing::section::bead::{inner, outer};
use crate::output::drawing::section::cut::Cut;
use crate::output::drawing::section::line::SectionLine;
use crate::output::drawing::section::{joint, unit};

/// The most signs of one kind in a row; more would be a solid line.
const MANY: usize = 60;

/// Short slanting strokes between pieces that are adhered to each other and lie on each other.
pub fn bonds(cut: &Cut) -> Vec<Shape> {
    let mut strokes = Vec::new();
    for (n, step) in cut.line.steps.iter().enumerate() {
        for pair in step.stack.windows(2).filter(|pair| cut.subject.bonded(pair[0], pair[1])) {
            // A frame stands free in its opening, and a dam upright.
            let apart = |piece: &usize| {
                cut.places.slot(*piece, n).is_none()
                    || unit::front(cut, *piece, n).is_some()
                    || joint::upright(cut, *piece, &cut.interval(*piece, n)).is_some()
            };
            if pair.iter().any(apart) {
                continue;
            }
            let (from, to) = (outer(cut, pair[0], n), inner(cut, pair[1], n));
            if (to - from).abs() > SPREAD {
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

/// How far a fastener is drawn into what holds it, mm of paper: nobody states its length.
const SHANK: f64 = 6.0;

/// Fasteners as they lie in the wall: a shank to behind the datum, and a head, which the water runs around. They are drawn as if one row
/// stood on the line.
pub fn fastenings(cut: &Cut) -> [Vec<Shape>; 2] {
    let detail = cut.subject.detail;
    let mut shapes = [Vec::new(), Vec::new()];
    for fastening in detail.fastenings.iter().filter(|f| stands(f, cut.line)) {
        let piece = fastening.piece.index;
        let (mut heads, mut shanks) = (Vec::new(), Vec::new());
        for (along, n) in places(cut, fastening) {
            let head = outer(cut, piece, n);
            heads.push(vec![cut.on(piece, n, along - 1.4, head + 0.3), cut.on(piece, n, along + 1.4, head + 0.3)]);
            shanks.push(vec![cut.on(piece, n, along, head), cut.on(piece, n, along, (head - SHANK).min(-SHANK))]);
        }
        if !heads.is_empty() {
            let words = page::fastening_name(cut.subject, fastening);
            for (layer, lines, width) in [(0, shanks, CUT), (1, heads, GRADE)] {
                let cased = Shape::lines(lines.clone(), Pen::solid(width + CASING - CUT, Ink::White));
                let lines = vec![cased, Shape::lines(lines, Pen::solid(width, Ink::Black))];
                shapes[layer].push(Shape::group(Role::Fastening, words.clone(), lines));
            }
        }
    }
    shapes
}

/// Where the fasteners of a row stand along the line, and in which steps.
pub fn places(cut: &Cut, fastening: &Fastening) -> Vec<(f64, usize)> {
    let own = if cut.line.axis == Axis::Up { fastening.up } else { fastening.along };
    let rows = rows(&own, fastening.every.si * 1000.0, &cut.ruler).into_iter();
    let placed = rows.map(|at| (cut.ruler.at_mm(at), cut.line.step_at((at * 1e6) as Coordinate)));
    placed.filter(|(_, n)| cut.places.slot(fastening.piece.index, *n).is_some()).collect()
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

/// A strip that is narrower than its fasteners are apart holds one row, and from this width on, mm, one at either edge: they stand
/// in turn above and below, so that they do not split what they hold (common practice).
const TWO_ROWS: f64 = 50.0;

/// Positions of fasteners in mm of the building: from the written end on, or from the middle of what is shown.
pub fn rows(extent: &Extent, every: f64, ruler: &Ruler) -> Vec<f64> {
    let [low, high] = ruler.window();
    let from = extent.low.map_or(low, |q| (q.si * 1000.0).max(low));
    let to = extent.high.map_or(high, |q| (q.si * 1000.0).min(high));
    if every.is_nan() || every <= 0.0 || to < from {
        return Vec::new();
    }
    let count = ((to - from) / every + 1e-9).floor();
    if count == 0.0 && extent.low.is_some() && extent.high.is_some() && to - from > 1.0 {
        return if to - from < TWO_ROWS { vec![(from + to) / 2.0] } else { vec![from, to] };
    }
    let first = match (extent.low, extent.high) {
        (Some(_), _) => from,
        (None, Some(_)) => to - count * every,
        (None, None) => (from + to - count * every) / 2.0,
    };
    (0..=count.min(MANY as f64) as usize).map(|n| first + n as f64 * every).collect()
}

/// The field of fasteners reaches the line, and so does its piece.
pub fn stands(fastening: &Fastening, line: &SectionLine) -> bool {
    let other = if line.axis == Axis::Up { fastening.along } else { fastening.up };
    let low = other.low.map_or(Coordinate::MIN, nanometres);
    let high = other.high.map_or(Coordinate::MAX, nanometres);
    low < line.at.high && line.at.low < high && line.has(fastening.piece.index)
}
