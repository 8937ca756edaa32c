//! Laps: two pieces overlap, and each goes on beyond the other at one of the two ends.

mod found;
mod lead;
mod line;

use crate::facts::face::budget::{Budget, TooLarge};
use crate::facts::face::stack::Order;
use crate::facts::face::{Coordinate, Extent, Face, Joints, OPEN_LOW};
use crate::model::{Axis, Control, MaterialKind};
use found::FoundLap;
pub use line::CellLine;
use line::Interval;

/// The direction in which the two pieces run past each other.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Run {
    Head,
    Side,
}

/// The shortest lap of one pair, run and shingling.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Lap {
    /// The piece that lies outboard.
    pub over: usize,
    pub under: usize,
    pub run: Run,
    /// A head lap whose upper piece lies outboard; always false for a side lap.
    pub shingled: bool,
    /// Always finite, since each of the two ends within the other.
    pub length: Coordinate,
    /// Where the upper piece of a head lap ends.
    pub foot: Option<Coordinate>,
    /// The pair is sealed, here or elsewhere, or a tape between the two is bonded to both.
    pub sealed: bool,
    /// It is sealed by more than a bead that lies beside the lap.
    pub held: bool,
    /// The two are neighbors somewhere in this lap.
    pub contact: bool,
    /// A third piece that holds air and is sealed to both along every lap of this kind: a tape across a seam. One that holds
    /// water is preferred. Where different laps have different tapes, it is the one that does least.
    pub bridged: Option<usize>,
    /// The face is steep enough there to shed water, or its slope is not stated.
    pub sheds: bool,
    /// In every lap of this kind a flashing between the two leads out what the upper one sheds.
    pub led_out: bool,
}

impl Lap {
    /// Whether the lap keeps water out: it is sealed; or it sheds water and is shingled; or it is a side lap on such a slope
    /// with nothing between the two.
    pub fn watertight(&self) -> bool {
        let shed = self.sheds && (self.shingled || self.run == Run::Side && self.contact);
        self.held || self.bridged.is_some() || shed
    }
}

impl Run {
    pub fn word(self) -> &'static str {
        match self {
            Run::Head => "head",
            Run::Side => "side",
        }
    }
}

/// All laps in these lines by pair, run, shingling.
pub fn laps(
    face: &Face,
    lines: &[CellLine<'_>],
    order: &Order,
    joints: &Joints,
    budget: &mut Budget,
) -> Result<Vec<Lap>, TooLarge> {
    let mut found = Vec::new();
    let mut intervals = Vec::new();
    let mut latest = vec![0; face.pieces.len()];
    for (index, line) in lines.iter().enumerate() {
        budget.spend(line.intervals(&mut intervals, &mut latest))?;
        for (at, lower) in intervals.iter().enumerate() {
            for upper in intervals[at + 1..].iter().take_while(|i| i.first <= lower.last) {
                budget.spend(2)?;
                if lower.first < upper.first && lower.last < upper.last {
                    let rows = upper.first..lower.last + 1;
                    if order.changed {
                        budget.spend(line.depth(rows.clone()))?;
                    }
                    found.push(FoundLap::new(face, line, index, order, [lower.piece, upper.piece], rows));
                } else if let Some((flashing, cladding)) = flush(face, line, lower, upper) {
                    let rows = flashing.first..flashing.last + 1;
                    found.push(FoundLap::new(face, line, index, order, [flashing.piece, cladding.piece], rows));
                }
            }
        }
    }
    found.sort_unstable();
    let same =
        |a: &FoundLap, b: &FoundLap| (a.over, a.under, a.run, a.shingled) == (b.over, b.under, b.run, b.shingled);
    found.chunk_by(same).map(|group| shortest(face, joints, lines, group, budget)).collect()
}

/// A cladding whose foot is flush with that of the flashing behind it stands on that flashing.
fn flush<'i>(face: &Face, line: &CellLine, a: &'i Interval, b: &'i Interval) -> Option<(&'i Interval, &'i Interval)> {
    let stands = |flashing: &Interval, cladding: &Interval| {
        line.run == Run::Head
            && flashing.first == cladding.first
            && flashing.last < cladding.last
            && line.cells.row(flashing.first).low != OPEN_LOW
            && face.pieces[flashing.piece].is(MaterialKind::Flashing)
            && face.pieces[cladding.piece].is(MaterialKind::Cladding)
            && line.in_front(flashing.first, cladding.piece, flashing.piece)
    };
    [(a, b), (b, a)].into_iter().find(|(flashing, cladding)| stands(flashing, cladding))
}

