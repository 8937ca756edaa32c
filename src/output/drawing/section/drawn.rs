//! The lines and the corners that a piece is drawn with, without its hatch.

use crate::output::drawing::scene::{Area, Point};
use crate::output::drawing::section::cut::Cut;
use crate::output::drawing::section::{solid, unit};

pub(super) struct Drawn {
    /// Outlines of bodies, closed, and the lines of what is thin.
    pub(super) lines: Vec<Vec<Point>>,
    /// Edges and bends.
    pub(super) corners: Vec<Point>,
}

pub(super) fn drawn(cut: &Cut, piece: usize) -> Drawn {
    let steps = (0..cut.line.steps.len()).filter(|n| cut.line.steps[*n].stack.contains(&piece));
    let frames = steps.filter_map(|n| {
        let ([foot, top], out) = (unit::front(cut, piece, n)?.0, unit::reach(cut, piece, n)?);
        let leg = cut.spine.leg_from((foot + top) / 2.0, 1.0);
        Some(cut.spine.rectangle(leg, [foot, top], out, [false, false]))
    });
    let bodies: Vec<Vec<Point>> = solid::outlines(cut, piece).into_iter().chain(frames).collect();
    let runs = cut.line.intervals(piece).into_iter().filter(|_| cut.places.pieces[piece].thin);
    let thin: Vec<Vec<Point>> =
        runs.map(|run| cut.trace(piece, run.clone(), &cut.places.face_line(piece, run, 0.0))).collect();
    let ends = thin.iter().flat_map(|line| [line.first(), line.last()]).flatten().copied();
    let bends = thin.iter().flat_map(|line| line.windows(3).filter(|p| is_bend(p)).map(|p| p[1]));
    let corners = bodies.iter().flatten().copied().chain(ends).chain(bends).collect();
    let closed = bodies.iter().map(|body| body.iter().chain(body.first()).copied().collect());
    Drawn { lines: closed.chain(thin.iter().cloned()).collect(), corners }
}

impl Drawn {
    /// Some of it lies in an area.
    pub(super) fn meets(&self, area: Area) -> bool {
        self.lines.iter().flat_map(|line| line.windows(2)).any(|pair| area.meets(pair[0], pair[1]))
    }
}

/// Turned by more than a slope: as over an edge.
fn is_bend(p: &[Point]) -> bool {
    let ([ax, ay], [bx, by]) = ([p[1].x - p[0].x, p[1].y - p[0].y], [p[2].x - p[1].x, p[2].y - p[1].y]);
    let long = ax.hypot(ay).min(bx.hypot(by));
    long > SHORT && (ax * bx + ay * by) < 0.7 * ax.hypot(ay) * bx.hypot(by)
}

/// A shorter leg of a bend is a step over an edge of what lies below, mm of paper.
const SHORT: f64 = 4.0;
