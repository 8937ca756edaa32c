//! The section: a detail seen from the side, or in plan, cut along one line and bent as the building is.

mod breaks;
mod cut;
mod drops;
mod eave;
mod ends;
mod enlarge;
mod fixing;
mod ground;
mod joint;
mod judged;
mod line;
mod masonry;
mod membrane;
mod names;
mod opening;
mod outline;
mod packing;
mod parapet;
mod part;
mod pipe;
mod place;
mod solid;
mod spine;
mod steps;
mod unit;

pub use cut::edges;
pub use drops::{ends_at, fate, first_wrong, followed, goes_astray, words as drop_words};
pub use enlarge::enlargement;
pub use fixing::rows;
pub use line::{Line, axis};
pub use names::astray;
pub use parapet::bend;
pub use place::is_sill;
pub use steps::{beside, sign as step_sign};

use crate::facts::bend;
use crate::facts::face::Coordinate;
use crate::model::{AssemblyKind, Axis, Detail, Fold, FoldKind};
use crate::output::drawing::dimension;
use crate::output::drawing::free::Free;
use crate::output::drawing::lettering;
use crate::output::drawing::mark::{self, Mark};
use crate::output::drawing::note;
use crate::output::drawing::page::{self, View};
use crate::output::drawing::paper::{BEYOND, SMALL};
use crate::output::drawing::ruler;
use crate::output::drawing::scene::{Anchor, Area, Ink, Pen, Point, Scene, Shape};
use crate::output::drawing::subject::Subject;
use crate::output::drawing::water;
use cut::Cut;

/// Room for the line, mm of paper.
const MOST: f64 = 185.0;

/// Free paper above what is drawn, for the words of its sides.
const TOP: f64 = 8.0;

/// The section of a detail along `line`, with the marks of its findings.
pub fn section(subject: &Subject, line: &Line) -> Scene {
    let view = view(subject, line, scale(subject, line), false);
    let title = format!("{} of {}", view.name, page::name(subject.detail));
    let description = page::description(subject, &line.pieces());
    page::around(subject, view, title, description)
}

/// No section is drawn at a larger scale than this.
pub fn least(subject: &Subject, line: &Line) -> f64 {
    place::scale_of_thickest(subject, line)
}

/// The section without a head and a list of findings.
pub fn bare_section(subject: &Subject, line: &Line) -> Scene {
    let view = view(subject, line, scale(subject, line), false);
    let title = format!("{} of {}", view.name, page::name(subject.detail));
    page::bare(view, title, page::description(subject, &line.pieces()))
}

/// The same without the numbers of any water, and for each finding what a page lays over it where that finding is told: the numbers of its
/// water, and the circle of its enlargement.
pub fn plain_section(subject: &Subject, line: &Line) -> (Scene, Vec<(usize, Vec<Shape>)>) {
    let laid = Laid::new(subject, line, scale(subject, line), true);
    let over = subject.marks.iter().map(|entry| {
        let mut free = laid.free.clone();
        let shapes = laid.ring(entry, &mut free).into_iter().chain(laid.numbers(entry, &mut free)).collect();
        let scene = Scene { shapes, ..Scene::empty() };
        (entry.number, scene.at_scale(laid.view.scale).shapes)
    });
    let over = over.collect();
    let title = format!("{} of {}", laid.view.name, page::name(subject.detail));
    (page::bare(laid.view, title, page::description(subject, &line.pieces())), over)
}

/// The joint of a finding at full size, if it has one on the line.
pub fn joint(subject: &Subject, line: &Line, entry: &Mark) -> Option<Scene> {
    let view = enlargement(subject, line, entry)?;
    let title = format!("Joint of finding {} at full size", entry.number);
    Some(page::bare(view, title, mark::short(entry.finding)))
}

/// The largest scale at which the line fits into its room, and the thickest piece on it is drawn whole.
pub fn scale(subject: &Subject, line: &Line) -> f64 {
    ruler::scale(&cut::edges(subject, line), MOST, subject.scales()).max(least(subject, line))
}

