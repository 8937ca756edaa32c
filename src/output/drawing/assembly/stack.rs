//! How the layers of an assembly lie on paper: those of a wall stand beside each other, those of a roof, a floor and the ground lie on
//! each other.

use crate::facts::AssemblyFacts;
use crate::model::AssemblyKind;
use crate::output::drawing::hatch::Runs;
use crate::output::drawing::scene::{Area, Point};

/// An area for layers, with the side on which the outside is.
#[derive(Clone, Copy, Debug)]
pub struct Stack {
    pub area: Area,
    outside: Side,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Side {
    Right,
    Above,
    Below,
}

impl Stack {
    pub fn new(facts: &AssemblyFacts, area: Area) -> Stack {
        Stack { area, outside: side(facts) }
    }

    pub fn lies(&self) -> bool {
        self.outside != Side::Right
    }

    /// A place by its depth from the inner face, and by how far it lies across; both from 0 to 1.
    pub fn at(&self, depth: f64, across: f64) -> Point {
        let Area { left, top, bottom, .. } = self.area;
        let (width, height) = (self.area.width(), self.area.height());
        match self.outside {
            Side::Right => Point::new(left + depth * width, bottom - across * height),
            Side::Above => Point::new(left + across * width, bottom - depth * height),
            Side::Below => Point::new(left + across * width, top + depth * height),
        }
    }

    /// The area between two depths.
    pub fn between(&self, from: f64, to: f64) -> Area {
        Area::at(self.at(from, 0.0)).with(Area::at(self.at(to, 1.0)))
    }

    /// How thick an area of it is.
    pub fn thickness(&self, part: Area) -> f64 {
        if self.lies() { part.height() } else { part.width() }
    }

    pub fn runs(&self) -> Runs {
        if self.lies() { Runs::Level } else { Runs::Upright }
    }

    /// Where the inside is.
    pub fn words(&self) -> &'static str {
        match self.outside {
            Side::Right => "inside on the left",
            Side::Above => "inside below",
            Side::Below => "inside above",
        }
    }
}

/// The layers of this assembly lie.
pub fn lies(facts: &AssemblyFacts) -> bool {
    side(facts) != Side::Right
}

fn side(facts: &AssemblyFacts) -> Side {
    match facts.assembly.kind {
        AssemblyKind::Roof => Side::Above,
        AssemblyKind::Floor | AssemblyKind::Ground => Side::Below,
        AssemblyKind::Wall | AssemblyKind::Foundation | AssemblyKind::Existing | AssemblyKind::Opening => Side::Right,
    }
}
