//! What a drawing of a detail is made from.

use crate::facts::DetailFacts;
use crate::facts::face::{Coordinate, Extent, Face};
use crate::model::{Axis, Detail, Hold, MaterialKind};
use crate::output::drawing::joint::{self, Joint};
use crate::output::drawing::mark::Mark;
use crate::output::drawing::scale::Scales;
use crate::output::sequence;
use crate::quantity::Quantity;

/// A detail with its facts and its findings.
pub struct Subject<'a> {
    pub facts: &'a DetailFacts,
    pub detail: &'a Detail,
    /// The geometry that the facts were worked out from.
    pub shape: Face,
    /// The step of the installation sequence in which each piece is installed.
    pub steps: Vec<usize>,
    /// In the order of the report.
    pub marks: &'a [Mark<'a>],
    /// Nothing is drawn shorter or thinner than it is.
    pub whole: bool,
    /// What is thick is drawn so even where that takes more paper than a section has.
    pub thick: bool,
    /// What stands open and is filled with a bead.
    pub joints: Vec<Joint>,
}

impl<'a> Subject<'a> {
    pub fn new(facts: &'a DetailFacts, marks: &'a [Mark<'a>]) -> Subject<'a> {
        let detail = &facts.detail;
        let shape = facts.shape();
        let joints = joint::joints(&shape);
        Subject { facts, detail, shape, steps: sequence::numbers(facts), marks, whole: false, thick: false, joints }
    }

    /// The same with nothing broken out: for drawings in true size.
    pub fn drawn_whole(self) -> Subject<'a> {
        Subject { whole: true, ..self }
    }

    /// The same for an enlargement, of which only a circle is seen.
    pub fn enlarged(&self) -> Subject<'a> {
        let Subject { facts, detail, marks, whole, .. } = *self;
        let (shape, steps, joints) = (self.shape.clone(), self.steps.clone(), self.joints.clone());
        Subject { facts, detail, shape, steps, marks, whole, thick: true, joints }
    }

    /// A stretch of a piece as far as it really reaches: joints with a width stand open.
    pub fn real(&self, piece: usize, axis: Axis, across: Extent, stretch: [Coordinate; 2]) -> [Coordinate; 2] {
        let joints = self.joints.iter().filter(|joint| joint.axis == axis && joint.across.overlaps(across));
        joints.fold(stretch, |stretch, joint| joint.open(piece, stretch))
    }

    /// The unit of lengths, as a word where its symbol reads like one.
    pub fn unit(&self) -> &'static str {
        match self.facts.length_unit.symbol {
            "in" => "inches",
            symbol => symbol,
        }
    }

    /// The scales of who counts in the unit of the detail.
    pub fn scales(&self) -> Scales {
        Scales::of(self.facts.length_unit.symbol)
    }

    /// Millimetres in the author's unit.
    pub fn length(&self, millimetres: f64) -> String {
        Quantity::from_si(millimetres / 1000.0, self.facts.length_unit).to_string()
    }

    /// The same without the unit, which a drawing states once.
    pub fn plain(&self, millimetres: f64) -> String {
        self.bare(&self.length(millimetres))
    }

    /// A length without the unit in which the drawing is dimensioned; of one in two units, `150 mm (6 in)`, that one.
    pub fn bare(&self, length: &str) -> String {
        let unit = format!(" {}", self.facts.length_unit.symbol);
        let in_unit = |said: &str| said.strip_suffix(&unit).map(str::to_owned);
        let parts = || length.split_once(" (").and_then(|(first, second)| Some([first, second.strip_suffix(')')?]));
        let either = || parts().and_then(|parts| parts.into_iter().find_map(in_unit));
        in_unit(length).or_else(either).unwrap_or_else(|| length.to_owned())
    }

    /// The pieces are adhered to each other wherever they touch.
    pub fn bonded(&self, a: usize, b: usize) -> bool {
        let pieces = &self.detail.pieces;
        let bonds = |piece: usize, onto: usize| {
            pieces[piece].bonds.iter().any(|bond| bond.index == onto && bond.hold != Hold::Clamp)
                || pieces[piece].material.kind == Some(MaterialKind::Coat)
        };
        bonds(a, b) || bonds(b, a)
    }
}
