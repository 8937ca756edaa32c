//! Which pieces touch, which are bonded, and which are sealed.

use crate::facts::face::budget::{Budget, TooLarge};
use crate::facts::face::{BondKind, Bonding, Cells, Coordinate, Extent, Face, Pairs, Piece, apart};
use crate::model::{Axis, MaterialKind};

/// The relations between pieces that hold for the whole face.
#[derive(Clone, Debug)]
pub struct Joints {
    /// Neighbors in some stack.
    pub contact: Pairs,
    /// Pairs of which one bonds to the other wherever they touch.
    pub bonded: Pairs,
    /// Bonds that do not stick, because what they name lies on the back of the piece, where it has no adhesive; sorted.
    pub dry: Vec<(usize, usize)>,
    /// Bonded and in contact somewhere, or joined by a seal.
    pub sealed: Pairs,
    /// Every seal from both of its sides, sorted.
    seals: Vec<(usize, usize, Option<Bead>)>,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
enum Bead {
    Up(Coordinate),
    Along(Coordinate),
}

/// Whether a seal joins its two pieces where it lies.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct SealFact {
    /// Index into `Face::seals`.
    pub seal: usize,
    /// Its two pieces are in contact, or meet edge to edge, at its place.
    pub touches: bool,
}

impl Joints {
    pub fn new(face: &Face, cells: &Cells, budget: &mut Budget) -> Result<Joints, TooLarge> {
        let count = face.pieces.len();
        let mut contact = Pairs::new(count);
        budget.spend(cells.members.len() + cells.columns() * cells.rows())?;
        for column in 0..cells.columns() {
            for row in 0..cells.rows() {
                for pair in cells.whole(column, row).windows(2) {
                    contact.insert(pair[0] as usize, pair[1] as usize);
                }
                cells.reached(column, row).for_each(|(inner, unit)| contact.insert(inner as usize, unit as usize));
            }
        }
        let mut bonded = Pairs::new(count);
        let mut dry = Vec::new();
        let mut sealed = Pairs::new(count);
        for (piece, said) in face.pieces.iter().enumerate() {
            for bond in said.bonds.iter().filter(|bond| bond.onto < count && bond.onto != piece) {
                if one_sided(said, bond)
                    && contact.has(piece, bond.onto)
                    && lies_outboard(face, cells, piece, bond.onto, budget)?
                {
                    dry.push((piece, bond.onto));
                } else {
                    bonded.insert(piece, bond.onto);
                }
            }
            if said.double_sided {
                laid_on(&contact, piece).for_each(|other| bonded.insert(piece, other));
            }
            if said.is(MaterialKind::Coat) {
                ground(&contact, piece).for_each(|other| bonded.insert(piece, other));
            }
            bonded.of(piece).filter(|&other| contact.has(piece, other)).for_each(|other| sealed.insert(piece, other));
        }
        let mut seals = Vec::with_capacity(2 * face.seals.len());
        for seal in face.seals.iter().filter(|s| s.first < count && s.second < count && s.first != s.second) {
            let bead = seal.at.map(|(axis, at)| match axis {
                Axis::Up => Bead::Up(at),
                Axis::Along => Bead::Along(at),
            });
            sealed.insert(seal.first, seal.second);
            seals.extend([(seal.first, seal.second, bead), (seal.second, seal.first, bead)]);
        }
        seals.sort_unstable();
        dry.sort_unstable();
        Ok(Joints { contact, bonded, dry, sealed, seals })
    }

    /// Joined by a seal without a place.
    pub fn sealed_throughout(&self, a: usize, b: usize) -> bool {
        self.beads(a, b).any(|bead| bead.is_none())
    }

    /// The places on an axis of the beads between two pieces.
    pub fn beads_at(&self, a: usize, b: usize, axis: Axis) -> impl Iterator<Item = Coordinate> + '_ {
        self.beads(a, b).filter_map(move |bead| match (axis, bead) {
            (Axis::Up, Some(Bead::Up(at))) | (Axis::Along, Some(Bead::Along(at))) => Some(at),
            _ => None,
        })
    }

    /// All pieces that a seal joins to this one.
    pub fn sealed_to(&self, piece: usize) -> impl Iterator<Item = usize> + '_ {
        let from = self.seals.partition_point(|s| s.0 < piece);
        self.seals[from..].iter().take_while(move |s| s.0 == piece).map(|s| s.1)
    }

    /// Where one cell has `a` without `b` and the cell beside it has `b`, whether a piece that runs through both cells lies
    /// between the two, so that neither ends against the other. A piece that is stuck to one of them counts as its surface and
    /// does not part them. A unit is never parted from anything: it goes through the wall, where both faces reach it.
    pub fn parted(
        &self,
        face: &Face,
        [here, beyond]: [&[u32]; 2],
        [a, b]: [usize; 2],
        budget: &mut Budget,
    ) -> Result<bool, TooLarge> {
        budget.spend(here.len() * beyond.len())?;
        let place = |stack: &[u32], piece: usize| stack.iter().position(|&p| p as usize == piece);
        let (Some(a_at), Some(b_at)) = (place(here, a), place(beyond, b)) else { return Ok(false) };
        let between = |at: usize, c: usize| {
            place(beyond, c).is_some_and(|then| at > a_at && then < b_at || at < a_at && then > b_at)
                && !self.sealed.has(a, c)
                && !self.sealed.has(b, c)
        };
        let unit = [a, b].iter().any(|&p| face.pieces[p].is(MaterialKind::Unit));
        Ok(!unit && here.iter().enumerate().any(|(at, &c)| between(at, c as usize)))
    }

    fn beads(&self, a: usize, b: usize) -> impl Iterator<Item = Option<Bead>> + '_ {
        let from = if self.seals.is_empty() { 0 } else { self.seals.partition_point(|s| (s.0, s.1) < (a, b)) };
        self.seals[from..].iter().take_while(move |s| (s.0, s.1) == (a, b)).map(|s| s.2)
    }
}

