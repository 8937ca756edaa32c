//! How section and elevation share a sheet: beside each other, or the elevation below where both are larger so.

use std::rc::Rc;

use crate::output::drawing::note;
use crate::output::drawing::page::View;
use crate::output::drawing::scale::Scales;
use crate::output::drawing::scene::{Area, Point};
use crate::output::drawing::section::SectionLine;
use crate::output::drawing::sheet::GAP;
use crate::output::drawing::sheet::tried::{Tried, fits, may_fit};
use crate::output::drawing::title;

/// What is kept for the elevation beside a section at most.
const ELEVATION: f64 = 76.0;

/// Narrower elevations stand as far to the right as one of this width.
const SIDE: f64 = 100.0;

/// An elevation below its section is no smaller than this part of its scale.
const SMALLER: f64 = 2.5;

/// How much of the paper that is left over stands above the views.
const ABOVE: f64 = 0.35;

/// A view, where it stands, and where its title begins.
pub(super) struct Placed {
    pub(super) view: Rc<View>,
    pub(super) at: Point,
    pub(super) foot: f64,
}

/// The views of a detail within an area, at scales of its office; `kept` is the height of what stands below them at the foot of the area.
pub(super) struct Views<'a> {
    pub(super) tried: Tried<'a>,
    pub(super) scales: Scales,
    pub(super) area: Area,
    pub(super) kept: f64,
}

impl<'a> Views<'a> {
    /// The section on the left, the elevation on the right.
    pub(super) fn beside(&self) -> Vec<Placed> {
        let area = self.area;
        let least = self.tried.least();
        let elevation = |room: Area, least: f64| self.elevation(room, least);
        let cut = self.tried.line.map(|line| {
            let slim = elevation(area, least).width.min(ELEVATION);
            let room = Area { right: area.right - slim - GAP, ..area };
            let noted = |wide: f64| {
                let size = |scale: f64| self.tried.size_of_section(line, scale, wide);
                fitting(self.scales, room, least, &size, &|scale| self.tried.section(line, scale, wide))
            };
            let scales = self.scales.all().iter().copied().filter(|scale| *scale >= least);
            let largest =
                scales.filter(|scale| *scale < self.scales.last()).find_map(|scale| self.named(line, scale, room));
            // Where the names are too high even so, numbers: the installation sequence has the names.
            let numbered = || Some(noted(note::NUMBER)).filter(|view| fits(view, room));
            largest.or_else(numbered).unwrap_or_else(|| noted(note::NONE))
        });
        let side = area.left + cut.as_ref().map_or(0.0, |view| view.width + GAP);
        let view = elevation(Area { left: side, ..area }, cut.as_ref().map_or(0.0, |view| view.scale));
        let side = side.max(area.right - view.width.max(SIDE));
        // The titles of views beside each other stand on one line.
        let under = title::room(&view);
        let (tops, row) = rows(cut.as_deref(), &view, area.height() - under);
        // A little above the middle of the sheet, and above what stands below them where there is room for both.
        let spare = (area.height() - under - row).max(0.0);
        let top = area.top + (ABOVE * spare).min((spare - self.kept).max(0.0));
        let cut = cut.map(|view| Placed { view, at: Point::new(area.left, top + tops[0]), foot: top + row });
        let view = Placed { view, at: Point::new(side, top + tops[1]), foot: top + row };
        cut.into_iter().chain([view]).collect()
    }

    /// The section over the elevation, with one place along the wall above the other: if so the section is no smaller than beside, and
    /// one of them is larger.
    pub(super) fn below(&self, beside: &[Placed]) -> Option<Vec<Placed>> {
        let ([cut, view], Some(line)) = (beside, self.tried.line) else { return None };
        let before = [cut.view.scale, view.view.scale];
        let least = self.tried.least();
        let scales = self.scales.all().iter().copied().filter(|scale| *scale >= least && *scale <= before[0]);
        let area = self.area;
        for scale in scales {
            let Some(cut) = self.named(line, scale, Area { bottom: area.bottom - LOWEST, ..area }) else { continue };
            let bottom = area.bottom - cut.height - title::room(&cut) - GAP;
            let room = Area { bottom, ..area };
            let view = self.elevation(room, scale);
            let larger = scale < before[0] || view.scale < before[1];
            if fits(&view, room) && larger && view.scale <= SMALLER * scale {
                return Some(self.stacked(cut, view));
            }
        }
        None
    }

