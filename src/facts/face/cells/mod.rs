//! The face split where any edge runs: inside one cell nothing changes.

mod block;

use std::ops::Range;

use crate::facts::face::budget::{self, Budget, Excess, TooLarge};
use crate::facts::face::{Coordinate, Extent, Face, OPEN_HIGH, OPEN_LOW, Rect};
use crate::model::MaterialKind;
pub use block::Block;

/// Columns from left to right, rows from the lowest up, and what covers each cell.
#[derive(Clone, Debug)]
pub struct Cells {
    ups: Vec<Coordinate>,
    alongs: Vec<Coordinate>,
    blocks: Vec<Block>,
    /// Where the stack of each cell starts in `members`, column by column, from the lowest row up.
    starts: Vec<u32>,
    /// How many pieces of each stack lie on the inner face; empty when none do.
    inner: Vec<u32>,
    pub(crate) members: Vec<u32>,
    /// Which pieces stand through the wall; empty when nothing lies on the inner face.
    units: Vec<bool>,
    /// Places along the face where a slope begins or ends: columns on both sides are not alike.
    bends: Vec<Coordinate>,
}

impl Cells {
    /// Splits the face; stacks are in order of installation, the inner face's pieces first and the last of them inmost.
    pub fn new(face: &Face, budget: &mut Budget) -> Result<Cells, TooLarge> {
        let rects = || face.pieces.iter().map(|p| p.rect).chain(face.cuts.iter().map(|c| c.rect));
        // A footing is judged above grade and below it.
        let footing = face.pieces.iter().any(|p| face.is_footing(p) && face.stands_behind_water(p));
        let grade = face.grade.filter(|_| footing).map(|at| Extent { low: at, high: at });
        let turns = face.valleys.iter().chain(&face.crest).map(|&at| Extent { low: at, high: at });
        let ups = edges(rects().map(|r| r.up).chain(face.sheltered.iter().copied()).chain(grade).chain(turns));
        let alongs = edges(rects().map(|r| r.along).chain(face.slopes.iter().map(|slope| slope.along)));
        let bends = face.slopes.iter().flat_map(|slope| [slope.along.low, slope.along.high]);
        let bends = bends.filter(|&at| at != OPEN_LOW && at != OPEN_HIGH).collect();
        let cells = (ups.len() - 1).saturating_mul(alongs.len() - 1);
        budget::at_most(cells, budget::MAX_CELLS, Excess::Cells)?;
        let block = |rect: Rect| Block { columns: between(&alongs, rect.along), rows: between(&ups, rect.up) };
        let blocks: Vec<Block> = face.pieces.iter().map(|p| block(p.rect)).collect();
        let stacked = blocks.iter().map(Block::size).fold(0, usize::saturating_add);
        budget::at_most(stacked, budget::MAX_STACKED, Excess::Stacked)?;
        let mut holes: Vec<(usize, Block)> = face.cuts.iter().map(|c| (c.piece, block(c.rect))).collect();
        holes.sort_by_key(|h| h.0);
        budget.spend(2 * (stacked + cells) + holes.iter().map(|h| 2 * h.1.size()).fold(0, usize::saturating_add))?;
        let mut cells = Cells {
            starts: vec![0; cells + 1],
            inner: Vec::new(),
            members: Vec::new(),
            units: Vec::new(),
            ups,
            alongs,
            blocks,
            bends,
        };
        cells.fill(face, &holes);
        Ok(cells)
    }

    fn fill(&mut self, face: &Face, holes: &[(usize, Block)]) {
        let rows = self.rows();
        let mut cut = if holes.is_empty() { Vec::new() } else { vec![false; self.starts.len()] };
        let inside = face.pieces.iter().any(|p| p.inside);
        let order = || {
            let of = move |inside| move |i: &usize| face.pieces[*i].inside == inside;
            (0..face.pieces.len()).rev().filter(of(true)).chain((0..face.pieces.len()).filter(of(false)))
        };
        let blocks = std::mem::take(&mut self.blocks);
        // Visits the cells of a piece: column by column, or one by one where it has cuts.
        let mut each = |piece: usize, visit: &mut dyn FnMut(Range<usize>)| {
            let from = holes.partition_point(|h| h.0 < piece);
            let holes = &holes[from..from + holes[from..].partition_point(|h| h.0 == piece)];
            if holes.is_empty() {
                return blocks[piece].strips(rows).for_each(visit);
            }
            let of_holes = || holes.iter().flat_map(|(_, hole)| hole.strips(rows));
            of_holes().for_each(|cells| cut[cells].fill(true));
            blocks[piece].strips(rows).flatten().filter(|&cell| !cut[cell]).for_each(|cell| visit(cell..cell + 1));
            of_holes().for_each(|cells| cut[cells].fill(false));
        };
        if inside {
            self.inner = vec![0; self.starts.len() - 1];
            self.units = face.pieces.iter().map(|p| p.is(MaterialKind::Unit)).collect();
        }
        for piece in order() {
            let inside = face.pieces[piece].inside;
            each(piece, &mut |cells| {
                if inside {
                    self.inner[cells.clone()].iter_mut().for_each(|count| *count += 1);
                }
                self.starts[cells.start + 1..cells.end + 1].iter_mut().for_each(|count| *count += 1);
            });
        }
        let mut total = 0;
        for start in &mut self.starts {
            total += *start;
            *start = total;
        }
        self.members = vec![0; total as usize];
        // While the stacks are filled, each start moves to the end of its stack, which is where the next stack starts.
        for piece in order() {
            each(piece, &mut |cells| {
                for start in &mut self.starts[cells] {
                    self.members[*start as usize] = piece as u32;
                    *start += 1;
                }
            });
        }
        self.starts.rotate_right(1);
        self.starts[0] = 0;
        self.blocks = blocks;
    }

