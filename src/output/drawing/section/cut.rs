//! A detail cut along a line, laid out on paper.

use std::ops::Range;

use crate::facts::bend;
use crate::facts::nanometres;
use crate::output::drawing::paper::SPREAD;
use crate::output::drawing::ruler::Ruler;
use crate::output::drawing::scene::Point;
use crate::output::drawing::section::cant::Cant;
use crate::output::drawing::section::edges::edges;
use crate::output::drawing::section::foot::{self, Foot, feet};
use crate::output::drawing::section::inside;
use crate::output::drawing::section::joint;
use crate::output::drawing::section::line::SectionLine;
use crate::output::drawing::section::opening::{Opening, openings, walls};
use crate::output::drawing::section::parapet::{self, Top};
use crate::output::drawing::section::place::{Crest, Places, Turn};
use crate::output::drawing::section::spine::Spine;
use crate::output::drawing::section::{ended, ends, soil};
use crate::output::drawing::subject::Subject;

pub struct Cut<'a> {
    pub subject: &'a Subject<'a>,
    pub line: &'a SectionLine,
    pub ruler: Ruler,
    pub places: Places,
    pub spine: Spine,
    pub openings: Vec<Opening>,
    /// Of each step, whether the wall is cut in it.
    pub walls: Vec<bool>,
    /// The top of a parapet.
    pub top: Option<Top>,
    /// What stands at the feet of walls.
    pub feet: Vec<Foot>,
    /// The lines of the membranes of the outer face.
    pub membranes: Vec<Vec<Point>>,
    /// Where the low end of the line is broken off above grade.
    pub broken_off: Option<f64>,
    /// mm of the building for each mm of paper.
    pub scale: f64,
}

