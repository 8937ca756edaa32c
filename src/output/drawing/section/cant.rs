//! Wedges in the corner of a roof and a wall, and what goes over them aslant.

use std::ops::Range;

use crate::output::drawing::hatch::hatch_of;
use crate::output::drawing::paper::CUT;
use crate::output::drawing::scene::{Ink, Pen, Point, Role, Shape};
use crate::output::drawing::section::cut::Cut;
use crate::output::drawing::section::foot;
use crate::output::drawing::section::solid::hatched;

/// A wedge on a line: where its two sides end, mm of paper, and the fold between them.
#[derive(Clone, Copy)]
pub struct Cant {
    piece: usize,
    pub fold: usize,
    sides: [f64; 2],
}

impl Cant {
    /// Every wedge on the line.
    fn all(cut: &Cut) -> Vec<Cant> {
        let one = |piece: usize, steps: Range<usize>| {
            let sides = cut.real(piece, &steps);
            let within = |fold: &usize| sides[0] < cut.spine.span(*fold)[1] && cut.spine.span(*fold)[1] < sides[1];
            Some(Cant { piece, fold: (0..cut.spine.legs() - 1).find(within)?, sides })
        };
        let wedges = (0..cut.places.pieces.len()).filter(|p| cut.places.pieces[*p].cant);
        wedges
            .flat_map(|piece| cut.line.intervals(piece).into_iter().filter_map(move |steps| one(piece, steps)))
            .collect()
    }

    /// The wedge that a piece lies on.
    pub fn under(cut: &Cut, piece: usize, steps: &Range<usize>) -> Option<Cant> {
        let over = |n: &usize, wedge: usize| {
            let stack = &cut.line.steps[*n].stack;
            let at = |p: usize| stack.iter().position(|q| *q == p);
            at(wedge).is_some_and(|wedge| at(piece).is_some_and(|own| own > wedge))
        };
        let lies = |cant: &Cant| steps.clone().any(|n| over(&n, cant.piece));
        Cant::all(cut).into_iter().filter(|_| !cut.places.pieces[piece].cant).find(lies)
    }

    /// A place on its slant: so far along the line, and out from its lower side, or from its upper one.
    pub fn slant(&self, cut: &Cut, along: f64, out: f64, upper: bool) -> Option<Point> {
        let [low, high] = self.sides;
        let part = (along - low) / (high - low);
        // It stands before what stands at the wall.
        let foot =
            [foot::of(cut, self.fold + 1, 0), foot::of(cut, self.fold, 1)].map(|foot| foot.map_or(0.0, |f| f.out));
        let other = foot[0] - foot[1];
        let outs = if upper { [out + other, out] } else { [out, out - other] };
        (-1e-9..=1.0 + 1e-9).contains(&part).then(|| {
            let (p, q) = (cut.spine.on(self.fold, low, outs[0]), cut.spine.on(self.fold + 1, high, outs[1]));
            Point::new(p.x + part * (q.x - p.x), p.y + part * (q.y - p.y))
        })
    }

    /// A line over it, on paper: to its one side, along its slant, and on from the other.
    pub fn trace(&self, cut: &Cut, line: &[(f64, f64)]) -> Vec<Point> {
        let [low, high] = self.sides;
        let (mut below, mut slant, mut above) = (Vec::new(), Vec::new(), Vec::new());
        for (n, place) in line.iter().enumerate() {
            if let Some(last) = n.checked_sub(1).map(|n| line[n]) {
                for side in [low, high].into_iter().filter(|side| last.0 < side - 1e-9 && side + 1e-9 < place.0) {
                    let out = last.1 + (side - last.0) / (place.0 - last.0) * (place.1 - last.1);
                    if side == low { below.push((side, out)) } else { above.push((side, out)) }
                }
            }
            match place.0 {
                along if along <= low + 1e-9 => below.push(*place),
                along if along >= high - 1e-9 => above.push(*place),
                along => {
                    let fold = cut.spine.span(self.fold)[1];
                    let on_fold = (along - fold).abs() < 1e-9;
                    let upper = if on_fold { n > 0 && line[n - 1].0 > fold - 1e-9 } else { along > fold };
                    slant.extend(self.slant(cut, along, place.1, upper));
                }
            }
        }
        let straight = |points: Vec<(f64, f64)>| match points[..] {
            [(along, out)] => vec![cut.spine.at(along, out)],
            _ => cut.spine.trace(&points),
        };
        straight(below).into_iter().chain(slant).chain(straight(above)).collect()
    }
}

/// A wedge cut across: between what lies under it on either side.
pub fn draw(cut: &Cut, piece: usize) -> Vec<Shape> {
    let kind = hatch_of(&cut.subject.detail.pieces[piece].material);
    let wedge = |(fold, corners): (usize, [Point; 3])| {
        let corners = corners.to_vec();
        let mut filled = vec![Shape::polygon(corners.clone(), None, Some(Ink::White))];
        filled.extend(hatched(&cut.spine, fold, &corners, kind, cut.scale));
        let rim = Shape::polygon(corners, Some(Pen::solid(CUT, Ink::Black)), None);
        [Shape::group(Role::Hatch(kind), "", filled), rim]
    };
    wedges(cut, piece).into_iter().flat_map(wedge).collect()
}

/// Places within a wedge, its middle first.
pub fn within(cut: &Cut, piece: usize) -> Vec<Point> {
    let parts = [[1.0, 1.0, 1.0], [2.0, 1.0, 1.0], [1.0, 2.0, 1.0], [1.0, 1.0, 2.0]];
    let place = |corners: [Point; 3], parts: [f64; 3]| {
        let sum: f64 = parts.iter().sum();
        let of = |pick: fn(&Point) -> f64| corners.iter().zip(parts).map(|(p, part)| pick(p) * part / sum).sum();
        Point::new(of(|p| p.x), of(|p| p.y))
    };
    wedges(cut, piece).into_iter().flat_map(|(_, corners)| parts.map(|parts| place(corners, parts))).collect()
}

/// The corners of each wedge of a piece, and its fold.
fn wedges(cut: &Cut, piece: usize) -> Vec<(usize, [Point; 3])> {
    let corners = |cant: Cant| {
        let out = |along: f64, toward: f64| {
            let steps = 0..cut.line.steps.len();
            let inside =
                |n: &usize| cut.places.along(*n)[0] < along + toward && along + toward < cut.places.along(*n)[1];
            steps.clone().find(inside).and_then(|n| cut.places.slot(piece, n)).map_or(0.0, |slot| slot[0])
        };
        let [low, high] = cant.sides;
        let outs = [out(low, 1e-3), out(high, -1e-3)];
        let corners = [
            cut.spine.on(cant.fold, low, outs[0]),
            cut.spine.corner([cant.fold, cant.fold + 1], outs),
            cut.spine.on(cant.fold + 1, high, outs[1]),
        ];
        (cant.fold, corners)
    };
    Cant::all(cut).into_iter().filter(|cant| cant.piece == piece).map(corners).collect()
}