/// The section alone, at a scale; with the circle of the enlargement where that stands beside it.
pub fn view(subject: &Subject, line: &Line, scale: f64, tied: bool) -> View {
    let laid = Laid::new(subject, line, scale, tied);
    let mut free = laid.free.clone();
    let open = || subject.marks.iter().filter(|entry| entry.finding.open());
    let ring = open().find_map(|entry| laid.ring(entry, &mut free)).filter(|_| tied);
    let numbers = open().map(|entry| laid.numbers(entry, &mut free)).find(|numbers| !numbers.is_empty());
    let mut view = laid.view;
    view.shapes.extend(ring);
    view.shapes.extend(numbers.unwrap_or_default());
    view
}

/// A section on its paper, and the room that is left for what belongs to one finding.
struct Laid<'a> {
    cut: Cut<'a>,
    off: [f64; 2],
    free: Free,
    view: View,
}

impl<'a> Laid<'a> {
    /// With `tied`, the circle of an enlargement will lie on it.
    fn new(subject: &'a Subject<'a>, line: &'a Line, scale: f64, tied: bool) -> Laid<'a> {
        let cut = Cut::new(subject, line, scale);
        let body = body(&cut);
        let dimensions = judged::dimensions(&cut, &body);
        let levels = levels(&cut);
        let placed: Vec<Shape> = dimensions.iter().map(|d| d.draw(0.5).1).collect();
        let whole: Vec<Shape> = body.iter().cloned().chain(placed).collect();
        let area = Area::around(&whole).unwrap_or(Area::new(0.0, 0.0, 1.0, 1.0));
        let area = levels.iter().fold(area, |area, (at, _)| area.with(Area::new(area.left, at.y, area.right, at.y)));
        let room = dimension::room(&levels);
        // "inside" has to have room on the left of the datum.
        let left = (room + 8.0).max(14.0);
        let notes_at = left + area.width() + 14.0;
        // A column that is higher than its drawing goes on above it and below it.
        let (_, end, _) =
            names::column(&cut, &|p| Point::new(p.x + left - area.left, p.y + TOP - area.top), notes_at, TOP - 4.0);
        let top = TOP + ((end - TOP - area.height() - 4.0) / 2.0).max(0.0);
        let (dx, dy) = (left - area.left, top - area.top);
        let moved = |p: Point| Point::new(p.x + dx, p.y + dy);
        let levels: Vec<(Point, String)> = levels.into_iter().map(|(at, words)| (moved(at), words)).collect();
        let mut shapes = sides(&cut, &moved, Area::new(left, top, left + area.width(), top + area.height()));
        shapes.extend(body.into_iter().map(|shape| shape.moved(dx, dy)));
        if !levels.is_empty() {
            shapes.push(dimension::levels(&levels, left - 6.0, top - 2.0));
        }
        let (column, end, unplaced) = names::column(&cut, &moved, notes_at, TOP - 4.0);
        let written: Vec<Shape> = shapes.iter().chain(&column).cloned().collect();
        let mut free = Free::of(&written);
        let circle = if tied { enlarge::circle(&cut, &moved) } else { None };
        let dimensions: Vec<Shape> = dimensions.iter().filter_map(|d| free.dimension(d, [dx, dy], circle)).collect();
        shapes.extend(column);
        shapes.extend(dimensions);
        let wall = eave::ends(&cut).and_then(|ends| eave_words(ends.map(moved), &mut free, &shapes));
        shapes.extend(wall);
        let plumb = line.axis == Axis::Up && cut.spine.legs() == 1 && !cut.spine.lies(0);
        let view = View {
            name: if line.axis == Axis::Up || cut.spine.outward(0).y < 0.0 { "Section" } else { "Plan" },
            shapes,
            width: notes_at + note::WIDTH,
            height: (top + area.height() + 4.0).max(end),
            scale,
            datum: plumb.then(|| moved(cut.spine.at(cut.ruler.at_mm(0.0), 0.0)).y),
            caption: caption(&cut),
            unplaced,
        };
        Laid { cut, off: [dx, dy], free, view }
    }

    fn moved(&self, p: Point) -> Point {
        Point::new(p.x + self.off[0], p.y + self.off[1])
    }

    fn ring(&self, entry: &Mark, free: &mut Free) -> Option<Shape> {
        enlarge::ring(&self.cut, entry, &|at| self.moved(at), free, &self.view.shapes)
    }

    fn numbers(&self, entry: &Mark, free: &mut Free) -> Vec<Shape> {
        steps::numbers(&self.cut, entry, &|at| self.moved(at), free, &self.view.shapes)
    }
}

/// All that lies on the wall itself, from the lowest layer of the drawing up.
fn body(cut: &Cut) -> Vec<Shape> {
    let mut shapes = ground::ground(cut);
    shapes.extend(masonry::ledges(cut));
    shapes.extend(packing::packing(cut));
    shapes.extend(solid::pieces(cut));
    shapes.extend(masonry::toe(cut));
    let water: Vec<(Vec<Shape>, Vec<Shape>)> = drops::courses(cut).iter().map(water::draw).collect();
    let (under, over): (Vec<_>, Vec<_>) = water.into_iter().unzip();
    shapes.extend(under.into_iter().flatten());
    shapes.extend(fixing::bonds(cut));
    shapes.extend(membrane::pieces(cut));
    shapes.extend(fixing::fastenings(cut));
    shapes.extend(fixing::beads(cut));
    shapes.extend(fixing::weeps(cut));
    shapes.extend(over.into_iter().flatten());
    // Water runs around what stands out of the wall.
    shapes.extend(pipe::passing(cut));
    shapes.extend(breaks::breaks(cut));
    shapes.extend(eave::wall_line(cut));
    shapes
}

/// Sill, head, foot and eave, grade, and the height above which no rain falls.
fn levels(cut: &Cut) -> Vec<(Point, String)> {
    let detail = cut.subject.detail;
    if cut.line.axis != Axis::Up {
        return Vec::new();
    }
    let mut levels: Vec<(Point, String)> = Vec::new();
    let mut add = |metres: f64, words: &str| {
        let along = cut.ruler.at_mm(metres * 1000.0);
        let at = Point::new(cut.spine.at(along, 0.0).x, cut.spine.at(along, 0.0).y);
        let [below, above] = cut.around(along);
        let inner = below.or(above).map_or(0.0, |n| cut.places.reach(n)[0]);
        let length = cut.subject.plain(metres * 1000.0);
        levels.push((Point::new(at.x + inner.min(0.0), at.y), format!("{words} {length}")));
    };
    // Beyond what lies, a place on the face is no height.
    let is_height = |metres: f64| {
        let leg = cut.spine.leg_from(cut.ruler.at_mm(metres * 1000.0), -1.0);
        (1..=leg).all(|n| !cut.spine.lies(n))
    };
    for fold in detail.folds.iter().filter(|f| f.axis == Axis::Up && is_height(f.at.si)) {
        add(fold.at.si, level_of(detail, fold));
    }
    detail.grade.iter().for_each(|grade| add(grade.value.si, "grade"));
    let sheltered = detail.sheltered.unwrap_or_default();
    sheltered.low.iter().for_each(|low| add(low.si, "no rain above"));
    sheltered.high.iter().for_each(|high| add(high.si, "no rain below"));
    levels.sort_by(|a, b| a.0.y.total_cmp(&b.0.y));
    levels
}

/// The words of the wall line, where they have room beside it.
fn eave_words([top, foot]: [Point; 2], free: &mut Free, drawn: &[Shape]) -> Option<Shape> {
    let wide = lettering::width(eave::WORDS, SMALL);
    let rooms = [
        Area::new(foot.x - wide / 2.0, foot.y + 0.6, foot.x + wide / 2.0, foot.y + 0.6 + SMALL),
        Area::new(foot.x - wide - 1.0, foot.y - SMALL, foot.x - 1.0, foot.y),
        Area::new(top.x - wide / 2.0, top.y - 0.6 - SMALL, top.x + wide / 2.0, top.y - 0.6),
    ];
    let fits = rooms.into_iter().filter(|room| room.left >= 0.0 && room.top >= 0.0 && free.has(*room));
    let room = fits.min_by_key(|room| enlarge::crossings(drawn, *room))?;
    free.take(room);
    Some(Shape::text(Point::new(room.left, room.bottom), SMALL, eave::WORDS).inked(Ink::Dark))
}

/// What an office calls the height of a fold.
fn level_of(detail: &Detail, fold: &Fold) -> &'static str {
    match fold.kind {
        // Where nothing fills an opening, a sill is the top of a parapet or a curb.
        FoldKind::Sill if bend::openings(detail, Axis::Up).all(|edge| edge.at != fold.at) => "top",
        FoldKind::OutsideCorner => "top",
        FoldKind::InsideCorner => "corner",
        kind => kind.word(),
    }
}

