//! What pieces are placed by: the line of a section through a detail, and where that lies on paper.

use std::ops::Range;

use crate::model::Detail;
use crate::output::drawing::section::line::SectionLine;
use crate::output::drawing::section::place::Turn;

#[derive(Clone, Copy)]
pub(super) struct OnPaper<'a> {
    pub(super) detail: &'a Detail,
    pub(super) line: &'a SectionLine,
    /// From where to where each step of the line lies, mm.
    pub(super) along: &'a [[f64; 2]],
    pub(super) turns: &'a [Turn],
}

impl OnPaper<'_> {
    /// From where to where steps that follow each other lie, mm.
    pub(super) fn reach(&self, steps: &Range<usize>) -> [f64; 2] {
        [self.along[steps.start][0], self.along[steps.end - 1][1]]
    }
}