    /// The section at a scale with its names, if it fits: narrower names leave more room beside them, wider ones are less high.
    fn named(&self, line: &'a SectionLine, scale: f64, room: Area) -> Option<Rc<View>> {
        let view = |wide: f64| {
            let may_fit = may_fit(self.tried.size_of_section(line, scale, wide), room);
            may_fit.then(|| self.tried.section(line, scale, wide)).filter(|view| fits(view, room))
        };
        let other = || {
            let [width, _] = self.tried.size_of_section(line, scale, note::WIDTH);
            let most = note::WIDTH - (width - room.width());
            let other = if most >= note::WIDTH { note::WIDER } else { most };
            Some(other).filter(|wide| *wide >= note::NARROW).and_then(view)
        };
        view(note::WIDTH).or_else(other)
    }

    fn elevation(&self, room: Area, least: f64) -> Rc<View> {
        let size = |scale: f64| self.tried.size_of_elevation(scale);
        fitting(self.scales, room, least, &size, &|scale| self.tried.elevation(scale))
    }

    fn stacked(&self, cut: Rc<View>, view: Rc<View>) -> Vec<Placed> {
        let area = self.area;
        let spare = area.height() - [&cut, &view].map(|view| view.height + title::room(view)).iter().sum::<f64>() - GAP;
        // What is wider moves a little into its margin, the other one the rest of the way.
        let aside = cut.middle.zip(view.middle).map_or(0.0, |(cut, view)| cut - view);
        let free = |view: &View| (area.width() - view.width).max(0.0);
        let moved = aside.clamp(-MARGIN, free(&view));
        let (x, below) = (area.left + (moved - aside).clamp(0.0, free(&cut)), area.left + moved);
        let top = area.top + ABOVE * spare;
        let foot = top + cut.height;
        let second = foot + title::room(&cut) + GAP + ABOVE * spare;
        let end = second + view.height;
        vec![
            Placed { view: cut, at: Point::new(x, top), foot },
            Placed { view, at: Point::new(below, second), foot: end },
        ]
    }
}

/// How far an elevation may stand out of its area to the left, mm: nothing is drawn there beside its face.
const MARGIN: f64 = 4.0;

/// No elevation is less high, mm.
const LOWEST: f64 = 30.0;

/// A view at the largest scale, but none larger than `least`, at which it fits; the smallest where none does. `size` is what it takes at
/// least at a scale.
fn fitting(
    scales: Scales,
    room: Area,
    least: f64,
    size: &dyn Fn(f64) -> [f64; 2],
    view: &dyn Fn(f64) -> Rc<View>,
) -> Rc<View> {
    let last = scales.last();
    let tries = scales.all().iter().copied().filter(|scale| *scale >= least && *scale < last);
    let mut views = tries.filter(|scale| may_fit(size(*scale), room)).map(view);
    views.find(|view| fits(view, room)).unwrap_or_else(|| view(last))
}

/// Where two views beside each other begin, and where both end: a height of the one lies at the same height of the other if they have one
/// scale and there is room, else they end together.
fn rows(cut: Option<&View>, view: &View, most: f64) -> ([f64; 2], f64) {
    let high = cut.map_or(0.0, |cut| cut.height);
    let row = high.max(view.height);
    let ended = ([row - high, row - view.height], row);
    let same = cut.filter(|cut| cut.scale == view.scale).and_then(|cut| Some(cut.datum? - view.datum?));
    let Some(down) = same else { return ended };
    let tops = [(-down).max(0.0), down.max(0.0)];
    let row = (tops[0] + high).max(tops[1] + view.height);
    if row <= most { (tops, row) } else { ended }
}