/// Whether it has adhesive on its inboard face alone. A bead sticks to everything that it touches.
fn one_sided(piece: &Piece, bond: &Bonding) -> bool {
    bond.by == BondKind::Adhered && !piece.double_sided && !piece.is(MaterialKind::Sealant)
}

/// Whether the other lies outboard of the piece (on the inner face, toward the room) wherever the two are in contact.
fn lies_outboard(
    face: &Face,
    cells: &Cells,
    piece: usize,
    other: usize,
    budget: &mut Budget,
) -> Result<bool, TooLarge> {
    let inside = face.pieces[piece].inside;
    // Only a later piece lies outboard, unless the text says otherwise.
    if other < piece && face.pieces.iter().all(|p| p.over.is_empty() && p.behind.is_empty()) {
        return Ok(inside != face.pieces[other].inside && !inside);
    }
    let pair = if inside { [piece as u32, other as u32] } else { [other as u32, piece as u32] };
    let common = cells.common(piece, other);
    for (column, row) in common.iter() {
        let whole = cells.whole(column, row);
        budget.spend(1 + whole.len())?;
        if whole.windows(2).any(|next| next == pair) || cells.reached(column, row).any(|(a, b)| [a, b] == pair) {
            return Ok(false);
        }
    }
    Ok(true)
}

/// The pieces that are put on a tape with adhesive on its outer face as well.
fn laid_on(contact: &Pairs, tape: usize) -> impl Iterator<Item = usize> + '_ {
    contact.of(tape).filter(move |&other| other > tape)
}

/// The substrate of a coat: the pieces that it touches and that are there when it is applied. It has cured by the time that
/// other pieces cover it.
pub fn ground(contact: &Pairs, coat: usize) -> impl Iterator<Item = usize> + '_ {
    contact.of(coat).filter(move |&other| other < coat)
}

pub fn seals(face: &Face, cells: &Cells, joints: &Joints, budget: &mut Budget) -> Result<Vec<SealFact>, TooLarge> {
    let count = face.pieces.len();
    let mut facts = Vec::with_capacity(face.seals.len());
    for (index, seal) in face.seals.iter().enumerate() {
        let (first, second) = (seal.first, seal.second);
        let known = first < count && second < count && first != second;
        let touches = known
            && (touches(face, cells, joints, [first, second], seal.at, budget)?
                || touches(face, cells, joints, [second, first], seal.at, budget)?);
        facts.push(SealFact { seal: index, touches });
    }
    Ok(facts)
}

/// Whether the two are in contact where the bead lies, or some of `a` ends there against `b`.
fn touches(
    face: &Face,
    cells: &Cells,
    joints: &Joints,
    [a, b]: [usize; 2],
    at: Option<(Axis, Coordinate)>,
    budget: &mut Budget,
) -> Result<bool, TooLarge> {
    let block = cells.block(a);
    budget.spend(4 * block.size())?;
    let here = |axis, extent: Extent| at.is_none_or(|(on, at)| on != axis || extent.reaches(at));
    // Edge to edge, a bead at a height runs in a level joint and a bead along the face in an upright one.
    let joint =
        |axis, edge: Coordinate| at.is_none_or(|(on, at)| on == axis && apart(at, edge) <= face.limits.bead_reach);
    for (c, r) in block.iter().filter(|&(c, r)| cells.has(c, r, a)) {
        let (up, along) = (cells.row(r), cells.column(c));
        if here(Axis::Up, up) && here(Axis::Along, along) && cells.touch(c, r, a, b) {
            return Ok(true);
        }
        if cells.has(c, r, b) {
            continue;
        }
        let beside = [
            (Axis::Up, up.high, c, r + 1),
            (Axis::Up, up.low, c, r.wrapping_sub(1)),
            (Axis::Along, along.high, c + 1, r),
            (Axis::Along, along.low, c.wrapping_sub(1), r),
        ];
        for (axis, edge, column, row) in beside {
            let meets =
                joint(axis, edge) && column < cells.columns() && row < cells.rows() && cells.has(column, row, b);
            if meets && !joints.parted(face, [cells.whole(c, r), cells.whole(column, row)], [a, b], budget)? {
                return Ok(true);
            }
        }
    }
    Ok(false)
}
