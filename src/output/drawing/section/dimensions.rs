//! The lengths of a section that are judged, each at its joint: laps, what turns up a wall, what stays clear of grade.

use crate::facts::face::{Coordinate, Lap, Run, Turn};
use crate::facts::nanometres;
use crate::model::{Axis, FoldKind, MaterialKind};
use crate::output::drawing::dimension::{Dimension, Placed};
use crate::output::drawing::mark;
use crate::output::drawing::scene::{Point, Shape};
use crate::output::drawing::section::chimney;
use crate::output::drawing::section::cut::Cut;
use crate::output::drawing::section::eave;
use crate::output::drawing::section::taken::{BETWEEN, Room};
use crate::output::drawing::section::valley;

/// As many as a drawing can bear.
const MANY: usize = 5;

/// Free paper between a piece and its dimension line.
const OFF: f64 = 5.0;

/// No dimension stands farther off than this, or than what lies on the line reaches: what is beyond it in a bent drawing is another leg.
const FARTHEST: f64 = 45.0;

/// What is judged on the line, the failing lengths first, each on the outer side where it covers nothing of another.
pub fn dimensions(cut: &Cut, body: &[Shape]) -> Vec<Placed> {
    let mut found = judged(cut);
    // What lies has its length close above it; those of what stands find room farther out.
    found.sort_by_key(|dimension| (dimension.failing.is_none(), !lies(dimension)));
    found.dedup_by(|a, b| a.ends == b.ends);
    found.truncate(MANY);
    let mut taken: Vec<Room> = Vec::new();
    let mut all = Vec::new();
    let to_grade = clearance(cut);
    let reaches = (0..cut.line.steps.len()).map(|n| cut.places.reach(n)[1]);
    let farthest = reaches.fold(FARTHEST, f64::max);
    // Over a valley the laps of one roof lie over each other: those of its layers stand below it.
    let sides: &[f64] = if valley::is_open(cut) { &[1.0, -1.0] } else { &[1.0] };
    for dimension in found {
        let on_side = |side: &f64| {
            let side = Point::new(side * dimension.side.x, side * dimension.side.y);
            let dimension = Dimension { side, ..dimension.clone() };
            let nearest = clear(&dimension, body).min(farthest) + OFF;
            (dimension, nearest)
        };
        let on_sides: Vec<(Dimension, f64)> = sides.iter().map(on_side).collect();
        let free = |clash: &dyn Fn(&Room, &Room) -> bool| {
            let tried = on_sides.iter().flat_map(|side| (0..12).map(move |n| (n, side)));
            let placed = |(n, (dimension, nearest)): (u8, &(Dimension, f64))| Placed {
                dimension: dimension.clone(),
                off: nearest + f64::from(n) * BETWEEN,
            };
            let mut places = tried.map(placed).map(|placed| (Room::new(&placed), placed));
            places.find(|(room, _)| taken.iter().all(|other| !clash(other, room)))
        };
        // How far the cladding stays clear of grade is given even if that crosses the lines of a lap.
        let always = to_grade.as_ref().is_some_and(|own| own.ends == dimension.ends);
        if let Some((room, placed)) = free(&Room::overlaps).or_else(|| free(&Room::hides).filter(|_| always)) {
            taken.push(room);
            all.push(placed);
        }
    }
    all
}

/// Every length that is judged on the line.
fn judged(cut: &Cut) -> Vec<Dimension> {
    let face = &cut.subject.facts.face;
    let laps = face.laps.iter().filter_map(|lap| of(cut, lap));
    let turns = face.turns.iter().filter_map(|turn| upturn(cut, turn));
    let mut all: Vec<Dimension> =
        laps.chain(turns).chain(clearance(cut)).chain(ice_barrier(cut)).chain(chimney::clearances(cut)).collect();
    // In a valley the roofing over the metal comes before the layers below, unless its lap is judged and there already.
    let valley = valley::over_metal(cut).into_iter().filter(|own| all.iter().all(|other| !valley::is_same(own, other)));
    let valley: Vec<Dimension> = valley.collect();
    all.splice(0..0, valley);
    all
}

/// The end of the length that a finding is about; the middle of a lap.
pub fn of_finding(cut: &Cut, number: usize) -> Option<Point> {
    let lap = cut.subject.facts.face.laps.iter().filter_map(|lap| of(cut, lap)).find(|d| d.failing == Some(number));
    let middle = |d: Dimension| {
        let [a, b] = d.ends;
        Point::new((a.x + b.x) / 2.0, (a.y + b.y) / 2.0)
    };
    let own = || judged(cut).into_iter().find(|d| d.failing == Some(number)).map(|d| d.ends[1]);
    lap.map(middle).or_else(own)
}

fn lies(dimension: &Dimension) -> bool {
    dimension.side.y.abs() > 0.7
}

