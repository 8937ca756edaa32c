//! The places on a piece at which a name may point: on it as it is drawn, and where nothing lies before it.

use crate::output::drawing::clip;
use crate::output::drawing::scene::Point;
use crate::output::drawing::section::cut::Cut;
use crate::output::drawing::section::{cant, joint, part, pipe, unit};

/// Places on a piece at which its name may point: in its longest open part, in order of preference by themselves.
pub(super) fn places(cut: &Cut, piece: usize, outlines: &[(usize, Vec<Vec<Point>>)]) -> Vec<Point> {
    if cut.places.pieces[piece].cant {
        return cant::within(cut, piece);
    }
    if let Some(block) = joint::block(cut, piece) {
        let middle = |p: Point| Point::new((p.x + block[0].x) / 2.0, (p.y + block[0].y) / 2.0);
        return [block[2]].map(middle).to_vec();
    }
    let steps = (0..cut.line.steps.len()).filter(|n| cut.places.slot(piece, *n).is_some());
    let shown = |n: usize| part::shown(cut, piece, n);
    let length = |n: usize| shown(n)[1] - shown(n)[0];
    // What a pipe stands out of is not seen there.
    let free = |n: usize| !cut.line.steps[n].stack.iter().any(|p| *p != piece && pipe::passes(cut, *p));
    let outmost = |n: usize| (free(n), cut.line.steps[n].stack.last() == Some(&piece) && length(n) > ROOM);
    let best =
        steps.max_by(|a, b| outmost(*a).cmp(&outmost(*b)).then(length(*a).total_cmp(&length(*b))).then(b.cmp(a)));
    let Some((best, [inner, outer])) = best.and_then(|n| Some((n, cut.places.slot(piece, n)?))) else {
        return Vec::new();
    };
    let [low, high] = shown(best);
    let line = cut.places.pieces[piece].thin || unit::spot(cut, piece, best, low).is_some();
    let depths: &[f64] = if line { &[0.5] } else { &[0.5, 0.3, 0.7] };
    let parts = [0.3, 0.4, 0.5, 0.6, 0.7, 0.2, 0.8, 0.1, 0.9];
    let between = [0.25, 0.35, 0.45, 0.55, 0.65, 0.75, 0.15, 0.85, 0.05, 0.95];
    let along = parts
        .into_iter()
        .chain(between)
        .flat_map(|part| depths.iter().map(move |depth| (low + part * (high - low), *depth)));
    let spot = spots(cut, piece, best);
    if line {
        return along.map(|(along, _)| spot(along)).collect();
    }
    let stated = along.map(|(along, depth)| cut.on(piece, best, along, inner + depth * (outer - inner)));
    seen(outlines, piece, stated.collect())
}

/// The places that lie on a body as it is drawn, and under no other. Where there are none, all such places of the body.
fn seen(outlines: &[(usize, Vec<Vec<Point>>)], piece: usize, stated: Vec<Point>) -> Vec<Point> {
    let holds = |bodies: &[Vec<Point>], at: Point| bodies.iter().any(|body| clip::holds(body, at));
    let Some(n) = outlines.iter().position(|(own, bodies)| *own == piece && !bodies.is_empty()) else { return stated };
    let free = |at: &Point| !outlines[n + 1..].iter().any(|(_, bodies)| holds(bodies, *at));
    let own = &outlines[n].1;
    let open: Vec<Point> = stated.iter().copied().filter(|at| holds(own, *at) && free(at)).collect();
    if !open.is_empty() {
        return open;
    }
    let grid: Vec<Point> = own.iter().flat_map(|body| grid(body)).filter(|at| holds(own, *at)).collect();
    let open: Vec<Point> = grid.iter().copied().filter(free).collect();
    [open, grid, stated].into_iter().find(|places| !places.is_empty()).unwrap_or_default()
}

/// Points all over the room that an outline takes.
fn grid(outline: &[Point]) -> Vec<Point> {
    let at = |pick: fn(&Point) -> f64, part: f64| {
        let (low, high) = outline.iter().map(pick).fold((f64::MAX, f64::MIN), |(l, h), v| (l.min(v), h.max(v)));
        low + part * (high - low)
    };
    let parts = || (0..GRID).map(|n| (n as f64 + 0.5) / GRID as f64);
    parts()
        .flat_map(|x| parts().map(move |y| (x, y)))
        .map(|(x, y)| Point::new(at(|p| p.x, x), at(|p| p.y, y)))
        .collect()
}

/// In how many parts a body is searched for a place that is seen.
const GRID: usize = 24;

/// In a shorter part of a piece, mm, a leader seems to end at what lies beside it.
const ROOM: f64 = 3.5;

/// Points on a piece; of what fills an opening, on its frame or its pane.
pub(super) fn spots<'c>(cut: &'c Cut, piece: usize, step: usize) -> impl Fn(f64) -> Point + use<'c> {
    let thin = cut.places.pieces[piece].thin;
    let line = if thin { cut.places.face_line(piece, cut.interval(piece, step), 0.0) } else { Vec::new() };
    move |along| {
        let own = || if thin { drawn(cut, piece, step, &line, along) } else { cut.places.middle(piece, step) };
        let (along, out) = unit::spot(cut, piece, step, along).unwrap_or_else(|| (along, own()));
        cut.on(piece, step, along, out)
    }
}

/// How far out a membrane is drawn there, by the line that it is drawn along.
fn drawn(cut: &Cut, piece: usize, step: usize, line: &[(f64, f64)], along: f64) -> f64 {
    let part = line.windows(2).find(|pair| pair[1].0 - pair[0].0 > 1e-9 && (pair[0].0..=pair[1].0).contains(&along));
    part.map_or(cut.places.middle(piece, step), |pair| {
        let [(a, out_a), (b, out_b)] = [pair[0], pair[1]];
        out_a + (along - a) / (b - a) * (out_b - out_a)
    })
}
