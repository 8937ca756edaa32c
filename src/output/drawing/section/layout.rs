//! A section laid out on its paper: what is cut, its levels and lengths, and the names beside it.

use crate::model::Axis;
use crate::output::drawing::dimension;
use crate::output::drawing::free::Free;
use crate::output::drawing::mark::Mark;
use crate::output::drawing::note;
use crate::output::drawing::page::View;
use crate::output::drawing::scene::{Area, Ink, Point, Shape};
use crate::output::drawing::section::captions::{caption, eave_words, fall, not_shown, sides};
use crate::output::drawing::section::cut::Cut;
use crate::output::drawing::section::draft::{Draft, TOP};
use crate::output::drawing::section::{eave, enlarge, leaders, steps};

/// A section on its paper, and the room that is left for what belongs to one finding.
pub(super) struct Layout<'d> {
    cut: &'d Cut<'d>,
    off: [f64; 2],
    pub(super) free: Free,
    pub(super) view: View,
}

impl<'d> Layout<'d> {
    /// With `tied`, the circle of an enlargement will lie on it. The notes are so wide.
    pub(super) fn new(draft: &'d Draft, tied: bool, wide: f64) -> Layout<'d> {
        let Draft { cut, body, dimensions, levels, area, .. } = draft;
        let (area, line) = (*area, cut.line);
        let left = draft.left();
        let notes_at = draft.notes_at();
        // A column that is higher than its drawing goes on above it and below it.
        let high = |p: Point| Point::new(p.x + left - area.left, p.y + TOP - area.top);
        let choices = if wide > note::NONE { draft.choices() } else { &[] };
        let first = leaders::column(cut, choices, &high, [notes_at, TOP - 4.0], wide);
        let top = TOP + ((first.1 - TOP - area.height() - 4.0) / 2.0).max(0.0);
        let (dx, dy) = (left - area.left, top - area.top);
        let moved = |p: Point| Point::new(p.x + dx, p.y + dy);
        let levels: Vec<(Point, String)> = levels.iter().map(|(at, words)| (moved(*at), words.clone())).collect();
        let sides = sides(cut, &moved, Area::new(left, top, left + area.width(), top + area.height()));
        let mut shapes = sides.clone();
        shapes.extend(body.iter().cloned().map(|shape| shape.moved(dx, dy)));
        if !levels.is_empty() {
            shapes.push(dimension::levels(&levels, left - 6.0, top - 2.0));
        }
        let (column, end, unplaced) =
            if top > TOP { leaders::column(cut, choices, &moved, [notes_at, TOP - 4.0], wide) } else { first };
        let written: Vec<Shape> = shapes.iter().chain(&column).cloned().collect();
        let mut free = Free::of(&written);
        let circle = if tied { enlarge::circle(cut, &moved) } else { None };
        let dimensions: Vec<Shape> = dimensions.iter().filter_map(|d| free.dimension(d, [dx, dy], circle)).collect();
        let struck = struck(&sides, &column);
        shapes.retain(|shape| shape.room().is_none() || !struck.contains(shape));
        shapes.extend(column);
        shapes.extend(struck);
        shapes.extend(dimensions);
        let wall = eave::ends(cut).and_then(|ends| eave_words(ends.map(moved), &mut free, &shapes));
        shapes.extend(wall);
        let plumb = line.axis == Axis::Up && cut.spine.legs() == 1 && !cut.spine.lies(0);
        let view = View {
            name: if line.axis == Axis::Up || cut.spine.outward(0).y < 0.0 { "Section" } else { "Plan" },
            shapes,
            width: draft.width(wide),
            height: draft.below(top).max(end),
            scale: cut.scale,
            datum: plumb.then(|| moved(cut.spine.at(cut.ruler.at_mm(0.0), 0.0)).y),
            middle: (line.axis == Axis::Along).then(|| moved(cut.spine.at(cut.ruler.at_mm(0.0), 0.0)).x),
            caption: caption(cut),
            explained: fall(cut).into_iter().chain(not_shown(cut)).map(str::to_owned).collect(),
            unplaced,
        };
        Layout { cut, off: [dx, dy], free, view }
    }

    fn moved(&self, p: Point) -> Point {
        Point::new(p.x + self.off[0], p.y + self.off[1])
    }

    pub(super) fn ring(&self, entry: &Mark, free: &mut Free) -> Option<Shape> {
        enlarge::ring(self.cut, entry, &|at| self.moved(at), free, &self.view.shapes)
    }

    pub(super) fn numbers(&self, entry: &Mark, free: &mut Free) -> Vec<Shape> {
        steps::numbers(self.cut, entry, &|at| self.moved(at), free, &self.view.shapes)
    }
}

/// The words that a leader goes through, on white, so that it ends before them.
fn struck(words: &[Shape], column: &[Shape]) -> Vec<Shape> {
    let leaders = leaders::leaders(column);
    let meets = |room: &Area| leaders.iter().any(|(_, path)| path.windows(2).any(|pair| room.meets(pair[0], pair[1])));
    let words = words.iter().filter_map(|shape| Some((shape, shape.room().filter(&meets)?)));
    words.flat_map(|(words, room)| [Shape::polygon(room.corners(), None, Some(Ink::White)), words.clone()]).collect()
}
