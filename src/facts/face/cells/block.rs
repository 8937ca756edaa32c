//! The cells of a rectangle, and the rows and columns in which nothing changes.

use std::ops::Range;

use super::Cells;

/// The cells of a rectangle.
#[derive(Clone, Debug, Default)]
pub struct Block {
    pub columns: Range<usize>,
    pub rows: Range<usize>,
}

impl Block {
    pub fn size(&self) -> usize {
        self.columns.len().saturating_mul(self.rows.len())
    }

    pub fn iter(&self) -> impl Iterator<Item = (usize, usize)> + use<> {
        let rows = self.rows.clone();
        self.columns.clone().flat_map(move |c| rows.clone().map(move |r| (c, r)))
    }

    /// The cells of each column, of a face with so many rows.
    pub(super) fn strips(&self, rows: usize) -> impl Iterator<Item = Range<usize>> + use<> {
        let within = self.rows.clone();
        self.columns.clone().map(move |column| column * rows + within.start..column * rows + within.end)
    }
}

fn alike(count: usize, same: impl Fn(usize, usize) -> bool) -> Vec<Range<usize>> {
    let mut groups: Vec<Range<usize>> = Vec::with_capacity(count);
    for at in 0..count {
        match groups.last_mut() {
            Some(group) if same(group.start, at) => group.end = at + 1,
            _ => groups.push(at..at + 1),
        }
    }
    groups
}

impl Cells {
    /// Columns in which nothing changes, taken together.
    pub fn alike_columns(&self) -> Vec<Range<usize>> {
        let rows = self.rows();
        let members = |c: usize| self.starts[c * rows] as usize..self.starts[(c + 1) * rows] as usize;
        alike(self.columns(), |a, b| {
            let (first, next) = (self.column(a).low, self.column(b).low);
            !self.bends.iter().any(|&bend| first < bend && bend <= next)
                && self.members[members(a)] == self.members[members(b)]
                && (0..rows).all(|r| self.span(a * rows + r).len() == self.span(b * rows + r).len())
        })
    }

    /// Rows in which nothing changes, taken together.
    pub fn alike_rows(&self) -> Vec<Range<usize>> {
        alike(self.rows(), |a, b| (0..self.columns()).all(|c| self.whole(c, a) == self.whole(c, b)))
    }
}