impl<'a> Cut<'a> {
    pub fn new(subject: &'a Subject<'a>, line: &'a SectionLine, scale: f64) -> Cut<'a> {
        let (bend, top) = parapet::bend(subject, line.axis);
        let ruler = Ruler::new(&edges(subject, line), scale, subject.whole);
        let closed = ends::top_of_parapet(subject, line, &bend).is_some();
        let ruler = if closed { ruler.ending_close(scale) } else { ruler };
        let along = line.steps.iter().map(|s| [ruler.at(s.extent.low), ruler.at(s.extent.high)]).collect();
        let mut spine = Spine::new(&bend, &ruler);
        let folds = bend.legs.windows(2).enumerate().map(|(fold, legs)| Turn {
            at: ruler.at(legs[1].extent.low),
            opens: legs[1].heading > legs[0].heading,
            opening: false,
            lies_above: spine.edge_of(fold).map(|roof| roof > fold),
        });
        let edges = bend::openings(subject.detail, line.axis).map(|fold| Turn {
            at: ruler.at(nanometres(fold.at)),
            opens: true,
            opening: true,
            lies_above: None,
        });
        let crest = top.as_ref().map(|top| Crest {
            along: [ruler.at(top.from), ruler.at(top.to)],
            bodies: top.bodies.clone(),
            lined: top.lined,
        });
        let mut places = Places::new(subject, line, along, folds.chain(edges).collect(), crest, scale);
        if let Some(top) = &top {
            // Membranes within the wall take room on paper: the outer face lies where the body ends.
            let body = |p: &usize| (0..line.steps.len()).filter_map(|n| places.slot(*p, n)).map(|slot| -slot[0]).next();
            let deep = top.bodies.iter().filter_map(body).fold(0.0, f64::max);
            let more = deep - (ruler.at(top.to) - ruler.at(top.from));
            spine.widen(if top.lined { more.max(0.0) } else { more });
        }
        let feet = feet(line, &places, &spine, scale);
        feet.iter().for_each(|foot| spine.end_before(foot.fold, foot.wall, foot.out));
        let walls = walls(subject, line, &places);
        let openings = openings(subject, line, &places, &spine, &walls);
        for opening in openings.iter().filter(|opening| opening.only.is_none()) {
            let takes = |piece: &usize, step: usize| {
                let whole = line.intervals(*piece).into_iter().find(|interval| interval.contains(&step));
                whole.is_some_and(|interval| opening.takes(subject, line, &places, *piece, &interval))
            };
            let lining: Vec<(usize, Vec<usize>)> = opening
                .steps
                .clone()
                .map(|n| (n, line.steps[n].stack.iter().copied().filter(|piece| takes(piece, n)).collect()))
                .collect();
            lining.iter().for_each(|(n, lining)| places.line_opening(*n, &line.steps[*n].stack, lining));
        }
        let (membranes, broken_off) = (Vec::new(), None);
        let mut cut =
            Cut { subject, line, ruler, places, spine, openings, walls, top, feet, membranes, broken_off, scale };
        cut.broken_off = soil::broken_off(&cut);
        cut.membranes = ended::membranes(&cut);
        cut
    }

    /// The line that a piece follows in a run of steps.
    pub fn spine_of(&self, piece: usize, interval: &Range<usize>) -> &Spine {
        let opening = self.openings.iter().find(|o| o.takes(self.subject, self.line, &self.places, piece, interval));
        opening.map_or(&self.spine, |opening| &opening.spine)
    }

    /// The run of steps of a piece that a step belongs to.
    pub fn interval(&self, piece: usize, step: usize) -> Range<usize> {
        let has = |n: &usize| self.line.steps[*n].stack.contains(&piece);
        let low = (0..step).rev().take_while(has).last().unwrap_or(step);
        let high = (step + 1..self.line.steps.len()).take_while(has).last().unwrap_or(step);
        low..high + 1
    }

    /// A place on a piece in a step.
    pub fn on(&self, piece: usize, step: usize, along: f64, out: f64) -> Point {
        let [low, high] = self.places.along(step);
        if self.subject.detail.pieces[piece].inside && self.places.pieces[piece].thin {
            return inside::place(self, piece, step, along, out);
        }
        let interval = self.interval(piece, step);
        if let Some(dam) = joint::upright(self, piece, &interval) {
            return dam.on(along, out);
        }
        let slant = |cant: Cant| cant.slant(self, along, out, (low + high) / 2.0 > self.spine.span(cant.fold)[1]);
        if let Some(point) = self.cant(piece, &interval).and_then(slant) {
            return point;
        }
        let below = self.sill_of(piece, &interval).is_some_and(|sill| along < sill.at);
        let spine = if below { &self.spine } else { self.spine_of(piece, &interval) };
        let leg = spine.leg_from(along, (low + high) / 2.0 - along);
        if self.straight(piece, &interval) {
            return spine.raw(leg, along, out);
        }
        // What turns at a fold has its own corner there.
        let corner = |other: usize, beside: Option<usize>| {
            let n = beside.filter(|n| interval.contains(n) && self.places.slot(piece, *n).is_some())?;
            Some(spine.local(leg, spine.corner([leg, other], [out, self.places.surface(piece, n)])).0)
        };
        let span = spine.span(leg);
        let low = leg.checked_sub(1).and_then(|other| corner(other, self.around(span[0])[0]));
        let high = Some(leg + 1).filter(|o| *o < spine.legs()).and_then(|other| corner(other, self.around(span[1])[1]));
        spine.between(leg, along, out, [low, high])
    }

    /// On one leg alone nothing stops at the line that halves a corner: a membrane within a roof runs to the face of the wall as the deck
    /// does, and what hangs above a roof, clear of all that lies on it, hangs as far out as it does.
    fn straight(&self, piece: usize, interval: &Range<usize>) -> bool {
        let [low, high] = self.real(piece, interval);
        let leg = self.spine.leg_from((low + high) / 2.0, 1.0);
        let span = self.spine.span(leg);
        let skin = self.places.is_skin(piece);
        let in_roof = || self.places.pieces[piece].thin && !skin && self.spine.lies(leg);
        let before = |end: usize| foot::of(self, leg, end).map_or(0.0, |foot| foot.out);
        let reach =
            |n: Option<usize>, end: usize| n.map_or(f64::MAX, |n| self.places.reach(n)[1] - before(end) + SPREAD);
        let [below, above] = [self.around(span[0])[0], self.around(span[1])[1]];
        let clear_below = || leg == 0 || low - span[0] > reach(below, 0);
        let clear_above = || leg + 1 == self.spine.legs() || span[1] - high > reach(above, 1);
        span[0] < low + 1e-6 && high < span[1] + 1e-6 && (in_roof() || skin && clear_below() && clear_above())
    }

    /// A line over a piece, on paper.
    pub fn trace(&self, piece: usize, interval: Range<usize>, line: &[(f64, f64)]) -> Vec<Point> {
        let whole = self.interval(piece, interval.start);
        let [low, high] = self.real(piece, &whole);
        let line: Vec<(f64, f64)> = line.iter().map(|(along, out)| (along.clamp(low, high), *out)).collect();
        let line = &line[..];
        if self.subject.detail.pieces[piece].inside && self.places.pieces[piece].thin {
            return inside::trace(self, piece, interval.start, line);
        }
        if let Some(dam) = joint::upright(self, piece, &whole) {
            return line.iter().map(|(along, out)| dam.on(*along, *out)).collect();
        }
        if let Some(cant) = self.cant(piece, &whole) {
            return cant.trace(self, line);
        }
        if let Some(sill) = self.sill_of(piece, &whole) {
            return self.over_sill(sill, line);
        }
        let spine = self.spine_of(piece, &whole);
        let mut points = if self.straight(piece, &whole) { spine.trace_through(line) } else { spine.trace(line) };
        foot::go_under(self, piece, line, &mut points);
        points
    }

    /// The sill over which a membrane goes that lies within the wall.
    fn sill_of(&self, piece: usize, interval: &Range<usize>) -> Option<&Opening> {
        let takes = |o: &&Opening| o.takes(self.subject, self.line, &self.places, piece, interval);
        let within = !self.places.is_skin(piece) && self.places.pieces[piece].thin;
        self.openings.iter().find(takes).filter(|opening| within && opening.above && opening.only.is_none())
    }

    /// Up behind what lies on the wall, and on from there over its top.
    fn over_sill(&self, sill: &Opening, line: &[(f64, f64)]) -> Vec<Point> {
        let below = line.iter().take_while(|(along, _)| *along < sill.at - 1e-6).last();
        let deep = below.map_or(0.0, |(_, out)| -out);
        let up = below.map(|(_, out)| (sill.at, *out));
        let over = line.iter().filter(|(along, _)| *along > sill.at + deep + 1e-6).copied();
        let before = line.iter().take_while(|(along, _)| *along < sill.at - 1e-6).copied();
        let leg = sill.spine.leg_from(sill.at, 1.0);
        let mut points = self.spine.trace(&before.chain(up).collect::<Vec<(f64, f64)>>());
        points.extend(over.map(|(along, out)| sill.spine.raw(leg, along, out)));
        points
    }

    /// The wedge that a piece lies on which follows the line of the wall.
    fn cant(&self, piece: usize, interval: &Range<usize>) -> Option<Cant> {
        let opens = |o: &&Opening| o.takes(self.subject, self.line, &self.places, piece, interval);
        if self.openings.iter().any(|opening| opens(&opening)) {
            return None;
        }
        Cant::under(self, piece, interval)
    }

    /// From where to where a piece really reaches in a run of steps.
    pub fn real(&self, piece: usize, steps: &Range<usize>) -> [f64; 2] {
        let Some(last) = steps.end.checked_sub(1).filter(|last| *last >= steps.start) else { return [0.0, 0.0] };
        let stretch = [self.line.steps[steps.start].extent.low, self.line.steps[last].extent.high];
        let real = self.subject.real(piece, self.line.axis, self.line.at, stretch).map(|at| self.ruler.at(at));
        let least = self.broken_off.unwrap_or(0.0);
        real.map(|at| at.max(least))
    }

    /// The piece is the body of a parapet, and ends under its top at that place on the line.
    pub fn ends_under_top(&self, piece: usize, along: f64) -> bool {
        let top = self.top.as_ref().filter(|top| top.bodies.contains(&piece));
        top.is_some_and(|top| along > self.ruler.at(top.from) - 1e-6)
    }

    /// The step just below a place on the line, and the one just above it.
    pub fn around(&self, along: f64) -> [Option<usize>; 2] {
        let count = self.line.steps.len();
        let below = (0..count).rev().find(|n| (self.places.along(*n)[1] - along).abs() < 1e-6);
        let above = (0..count).find(|n| (self.places.along(*n)[0] - along).abs() < 1e-6);
        [below, above]
    }

    /// How deep the solid pieces of the datum reach inboard in a step.
    pub fn depth(&self, step: usize) -> f64 {
        self.depth_without(step, usize::MAX)
    }

    /// The same without one of them.
    pub fn depth_without(&self, step: usize, piece: usize) -> f64 {
        let solid = |p: &&usize| **p != piece && !self.places.pieces[**p].thin && !self.places.is_skin(**p);
        let inner = self.line.steps[step].stack.iter().filter(solid).filter_map(|p| self.places.slot(*p, step));
        inner.fold(0.0, |low: f64, slot| low.min(slot[0]))
    }
}
