//! A drawing, ready to be written.

use crate::output::drawing::{self, Scene};

/// A drawing at a scale of the trade.
///
/// ```
/// use headlap::{Checker, Date, Texts};
///
/// let mut texts = Texts::new();
/// texts.add("wall.detail", "include \"stock.detail\"\nassembly W1 wall {\n  layer gypsum-board 12.7 mm\n}\n");
/// let checker = Checker::stock();
/// let review = checker.review(&texts, ["wall.detail"], Date::constant(2026, 5, 4));
/// let drawing = &review.items().next().expect("one assembly").drawings()[0];
/// assert!(drawing.svg().starts_with("<?xml"));
/// assert!(drawing.element().starts_with("<svg"));
/// assert!(drawing.title().contains("W1"));
/// ```
#[derive(Clone, Debug)]
pub struct Drawing {
    scene: Scene,
}

impl Drawing {
    pub(in crate::checker) fn of(scene: Scene) -> Drawing {
        Drawing { scene }
    }

    /// What it shows: "Section of …".
    pub fn title(&self) -> &str {
        &self.scene.title
    }

    /// The same for those who cannot see it.
    pub fn description(&self) -> &str {
        &self.scene.description
    }

    /// A whole SVG file.
    pub fn svg(&self) -> String {
        drawing::svg(&self.scene)
    }

    /// The `svg` element alone, to stand in a page.
    pub fn element(&self) -> String {
        drawing::element(&self.scene)
    }
}
