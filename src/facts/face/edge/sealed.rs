//! What seals the edge of a control layer.

use super::Cell;
use super::line::EdgeLine;
use super::{Side, runs_off};
use crate::facts::face::budget::{Budget, TooLarge};
use crate::facts::face::{Coordinate, Extent, Piece, apart};
use crate::model::{Axis, MaterialKind};

impl EdgeLine<'_> {
    pub(super) fn sealed(
        &self,
        inner: Cell,
        outer: Cell,
        extent: Extent,
        budget: &mut Budget,
    ) -> Result<bool, TooLarge> {
        let holds = |p: usize| self.face.pieces[p].holds.has(self.face.edges);
        let [_, outer_side] = self.sides(inner);
        for over in outer_side.iter().map(|&p| p as usize).filter(|&p| holds(p)) {
            let sealed = self.joints.sealed.has(over, self.piece) || self.taped(over, inner, budget)?;
            if sealed && self.goes_on(outer, over, budget)? {
                return Ok(true);
            }
        }
        Ok(self.bonded(inner) || self.beaded(inner, outer, extent))
    }

    /// Whether a third piece in this line seals the piece to the unit that covers its edge, as a tape over a flange does.
    fn taped(&self, unit: usize, (column, row): Cell, budget: &mut Budget) -> Result<bool, TooLarge> {
        if !self.face.pieces[unit].is(MaterialKind::Unit) {
            return Ok(false);
        }
        let block = self.cells.block(self.piece);
        for third in self.joints.sealed.of_both(unit, self.piece) {
            budget.spend(self.depth())?;
            let holds = self.face.pieces[third].holds.has(self.face.edges);
            let here = match self.side.axis() {
                Axis::Up => block.rows.clone().any(|r| self.is_at((column, r), third)),
                Axis::Along => block.columns.clone().any(|c| self.is_at((c, row), third)),
            };
            if holds && here {
                return Ok(true);
            }
        }
        Ok(false)
    }

    /// Whether a piece over the edge closes it. It does where it is itself a control layer or as good as one, such as a window
    /// or a beam, or where it is stuck to something beyond the edge, as far as it reaches: a boot may be taped to the wall at
    /// its rim. A sheet that runs off the detail is assumed to end in another one.
    fn goes_on(&self, outer: Cell, over: usize, budget: &mut Budget) -> Result<bool, TooLarge> {
        let said = &self.face.pieces[over];
        let controls = said.controls.has(self.face.edges)
            || said.is(MaterialKind::Unit)
            || said.is(MaterialKind::Mass)
            || said.is(MaterialKind::Sheet) && runs_off(self.side.end(said.rect));
        for place in self.side.outward(self.cells, outer).take_while(|&place| self.is_at(place, over)) {
            let beyond = self.cells.whole(place.0, place.1);
            budget.spend(2 * beyond.len())?;
            let other = |p: usize| p != self.piece && self.joints.sealed.has(over, p);
            if controls || beyond.iter().any(|&p| other(p as usize)) {
                return Ok(true);
            }
        }
        // A bead joins its far end to the frame of a unit that stands in the opening beyond.
        let framed = |p: usize| p != self.piece && self.face.pieces[p].is(MaterialKind::Unit);
        for unit in self.joints.sealed_to(over).filter(|&p| framed(p)) {
            budget.spend(1 + self.depth())?;
            if self.side.outward(self.cells, outer).any(|place| self.is_at(place, unit)) {
                return Ok(true);
            }
        }
        Ok(false)
    }

    /// Whether the piece is bonded to what it lies on, up to the edge or as near to it as a bead would have to be. Whatever it
    /// hangs over in between must go on behind the bond, so that no joint lies behind the flap.
    fn bonded(&self, inner: Cell) -> bool {
        let mut inward = self.across(inner);
        if matches!(self.side, Side::Top | Side::Right) {
            inward.reverse();
        }
        let near = |extent: Extent| {
            [extent.low, extent.high].into_iter().any(|end| apart(end, self.at) < self.face.limits.bead_reach)
        };
        let mut passed: Vec<u32> = Vec::new();
        for (place, _) in inward.into_iter().take_while(|&(_, extent)| near(extent)) {
            let [base, _] = self.sides(place);
            let base = if self.face.pieces[self.piece].inside { base.first() } else { base.last() };
            let held = base.is_some_and(|&base| self.joints.bonded.has(self.piece, base as usize));
            if !self.is_at(place, self.piece) || held {
                return held && passed.iter().all(|&p| self.is_at(place, p as usize));
            }
            passed.extend(base);
        }
        false
    }

    /// Whether a seal joins the edge to something. A seal without a place has to be to a piece at the edge that does not merely
    /// come over it; one with a place is a bead along the edge.
    fn beaded(&self, inner: Cell, outer: Cell, extent: Extent) -> bool {
        let [_, outer_side] = self.sides(inner);
        self.joints.sealed_to(self.piece).any(|other| {
            let throughout = || {
                self.joints.sealed_throughout(self.piece, other)
                    && (self.is_at(inner, other) || self.is_at(outer, other))
                    && !outer_side.contains(&(other as u32))
            };
            let rect = self.face.pieces[other].rect;
            let across = if self.side.axis() == Axis::Up { rect.along } else { rect.up };
            let bead = |at| {
                across.overlaps(extent)
                    && (apart(at, self.at) <= self.face.limits.bead_reach
                        || (self.is_next(other) || self.is_seam(other) || self.lies_behind(other, inner))
                            && self.goes_with(other, inner, at)
                        || self.lies_on_flashing(inner, at))
            };
            throughout() || self.joints.beads_at(self.piece, other, self.side.axis()).any(bead)
        })
    }

    /// Whether the foot of the piece hangs over a flashing, with the bead on the flange of the flashing or just above it.
    fn lies_on_flashing(&self, inner: Cell, bead: Coordinate) -> bool {
        let [base, _] = self.sides(inner);
        let flashing = base.last().map(|&p| &self.face.pieces[p as usize]).filter(|p| p.serves_as_flashing());
        self.side == Side::Bottom
            && bead > self.at
            && flashing
                .is_some_and(|flashing| bead <= flashing.rect.up.high.saturating_add(self.face.limits.bead_reach))
    }

    /// Whether the other piece closes the flap below the bead: a strip, an adhered sheet or a unit that lies behind the piece
    /// from its edge up to the bead. Sheathing does not, since it is what the air barrier has to cover.
    fn lies_behind(&self, other: usize, inner: Cell) -> bool {
        let [behind, _] = self.sides(inner);
        let said = &self.face.pieces[other];
        let closes = said.serves_as_flashing()
            || matches!(said.kind, Some(MaterialKind::Tape | MaterialKind::Coat | MaterialKind::Unit))
            || said.is(MaterialKind::Sheet) && !said.bonds.is_empty();
        closes && behind.contains(&(other as u32))
    }

    /// Whether the other is a sheet of the same layer that ends behind this one, so that the bead lies in their lap.
    fn is_seam(&self, other: usize) -> bool {
        let (own, other) = (&self.face.pieces[self.piece], &self.face.pieces[other]);
        let ends = match self.side {
            Side::Top => other.rect.up.low > own.rect.up.low,
            Side::Bottom => other.rect.up.high < own.rect.up.high,
            Side::Left => other.rect.along.high < own.rect.along.high,
            Side::Right => other.rect.along.low > own.rect.along.low,
        };
        own.layer.is_some() && other.layer == own.layer && ends
    }

    /// Whether the other is a control layer of another assembly, on which this one may end anywhere.
    fn is_next(&self, other: usize) -> bool {
        let (own, other) = (&self.face.pieces[self.piece], &self.face.pieces[other]);
        let assembly = |piece: &Piece| piece.layer.map(|layer| layer.assembly);
        !other.controls.is_empty() && assembly(other) != assembly(own)
    }

    /// Whether the other piece lies behind this one or over it all the way from the edge to a bead at this place, so that
    /// nothing gets between.
    fn goes_with(&self, other: usize, inner: Cell, bead: Coordinate) -> bool {
        let (low, high) = (bead.min(self.at), bead.max(self.at));
        let mut way = self.across(inner);
        way.retain(|(_, extent)| extent.low < high && extent.high > low);
        let reached = way.iter().any(|(_, extent)| extent.reaches(bead));
        reached && way.iter().all(|&(place, _)| self.is_at(place, self.piece) && self.is_at(place, other))
    }
}