/// As far from the end of what lies, what stands there is not in the way, mm of paper.
const BESIDE: f64 = 6.0;

/// What a number on a level line takes above it, mm of paper.
const OVER: f64 = 4.5;

/// How far beyond its ends the drawing reaches on the side of a dimension, beside its line.
fn clear(dimension: &Dimension, body: &[Shape]) -> f64 {
    let side = dimension.side;
    let [a, b] = dimension.ends;
    let along = Point::new(-side.y, side.x);
    let (out, place) = (|p: Point| p.x * side.x + p.y * side.y, |p: Point| p.x * along.x + p.y * along.y);
    // What lies at a wall is measured there, however high the wall stands at its end.
    let lies = lies(dimension);
    let more = if lies { -BESIDE.min((place(a) - place(b)).abs() / 3.0) } else { 1.0 };
    let band = [place(a).min(place(b)) - more, place(a).max(place(b)) + more];
    let base = out(a).max(out(b));
    // How far out each thing begins and ends within the band.
    let mut things: Vec<[f64; 2]> = Vec::new();
    let within = |p: Point, q: Point| {
        // The part of a line that lies in the band.
        let (s, t) = (place(p), place(q));
        let part = |at: f64| if (t - s).abs() < 1e-9 { 0.0 } else { ((at - s) / (t - s)).clamp(0.0, 1.0) };
        let ends = [part(band[0]), part(band[1])].map(|u| out(p) + u * (out(q) - out(p)));
        let ends = if (t - s).abs() < 1e-9 { [out(p), out(q)] } else { ends };
        (s.max(t) >= band[0] && s.min(t) <= band[1]).then(|| [ends[0].min(ends[1]), ends[0].max(ends[1])])
    };
    let both = |a: [f64; 2], b: [f64; 2]| [a[0].min(b[0]), a[1].max(b[1])];
    for shape in body {
        shape.each(&mut |shape| match shape {
            Shape::Path { runs, closed, .. } => runs.iter().for_each(|run| {
                let lines = run.windows(2).filter_map(|pair| within(pair[0], pair[1]));
                match &run[..] {
                    [first, .., last] if *closed => things.extend(lines.chain(within(*last, *first)).reduce(both)),
                    _ => things.extend(lines),
                }
            }),
            Shape::Circle { center, radius, .. } => {
                let edge = Point::new(center.x + radius * side.x, center.y + radius * side.y);
                things.extend(within(edge, edge));
            }
            _ => {}
        });
    }
    things.sort_by(|a, b| a[0].total_cmp(&b[0]));
    let mut far = base;
    for [from, to] in things {
        // Under what hangs over a roof there is room for a length that lies on it.
        if lies && from > far + OFF + OVER {
            break;
        }
        far = far.max(to);
    }
    far - base
}

fn of(cut: &Cut, lap: &Lap) -> Option<Dimension> {
    let run = if cut.line.axis == Axis::Up { Run::Head } else { Run::Side };
    let (over, under) = (lap.over, lap.under);
    let pieces = &cut.subject.detail.pieces;
    let failing = cut.subject.marks.iter().find_map(|entry| {
        let about = mark::pieces(cut.subject.detail, entry.finding);
        let value = |name: &str| entry.finding.values.iter().find(|(n, _)| &**n == name).map(|(_, v)| v.to_string());
        let limit = value("limit").filter(|_| about.contains(&over) && about.contains(&under))?;
        let words = |length: String| format!("{}, needs {}", cut.subject.bare(&length), cut.subject.bare(&limit));
        value("length").map(|length| (entry.number, words(length)))
    });
    let membranes = cut.places.pieces[over].thin && cut.places.pieces[under].thin;
    let shown = lap.run == run && (failing.is_some() || membranes && lap.contact);
    if !shown || pieces[over].inside || pieces[under].inside {
        return None;
    }
    let both = |n: &usize| {
        let stack = &cut.line.steps[*n].stack;
        stack.contains(&over) && stack.contains(&under)
    };
    let steps: Vec<usize> = (0..cut.line.steps.len()).filter(both).collect();
    let (first, last) = (*steps.first()?, *steps.last()?);
    if last + 1 - first != steps.len() {
        return None;
    }
    let (own, other) = (cut.real(over, &(first..last + 1)), cut.real(under, &(first..last + 1)));
    let [low, high] = [own[0].max(other[0]), own[1].min(other[1])];
    let (a, b) = (cut.spine.leg_from(low, 1.0), cut.spine.leg_from(high, -1.0));
    let turned = |piece: usize| !std::ptr::eq(cut.spine_of(piece, &cut.interval(piece, first)), &cut.spine);
    // A lap around a corner is no straight length.
    if a != b || turned(over) || turned(under) || high - low < 1e-6 {
        return None;
    }
    let out = cut.places.surface(over, last);
    let ends = [low, high].map(|along| cut.spine.raw(a, along, out));
    let length = lap_length(cut, [over, under], first, last);
    let (failing, words) = failing.map_or_else(|| (None, cut.subject.plain(length)), |(n, words)| (Some(n), words));
    Some(Dimension { ends, side: cut.spine.outward(a), words, failing })
}

