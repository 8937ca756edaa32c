//! What no edit may do, whatever it clears: change what is given, seal pieces that do not touch, shut an outlet.

use crate::facts::face::Coordinate;
use crate::facts::{DetailFacts, nanometres};
use crate::finding::Edit;
use crate::mend::tables::size;
use crate::mend::{Context, ReviewedCopy, contact, outlet};
use crate::model::{Extent, MaterialKind, Piece};
use crate::syntax::Keyword;

/// The site, the weather and the schedule are not the drawing's to change.
const GIVEN: [Keyword; 6] =
    [Keyword::Climate, Keyword::ClimateUse, Keyword::Grade, Keyword::Sheltered, Keyword::Exposed, Keyword::InstalledAt];

/// Does the edit change such a statement?
pub fn changes_given(context: &Context<'_>, edit: &Edit) -> bool {
    let items =
        context.document.items.iter().filter(|item| item.head.keyword == Keyword::Climate).map(|item| item.span);
    let body = context.document.items.iter().flat_map(|item| &item.body);
    let stated = body.filter(|own| GIVEN.contains(&own.keyword)).map(|own| own.span);
    let own = edit.span.range();
    items.chain(stated).any(|given| {
        let given = given.range();
        own.start < given.end && given.start < own.end.max(own.start + 1)
    })
}

/// A detail before an edit and after it.
pub struct EditedDetail<'a> {
    pub before: &'a DetailFacts,
    pub after: &'a DetailFacts,
    /// The least width over which a bead or a tape has to touch a surface.
    pub least: Coordinate,
}

impl EditedDetail<'_> {
    /// The piece as it was drawn before.
    pub fn old(&self, piece: &Piece) -> Option<&Piece> {
        self.before.detail.pieces.iter().find(|old| old.name == piece.name)
    }

    /// Does something hold for a pair of pieces after the edit that did not hold for it before? Pieces are compared by name.
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

/// Can the edited detail be built, and does it drain as before? What could not be read before the edit has nothing to be held against.
pub fn harmless(context: &Context<'_>, copy: &ReviewedCopy) -> bool {
    let after = copy.details.iter().find(|facts| context.finding.item.as_deref() == Some(&*facts.detail.name));
    let (Some(before), Some(after), false) = (context.facts, after, context.finding.unread()) else { return true };
    let least = size(context, "contact").map_or(0, nanometres);
    let change = EditedDetail { before, after, least };
    contact::seals_make_contact(&change) && outlet::stay_open(&change) && keeps_sizes(&change)
}

/// Some pieces have their size for a reason, and a coat ends where its substrate does.
fn keeps_sizes(change: &EditedDetail<'_>) -> bool {
    let moved =
        change.after.detail.pieces.iter().any(|piece| change.old(piece).is_some_and(|old| stretched(piece, old)));
    // A coat ends before a unit, where a strip takes over. It is never painted on the unit.
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

/// A wider end dam does not make up for a short pan, nor a cleat for a coping, nor a gutter for a drip edge.
fn stretched(piece: &Piece, old: &Piece) -> bool {
    let length = |extent: &Extent| extent.low.zip(extent.high).map(|(low, high)| nanometres(high) - nanometres(low));
    let same = |one: &Extent, two: &Extent| length(one) == length(two);
    match piece.role.as_deref() {
        Some("end-dam") => !same(&piece.along, &old.along),
        Some("cleat" | "gutter") => !same(&piece.along, &old.along) || !same(&piece.up, &old.up),
        _ => false,
    }
}
