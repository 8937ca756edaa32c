//! The pieces that hold one control, the links between them, and the paths along those links.

use super::Transition;
use crate::facts::face::breach::breaches;
use crate::facts::face::budget::{Budget, TooLarge};
use crate::facts::face::lap::CellLine;
use crate::facts::face::{Coordinate, Face, Joints, LayerEnd, Pairs, SealFact};
use crate::model::{Control, MaterialKind};

pub(super) struct Net<'a> {
    pub(super) face: &'a Face,
    pub(super) joints: &'a Joints,
    pub(super) control: Control,
    pub(super) links: &'a Pairs,
}

impl Net<'_> {
    pub(super) fn between(&self, sides: [usize; 2], budget: &mut Budget) -> Result<Transition, TooLarge> {
        let [a, b] = sides.map(|assembly| self.ends(|layer| layer.assembly == assembly));
        let shown = [!a.is_empty(), !b.is_empty()];
        let reach = self.reach(&a);
        let path = b.iter().find(|&&end| reach[end].is_some()).map(|_| self.path(&reach, &b));
        let continuous = path.is_some();
        let nearest = if continuous || shown.contains(&false) {
            None
        } else {
            let other = self.reach(&b);
            self.nearest(&indices(&reach), &indices(&other), budget)?
        };
        Ok(Transition { control: self.control, sides, continuous, partly: false, shown, nearest, path })
    }

    pub(super) fn within(&self, budget: &mut Budget) -> Result<Transition, TooLarge> {
        let mut layers: Vec<LayerEnd> =
            self.ends(|l| l.assembly == 0).iter().filter_map(|&p| self.face.pieces[p].layer).collect();
        layers.sort_unstable();
        layers.dedup();
        let shown = !layers.is_empty();
        let mut nearest = None;
        for layer in layers {
            let ends = self.ends(|l| l == layer);
            let reach = self.reach(&ends[..1]);
            let rest: Vec<usize> = ends.iter().copied().filter(|&p| reach[p].is_none()).collect();
            if !rest.is_empty() {
                let other = self.reach(&rest);
                nearest = self.nearest(&indices(&reach), &indices(&other), budget)?;
                break;
            }
        }
        let continuous = shown && nearest.is_none();
        let shown = [shown, true];
        Ok(Transition { control: self.control, sides: [0, 0], continuous, partly: false, shown, nearest, path: None })
    }

    /// Air and vapor get through wherever there is no path, so that a path at one place is not enough. For water, the drops
    /// decide.
    pub(super) fn all_along(
        &self,
        found: Transition,
        lines: &[CellLine<'_>],
        seals: &[SealFact],
        budget: &mut Budget,
    ) -> Result<Transition, TooLarge> {
        if !found.continuous || !matches!(self.control, Control::Air | Control::Vapor) {
            return Ok(found);
        }
        let breaches = breaches(self.face, lines, self.joints, seals, self.control, found.sides, budget)?;
        if breaches.is_empty() {
            return Ok(found);
        }
        let mut nearest = None;
        for [a, b] in &breaches {
            let here = self.nearest(a, b, budget)?;
            nearest = nearest.into_iter().chain(here).min_by_key(|&(x, y)| self.effort(x, y));
        }
        Ok(Transition { continuous: false, partly: true, nearest, path: None, ..found })
    }

    /// Pieces of a control layer, by index.
    fn ends(&self, of: impl Fn(LayerEnd) -> bool) -> Vec<usize> {
        let takes_part = |p: usize| !(self.control == Control::Water && self.face.pieces[p].inside);
        let pieces = self.face.pieces.iter().enumerate();
        pieces
            .filter(|(_, p)| p.controls.has(self.control) && p.layer.is_some_and(&of))
            .map(|(index, _)| index)
            .filter(|&p| takes_part(p))
            .collect()
    }

    /// For each piece that can be reached, the piece before it on the path; a start has itself.
    fn reach(&self, starts: &[usize]) -> Vec<Option<usize>> {
        let mut before = vec![None; self.face.pieces.len()];
        let mut reached = starts.to_vec();
        let mut next = 0;
        starts.iter().for_each(|&s| before[s] = Some(s));
        let carries = |p: usize| {
            let piece = &self.face.pieces[p];
            let water = self.control == Control::Water;
            piece.holds.has(self.control) && !(water && (piece.inside || self.face.stands_behind_water(piece)))
        };
        while let Some(&piece) = reached.get(next) {
            next += 1;
            if carries(piece) {
                for other in self.links.of(piece).filter(|&n| carries(n)) {
                    if before[other].is_none() {
                        before[other] = Some(piece);
                        reached.push(other);
                    }
                }
            }
        }
        before
    }

    /// The shortest way back from one of the ends.
    fn path(&self, before: &[Option<usize>], ends: &[usize]) -> Vec<usize> {
        let back = |end: usize| std::iter::successors(Some(end), |&at| before[at].filter(|&previous| previous != at));
        let reached = ends.iter().copied().filter(|&end| before[end].is_some());
        let mut path: Vec<usize> = reached.min_by_key(|&end| back(end).count()).into_iter().flat_map(back).collect();
        path.reverse();
        path
    }

    /// The pair that could be joined with the least effort.
    fn nearest(&self, a: &[usize], b: &[usize], budget: &mut Budget) -> Result<Option<(usize, usize)>, TooLarge> {
        budget.spend(a.len().saturating_mul(b.len()))?;
        let pairs = a.iter().flat_map(|&x| b.iter().map(move |&y| (x, y)));
        Ok(pairs.min_by_key(|&(x, y)| self.effort(x, y)))
    }

    /// The effort to join a pair, least first: a pair that a misplaced bead was meant to join; a pair without timber, since
    /// timber only fills the space between other pieces; a pair in contact; then the pair with the least space between.
    fn effort(&self, a: usize, b: usize) -> impl Ord + use<> {
        let timber = [a, b].iter().any(|&p| self.face.pieces[p].is(MaterialKind::Frame));
        (!self.joints.sealed.has(a, b), timber, !self.joints.contact.has(a, b), self.space(a, b), a, b)
    }

    fn space(&self, a: usize, b: usize) -> Coordinate {
        let (a, b) = (self.face.pieces[a].rect, self.face.pieces[b].rect);
        // A strip would have to bridge the longer of the two distances.
        a.up.distance(b.up).max(a.along.distance(b.along))
    }
}

fn indices(reach: &[Option<usize>]) -> Vec<usize> {
    (0..reach.len()).filter(|&p| reach[p].is_some()).collect()
}
