//! What the notes beside a section point at: its pieces and its findings.

use crate::output::drawing::mark;
use crate::output::drawing::note::{self, Note, Sign};
use crate::output::drawing::page;
use crate::output::drawing::scene::{Point, Role, Shape};
use crate::output::drawing::section::bead;
use crate::output::drawing::section::cut::Cut;
use crate::output::drawing::section::found::place_of;
use crate::output::drawing::section::masonry;
use crate::output::drawing::section::pointing::places;
use crate::output::drawing::section::solid;
use crate::output::sequence;
use crate::output::visible;

/// How close above each other two names should not point, mm.
const CROWD: f64 = 8.0;

/// A leader closer than this to where another ends seems to be that one's, mm.
const APART: f64 = 0.7;

/// How often another place is tried for a name whose leader runs over the end of another.
const TRIES: usize = 16;

/// Each piece on the line, with the places at which its name may point.
pub fn choices(cut: &Cut) -> Vec<(usize, Vec<Point>)> {
    let outlines: Vec<(usize, Vec<Vec<Point>>)> =
        cut.line.pieces().into_iter().map(|piece| (piece, solid::outlines(cut, piece))).collect();
    let pieces = cut.line.pieces().into_iter().map(|piece| (piece, places(cut, piece, &outlines)));
    pieces.filter(|(_, places)| !places.is_empty()).collect()
}

/// A column of notes for every piece on the line and every finding that has a place on it; where it ends; and the findings without a place.
/// A column that is no wider than numbers has no words.
pub fn column(
    cut: &Cut,
    choices: &[(usize, Vec<Point>)],
    moved: &dyn Fn(Point) -> Point,
    [x, top]: [f64; 2],
    wide: f64,
) -> (Vec<Shape>, f64, Vec<usize>) {
    let lines = |words: &str| note::lines(if wide > note::NUMBER { words } else { "" }, wide);
    let mut marked: Vec<Note> = Vec::new();
    let mut unplaced = Vec::new();
    for entry in cut.subject.marks {
        match place_of(cut, entry) {
            Some(at) => {
                let lines = lines(&mark::short(entry.finding));
                marked.push(Note { sign: Sign::Mark(*entry), at: moved(at), lines });
            }
            None => unplaced.push(entry.number),
        }
    }
    for (seal, at) in bead::names(cut) {
        let sign = Sign::Bead { step: sequence::seal_number(cut.subject.facts, seal) };
        let words = sequence::bead_name(&cut.subject.detail.seals[seal]);
        marked.push(Note { sign, at: moved(at), lines: lines(&visible(&words)) });
    }
    // Numbers alone could not say it.
    for at in masonry::unstated(cut).filter(|_| wide > note::NUMBER) {
        marked.push(Note { sign: Sign::Remark, at: moved(at), lines: lines("Support not given") });
    }
    let named = choices.iter().map(|(piece, _)| lines(&page::label(cut.subject, *piece)));
    let named: Vec<Vec<String>> = named.collect();
    let level = level(cut, moved);
    let written = |at: &[Point], by: f64| {
        let notes = choices.iter().zip(&named).zip(at).map(|(((piece, _), lines), at)| {
            let sign = Sign::Step { piece: *piece, step: cut.subject.steps[*piece] };
            Note { sign, at: moved(*at), lines: lines.clone() }
        });
        let notes: Vec<Note> = notes.chain(marked.iter().cloned()).collect();
        let (shapes, end) = note::shifted(&notes, x, top, by);
        let astray = astray(&shapes).into_iter().chain(along(&shapes, &level)).collect();
        Column { astray, shapes, end }
    };
    let mut picks = vec![0; choices.len()];
    let mut best: Option<(Vec<Point>, Column)> = None;
    for _ in 0..TRIES {
        let mut taken: Vec<Point> = Vec::new();
        for ((_, places), pick) in choices.iter().zip(&picks) {
            taken.push(pick_of(places, &taken, *pick));
        }
        let column = written(&taken, 0.0);
        let again = column.astray.first().copied();
        if best.as_ref().is_none_or(|(_, best)| column.astray.len() < best.astray.len()) {
            best = Some((taken, column));
        }
        let Some(piece) = again else { break };
        choices.iter().zip(&mut picks).filter(|(choice, _)| choice.0 == piece).for_each(|(_, pick)| *pick += 1);
    }
    let Some((mut at, mut column)) = best else { return (Vec::new(), top, unplaced) };
    let mut shift = 0.0;
    for by in SHIFTS {
        let other = written(&at, by);
        if other.astray.len() < column.astray.len() {
            (column, shift) = (other, by);
        }
    }
    for _ in 0..SHORTER {
        let nearer = near_notes(choices, &at, &column, moved);
        let other = written(&nearer, shift);
        if other.astray.len() > column.astray.len() || other.length() > column.length() - 1.0 {
            break;
        }
        (at, column) = (nearer, other);
    }
    (column.shapes, column.end, unplaced)
}

/// By how much all notes are tried lower where leaders run along lines of the drawing, mm.
const SHIFTS: [f64; 4] = [-3.0, 3.0, -6.0, 6.0];

/// The level lines of what is cut, as layers of roofs have them.
fn level(cut: &Cut, moved: &dyn Fn(Point) -> Point) -> Vec<[Point; 2]> {
    let edges = cut.line.pieces().into_iter().flat_map(|piece| solid::outlines(cut, piece)).map(|mut outline| {
        outline.extend(outline.first().copied());
        outline
    });
    let lines: Vec<Vec<Point>> = edges.chain(cut.membranes.iter().cloned()).collect();
    let pairs = lines.iter().flat_map(|line| line.windows(2)).map(|pair| [moved(pair[0]), moved(pair[1])]);
    pairs.filter(|[p, q]| (p.x - q.x).abs() > BESIDE && (p.y - q.y).abs() < 0.1 * (p.x - q.x).abs()).collect()
}

