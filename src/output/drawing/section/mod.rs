//! The section: a detail seen from the side, or in plan, cut along one line.

mod drops;
mod fixing;
mod frame;
mod line;
mod place;
mod solid;

pub use fixing::rows;
pub use line::{Line, axis};

use crate::facts::face::Coordinate;
use crate::model::Axis;
use crate::output::drawing::dimension;
use crate::output::drawing::lettering::{SMALL, THIN, WORDS, width};
use crate::output::drawing::mark::{self, Mark, RADIUS};
use crate::output::drawing::page::{self, MARGIN};
use crate::output::drawing::ruler::{self, Ruler, millimetres};
use crate::output::drawing::scene::{Anchor, Ink, Pen, Point, Scene, Shape};
use crate::output::drawing::spread::spread;
use crate::output::drawing::subject::Subject;
use crate::quantity::Quantity;
use frame::Frame;
use place::Places;

/// Room for the line, mm of paper.
const MOST: f64 = 185.0;

/// Width of the column of names.
const NAMES: f64 = 62.0;

/// The section of a detail along `line`, with the marks of its findings.
pub fn section(subject: &Subject, line: &Line) -> Scene {
    let coordinates = edges(subject, line);
    let scale = ruler::scale(&coordinates, MOST);
    let ruler = Ruler::new(&coordinates, scale);
    let along = line.steps.iter().map(|s| [ruler.at(s.extent.low), ruler.at(s.extent.high)]).collect();
    let places = Places::new(subject.detail, line, along, scale);
    let sheet = Sheet { subject, line, ruler: &ruler, places: &places };
    let (shapes, width, height) = match line.axis {
        Axis::Up => sheet.upright(scale),
        Axis::Along => sheet.plan(scale),
    };
    let view = if line.axis == Axis::Up { "Section" } else { "Plan" };
    let title = format!("{view} of {}", page::name(subject.detail));
    let description = page::description(subject, &line.pieces());
    Scene { width, height, scale: 1.0, title, description, shapes }.at_scale(scale)
}

/// All places along the line at which something is.
fn edges(subject: &Subject, line: &Line) -> Vec<Coordinate> {
    let detail = subject.detail;
    let mut edges: Vec<Coordinate> = line.steps.iter().flat_map(|s| [s.extent.low, s.extent.high]).collect();
    let mut add = |at: &Quantity| edges.push((at.si * 1e9).round() as Coordinate);
    detail.folds.iter().filter(|f| f.axis == line.axis).for_each(|f| add(&f.at));
    detail.seals.iter().filter_map(|s| s.at.as_ref()).filter(|at| at.0 == line.axis).for_each(|at| add(&at.1));
    for fastening in detail.fastenings.iter().filter(|f| fixing::stands(f, line)) {
        let extent = if line.axis == Axis::Up { fastening.up } else { fastening.along };
        [extent.low, extent.high].iter().flatten().for_each(&mut add);
    }
    if line.axis == Axis::Up {
        let sheltered = detail.sheltered.unwrap_or_default();
        detail.grade.iter().for_each(|grade| add(&grade.value));
        [sheltered.low, sheltered.high].iter().flatten().for_each(&mut add);
        detail.weeps.iter().filter_map(|w| w.up.as_ref()).for_each(add);
    }
    edges
}

struct Sheet<'a> {
    subject: &'a Subject<'a>,
    line: &'a Line,
    ruler: &'a Ruler,
    places: &'a Places,
}

