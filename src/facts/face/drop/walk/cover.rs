//! The covers of a drop, that is, the pieces outboard of it: at what height it passed behind each, and how high water must rise
//! to get out again.

use super::{DropState, Walker};
use crate::facts::face::drop::rain::Rain;
use crate::facts::face::{Coordinate, OPEN_HIGH, apart};

/// The height in this row at which the inmost cover is joined to the piece.
///
/// A seal without a place blocks nothing here. It closes the rim of a contact, and `go_on` has already checked whether that rim
/// lies across the path of the water. A bead on the line between two rows counts in both. One near the `back` of the pan that
/// the drop started in closes that pan to the room.
pub(super) fn blocked(
    rain: &Rain,
    row: usize,
    piece: usize,
    cover: usize,
    back: Option<Coordinate>,
    state: &DropState,
) -> Option<Coordinate> {
    let joints = rain.joints;
    if state.unseals(piece, cover) {
        return None;
    }
    let extent = rain.row(row);
    if joints.bonded.has(piece, cover) {
        return Some(extent.high);
    }
    if !joints.sealed.has(piece, cover) {
        return None;
    }
    let at_back = |at| back.is_some_and(|back| apart(back, at) <= rain.face.limits.bead_reach / 2);
    rain.beads(piece, cover).filter(|&at| extent.reaches(at) && !at_back(at)).max()
}

impl Walker {
    pub(super) fn look_around(&mut self, whole: &[u32], depth: usize) {
        (self.stamp, self.depth) = (self.stamp + 1, depth);
        for (at, &piece) in whole.iter().enumerate() {
            let seat = &mut self.seats[piece as usize];
            (seat.stamp, seat.at) = (self.stamp, at);
        }
    }

    /// The place of a piece in the stack of the cell that the drop is about to leave.
    pub fn place(&self, piece: usize) -> Option<usize> {
        let seat = self.seats[piece];
        (seat.stamp == self.stamp).then_some(seat.at)
    }

    /// Whether a piece of that cell lies outboard of the drop's place, and at the water line or inboard of it.
    pub fn is_cover(&self, piece: usize, from: usize) -> bool {
        self.place(piece).is_some_and(|at| at > from && at < self.depth)
    }

    /// Makes the pieces outboard in the cell below the covers. A piece that was no cover at `from` becomes one with this entry
    /// height.
    pub fn take_covers(&mut self, outboard: &[u32], from: usize, entry: Coordinate) {
        for &piece in outboard {
            if !self.is_cover(piece as usize, from) {
                let seat = &mut self.seats[piece as usize];
                (seat.entry, seat.brim) = (entry, OPEN_HIGH);
            }
        }
    }

    /// Becomes a drop with the covers that another drop would have here. Its trail begins here.
    pub fn take_over(&mut self, other: &Walker, outboard: &[u32], from: usize, entry: Coordinate) {
        self.trail.clear();
        for &piece in outboard {
            let (cover, theirs) = (other.is_cover(piece as usize, from), other.seats[piece as usize]);
            let seat = &mut self.seats[piece as usize];
            (seat.entry, seat.brim) = if cover { (theirs.entry, theirs.brim) } else { (entry, OPEN_HIGH) };
        }
    }

    pub fn lower_brims(&mut self, outboard: &[u32], top: Coordinate) {
        for &piece in outboard {
            let brim = &mut self.seats[piece as usize].brim;
            *brim = top.min(*brim);
        }
    }
}
