//! A detail or an assembly of a review, to be shown.

use crate::checker::drawing::Drawing;
use crate::facts::{AssemblyFacts, DetailFacts};
use crate::output::drawing::{self, Mark, SectionLine, Subject};
use crate::report::Report;
use crate::text::Span;

/// A detail or an assembly that was reviewed.
///
/// ```
/// use headlap::{Checker, Date, ItemKind, Texts};
///
/// let mut texts = Texts::new();
/// texts.add("wall.detail", "include \"stock.detail\"\nassembly W1 wall {\n  layer gypsum-board 12.7 mm\n}\n");
/// let checker = Checker::stock();
/// let review = checker.review(&texts, ["wall.detail"], Date::constant(2026, 5, 4));
/// let wall = review.items().next().expect("one assembly");
/// assert_eq!(wall.kind(), ItemKind::Assembly);
/// assert!(wall.drawings()[0].svg().contains("<svg"));
/// ```
pub struct Item<'r> {
    report: &'r Report,
    facts: Facts<'r>,
}

/// What an item is.
///
/// ```
/// assert_ne!(headlap::ItemKind::Detail, headlap::ItemKind::Assembly);
/// ```
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub enum ItemKind {
    /// Pieces on a face, with their laps.
    Detail,
    /// Layers from one side to the other.
    Assembly,
}

enum Facts<'r> {
    Detail(&'r DetailFacts),
    Assembly(&'r AssemblyFacts),
}

impl<'r> Item<'r> {
    pub(in crate::checker) fn detail(report: &'r Report, facts: &'r DetailFacts) -> Item<'r> {
        Item { report, facts: Facts::Detail(facts) }
    }

    pub(in crate::checker) fn assembly(report: &'r Report, facts: &'r AssemblyFacts) -> Item<'r> {
        Item { report, facts: Facts::Assembly(facts) }
    }

    /// Its name as it is written.
    pub fn name(&self) -> &'r str {
        match self.facts {
            Facts::Detail(facts) => &facts.detail.name,
            Facts::Assembly(facts) => &facts.assembly.name,
        }
    }

    /// A detail or an assembly.
    pub fn kind(&self) -> ItemKind {
        match self.facts {
            Facts::Detail(_) => ItemKind::Detail,
            Facts::Assembly(_) => ItemKind::Assembly,
        }
    }

    /// Where its name stands.
    pub fn span(&self) -> Span {
        match self.facts {
            Facts::Detail(facts) => facts.detail.name_span,
            Facts::Assembly(facts) => facts.assembly.name_span,
        }
    }

    /// Where its pieces or its layers are stated, in the order in which drawings number them.
    pub(in crate::checker) fn statements(&self) -> Vec<Span> {
        match self.facts {
            Facts::Detail(facts) => facts.detail.pieces.iter().map(|piece| piece.span).collect(),
            Facts::Assembly(facts) => facts.assembly.layers.iter().map(|layer| layer.span).collect(),
        }
    }

    /// The section and the elevation of a detail, each with its name and its findings below; the layers of an assembly.
    /// None of a detail that could not be worked out.
    pub fn drawings(&self) -> Vec<Drawing> {
        self.drawn(drawing::section, drawing::elevation)
    }

    /// The same without names and findings, for a page that lists them beside the drawing.
    pub fn bare_drawings(&self) -> Vec<Drawing> {
        self.drawn(drawing::bare_section, drawing::bare_elevation)
    }

    fn drawn(
        &self,
        section: fn(&Subject, &SectionLine) -> drawing::Scene,
        elevation: fn(&Subject) -> drawing::Scene,
    ) -> Vec<Drawing> {
        match self.facts {
            Facts::Detail(facts) if !drawing::drawable(facts) => Vec::new(),
            Facts::Detail(facts) => {
                // A finding has one number wherever it is shown: its place in the report.
                let numbered = self.report.findings.iter().zip(1..).map(|(finding, number)| Mark::new(number, finding));
                let marks: Vec<Mark> = numbered.filter(|m| drawing::belongs(&facts.detail, m.finding)).collect();
                let subject = Subject::new(facts, &marks);
                let section = SectionLine::principal(&subject).map(|line| section(&subject, &line));
                section.into_iter().chain([elevation(&subject)]).map(Drawing::of).collect()
            }
            Facts::Assembly(facts) => vec![Drawing::of(drawing::assembly(facts))],
        }
    }
}
