//! A section laid out on its paper: what is cut, its levels and lengths, and the names beside it.

use crate::model::Axis;
use crate::output::drawing::dimension;
use crate::output::drawing::free::Free;
use crate::output::drawing::mark::Mark;
use crate::output::drawing::note;
use crate::output::drawing::page::View;
use crate::output::drawing::scene::{Area, Ink, Point, Shape};
use crate::output::drawing::section::captions::{caption, eave_words, fall, sides};
use crate::output::drawing::section::cut::Cut;
use crate::output::drawing::section::levels::levels;
use crate::output::drawing::section::line::SectionLine;
use crate::output::drawing::section::{
    backing, bead, blocking, breaks, dimensions, drops, eave, enlarge, fixing, ground, leaders, masonry, membrane,
    packing, pipe, solid, steps,
};
use crate::output::drawing::subject::Subject;
use crate::output::drawing::water;

/// A section on its paper, and the room that is left for what belongs to one finding.
pub(super) struct Layout<'a> {
    pub(super) cut: Cut<'a>,
    off: [f64; 2],
    pub(super) free: Free,
    pub(super) view: View,
}

impl<'a> Layout<'a> {
    /// With `tied`, the circle of an enlargement will lie on it. The notes are so wide.
    pub(super) fn new(
        subject: &'a Subject<'a>,
        line: &'a SectionLine,
        scale: f64,
        tied: bool,
        wide: f64,
    ) -> Layout<'a> {
        let cut = Cut::new(subject, line, scale);
        let body = body(&cut);
        let dimensions = dimensions::dimensions(&cut, &body);
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
        let high = |p: Point| Point::new(p.x + left - area.left, p.y + TOP - area.top);
        let choices = if wide > note::NONE { leaders::choices(&cut) } else { Vec::new() };
        let first = leaders::column(&cut, &choices, &high, [notes_at, TOP - 4.0], wide);
        let top = TOP + ((first.1 - TOP - area.height() - 4.0) / 2.0).max(0.0);
        let (dx, dy) = (left - area.left, top - area.top);
        let moved = |p: Point| Point::new(p.x + dx, p.y + dy);
        let levels: Vec<(Point, String)> = levels.into_iter().map(|(at, words)| (moved(at), words)).collect();
        let sides = sides(&cut, &moved, Area::new(left, top, left + area.width(), top + area.height()));
        let mut shapes = sides.clone();
        shapes.extend(body.into_iter().map(|shape| shape.moved(dx, dy)));
        if !levels.is_empty() {
            shapes.push(dimension::levels(&levels, left - 6.0, top - 2.0));
        }
        let (column, end, unplaced) =
            if top > TOP { leaders::column(&cut, &choices, &moved, [notes_at, TOP - 4.0], wide) } else { first };
        let written: Vec<Shape> = shapes.iter().chain(&column).cloned().collect();
        let mut free = Free::of(&written);
        let circle = if tied { enlarge::circle(&cut, &moved) } else { None };
        let dimensions: Vec<Shape> = dimensions.iter().filter_map(|d| free.dimension(d, [dx, dy], circle)).collect();
        let struck = struck(&sides, &column);
        shapes.retain(|shape| shape.room().is_none() || !struck.contains(shape));
        shapes.extend(column);
        shapes.extend(struck);
        shapes.extend(dimensions);
        let wall = eave::ends(&cut).and_then(|ends| eave_words(ends.map(moved), &mut free, &shapes));
        shapes.extend(wall);
        let plumb = line.axis == Axis::Up && cut.spine.legs() == 1 && !cut.spine.lies(0);
        let view = View {
            name: if line.axis == Axis::Up || cut.spine.outward(0).y < 0.0 { "Section" } else { "Plan" },
            shapes,
            width: notes_at + wide.max(note::NUMBER),
            height: (top + area.height() + 4.0).max(end),
            scale,
            datum: plumb.then(|| moved(cut.spine.at(cut.ruler.at_mm(0.0), 0.0)).y),
            middle: (line.axis == Axis::Along).then(|| moved(cut.spine.at(cut.ruler.at_mm(0.0), 0.0)).x),
            caption: caption(&cut),
            explained: fall(&cut).into_iter().map(str::to_owned).collect(),
            unplaced,
        };
        Layout { cut, off: [dx, dy], free, view }
    }

    fn moved(&self, p: Point) -> Point {
        Point::new(p.x + self.off[0], p.y + self.off[1])
    }

    pub(super) fn ring(&self, entry: &Mark, free: &mut Free) -> Option<Shape> {
        enlarge::ring(&self.cut, entry, &|at| self.moved(at), free, &self.view.shapes)
    }

    pub(super) fn numbers(&self, entry: &Mark, free: &mut Free) -> Vec<Shape> {
        steps::numbers(&self.cut, entry, &|at| self.moved(at), free, &self.view.shapes)
    }
}

/// The words that a leader goes through, on white, so that it ends before them.
fn struck(words: &[Shape], column: &[Shape]) -> Vec<Shape> {
    let leaders = leaders::leaders(column);
    let meets = |room: &Area| leaders.iter().any(|(_, path)| path.windows(2).any(|pair| room.meets(pair[0], pair[1])));
    let words = words.iter().filter_map(|shape| Some((shape, shape.room().filter(&meets)?)));
    words.flat_map(|(words, room)| [Shape::polygon(room.corners(), None, Some(Ink::White)), words.clone()]).collect()
}

/// All that lies on the wall itself, from the lowest layer of the drawing up.
pub(super) fn body(cut: &Cut) -> Vec<Shape> {
    let mut shapes = ground::ground(cut);
    shapes.extend(masonry::ledges(cut));
    shapes.extend(backing::backing(cut));
    shapes.extend(packing::packing(cut));
    shapes.extend(blocking::blocking(cut));
    shapes.extend(solid::pieces(cut));
    shapes.extend(masonry::toe(cut));
    let water: Vec<(Vec<Shape>, Vec<Shape>)> = drops::paths(cut).iter().map(water::draw).collect();
    let (under, over): (Vec<_>, Vec<_>) = water.into_iter().unzip();
    shapes.extend(under.into_iter().flatten());
    shapes.extend(fixing::bonds(cut));
    shapes.extend(membrane::pieces(cut));
    let [shanks, heads] = fixing::fastenings(cut);
    shapes.extend(shanks);
    shapes.extend(bead::beads(cut));
    shapes.extend(fixing::weeps(cut));
    shapes.extend(over.into_iter().flatten());
    shapes.extend(heads);
    // Water runs around what stands out of the wall.
    shapes.extend(pipe::passing(cut));
    shapes.extend(breaks::breaks(cut));
    shapes.extend(eave::wall_line(cut));
    shapes
}

/// Free paper above what is drawn, for the words of its sides.
const TOP: f64 = 8.0;
