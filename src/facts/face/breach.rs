//! Where a control that gets across at one place breaks at another.

use crate::facts::face::budget::{Budget, TooLarge};
use crate::facts::face::lap::CellLine;
use crate::facts::face::{Coordinate, Face, Joints, Piece, SealFact, apart};
use crate::model::Control;

/// In one line of the face, the pieces linked to each of the two assemblies, where no link joins the two groups.
pub type Breach = [Vec<usize>; 2];

/// Every one of these lines, columns and rows, in which the control layer of one assembly gives way to that of the other
/// and no chain of sealed pieces within this line leads across.
///
/// In a column only level beads count, and in a row only upright ones: a bead that runs along a line closes nothing across it.
pub fn breaches(
    face: &Face,
    lines: &[CellLine<'_>],
    joints: &Joints,
    seals: &[SealFact],
    control: Control,
    sides: [usize; 2],
    budget: &mut Budget,
) -> Result<Vec<Breach>, TooLarge> {
    let end = |piece: &Piece| match piece.layer {
        Some(layer) if piece.controls.has(control) => {
            sides.iter().position(|&side| side == layer.assembly).map_or(0, |side| 1 << side)
        }
        _ => 0,
    };
    let ends = face.pieces.iter().map(end).collect();
    let mut search = Search { face, joints, seals, control, ends, links: Vec::new() };
    let mut found = Vec::new();
    for line in lines {
        budget.spend((0..line.len()).map(|at| 2 + 4 * line.whole(at).len()).sum())?;
        if search.gives_way(line)
            && let Some(sides) = search.open(line, budget)?
        {
            found.push(sides);
        }
    }
    Ok(found)
}

struct Search<'a> {
    face: &'a Face,
    joints: &'a Joints,
    seals: &'a [SealFact],
    control: Control,
    /// For each piece, a bit for the assembly whose control layer it is an end of.
    ends: Vec<u8>,
    /// The linked pairs of the line at hand.
    links: Vec<(usize, usize)>,
}

impl Search<'_> {
    /// Whether some cell has only the one layer, and a later cell only the other.
    fn gives_way(&self, line: &CellLine<'_>) -> bool {
        let here = |at: usize| line.whole(at).iter().fold(0, |ends, &piece| ends | self.ends[piece as usize]);
        let met = (0..line.len()).map(here).fold(0, |met, ends| if matches!(ends, 1 | 2) { met | ends } else { met });
        met == 3
    }

    fn open(&mut self, line: &CellLine<'_>, budget: &mut Budget) -> Result<Option<Breach>, TooLarge> {
        self.link(line, budget)?;
        let reach = |end: u8| {
            let mut reached: Vec<usize> = Vec::new();
            for at in 0..line.len() {
                reached.extend(line.whole(at).iter().map(|&p| p as usize).filter(|&p| self.ends[p] == end));
            }
            reached.sort_unstable();
            reached.dedup();
            reached
        };
        let mut sides = [reach(1), reach(2)];
        let carries = |p: usize| self.face.pieces[p].holds.has(self.control);
        for side in &mut sides {
            let mut next = 0;
            while let Some(&piece) = side.get(next) {
                budget.spend(1 + self.links.len())?;
                // A piece that does not hold the control links nothing.
                for &(a, b) in self.links.iter().filter(|_| carries(piece)) {
                    let other = if a == piece { b } else { a };
                    if (a == piece || b == piece) && carries(other) && !side.contains(&other) {
                        side.push(other);
                    }
                }
                next += 1;
            }
        }
        let meet = sides[0].iter().any(|piece| sides[1].contains(piece));
        Ok((!meet).then_some(sides))
    }

    /// Works out which pieces are sealed to each other in this line.
    fn link(&mut self, line: &CellLine<'_>, budget: &mut Budget) -> Result<(), TooLarge> {
        self.links.clear();
        for at in 0..line.len() {
            for pair in line.whole(at).windows(2).map(|w| (w[0] as usize, w[1] as usize)) {
                if self.joints.bonded.has(pair.0, pair.1) {
                    self.links.push(pair);
                }
            }
        }
        for fact in self.seals.iter().filter(|seal| seal.touches) {
            let seal = self.face.seals[fact.seal];
            let (first, second) = (seal.first, seal.second);
            budget.spend(1 + line.len())?;
            let place = match seal.at {
                Some((axis, _)) if axis != line.run.axis() => continue,
                at => at.map(|(_, at)| at),
            };
            if self.joined(line, [first, second], place, budget)?
                || self.joined(line, [second, first], place, budget)?
            {
                self.links.push((first, second));
            }
        }
        self.links.sort_unstable();
        self.links.dedup();
        Ok(())
    }

    /// The same test as `joint::seals` makes for the whole face: the two are in contact where the bead lies, or `a` ends there
    /// against `b`.
    fn joined(
        &self,
        line: &CellLine<'_>,
        [a, b]: [usize; 2],
        place: Option<Coordinate>,
        budget: &mut Budget,
    ) -> Result<bool, TooLarge> {
        let near = |edge| place.is_none_or(|at| apart(at, edge) <= self.face.limits.bead_reach);
        for at in (0..line.len()).filter(|&at| line.has(at, a)) {
            let extent = line.run.extent(line.cells, at..at + 1);
            if line.has(at, b) {
                if place.is_none_or(|at| extent.reaches(at)) && line.touch(at, a, b) {
                    return Ok(true);
                }
                continue;
            }
            for (edge, beyond) in [(extent.high, at + 1), (extent.low, at.wrapping_sub(1))] {
                if near(edge)
                    && beyond < line.len()
                    && line.has(beyond, b)
                    && !self.joints.parted(self.face, [line.whole(at), line.whole(beyond)], [a, b], budget)?
                {
                    return Ok(true);
                }
            }
        }
        Ok(false)
    }
}
