//! The column of notes beside a drawing: one left edge, sorted by height, leaders that never cross.

use crate::output::drawing::lettering::wrap;
use crate::output::drawing::mark::{self, Mark, RADIUS};
use crate::output::drawing::paper::{BEYOND, LEAD, LINE, SMALL, WORDS};
use crate::output::drawing::scene::{Anchor, Ink, Pen, Point, Role, Shape};
use crate::output::drawing::spread::spread;

/// Words with the place that they are about.
#[derive(Clone)]
pub struct Note<'a> {
    pub sign: Sign<'a>,
    pub at: Point,
    /// Its words, as `lines` breaks them.
    pub lines: Vec<String>,
}

/// What stands before the words.
#[derive(Clone, Copy)]
pub enum Sign<'a> {
    /// A piece, by the step in which it is installed, in a circle.
    Step {
        piece: usize,
        step: usize,
    },
    /// A bead of sealant, by the step in which it is laid.
    Bead {
        step: usize,
    },
    Mark(Mark<'a>),
    /// What nobody gave has no number.
    Remark,
}

/// Width of the words of the column.
pub const WIDTH: f64 = 62.0;

/// The least width of the words, where that makes room for a larger drawing.
pub const NARROW: f64 = 48.0;

/// Width of the words where there is less height than that takes.
pub const WIDER: f64 = 100.0;

/// Width of a column of numbers alone.
pub const NUMBER: f64 = 6.0;

/// No column: only findings are pointed at.
pub const NONE: f64 = 0.0;

/// From the line that the words begin on to the sign before them.
const INDENT: f64 = 6.5;

/// Half the size of the circle around a step.
const CIRCLE: f64 = 2.3;

/// Free height between two notes, and between two numbers alone.
const GAP: f64 = 1.4;
const TIGHT: f64 = 0.5;

/// How often all leaders are looked at for crossings. Three passes part those of most columns.
const PASSES: usize = 40;

/// Words as the lines of a note in a column of this width.
pub fn lines(words: &str, width: f64) -> Vec<String> {
    wrap(words, WORDS, width - INDENT)
}

/// A column whose left edge is at `x`; where it ends.
pub fn column(notes: &[Note], x: f64, top: f64) -> (Vec<Shape>, f64) {
    shifted(notes, x, top, 0.0)
}

/// The same with all notes wanted so much lower than their places.
pub fn shifted(notes: &[Note], x: f64, top: f64, by: f64) -> (Vec<Shape>, f64) {
    let least = |note: &Note| 2.0 * if matches!(note.sign, Sign::Mark(_)) { RADIUS } else { CIRCLE } + 0.4;
    let numbers = notes.iter().all(|note| note.lines.iter().all(String::is_empty));
    let gap = if numbers { TIGHT } else { GAP };
    let heights: Vec<f64> = notes.iter().map(|note| (note.lines.len() as f64 * LINE).max(least(note)) + gap).collect();
    let targets: Vec<Point> = notes.iter().map(|note| note.at).collect();
    let elbow = x - 4.0;
    let (order, middles) = arrange(&targets, &heights, [elbow, x], [top, gap], by);
    let mut shapes = Vec::new();
    let mut bottom = top;
    for (n, middle) in order.into_iter().zip(middles) {
        let note = &notes[n];
        let head = middle - heights[n] / 2.0 + gap / 2.0 + LINE / 2.0;
        let path = leader(note.at, head, elbow, x).to_vec();
        let center = Point::new(x + CIRCLE + 0.2, head);
        match note.sign {
            Sign::Step { step, .. } | Sign::Bead { step } => {
                let dot = Shape::Circle { center: note.at, radius: 0.45, pen: None, fill: Some(Ink::Dark) };
                let ring =
                    Shape::Circle { center, radius: CIRCLE, pen: Some(Pen::solid(BEYOND, Ink::Black)), fill: None };
                let number = step.to_string();
                let at = Point::new(center.x, center.y + SMALL / 2.0);
                let number = Shape::text(at, SMALL, number).anchored(Anchor::Middle);
                let mut own = vec![Shape::line(path, LEAD), dot, ring, number];
                own.extend(words(&note.lines, x, head, false));
                let role = if let Sign::Step { piece, .. } = note.sign { Role::Label(piece) } else { Role::BeadName };
                shapes.push(Shape::group(role, "", own));
            }
            Sign::Remark => {
                let dot = Shape::Circle { center: note.at, radius: 0.45, pen: None, fill: Some(Ink::Dark) };
                let [from, knee, end] = [path[0], path[1], Point::new(x + INDENT - 1.0, head)];
                let mut own = vec![Shape::line(vec![from, knee, end], LEAD), dot];
                own.extend(words(&note.lines, x, head, false));
                shapes.push(Shape::group(Role::Remark, "", own));
            }
            Sign::Mark(entry) => {
                shapes.push(mark::pointer(entry.number, path.into_iter().rev().collect()));
                shapes.push(mark::mark(center, entry));
                shapes.extend(words(&note.lines, x, head, true));
            }
        }
        bottom = bottom.max(middle + heights[n] / 2.0);
    }
    (shapes, bottom)
}

