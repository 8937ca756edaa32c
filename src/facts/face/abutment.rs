//! Lengths of one material that end at each other and do not lap: two flashings, two sheets, two boards.

use std::ops::Range;

use crate::facts::face::budget::{Budget, TooLarge};
use crate::facts::face::{Cells, Coordinate, Extent, Face, Joints, OPEN_HIGH, Rect, Run};
use crate::model::{Axis, Control};

/// Two pieces that meet or leave a gap, with no third length between them.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Abutment {
    /// The left or the lower one.
    pub first: usize,
    pub second: usize,
    /// `Side` for an upright joint.
    pub run: Run,
    /// How far apart they are.
    pub width: Coordinate,
    /// Bonded to each other, or joined by a bead.
    pub sealed: bool,
    /// A third piece across the joint that is sealed to both, as a tape or a strip is.
    pub bridge: Option<usize>,
    /// A piece that runs across the whole joint outboard of both; one that holds water is preferred.
    pub cover: Option<usize>,
    /// A piece that runs across the joint inboard of both.
    pub backing: Option<usize>,
    /// The face turns there.
    pub folded: bool,
}

pub fn abutments(face: &Face, cells: &Cells, joints: &Joints, budget: &mut Budget) -> Result<Vec<Abutment>, TooLarge> {
    let mut found = Vec::new();
    for run in [Run::Side, Run::Head] {
        let mut order: Vec<usize> = (0..face.pieces.len()).collect();
        order.sort_by_key(|&p| (face.pieces[p].material, face.pieces[p].inside, on(run, face.pieces[p].rect).low));
        for lengths in order.chunk_by(|&a, &b| {
            let (a, b) = (&face.pieces[a], &face.pieces[b]);
            (a.material, a.inside) == (b.material, b.inside)
        }) {
            for &first in lengths {
                for second in next(face, run, first, lengths, budget)? {
                    let joint = Joint::new(face, cells, run, [first, second]);
                    if !joint.filled(lengths, budget)? {
                        found.push(joint.abutment(joints, budget)?);
                    }
                }
            }
        }
    }
    Ok(found)
}

/// The next lengths: those that begin nearest to the end of one and in line with it.
fn next(face: &Face, run: Run, first: usize, lengths: &[usize], budget: &mut Budget) -> Result<Vec<usize>, TooLarge> {
    let rect = |piece: usize| face.pieces[piece].rect;
    let end = on(run, rect(first)).high;
    let mut nearest: Vec<usize> = Vec::new();
    if end == OPEN_HIGH {
        return Ok(nearest);
    }
    let from = lengths.partition_point(|&p| on(run, rect(p)).low < end);
    for &second in &lengths[from..] {
        budget.spend(1)?;
        let begins = |piece: usize| on(run, rect(piece)).low;
        if nearest.first().is_some_and(|&there| begins(second) > begins(there)) {
            break;
        }
        if across(run, rect(first)).overlaps(across(run, rect(second))) {
            nearest.push(second);
        }
    }
    Ok(nearest)
}

/// The cells along a joint: those where the first ends, those of the gap, and those where the second begins.
struct Joint<'a> {
    face: &'a Face,
    cells: &'a Cells,
    run: Run,
    pair: [usize; 2],
    /// Across the joint: the last cell of the first piece and the first of the second.
    sides: [usize; 2],
    /// Along the joint, as far as both go.
    length: Range<usize>,
}

impl<'a> Joint<'a> {
    fn new(face: &'a Face, cells: &'a Cells, run: Run, pair: [usize; 2]) -> Joint<'a> {
        let [first, second] = pair.map(|piece| cells.block(piece));
        let (sides, length) = match run {
            Run::Side => ([first.columns.end - 1, second.columns.start], [&first.rows, &second.rows]),
            Run::Head => ([first.rows.end - 1, second.rows.start], [&first.columns, &second.columns]),
        };
        let length = length[0].start.max(length[1].start)..length[0].end.min(length[1].end);
        Joint { face, cells, run, pair, sides, length }
    }

    fn stack(&self, side: usize, at: usize) -> &'a [u32] {
        match self.run {
            Run::Side => self.cells.whole(side, at),
            Run::Head => self.cells.whole(at, side),
        }
    }

    /// Whether a third length lies in the gap, or runs across the whole joint as a splice does.
    fn filled(&self, lengths: &[usize], budget: &mut Budget) -> Result<bool, TooLarge> {
        let material = lengths.first().map(|&p| self.face.pieces[p].material);
        let third = |piece: usize| !self.pair.contains(&piece) && Some(self.face.pieces[piece].material) == material;
        let mut spliced = true;
        for at in self.length.clone() {
            for side in self.sides[0] + 1..self.sides[1] {
                budget.spend(1 + self.stack(side, at).len())?;
                if self.stack(side, at).iter().any(|&p| third(p as usize)) {
                    return Ok(true);
                }
            }
            spliced &= self.both(at, budget)?.any(third);
        }
        Ok(spliced)
    }

    /// The pieces on both sides of the joint.
    fn both(&self, at: usize, budget: &mut Budget) -> Result<impl Iterator<Item = usize> + use<'a>, TooLarge> {
        let [here, there] = self.sides.map(|side| self.stack(side, at));
        budget.spend(1 + here.len() * there.len())?;
        Ok(here.iter().filter(move |p| there.contains(p)).map(|&p| p as usize))
    }

    fn abutment(&self, joints: &Joints, budget: &mut Budget) -> Result<Abutment, TooLarge> {
        let [first, second] = self.pair;
        let mut across: Vec<usize> = self.both(self.length.start, budget)?.collect();
        for at in self.length.clone().skip(1) {
            let here: Vec<usize> = self.both(at, budget)?.collect();
            across.retain(|piece| here.contains(piece));
        }
        let stack = self.stack(self.sides[0], self.length.start);
        let place = |piece: usize| stack.iter().position(|&p| p as usize == piece);
        let choose = |wanted: &dyn Fn(usize) -> bool| {
            let water = |piece: usize| self.face.pieces[piece].holds.has(Control::Water);
            let all = || across.iter().copied().filter(|&piece| wanted(piece));
            all().find(|&piece| water(piece)).or_else(|| all().next())
        };
        let [end, begin] = self.pair.map(|piece| on(self.run, self.face.pieces[piece].rect));
        let space = Extent { low: end.high, high: begin.low };
        let axis = if self.run == Run::Side { Axis::Along } else { Axis::Up };
        Ok(Abutment {
            first,
            second,
            run: self.run,
            width: space.high - space.low,
            sealed: joints.sealed.has(first, second),
            bridge: choose(&|piece| joints.sealed.has(piece, first) && joints.sealed.has(piece, second)),
            cover: choose(&|piece| place(piece) > place(first)),
            backing: choose(&|piece| place(piece) < place(first)),
            folded: self.face.folds.iter().any(|fold| fold.axis == axis && space.reaches(fold.at)),
        })
    }
}

/// The axis across the joint.
fn on(run: Run, rect: Rect) -> Extent {
    if run == Run::Side { rect.along } else { rect.up }
}

/// The axis that the joint follows.
fn across(run: Run, rect: Rect) -> Extent {
    if run == Run::Side { rect.up } else { rect.along }
}