/// The pieces whose leaders run along a line.
fn along(shapes: &[Shape], lines: &[[Point; 2]]) -> Vec<usize> {
    let on = |run: &[Point], [p, q]: &[Point; 2]| {
        let (low, high) = (p.x.min(q.x).max(run[0].x), p.x.max(q.x).min(run[1].x));
        let middle = p.y + ((low + high) / 2.0 - p.x) / (q.x - p.x) * (q.y - p.y);
        high - low > BESIDE && (middle - run[1].y).abs() < APART
    };
    let runs = |path: &[Point]| lines.iter().any(|line| path.windows(2).any(|run| is_level(run) && on(run, line)));
    leaders(shapes).into_iter().filter(|(_, path)| runs(path)).filter_map(|(piece, _)| piece).collect()
}

fn is_level(run: &[Point]) -> bool {
    (run[0].y - run[1].y).abs() < 0.1 * (run[1].x - run[0].x)
}

/// A leader that runs beside a line for longer than this is taken for a part of it, mm.
const BESIDE: f64 = 4.0;

/// Notes as they are written.
struct Column {
    shapes: Vec<Shape>,
    end: f64,
    /// Pieces whose leaders run over the end of another.
    astray: Vec<usize>,
}

impl Column {
    /// How long all leaders are together.
    fn length(&self) -> f64 {
        let long = |path: &Vec<Point>| path.windows(2).map(|p| (p[0].x - p[1].x).hypot(p[0].y - p[1].y)).sum::<f64>();
        leaders(&self.shapes).iter().map(|(_, path)| long(path)).sum()
    }
}

/// Of the places of each piece the one that is nearest to its note as that is written, off the places of the others.
fn near_notes(
    choices: &[(usize, Vec<Point>)],
    at: &[Point],
    column: &Column,
    moved: &dyn Fn(Point) -> Point,
) -> Vec<Point> {
    let leaders = leaders(&column.shapes);
    let mut nearer = at.to_vec();
    for (n, (piece, places)) in choices.iter().enumerate() {
        let own = leaders.iter().find(|(of, _)| *of == Some(*piece));
        let Some(words) = own.and_then(|(_, path)| path.last()).copied() else { continue };
        let far = |p: &Point| {
            let other = |(m, q): (usize, &Point)| m != n && (p.x - q.x).hypot(p.y - q.y) < CLOSE;
            let close = nearer.iter().enumerate().filter(|q| other(*q)).count() as f64;
            let on = moved(*p);
            (on.x - words.x).abs() + (on.y - words.y).abs() + 20.0 * close
        };
        let best = places.iter().min_by(|a, b| far(a).total_cmp(&far(b))).copied();
        nearer[n] = best.unwrap_or(nearer[n]);
    }
    nearer
}

/// How often the places of all names are looked at again once the notes are written.
const SHORTER: usize = 4;

/// Names do not point at places closer to each other than this, mm.
const CLOSE: f64 = 2.0;

/// The place that is best after `pick` others: off the places where others point, and near the names.
fn pick_of(places: &[Point], taken: &[Point], pick: usize) -> Point {
    let good = |p: &Point| {
        let crowd: f64 = taken.iter().map(|q| (CROWD - (p.y - q.y).abs()).max(0.0)).sum();
        0.2 * p.x - 0.5 * crowd
    };
    let mut ranked: Vec<(f64, Point)> = places.iter().map(|place| (good(place), *place)).collect();
    ranked.sort_by(|a, b| b.0.total_cmp(&a.0));
    ranked[pick % ranked.len()].1
}

/// The pieces whose leaders run over the end of another, or whose end another runs over.
pub fn astray(shapes: &[Shape]) -> Vec<usize> {
    let leaders = leaders(shapes);
    let over = |(n, (own, path)): (usize, &(Option<usize>, Vec<Point>))| {
        let others = leaders.iter().enumerate().filter(|(m, _)| *m != n);
        let mut hit = others.filter(|(_, (_, other))| path.windows(2).any(|line| near(line, other[0])));
        hit.next().and_then(|(_, (other, _))| own.or(*other))
    };
    leaders.iter().enumerate().filter_map(over).collect()
}

/// The leaders of notes, each from its place to the words, and the piece that it is of.
pub fn leaders(shapes: &[Shape]) -> Vec<(Option<usize>, Vec<Point>)> {
    let mut leaders: Vec<(Option<usize>, Vec<Point>)> = Vec::new();
    shapes.iter().for_each(|shape| {
        if let Shape::Group {
            role: role @ (Role::Label(_) | Role::BeadName | Role::Remark | Role::Anchor(_)),
            shapes,
            ..
        } = shape
            && let Some(Shape::Path { runs, .. }) = shapes.first()
        {
            let mut path = runs[0].clone();
            if path[0].x > path[path.len() - 1].x {
                path.reverse();
            }
            leaders.push((if let Role::Label(piece) = role { Some(*piece) } else { None }, path));
        }
    });
    leaders
}

fn near(line: &[Point], at: Point) -> bool {
    let (a, b) = (line[0], line[1]);
    // Most lie far above or below.
    if at.y < a.y.min(b.y) - APART || at.y > a.y.max(b.y) + APART {
        return false;
    }
    let (dx, dy) = (b.x - a.x, b.y - a.y);
    let part = (((at.x - a.x) * dx + (at.y - a.y) * dy) / (dx * dx + dy * dy).max(1e-12)).clamp(0.0, 1.0);
    (a.x + part * dx - at.x).hypot(a.y + part * dy - at.y) < APART
}
