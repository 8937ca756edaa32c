//! A counterflashing let into a wall above the flashing that it covers.

use crate::mend::extent::{extent_clause, overlap};
use crate::mend::tables::size;
use crate::mend::text::{clause, last_line, line_behind, piece, replace};
use crate::mend::title::Title;
use crate::mend::{Context, Cure};
use crate::model::{Control, Extent, Material, MaterialKind, Piece};
use crate::quantity::Quantity;

/// How many places in the installation sequence are tried.
const MOST_PLACES: usize = 6;

/// The role of the new piece.
const ROLE: &str = "counterflashing";

pub fn drawn(context: &Context<'_>) -> Vec<Cure> {
    let sealant = context.stocked("bead", MaterialKind::Sealant).into_iter().find(|own| own.holds.has(Control::Water));
    let (Some(sealant), sizes) = (sealant, Sizes::of(context)) else { return Vec::new() };
    let Some(sizes) = sizes else { return Vec::new() };
    let mut drafts = Vec::new();
    for own in context.subjects() {
        let flashing = piece(context, own);
        if flashing.material.kind == Some(MaterialKind::Mass) {
            continue;
        }
        let Some((wall, joint)) = wall(context, flashing) else { continue };
        let at = |by: f64| Quantity::from_si(joint.si + by, joint.unit);
        let bead = |name: &str| format!("seal {name} to {} with {} up {}", wall.name, sealant.name, at(sizes.bead));
        if flashing.role.as_deref() == Some(ROLE) {
            drafts.extend(raised(context, flashing, wall, at(sizes.depth), &bead(&flashing.name)));
            continue;
        }
        let Some(top) = flashing.up.high else { continue };
        let up = Extent {
            low: Some(Quantity::from_si(top.si - sizes.lap, top.unit)),
            high: Some(at(sizes.depth)),
            span: None,
        };
        let ends = [extent_clause("up", &up, &[]), extent_clause("along", &flashing.along, &[])];
        let ends = ends.into_iter().flatten().collect::<Vec<_>>().join(" ");
        let name = context.fresh(ROLE);
        for material in metals(context, flashing) {
            let line = format!("piece {name} {material} as {ROLE} {ends} behind {} with drip", wall.name);
            for place in (own..context.pieces().len()).take(MOST_PLACES) {
                let edits = [line_behind(context, piece(context, place).span, &line), last_line(context, &bead(&name))];
                let title = Title::DrawCounterflashing { wall: &wall.name, over: &flashing.name };
                drafts.extend(edits.into_iter().collect::<Option<Vec<_>>>().map(|edits| Cure::new(title, edits)));
            }
        }
    }
    drafts
}

struct Sizes {
    depth: f64,
    lap: f64,
    bead: f64,
}

impl Sizes {
    fn of(context: &Context<'_>) -> Option<Sizes> {
        let of = |part: &str| size(context, part).map(|size| size.si);
        Some(Sizes { depth: of("let-in")?, lap: of("let-in-lap")?, bead: of("let-in-bead")? })
    }
}

/// The part of a wall that begins above the flashing, and its lower edge: the joint that a counterflashing goes into.
fn wall<'a>(context: &Context<'a>, flashing: &Piece) -> Option<(&'a Piece, Quantity)> {
    let pieces = context.pieces().iter().filter(|own| own.material.kind == Some(MaterialKind::Mass) && !own.inside);
    let foot = |own: &'a Piece| own.up.low.filter(|_| overlap(&own.along, &flashing.along)).map(|low| (own, low));
    let reach = flashing.up.low?.si;
    let above = pieces.filter_map(foot).filter(|(_, low)| low.si > reach);
    above.min_by(|(_, a), (_, b)| a.si.total_cmp(&b.si))
}

/// A counterflashing that ends on the face of the wall, extended into the joint.
fn raised(context: &Context<'_>, own: &Piece, wall: &Piece, top: Quantity, bead: &str) -> Option<Cure> {
    let up = replace(context, own.up.span?.range(), extent_clause("up", &Extent { high: Some(top), ..own.up }, &[])?);
    let mut edits = vec![up, clause(context, own.span, &format!("behind {}", wall.name))];
    let detail = &context.facts?.detail;
    let name = |index: usize| &context.pieces()[index].name;
    let old = detail.seals.iter().find(|seal| [seal.first.index, seal.second.index].map(name).contains(&&own.name));
    edits.push(match old {
        Some(old) => replace(context, old.span.range(), bead.to_owned()),
        None => last_line(context, bead)?,
    });
    Some(Cure::new(Title::LetIn { piece: &own.name, wall: &wall.name }, edits))
}

/// The metal of the flashing that is covered, or else those of the table.
fn metals<'a>(context: &'a Context<'_>, flashing: &'a Piece) -> Vec<&'a str> {
    let metal = |own: &Material| own.kind == Some(MaterialKind::Flashing) && own.adhesive.is_none();
    if metal(&flashing.material) {
        return vec![&flashing.material.name];
    }
    let named = context.named("flashing", MaterialKind::Flashing);
    named.into_iter().filter(|own| metal(own)).map(|own| &*own.name).take(1).collect()
}
