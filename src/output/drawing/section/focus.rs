//! What the circle of an enlargement shows: the place of a finding, an edge of what is judged there, and what it meets.

use crate::facts::face::{OPEN_HIGH, OPEN_LOW};
use crate::model::MaterialKind;
use crate::output::drawing::clip::nearest;
use crate::output::drawing::mark::{self, Mark};
use crate::output::drawing::paper::CIRCLE;
use crate::output::drawing::scene::{Area, Point};
use crate::output::drawing::section::cut::Cut;
use crate::output::drawing::section::drawn::drawn;
use crate::output::drawing::section::found::place_of;
use crate::output::drawing::section::line::SectionLine;
use crate::output::drawing::section::pointing::spots;
use crate::output::drawing::section::{part, scale};
use crate::output::drawing::subject::Subject;

/// The center of a circle and its scale.
#[derive(Clone, Copy, Debug)]
pub struct Focus {
    center: Center,
    pub scale: f64,
}

#[derive(Clone, Copy, Debug)]
enum Center {
    Place,
    /// Where two pieces are closest to each other.
    Joint([usize; 2]),
    /// Half way from the place to an edge.
    Between(Edge),
    Edge(Edge),
}

/// An end of a piece, in a step of the line.
#[derive(Clone, Copy, Debug)]
struct Edge {
    piece: usize,
    step: usize,
    upper: bool,
}

/// What an edge may lie off the center, so that it does not hide at the rim, mm of paper.
const REACH: f64 = 0.46 * CIRCLE;

/// The scale of a circle that holds more than one at full size.
const HALF: f64 = 2.0;

/// The first that shows an edge or a bend of what the finding names first, and something of what that meets: around its place, or moved
/// toward a joint or an edge, at full size or at half of it. A single flat line explains nothing.
pub fn focus(subject: &Subject, line: &SectionLine, entry: &Mark) -> Option<Focus> {
    let pieces: Vec<usize> = mark::pieces(subject.detail, entry.finding).into_iter().filter(|p| line.has(*p)).collect();
    let first = *pieces.first()?;
    let (second, over) = (pieces.get(1).copied(), over_pan(subject, line, first));
    let with = second.or(over);
    let half = Some(HALF).filter(|half| scale(subject, line) > *half);
    let subject = subject.enlarged();
    let (mut enough, mut last) = (None, None);
    for scale in [Some(1.0), half].into_iter().flatten() {
        let cut = Cut::new(&subject, line, scale);
        let (own, others) = (drawn(&cut, first), line.pieces().into_iter().filter(|p| *p != first));
        let others: Vec<usize> = others.collect();
        // A pan and what lies over it are as close to each other all along: its own edge says more.
        let meeting: &[usize] = if over.is_some() { &[] } else { &others };
        let (holding, without) = centers(&cut, entry, [Some(first), second], meeting)?;
        let known = holding.into_iter().map(|center| (center, true)).chain(without.into_iter().map(|c| (c, false)));
        for (center, holds_place) in known {
            let focus = Focus { center, scale };
            let Some(at) = focus.on(&cut, entry) else { continue };
            // Any side of a body is an edge of it; what is drawn as a line shows at its ends and where it is bent.
            let edge = match cut.places.pieces[first].thin {
                true => own.corners.iter().any(|corner| far(*corner, at) < REACH),
                false => own.meets(room(at)),
            };
            let shown = |piece: &usize| drawn(&cut, *piece).meets(room(at));
            let meets = edge && others.iter().any(shown);
            if meets && holds_place && with.is_none_or(|with| shown(&with)) {
                return Some(focus);
            }
            enough = enough.or(Some(focus).filter(|_| meets));
            last = last.or(Some(focus).filter(|_| edge));
        }
    }
    enough.or(last).or(Some(Focus { center: Center::Place, scale: 1.0 }))
}