impl Sheet<'_> {
    fn upright(&self, scale: f64) -> (Vec<Shape>, f64, f64) {
        let levels = page::levels(self.subject, self.line.axis, self.ruler);
        let level_width = dimension::room(&levels);
        let [inner, outer] = self.places.reach;
        let body_left = MARGIN + level_width + 9.0;
        let marks_at = body_left - inner + outer + 10.0;
        let names_at = marks_at + RADIUS + 5.0;
        let page_width = (names_at + NAMES + MARGIN).max(170.0);
        let (mut shapes, top) = page::heading(self.subject, &self.caption(scale), page_width);
        let top = top + 7.0;
        let frame = Frame { axis: Axis::Up, origin: Point::new(body_left - inner, top + self.ruler.length()) };
        shapes.extend(sides(&frame, Point::new(frame.origin.x, top - 3.0)));
        shapes.extend(self.body(&frame));

        let heights: Vec<(f64, String)> =
            levels.into_iter().rev().map(|(at, words)| (frame.at(at, 0.0).y, words)).collect();
        shapes.push(dimension::upright(&heights, body_left - 5.0, top, frame.origin.y));

        let mut bottom = frame.origin.y;
        let names = self.names(&frame);
        let lines: Vec<Vec<String>> =
            names.iter().map(|(piece, _)| page::label(self.subject, *piece, NAMES, false)).collect();
        let lengths: Vec<f64> = lines.iter().map(|l| l.len() as f64 * page::LABEL_LINE + 1.2).collect();
        let wanted: Vec<f64> = names.iter().map(|(_, at)| at.y).collect();
        let middles = spread(&wanted, &lengths, top);
        for (((piece, at), words), (middle, length)) in names.iter().zip(&lines).zip(middles.iter().zip(&lengths)) {
            let first = middle - length / 2.0 + 0.6 + WORDS;
            let elbow = Point::new(names_at - 3.0, first - WORDS / 2.0);
            let path = vec![*at, elbow, Point::new(names_at - 0.8, elbow.y)];
            shapes.push(page::named(*piece, path, Point::new(names_at, first), words));
            bottom = bottom.max(middle + length / 2.0);
        }
        let (placed, unplaced) = self.marked(&frame);
        let wanted: Vec<f64> = placed.iter().map(|(_, at)| at.y).collect();
        let middles = spread(&wanted, &vec![2.0 * RADIUS + 1.0; wanted.len()], top);
        for ((entry, at), middle) in placed.iter().zip(&middles) {
            let center = Point::new(marks_at, *middle);
            shapes.push(mark::pointer(entry.number, vec![center, *at]));
            shapes.push(mark::mark(center, **entry));
            bottom = bottom.max(middle + RADIUS);
        }

        self.foot(shapes, &unplaced, bottom, page_width)
    }

    fn plan(&self, scale: f64) -> (Vec<Shape>, f64, f64) {
        let levels = page::levels(self.subject, self.line.axis, self.ruler);
        let [inner, outer] = self.places.reach;
        let left = MARGIN + 12.0;
        let names = self.names(&Frame { axis: Axis::Along, origin: Point::new(left, 0.0) });
        let words: Vec<String> =
            names.iter().map(|(piece, _)| page::label(self.subject, *piece, 10_000.0, false).join(" ")).collect();
        let reach = names.iter().zip(&words).map(|((_, at), words)| at.x + 2.0 + width(words, WORDS));
        let page_width = reach.fold(left + self.ruler.length() + 12.0, f64::max).max(170.0) + MARGIN;
        let (mut shapes, top) = page::heading(self.subject, &self.caption(scale), page_width);

        let spine = top + 10.0;
        let places: Vec<(f64, String)> = levels.into_iter().map(|(at, words)| (left + at, words)).collect();
        let (dimension, reach) = dimension::level(&places, spine, left, left + self.ruler.length(), false);
        let page_width = page_width.max(reach + MARGIN);
        shapes.push(dimension);
        let frame = Frame { axis: Axis::Along, origin: Point::new(left, spine + 5.0 - inner) };
        let side = |out: f64, words: &str| {
            Shape::text(Point::new(left - 1.5, frame.at(0.0, out).y), SMALL, words)
                .anchored(Anchor::End)
                .inked(Ink::Dark)
        };
        shapes.extend([side(-1.0, "inside"), side(SMALL + 1.0, "outside")]);
        shapes.extend(self.body(&frame));

        let (mut placed, unplaced) = self.marked(&frame);
        placed.sort_by(|a, b| a.1.x.total_cmp(&b.1.x));
        let row = frame.at(0.0, outer).y + 9.0;
        let wanted: Vec<f64> = placed.iter().map(|(_, at)| at.x).collect();
        let middles = spread(&wanted, &vec![2.0 * RADIUS + 1.0; wanted.len()], left);
        for ((entry, at), middle) in placed.iter().zip(&middles) {
            let center = Point::new(*middle, row);
            shapes.push(mark::pointer(entry.number, vec![center, *at]));
            shapes.push(mark::mark(center, **entry));
        }
        // Names stand like stairs, the rightmost highest, so that no line crosses a name.
        let names = self.names(&frame);
        let mut order: Vec<usize> = (0..names.len()).collect();
        order.sort_by(|a, b| names[*b].1.x.total_cmp(&names[*a].1.x));
        let mut bottom = row + RADIUS + 2.0;
        for n in order {
            let (piece, at) = names[n];
            bottom += page::LABEL_LINE + 0.8;
            let path = vec![at, Point::new(at.x, bottom - WORDS / 2.0), Point::new(at.x + 1.4, bottom - WORDS / 2.0)];
            shapes.push(page::named(piece, path, Point::new(at.x + 2.0, bottom), std::slice::from_ref(&words[n])));
        }
        self.foot(shapes, &unplaced, bottom, page_width)
    }

    /// All that lies on the wall itself.
    fn body(&self, frame: &Frame) -> Vec<Shape> {
        let mut shapes = solid::ground(self.subject, self.ruler, self.places, frame);
        shapes.extend(solid::pieces(self.subject, self.line, self.places, frame));
        shapes.extend(fixing::bonds(self.subject, self.line, self.places, frame));
        shapes.extend(fixing::fastenings(self.subject, self.line, self.ruler, self.places, frame));
        shapes.extend(fixing::beads(self.subject, self.line, self.ruler, self.places, frame));
        shapes.extend(fixing::weeps(self.subject, self.line, self.ruler, self.places, frame));
        shapes.extend(solid::folds(self.subject, self.line, self.ruler, self.places, frame));
        shapes.extend(solid::breaks(self.ruler, self.places, frame));
        if self.line.axis == Axis::Up {
            let ways = drops::ways(self.subject, self.line);
            shapes.extend(ways.iter().map(|way| drops::draw(way, self.line, self.places, frame)));
        }
        shapes
    }

    /// The findings on this line with the points they mean, in the order of these points; and those that have none.
    fn marked(&self, frame: &Frame) -> (Vec<(&Mark<'_>, Point)>, Vec<usize>) {
        let (mut placed, mut unplaced) = (Vec::new(), Vec::new());
        for entry in self.subject.marks {
            match self.place_of(entry) {
                Some((along, out)) => placed.push((entry, frame.at(along, out))),
                None => unplaced.push(entry.number),
            }
        }
        placed.sort_by(|a, b| a.1.y.total_cmp(&b.1.y));
        (placed, unplaced)
    }

    /// Where a finding lies: on its first piece, where that meets the second if it does.
    fn place_of(&self, entry: &Mark) -> Option<(f64, f64)> {
        let pieces = mark::pieces(self.subject.detail, entry.finding);
        let first = *pieces.iter().find(|p| self.line.has(**p))?;
        let of = |piece: usize| (0..self.line.steps.len()).filter(move |n| self.line.steps[*n].stack.contains(&piece));
        let both: Vec<usize> = match pieces.iter().find(|p| **p != first && self.line.has(**p)) {
            Some(second) => of(first).filter(|n| self.line.steps[*n].stack.contains(second)).collect(),
            None => Vec::new(),
        };
        let steps = if both.is_empty() { of(first).collect() } else { both };
        let longest = steps.iter().copied().max_by(|a, b| {
            let length = |n: usize| self.places.along(n)[1] - self.places.along(n)[0];
            length(*a).total_cmp(&length(*b)).then(b.cmp(a))
        })?;
        let [low, high] = self.places.along(longest);
        // Off the middle, where the drops of open ends and the names point.
        Some((low + 0.45 * (high - low), self.places.middle(first, longest)))
    }

    /// The point that the name of each piece on the line points at, from the top down.
    fn names(&self, frame: &Frame) -> Vec<(usize, Point)> {
        let mut names: Vec<(usize, Point)> = self
            .line
            .pieces()
            .into_iter()
            .filter_map(|piece| {
                let steps = (0..self.line.steps.len()).filter(|n| self.line.steps[*n].stack.contains(&piece));
                let length = |n: usize| self.places.along(n)[1] - self.places.along(n)[0];
                let outmost = |n: usize| self.line.steps[n].stack.last() == Some(&piece);
                let best = steps.max_by(|a, b| {
                    outmost(*a).cmp(&outmost(*b)).then(length(*a).total_cmp(&length(*b))).then(b.cmp(a))
                })?;
                let [low, high] = self.places.along(best);
                let part = 0.3 + 0.4 * (piece % 5) as f64 / 4.0;
                Some((piece, frame.at(low + part * (high - low), self.places.middle(piece, best))))
            })
            .collect();
        names.sort_by(|a, b| a.1.y.total_cmp(&b.1.y).then(a.1.x.total_cmp(&b.1.x)));
        names
    }

    fn caption(&self, scale: f64) -> String {
        let view = if self.line.axis == Axis::Up { "Section" } else { "Plan" };
        let across = if self.line.axis == Axis::Up { "along" } else { "up" };
        let side = if self.line.axis == Axis::Up { "outside on the right" } else { "outside below" };
        let bound = |c, words: &str| {
            (c != i64::MIN && c != i64::MAX).then(|| format!("{words} {}", self.subject.length(millimetres(c))))
        };
        let bounds: Vec<String> =
            [bound(self.line.at.low, "from"), bound(self.line.at.high, "to")].into_iter().flatten().collect();
        let place = if bounds.is_empty() { String::new() } else { format!(" ({across} {})", bounds.join(" ")) };
        format!("{view}{place}, 1:{scale}, unfolded; membranes spread apart; {side}")
    }

    fn foot(&self, mut shapes: Vec<Shape>, unplaced: &[usize], bottom: f64, page_width: f64) -> (Vec<Shape>, f64, f64) {
        let (list, end) = page::foot(self.subject, unplaced, bottom + 7.0, page_width);
        shapes.extend(list);
        (shapes, page_width, end)
    }
}

fn sides(frame: &Frame, at: Point) -> Vec<Shape> {
    let word = |words: &str, anchor: Anchor, dx: f64| {
        Shape::text(Point::new(at.x + dx, at.y), SMALL, words).anchored(anchor).inked(Ink::Dark)
    };
    let tick = vec![Point::new(frame.origin.x, at.y + 0.8), Point::new(frame.origin.x, at.y - SMALL)];
    vec![
        word("inside", Anchor::End, -1.5),
        word("outside", Anchor::Start, 1.5),
        Shape::line(tick, Pen::solid(THIN, Ink::Dark)),
    ]
}
