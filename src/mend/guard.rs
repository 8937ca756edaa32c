//! What no edit may do, whatever it clears: change what is given, place what nobody can reach, stop an outlet.

use crate::facts::face::Coordinate;
use crate::facts::{DetailFacts, nanometres};
use crate::finding::Edit;
use crate::mend::data::size;
use crate::mend::{Case, Trial, outlet, reach};
use crate::model::{Extent, MaterialKind, Piece};
use crate::syntax::Keyword;

/// The site, the weather and the schedule are not the drawing's to change.
const GIVEN: [Keyword; 6] =
    [Keyword::Climate, Keyword::ClimateUse, Keyword::Grade, Keyword::Sheltered, Keyword::Exposed, Keyword::InstalledAt];

/// Does the edit change a statement of what is given?
pub fn changes_given(case: &Case<'_>, edit: &Edit) -> bool {
    let items = case.document.items.iter().filter(|item| item.head.keyword == Keyword::Climate).map(|item| item.span);
    let body = case.document.items.iter().flat_map(|item| &item.body);
    let stated = body.filter(|own| GIVEN.contains(&own.keyword)).map(|own| own.span);
    let own = edit.span.range();
    items.chain(stated).any(|given| {
        let given = given.range();
        own.start < given.end && given.start < own.end.max(own.start + 1)
    })
}

/// A detail before the edit and after it.
pub struct Change<'a> {
    pub before: &'a DetailFacts,
    pub after: &'a DetailFacts,
    /// As wide as a bead or a tape has to lie on what it sticks to.
    pub least: Coordinate,
}

impl Change<'_> {
    /// The piece as it was drawn before.
    pub fn old(&self, piece: &Piece) -> Option<&Piece> {
        self.before.detail.pieces.iter().find(|old| old.name == piece.name)
    }

    /// Pairs of pieces, by name, of which something holds after the edit that did not hold before.
    pub fn brings(&self, holds: impl Fn(&DetailFacts, usize, usize) -> bool) -> bool {
        let all = |facts: &DetailFacts| {
            let count = facts.detail.pieces.len();
            let pairs = (0..count).flat_map(|a| (0..count).map(move |b| (a, b)));
            let name = |at: usize| facts.detail.pieces[at].name.clone();
            pairs.filter(|&(a, b)| a != b && holds(facts, a, b)).map(|(a, b)| (name(a), name(b))).collect::<Vec<_>>()
        };
        let known = all(self.before);
        all(self.after).iter().any(|pair| !known.contains(pair))
    }
}

/// Is what the edit makes of the detail something that can be built and does no harm? Text that could not be read before is not judged.
pub fn harmless(case: &Case<'_>, trial: &Trial) -> bool {
    let after = trial.details.iter().find(|facts| case.finding.item.as_deref() == Some(&*facts.detail.name));
    let (Some(before), Some(after), false) = (case.facts, after, case.finding.unread()) else { return true };
    let least = size(case, "contact").map_or(0, nanometres);
    let change = Change { before, after, least };
    reach::reachable(&change) && outlet::open(&change) && kept(&change)
}

/// Pieces that are as wide as they are for a reason, and coats that end where their ground does.
fn kept(change: &Change<'_>) -> bool {
    let moved =
        change.after.detail.pieces.iter().any(|piece| change.old(piece).is_some_and(|old| stretched(piece, old)));
    // A coat is painted on walls, and ends before a unit: a strip goes on from there.
    let painted = change.brings(|facts, coat, unit| {
        let is = |index: usize, kind| facts.detail.pieces[index].material.kind == Some(kind);
        let cells = &facts.face.cells;
        is(coat, MaterialKind::Coat)
            && is(unit, MaterialKind::Unit)
            && unit < coat
            && cells.common(coat, unit).iter().any(|(c, r)| cells.has(c, r, coat) && cells.has(c, r, unit))
    });
    !moved && !painted
}

/// An end dam drawn wider makes up for no narrow pan, a cleat for no coping, a gutter for no drip edge.
fn stretched(piece: &Piece, old: &Piece) -> bool {
    let length = |extent: &Extent| extent.low.zip(extent.high).map(|(low, high)| nanometres(high) - nanometres(low));
    let same = |one: &Extent, two: &Extent| length(one) == length(two);
    match piece.role.as_deref() {
        Some("end-dam") => !same(&piece.along, &old.along),
        Some("cleat" | "gutter") => !same(&piece.along, &old.along) || !same(&piece.up, &old.up),
        _ => false,
    }
}