/// Centers of circles that hold the place of a finding, or the joint that it names, and then those of circles around an edge of the piece
/// that is named first, the best of both in front.
fn centers(cut: &Cut, entry: &Mark, pair: [Option<usize>; 2], others: &[usize]) -> Option<(Vec<Center>, Vec<Center>)> {
    let (first, place) = (pair[0]?, place_of(cut, entry)?);
    let mut edges: Vec<(f64, Edge)> = edges(cut.line, first).into_iter().map(|e| (far(e.on(cut), place), e)).collect();
    edges.sort_by(|a, b| a.0.total_cmp(&b.0));
    let named = pair[1].map(|with| Center::Joint([first, with]));
    let between = edges.iter().filter(|(far, _)| *far < 2.0 * REACH).map(|(_, edge)| Center::Between(*edge));
    let joints = others.iter().map(|other| Center::Joint([first, *other]));
    let mut joints: Vec<(f64, Center)> = joints.filter_map(|c| Some((far(c.on(cut, entry)?, place), c))).collect();
    // What lies along the piece meets it far away, too.
    joints.sort_by(|a, b| a.0.total_cmp(&b.0));
    let near = joints.iter().filter(|(far, _)| *far < REACH).map(|(_, center)| *center);
    let holding = [Center::Place].into_iter().chain(named).chain(between).chain(near);
    let without = edges.iter().map(|(_, edge)| Center::Edge(*edge)).chain(joints.iter().map(|(_, center)| *center));
    Some((holding.collect(), without.collect()))
}

/// What is said of a pan is said of what it stands under.
fn over_pan(subject: &Subject, line: &SectionLine, pan: usize) -> Option<usize> {
    let pieces = &subject.detail.pieces;
    let unit = |p: &usize| pieces[*p].material.kind == Some(MaterialKind::Unit);
    let is_pan = pieces[pan].role.as_deref() == Some("pan");
    let mut stacks = line.steps.iter().map(|step| &step.stack).filter(|stack| is_pan && stack.contains(&pan));
    stacks.find_map(|stack| stack.iter().copied().find(unit))
}

fn far(a: Point, b: Point) -> f64 {
    (a.x - b.x).hypot(a.y - b.y)
}

/// The square within the circle.
fn room(at: Point) -> Area {
    let half = CIRCLE / 2.0 * std::f64::consts::FRAC_1_SQRT_2;
    Area::new(at.x - half, at.y - half, at.x + half, at.y + half)
}

fn half_way(a: Point, b: Point) -> Point {
    Point::new((a.x + b.x) / 2.0, (a.y + b.y) / 2.0)
}

impl Focus {
    /// Where its center lies on a section of any scale.
    pub fn on(&self, cut: &Cut, entry: &Mark) -> Option<Point> {
        self.center.on(cut, entry)
    }
}

impl Center {
    fn on(self, cut: &Cut, entry: &Mark) -> Option<Point> {
        let place = place_of(cut, entry)?;
        match self {
            Center::Place => Some(place),
            Center::Joint([a, b]) => {
                let [a, b] = nearest(&drawn(cut, a).lines, &drawn(cut, b).lines)?;
                Some(half_way(a, b))
            }
            Center::Between(edge) => Some(half_way(place, edge.on(cut))),
            Center::Edge(edge) => Some(edge.on(cut)),
        }
    }
}

impl Edge {
    fn on(self, cut: &Cut) -> Point {
        let [low, high] = part::shown(cut, self.piece, self.step);
        spots(cut, self.piece, self.step)(if self.upper { high } else { low })
    }
}

/// The ends of a piece that do not run off the drawing.
fn edges(line: &SectionLine, piece: usize) -> Vec<Edge> {
    let of = |steps: std::ops::Range<usize>| {
        let low = (line.steps[steps.start].extent.low != OPEN_LOW).then_some((steps.start, false));
        let high = (line.steps[steps.end - 1].extent.high != OPEN_HIGH).then_some((steps.end - 1, true));
        [low, high].into_iter().flatten().map(move |(step, upper)| Edge { piece, step, upper })
    };
    line.intervals(piece).into_iter().flat_map(of).collect()
}