/// Where it is cut.
fn caption(cut: &Cut) -> String {
    let [before, beyond, axis] = match cut.line.axis {
        Axis::Up => ["left of", "right of", "along the wall"],
        Axis::Along => ["below", "above", "up"],
    };
    let bound = |c: Coordinate| (c != i64::MIN && c != i64::MAX).then(|| cut.subject.length(ruler::millimetres(c)));
    let place = match [bound(cut.line.at.low), bound(cut.line.at.high)] {
        [Some(low), Some(high)] => format!("cut between {low} and {high} {axis}; "),
        [Some(low), None] => format!("cut {beyond} {low}; "),
        [None, Some(high)] => format!("cut {before} {high}; "),
        [None, None] => String::new(),
    };
    let unit = cut.subject.unit();
    format!("{place}lengths in {unit} along the face; gaps between membranes exaggerated")
}

/// Which side is the outer one.
fn sides(cut: &Cut, moved: &dyn Fn(Point) -> Point, body: Area) -> Vec<Shape> {
    let Area { left, top, right, bottom } = body;
    let word = |words: &str, at: Point, anchor: Anchor| Shape::text(at, SMALL, words).anchored(anchor).inked(Ink::Dark);
    let last = cut.spine.legs() - 1;
    // What lies on the ground is seen from within, and so is the wall that it turns up.
    let within = cut.subject.detail.joins.iter().any(|join| join.assembly.kind == AssemblyKind::Ground);
    let [outer, inner] = if within { ["inside", "outside"] } else { ["outside", "inside"] };
    match cut.line.axis {
        // Over the top of a parapet the line comes down on the side of the roof.
        Axis::Up if !cut.spine.lies(last) && cut.spine.outward(last).x * cut.spine.outward(0).x < -0.5 => {
            let middle = moved(cut.spine.raw(last, cut.spine.span(last)[0], 0.0)).x;
            let face = moved(cut.spine.raw(0, cut.spine.span(0)[1], 0.0)).x;
            vec![
                word("roof", Point::new(middle.min(face) - 1.5, top - 3.0), Anchor::End),
                word(outer, Point::new(middle.max(face) + 1.5, top - 3.0), Anchor::Start),
            ]
        }
        // Seen from its roof, on the side of the wall.
        Axis::Up if cut.top.is_some() && cut.spine.lies(0) => {
            let face = moved(cut.spine.raw(last, cut.spine.span(last)[0], 0.0)).x;
            let roof = moved(cut.spine.raw(last - 1, cut.spine.span(last - 1)[0], 0.0)).x;
            vec![
                word(outer, Point::new(face - 1.5, top - 3.0), Anchor::End),
                word("roof", Point::new(roof + 1.5, top - 3.0), Anchor::Start),
            ]
        }
        Axis::Up if !cut.spine.lies(last) => {
            let x = moved(cut.spine.raw(last, cut.spine.span(last)[1], 0.0)).x;
            let tick = vec![Point::new(x, top - 2.2), Point::new(x, top - 2.2 - SMALL - 1.0)];
            vec![
                word(inner, Point::new(x - 1.5, top - 3.0), Anchor::End),
                word(outer, Point::new(x + 1.5, top - 3.0), Anchor::Start),
                Shape::line(tick, Pen::solid(BEYOND, Ink::Dark)),
            ]
        }
        Axis::Up => vec![word(outer, Point::new((left + right) / 2.0, top - 3.0), Anchor::Middle)],
        Axis::Along if cut.spine.outward(0).y < 0.0 => {
            vec![word("outside", Point::new((left + right) / 2.0, top - 3.0), Anchor::Middle)]
        }
        Axis::Along => vec![
            word("inside", Point::new(left, top - 3.0), Anchor::Start),
            word("outside", Point::new(left, bottom + 1.4 + SMALL), Anchor::Start),
        ],
    }
}
