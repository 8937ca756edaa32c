//! A section at a scale, before names stand beside it: what is cut, its levels and lengths, and the paper that these take.

use std::cell::OnceCell;

use crate::output::drawing::dimension::{self, Placed};
use crate::output::drawing::note;
use crate::output::drawing::scene::{Area, Point, Shape};
use crate::output::drawing::section::cut::Cut;
use crate::output::drawing::section::levels::levels;
use crate::output::drawing::section::line::SectionLine;
use crate::output::drawing::section::{
    backing, bead, blocking, breaks, dimensions, drops, eave, fixing, ground, leaders, masonry, membrane, packing,
    pipe, solid,
};
use crate::output::drawing::subject::Subject;
use crate::output::drawing::water;

/// Notes of several widths are tried beside one draft.
pub struct Draft<'a> {
    pub(super) cut: Cut<'a>,
    pub(super) body: Vec<Shape>,
    pub(super) dimensions: Vec<Placed>,
    pub(super) levels: Vec<(Point, String)>,
    pub(super) area: Area,
    choices: OnceCell<Vec<(usize, Vec<Point>)>>,
}

impl<'a> Draft<'a> {
    pub fn new(subject: &'a Subject<'a>, line: &'a SectionLine, scale: f64) -> Draft<'a> {
        let cut = Cut::new(subject, line, scale);
        let body = body(&cut);
        let dimensions = dimensions::dimensions(&cut, &body);
        let levels = levels(&cut);
        let placed = Area::around(&dimensions.iter().map(|d| d.draw(0.5).1).collect::<Vec<_>>());
        let area = Area::around(&body).into_iter().chain(placed).reduce(Area::with);
        let area = area.unwrap_or(Area::new(0.0, 0.0, 1.0, 1.0));
        let area = levels.iter().fold(area, |area, (at, _)| area.with(Area::new(area.left, at.y, area.right, at.y)));
        Draft { cut, body, dimensions, levels, area, choices: OnceCell::new() }
    }

    /// How wide its view is with notes so wide.
    pub fn width(&self, wide: f64) -> f64 {
        self.notes_at() + wide.max(note::NUMBER)
    }

    /// No view of it is less high.
    pub fn least_height(&self) -> f64 {
        self.below(TOP)
    }

    /// Where what is drawn begins: "inside" has to have room on the left of the datum.
    pub(super) fn left(&self) -> f64 {
        (dimension::room(&self.levels) + 8.0).max(14.0)
    }

    pub(super) fn notes_at(&self) -> f64 {
        self.left() + self.area.width() + 14.0
    }

    /// Where the paper below ends if what is drawn begins at `top`.
    pub(super) fn below(&self, top: f64) -> f64 {
        top + self.area.height() + 4.0
    }

    /// Where the names may point.
    pub(super) fn choices(&self) -> &[(usize, Vec<Point>)] {
        self.choices.get_or_init(|| leaders::choices(&self.cut))
    }
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
pub(super) const TOP: f64 = 8.0;