    pub fn columns(&self) -> usize {
        self.alongs.len() - 1
    }

    pub fn rows(&self) -> usize {
        self.ups.len() - 1
    }

    #[inline]
    pub fn row(&self, row: usize) -> Extent {
        Extent { low: self.ups[row], high: self.ups[row + 1] }
    }

    #[inline]
    pub fn column(&self, column: usize) -> Extent {
        Extent { low: self.alongs[column], high: self.alongs[column + 1] }
    }

    pub fn rect(&self, column: usize, row: usize) -> Rect {
        Rect { up: self.row(row), along: self.column(column) }
    }

    /// The outer face's pieces of a cell, inboard to outboard.
    #[inline]
    pub fn stack(&self, column: usize, row: usize) -> &[u32] {
        let (inner, stack) = (self.inner.get(self.cell(column, row)), self.whole(column, row));
        &stack[inner.map_or(0, |&n| n as usize)..]
    }

    /// All pieces of a cell, those of the inner face first, inboard to outboard.
    #[inline]
    pub fn whole(&self, column: usize, row: usize) -> &[u32] {
        &self.members[self.span(self.cell(column, row))]
    }

    pub fn has(&self, column: usize, row: usize, piece: usize) -> bool {
        self.whole(column, row).contains(&(piece as u32))
    }

    /// Whether two pieces touch: they are neighbors in a stack, or one is a unit and the other a piece on the inner face that
    /// reaches it there.
    pub fn touch(&self, column: usize, row: usize, a: usize, b: usize) -> bool {
        let (a, b) = (a as u32, b as u32);
        let whole = self.whole(column, row);
        let beside = |at: usize| whole.get(at + 1) == Some(&b) || at > 0 && whole[at - 1] == b;
        whole.iter().position(|&piece| piece == a).is_some_and(beside)
            || !self.inner.is_empty() && self.reached(column, row).any(|pair| pair == (a, b) || pair == (b, a))
    }

    /// The piece of the inner face that lies against the wall in a cell, with each unit there: a unit goes through the wall, so
    /// a pan or a tape under it outside is not between the two.
    pub fn reached(&self, column: usize, row: usize) -> impl Iterator<Item = (u32, u32)> + '_ {
        let [inner, outer] = self.parts(self.cell(column, row));
        let against = self.members[inner].last().copied();
        let units = self.members[outer].iter().filter(|&&piece| self.units[piece as usize]);
        against.into_iter().flat_map(move |inner| units.clone().map(move |&unit| (inner, unit)))
    }

    /// The cells of a piece's rectangle, cuts included; none on a face that is too large for facts.
    pub fn block(&self, piece: usize) -> &Block {
        const NONE: &Block = &Block { columns: 0..0, rows: 0..0 };
        self.blocks.get(piece).unwrap_or(NONE)
    }

    /// The cells of two pieces' rectangles in common.
    pub fn common(&self, a: usize, b: usize) -> Block {
        let (a, b) = (&self.blocks[a], &self.blocks[b]);
        let both = |x: &Range<usize>, y: &Range<usize>| {
            let low = x.start.max(y.start);
            low..x.end.min(y.end).max(low)
        };
        Block { columns: both(&a.columns, &b.columns), rows: both(&a.rows, &b.rows) }
    }

    #[inline]
    pub(crate) fn cell(&self, column: usize, row: usize) -> usize {
        column * self.rows() + row
    }

    /// Where the two parts of a cell's stack are in `members`: the pieces of the inner face, and those of the outer face.
    pub(crate) fn parts(&self, cell: usize) -> [Range<usize>; 2] {
        let span = self.span(cell);
        let split = span.start + self.inner.get(cell).map_or(0, |&n| n as usize);
        [span.start..split, split..span.end]
    }

    #[inline]
    fn span(&self, cell: usize) -> Range<usize> {
        self.starts[cell] as usize..self.starts[cell + 1] as usize
    }
}

fn edges(extents: impl Iterator<Item = Extent>) -> Vec<Coordinate> {
    let mut edges = vec![OPEN_LOW, OPEN_HIGH];
    edges.extend(extents.flat_map(|e| [e.low, e.high]));
    edges.sort_unstable();
    edges.dedup();
    edges
}

fn between(edges: &[Coordinate], extent: Extent) -> Range<usize> {
    let at = |edge: Coordinate| edges.partition_point(|&e| e < edge);
    at(extent.low)..at(extent.high)
}