/// The lap that stands for a group, which is sorted by length and place.
fn shortest(
    face: &Face,
    joints: &Joints,
    lines: &[CellLine],
    group: &[FoundLap],
    budget: &mut Budget,
) -> Result<Lap, TooLarge> {
    let first = group[0];
    let (over, under) = (first.over as usize, first.under as usize);
    let may_touch = joints.contact.has(over, under);
    let mut contact = false;
    for next in group.iter().take_while(|next| next.length == first.length) {
        if may_touch && !contact {
            let line = &lines[next.line as usize];
            budget.spend(line.depth(next.rows()))?;
            contact = next.rows().any(|row| line.touch(row, over, under));
        }
    }
    let mut sealed = joints.sealed.has(over, under);
    let mut bridged = None;
    if !sealed && joints.sealed.of_both(over, under).any(|third| face.pieces[third].holds.has(Control::Air)) {
        for next in group {
            let Some(third) = bridge(face, joints, &lines[next.line as usize], next, budget)? else {
                bridged = None;
                break;
            };
            bridged = Some(bridged.map_or(third, |b| std::cmp::min_by_key(b, third, |&p| (holds_water(face, p), p))));
        }
    }
    // A tape between the two that is bonded to both seals them as their own adhesive would.
    if let Some(tape) = bridged.filter(|&tape| holds_water(face, tape)) {
        let bonded = joints.bonded.of_both(over, under).any(|piece| piece == tape);
        let mut lines = group.iter().map(|next| (&lines[next.line as usize], next.rows()));
        budget.spend(group.iter().map(|next| next.rows().len()).sum())?;
        sealed =
            bonded && lines.all(|(line, mut rows)| rows.any(|at| line.between(at, under, over).any(|p| p == tape)));
    }
    let held = sealed && (!joints.sealed.has(over, under) || held(face, joints, lines, group));
    let mut led_out = true;
    for next in group {
        led_out = led_out && lead::led_out(face, &lines[next.line as usize], next, budget)?;
    }
    let FoundLap { run, shingled, length, foot, .. } = first;
    let sheds = group.iter().all(|next| next.sheds(face, &lines[next.line as usize]));
    Ok(Lap { over, under, run, shingled, length, foot, sealed, held, contact, bridged, sheds, led_out })
}

/// Whether the two are bonded, sealed along their whole contact, or sealed by a bead in one of the laps or in the fillet beside
/// it. A bead that runs the other way only crosses the lap.
fn held(face: &Face, joints: &Joints, lines: &[CellLine], group: &[FoundLap]) -> bool {
    let (over, under) = (group[0].over as usize, group[0].under as usize);
    let axis = group[0].run.axis();
    let other = if axis == Axis::Up { Axis::Along } else { Axis::Up };
    let within = |at: Coordinate| {
        let mut extents = group.iter().map(|next| next.run.extent(lines[next.line as usize].cells, next.rows()));
        extents.any(|extent| extent.distance(Extent { low: at, high: at }) <= face.limits.fillet)
    };
    joints.bonded.has(over, under) && joints.contact.has(over, under)
        || joints.sealed_throughout(over, under)
        || joints.beads_at(over, under, other).next().is_some()
        || joints.beads_at(over, under, axis).any(within)
}

/// A third piece that holds air and is sealed to both pieces of one lap there.
fn bridge(
    face: &Face,
    joints: &Joints,
    line: &CellLine,
    lap: &FoundLap,
    budget: &mut Budget,
) -> Result<Option<usize>, TooLarge> {
    let pair = [lap.over as usize, lap.under as usize];
    let mut found = None;
    for third in joints.sealed.of_both(pair[0], pair[1]).filter(|&t| face.pieces[t].holds.has(Control::Air)) {
        budget.spend(line.depth(0..line.len()))?;
        if line.bridges(third, pair, lap.rows()) {
            if holds_water(face, third) {
                return Ok(Some(third));
            }
            found = found.or(Some(third));
        }
    }
    Ok(found)
}

fn holds_water(face: &Face, piece: usize) -> bool {
    face.pieces[piece].holds.has(Control::Water)
}