/// How far what is judged at the base of a wall, or at a corner, runs past the fold.
fn upturn(cut: &Cut, turn: &Turn) -> Option<Dimension> {
    let fold = cut.subject.detail.folds[turn.fold];
    let (piece, past) = (turn.piece?, turn.past?);
    let from = nanometres(fold.at);
    if fold.axis != cut.line.axis || fold.kind != FoldKind::Base || cut.subject.detail.pieces[piece].inside {
        return None;
    }
    let step = cut.line.steps.iter().position(|s| s.extent.high == from + past && s.stack.contains(&piece))?;
    // What turns in at a sill stands no higher than that.
    if !std::ptr::eq(cut.spine_of(piece, &cut.interval(piece, step)), &cut.spine) {
        return None;
    }
    let (low, high) = (cut.ruler.at(from), cut.real(piece, &(step..step + 1))[1]);
    let leg = cut.spine.leg_from(low, 1.0);
    let out = cut.places.surface(piece, step);
    let ends = [low, high].map(|along| cut.spine.raw(leg, along, out));
    Some(piece_dimension(cut, piece, ends, leg, past))
}

/// How far the lowest cladding, or else the lowest of the wall, stays above grade.
fn clearance(cut: &Cut) -> Option<Dimension> {
    let detail = cut.subject.detail;
    let grade = nanometres(detail.grade.filter(|_| cut.line.axis == Axis::Up)?.value);
    let low = |piece: &usize| detail.pieces[*piece].up.low.map(nanometres).filter(|low| *low > grade);
    let of = |kinds: &[MaterialKind]| {
        let pieces = cut.line.pieces().into_iter().filter(|p| {
            !detail.pieces[*p].inside && detail.pieces[*p].material.kind.is_some_and(|kind| kinds.contains(&kind))
        });
        pieces.filter_map(|p| low(&p).map(|low| (low, p))).min()
    };
    use MaterialKind::{Board, Cladding, Frame};
    let (foot, piece) = of(&[Cladding]).or_else(|| of(&[Board, Frame]))?;
    let step = cut.line.steps.iter().position(|s| s.extent.low == foot && s.stack.contains(&piece))?;
    let leg = cut.spine.leg_from(cut.ruler.at(foot), 1.0);
    let out = cut.places.slot(piece, step)?[1];
    let ends = [grade, foot].map(|at| cut.spine.raw(leg, cut.ruler.at(at), out));
    Some(piece_dimension(cut, piece, ends, leg, foot - grade))
}

/// How far an ice barrier reaches inside of the wall.
fn ice_barrier(cut: &Cut) -> Option<Dimension> {
    let (piece, [from, to]) = eave::barrier(cut)?;
    let leg = cut.spine.leg_from(cut.ruler.at(from), 1.0);
    let out = cut.places.surface(piece, cut.line.step_at(from));
    let ends = [from, to].map(|at| cut.spine.raw(leg, cut.ruler.at(at), out));
    Some(piece_dimension(cut, piece, ends, leg, to - from))
}

/// A length of one piece, with the limit of the open finding that judges it.
fn piece_dimension(cut: &Cut, piece: usize, ends: [Point; 2], leg: usize, length: Coordinate) -> Dimension {
    let own = cut.subject.plain(length as f64 * 1e-6);
    let limit = cut.subject.marks.iter().find_map(|entry| {
        let value = |name: &str| entry.finding.values.iter().find(|(n, _)| &**n == name).map(|(_, v)| v.to_string());
        let about = mark::pieces(cut.subject.detail, entry.finding).first() == Some(&piece);
        let same = || {
            ["clearance", "above-base", "past"]
                .iter()
                .filter_map(|name| value(name))
                .any(|v| cut.subject.bare(&v) == own)
        };
        value("limit").filter(|_| about && same()).map(|limit| (entry.number, limit))
    });
    let words = limit.as_ref().map(|(_, limit)| format!("{own}, needs {}", cut.subject.bare(limit)));
    let failing = limit.map(|(number, _)| number);
    Dimension { ends, side: cut.spine.outward(leg), words: words.unwrap_or(own), failing }
}

/// mm of the building.
fn lap_length(cut: &Cut, pieces: [usize; 2], first: usize, last: usize) -> f64 {
    let stretch = [cut.line.steps[first].extent.low, cut.line.steps[last].extent.high];
    let [own, other] = pieces.map(|piece| cut.subject.real(piece, cut.line.axis, cut.line.at, stretch));
    (own[1].min(other[1]) as f64 - own[0].max(other[0]) as f64) * 1e-6
}