/// From a place to the line of its words: all leaders leave their places at one slant, and go on level.
fn leader(at: Point, head: f64, elbow: f64, x: f64) -> [Point; 3] {
    let off = (head - at.y).abs();
    let knee = if off < LEVEL { elbow } else { (at.x + RUN * off).min(elbow) };
    [at, Point::new(knee, head), Point::new(x, head)]
}

/// How far a leader goes aside for each mm that it rises or falls: 60 degrees.
const RUN: f64 = 0.577;

/// A leader that would rise or fall by less than this has no bend, mm.
const LEVEL: f64 = 1.0;

fn words(lines: &[String], x: f64, head: f64, bold: bool) -> Vec<Shape> {
    let line = |(n, line): (usize, &String)| {
        let at = Point::new(x + INDENT, head + WORDS / 2.0 + n as f64 * LINE);
        let text = Shape::text(at, WORDS, line);
        if bold { text.bold() } else { text }
    };
    lines.iter().enumerate().map(line).collect()
}

/// The order of notes from the top down and the middles of their rooms, such that no leader crosses another: wherever two would, they
/// change places, and all leaders together get shorter.
fn arrange(
    targets: &[Point],
    heights: &[f64],
    [elbow, x]: [f64; 2],
    [top, gap]: [f64; 2],
    by: f64,
) -> (Vec<usize>, Vec<f64>) {
    let mut order: Vec<usize> = (0..targets.len()).collect();
    order.sort_by(|a, b| targets[*a].y.total_cmp(&targets[*b].y).then(targets[*b].x.total_cmp(&targets[*a].x)));
    let place = |order: &[usize]| {
        let mut wanted: Vec<f64> = order.iter().map(|n| targets[*n].y + by).collect();
        // Out of order by height, they are wanted where their neighbors are.
        for n in 1..wanted.len() {
            wanted[n] = wanted[n].max(wanted[n - 1]);
        }
        let heights: Vec<f64> = order.iter().map(|n| heights[*n]).collect();
        spread(&wanted, &heights, top)
    };
    let path = |order: &[usize], middles: &[f64], n: usize| {
        leader(targets[order[n]], middles[n] - heights[order[n]] / 2.0 + gap / 2.0 + LINE / 2.0, elbow, x)
    };
    let mut middles = place(&order);
    // Each pass goes on behind the pair that it parted. To begin anew after each would look at most pairs over and over.
    for _ in 0..PASSES {
        let mut crossed = false;
        for a in 0..order.len() {
            for b in a + 1..order.len() {
                if meet(&path(&order, &middles, a), &path(&order, &middles, b)) {
                    order.swap(a, b);
                    middles = place(&order);
                    crossed = true;
                }
            }
        }
        if !crossed {
            break;
        }
    }
    (order, middles)
}

/// A part of one crosses a part of the other.
fn meet(one: &[Point], other: &[Point]) -> bool {
    one.windows(2).any(|p| other.windows(2).any(|q| cross([p[0], p[1]], [q[0], q[1]])))
}

/// Two lines share a point that is no end of both.
pub fn cross([a, b]: [Point; 2], [c, d]: [Point; 2]) -> bool {
    let side = |p: Point, q: Point, r: Point| (q.x - p.x) * (r.y - p.y) - (q.y - p.y) * (r.x - p.x);
    let apart = |s: f64, t: f64| (s > 1e-9 && t < -1e-9) || (s < -1e-9 && t > 1e-9);
    apart(side(a, b, c), side(a, b, d)) && apart(side(c, d, a), side(c, d, b))
}

#[cfg(test)]
mod tests {
    use super::{arrange, leader, meet};
    use crate::output::drawing::scene::Point;

    #[test]
    fn leaders_do_not_cross() {
        let targets = [(0.0, 10.0), (30.0, 11.0), (2.0, 12.0), (28.0, 3.0), (15.0, 10.5), (15.0, 30.0), (1.0, 31.0)];
        let targets = targets.map(|(x, y)| Point::new(x, y));
        let heights = [5.0, 9.0, 5.0, 5.0, 13.0, 5.0, 9.0];
        let (order, middles) = arrange(&targets, &heights, [50.0, 54.0], [0.0, super::GAP], 0.0);
        let path = |n: usize| leader(targets[order[n]], middles[n] - heights[order[n]] / 2.0 + 2.8, 50.0, 54.0);
        for a in 0..order.len() {
            for b in a + 1..order.len() {
                assert!(!meet(&path(a), &path(b)));
            }
        }
    }
}
