//! Whether a control is continuous from one assembly to the other, or within one.

mod net;

use crate::facts::face::budget::{Budget, TooLarge};
use crate::facts::face::lap::CellLine;
use crate::facts::face::{Cells, Extent, Face, Joints, Lap, Pairs, Run, SealFact};
use crate::model::Control;
use net::Net;

/// A control that every joined assembly carries.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Transition {
    pub control: Control,
    /// The two assemblies between which it must be continuous, by index; the same index twice for a control within one
    /// assembly.
    pub sides: [usize; 2],
    /// A path links the two assemblies. For air and vapor, there is such a path all along their joint. Within one assembly, all
    /// pieces of the control layer are linked.
    pub continuous: bool,
    /// A path links them at some places and none at others.
    pub partly: bool,
    /// For each joined assembly, whether some piece of its control layer is in the detail.
    pub shown: [bool; 2],
    /// When it is shown and not continuous: the nearest pieces across the break, those of A's side first.
    pub nearest: Option<(usize, usize)>,
    /// Between two assemblies: the pieces of a shortest path from an end of A to an end of B.
    pub path: Option<Vec<usize>>,
}

/// All transitions of a face, by control. A control that only one of two assemblies carries has no transition.
pub fn transitions(
    face: &Face,
    cells: &Cells,
    lines: &[CellLine<'_>],
    joints: &Joints,
    laps: &[Lap],
    seals: &[SealFact],
    budget: &mut Budget,
) -> Result<Vec<Transition>, TooLarge> {
    let mut found = Vec::new();
    let pairs = pairs(face, budget)?;
    if pairs.is_empty() {
        return Ok(found);
    }
    let joined = joined(face, joints, seals);
    let sealed = joined.as_ref().unwrap_or(&joints.sealed);
    let carried = |sides: &[usize; 2], control| sides.iter().all(|&side| face.joins[side].carries.has(control));
    for control in Control::ALL.into_iter().filter(|&control| pairs.iter().any(|sides| carried(sides, control))) {
        budget.spend(face.pieces.len() * (1 + face.pieces.len() / 64))?;
        let links = links(face, cells, sealed, laps, control, budget)?;
        let net = Net { face, joints, control, links: links.as_ref().unwrap_or(sealed) };
        for &sides in pairs.iter().filter(|sides| carried(sides, control)) {
            found.push(match sides {
                [a, b] if a == b => net.within(budget)?,
                sides => net.all_along(net.between(sides, budget)?, lines, seals, budget)?,
            });
        }
    }
    Ok(found)
}

/// The pairs of assemblies across which a control has to be continuous: the two that a detail joins; of three or more, each
/// with the next one that its pieces touch; of a single assembly, that assembly with itself.
fn pairs(face: &Face, budget: &mut Budget) -> Result<Vec<[usize; 2]>, TooLarge> {
    let count = face.joins.len();
    if count <= 2 {
        return Ok((0..count.min(1)).map(|one| [one, count - 1]).collect());
    }
    let of = |assembly: usize| {
        let pieces = face.pieces.iter().filter(move |p| p.layer.is_some_and(|layer| layer.assembly == assembly));
        pieces.map(|piece| piece.rect)
    };
    let mut pairs = Vec::new();
    for one in 0..count {
        for next in one + 1..count {
            budget.spend(face.pieces.len() + of(one).count() * of(next).count())?;
            if of(one).any(|a| of(next).any(|b| a.meets(b))) {
                pairs.push([one, next]);
                break;
            }
        }
    }
    Ok(pairs)
}

/// The sealed pairs, without those whose only seal is a misplaced bead; `None` when no bead is misplaced.
fn joined(face: &Face, joints: &Joints, seals: &[SealFact]) -> Option<Pairs> {
    if seals.iter().all(|seal| seal.touches) {
        return None;
    }
    let mut joined = Pairs::new(face.pieces.len());
    joints.bonded.iter().filter(|&(a, b)| joints.contact.has(a, b)).for_each(|(a, b)| joined.insert(a, b));
    for seal in seals.iter().filter(|seal| seal.touches).map(|fact| face.seals[fact.seal]) {
        joined.insert(seal.first, seal.second);
    }
    Some(joined)
}

/// Links beyond those of the sealed pairs; `None` when these are all.
fn links(
    face: &Face,
    cells: &Cells,
    sealed: &Pairs,
    laps: &[Lap],
    control: Control,
    budget: &mut Budget,
) -> Result<Option<Pairs>, TooLarge> {
    match control {
        Control::Air | Control::Vapor => Ok(None),
        Control::Water => {
            let mut links = sealed.clone();
            // A piece between two pieces that lap sideways keeps them apart, and where the face is too flat no lap sheds.
            for lap in laps.iter().filter(|l| l.sheds && (l.shingled || l.run == Run::Side && (l.contact || l.sealed)))
            {
                links.insert(lap.over, lap.under);
            }
            budget.spend(face.pieces.len())?;
            for (dry, other) in sheltered(face) {
                budget.spend(1)?;
                links.insert(dry, other);
            }
            Ok(Some(links))
        }
        Control::Thermal => {
            let mut links = Pairs::new(face.pieces.len());
            let holds = |p: u32| face.pieces[p as usize].holds.has(control);
            for (column, row) in (0..cells.columns()).flat_map(|c| (0..cells.rows()).map(move |r| (c, r))) {
                let here = cells.whole(column, row);
                let above = if row + 1 < cells.rows() { cells.whole(column, row + 1) } else { &[] };
                let beside = if column + 1 < cells.columns() { cells.whole(column + 1, row) } else { &[] };
                budget.spend(1 + here.len())?;
                for &a in here.iter().filter(|&&a| holds(a)) {
                    budget.spend(here.len() + above.len() + beside.len())?;
                    let near = here.iter().chain(above).chain(beside).filter(|&&b| b != a && holds(b));
                    near.for_each(|&b| links.insert(a as usize, b as usize));
                }
            }
            Ok(Some(links))
        }
    }
}

/// Each piece that lies wholly out of the rain, with each piece that reaches up to it: a soffit connects the two.
fn sheltered(face: &Face) -> impl Iterator<Item = (usize, usize)> + '_ {
    let outside = move || face.pieces.iter().enumerate().filter(|(_, p)| !p.inside);
    let dry = move |up: Extent| outside().filter(move |(_, p)| up.low <= p.rect.up.low && p.rect.up.high <= up.high);
    let near = move |up: Extent| outside().filter(move |(_, p)| p.rect.up.overlaps(up));
    let bands = face.sheltered.iter().copied();
    bands.flat_map(move |band| dry(band).flat_map(move |(dry, _)| near(band).map(move |(near, _)| (dry, near))))
}
