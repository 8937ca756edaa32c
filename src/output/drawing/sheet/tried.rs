//! The views of a detail at the scales that were tried: one arrangement asks for what another had drawn.

use std::cell::RefCell;
use std::rc::Rc;

use crate::output::drawing::elevation::{self, Noted};
use crate::output::drawing::page::View;
use crate::output::drawing::scene::Area;
use crate::output::drawing::section::{self, SectionLine};
use crate::output::drawing::subject::Subject;
use crate::output::drawing::title;

pub(super) struct Tried<'a> {
    subject: &'a Subject<'a>,
    pub(super) line: Option<&'a SectionLine>,
    cuts: Known<f64, section::Draft<'a>>,
    faces: Known<f64, elevation::Draft<'a>>,
    sections: Known<[f64; 2], View>,
    elevations: Known<f64, View>,
}

impl<'a> Tried<'a> {
    pub(super) fn new(subject: &'a Subject<'a>, line: Option<&'a SectionLine>) -> Tried<'a> {
        let (cuts, faces) = (Known::new(), Known::new());
        Tried { subject, line, cuts, faces, sections: Known::new(), elevations: Known::new() }
    }

    /// The scale than which no section of the detail is larger.
    pub(super) fn least(&self) -> f64 {
        self.line.map_or(0.0, |line| section::least(self.subject, line))
    }

    /// The section with notes so wide.
    pub(super) fn section(&self, line: &'a SectionLine, scale: f64, wide: f64) -> Rc<View> {
        self.sections.of([scale, wide], || section::view(&self.cut(line, scale), true, wide))
    }

    pub(super) fn elevation(&self, scale: f64) -> Rc<View> {
        self.elevations.of(scale, || elevation::view(&self.face(scale), Noted::Numbers))
    }

    /// How wide the section is with notes so wide, and how high at least: that shows of most that they have no room.
    pub(super) fn size_of_section(&self, line: &'a SectionLine, scale: f64, wide: f64) -> [f64; 2] {
        let draft = self.cut(line, scale);
        [draft.width(wide), draft.least_height()]
    }

    pub(super) fn size_of_elevation(&self, scale: f64) -> [f64; 2] {
        let draft = self.face(scale);
        [draft.width(Noted::Numbers), draft.least_height()]
    }

    fn cut(&self, line: &'a SectionLine, scale: f64) -> Rc<section::Draft<'a>> {
        self.cuts.of(scale, || section::Draft::new(self.subject, line, scale))
    }

    fn face(&self, scale: f64) -> Rc<elevation::Draft<'a>> {
        self.faces.of(scale, || elevation::Draft::new(self.subject, scale))
    }
}

pub(super) fn fits(view: &View, room: Area) -> bool {
    may_fit([view.width, view.height + title::room(view)], room)
}

pub(super) fn may_fit([width, height]: [f64; 2], room: Area) -> bool {
    width <= room.width() && height <= room.height()
}

/// What was made of some numbers.
struct Known<K, V>(RefCell<Vec<(K, Rc<V>)>>);

impl<K: PartialEq, V> Known<K, V> {
    fn new() -> Known<K, V> {
        Known(RefCell::new(Vec::new()))
    }

    fn of(&self, key: K, make: impl FnOnce() -> V) -> Rc<V> {
        let known = self.0.borrow().iter().find(|(other, _)| *other == key).map(|(_, made)| made.clone());
        known.unwrap_or_else(|| {
            let made = Rc::new(make());
            self.0.borrow_mut().push((key, made.clone()));
            made
        })
    }
}
