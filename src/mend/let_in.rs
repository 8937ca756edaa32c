//! A counterflashing let into a wall above the flashing that it covers.

use crate::mend::data::size;
use crate::mend::flash::meet;
use crate::mend::past::written;
use crate::mend::text::{clause, last_line, line_behind, piece, replace};
use crate::mend::{Case, Cure};
use crate::model::{Control, Extent, Material, MaterialKind, Piece};
use crate::quantity::Quantity;

/// So many pieces are tried as the one that it comes after.
const MOST_PLACES: usize = 6;

/// The role of what is drawn.
const ROLE: &str = "counterflashing";

pub fn drawn(case: &Case<'_>) -> Vec<Cure> {
    let sealant = case.stocked("bead", MaterialKind::Sealant).into_iter().find(|own| own.holds.has(Control::Water));
    let (Some(sealant), sizes) = (sealant, Sizes::of(case)) else { return Vec::new() };
    let Some(sizes) = sizes else { return Vec::new() };
    let mut drafts = Vec::new();
    for own in case.subjects() {
        let flashing = piece(case, own);
        if flashing.material.kind == Some(MaterialKind::Mass) {
            continue;
        }
        let Some((wall, joint)) = wall(case, flashing) else { continue };
        let at = |by: f64| Quantity::from_si(joint.si + by, joint.unit);
        let bead = |name: &str| format!("seal {name} to {} with {} up {}", wall.name, sealant.name, at(sizes.bead));
        if flashing.role.as_deref() == Some(ROLE) {
            drafts.extend(raised(case, flashing, wall, at(sizes.depth), &bead(&flashing.name)));
            continue;
        }
        let Some(top) = flashing.up.high else { continue };
        let up = Extent {
            low: Some(Quantity::from_si(top.si - sizes.lap, top.unit)),
            high: Some(at(sizes.depth)),
            span: None,
        };
        let ends = [written("up", &up, &[]), written("along", &flashing.along, &[])];
        let ends = ends.into_iter().flatten().collect::<Vec<_>>().join(" ");
        let name = case.fresh(ROLE);
        for material in metals(case, flashing) {
            let line = format!("piece {name} {material} as {ROLE} {ends} behind {} with drip", wall.name);
            for place in (own..case.pieces().len()).take(MOST_PLACES) {
                let edits = [line_behind(case, piece(case, place).span, &line), last_line(case, &bead(&name))];
                let title =
                    format!("Let a counterflashing into {} and bring it down over {}", wall.name, flashing.name);
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
    fn of(case: &Case<'_>) -> Option<Sizes> {
        let of = |part: &str| size(case, part).map(|size| size.si);
        Some(Sizes { depth: of("let-in")?, lap: of("let-in-lap")?, bead: of("let-in-bead")? })
    }
}

/// The part of a wall that begins above the flashing, and its lower edge: the joint that a counterflashing goes into.
fn wall<'a>(case: &Case<'a>, flashing: &Piece) -> Option<(&'a Piece, Quantity)> {
    let pieces = case.pieces().iter().filter(|own| own.material.kind == Some(MaterialKind::Mass) && !own.inside);
    let foot = |own: &'a Piece| own.up.low.filter(|_| meet(&own.along, &flashing.along)).map(|low| (own, low));
    let reach = flashing.up.low?.si;
    let above = pieces.filter_map(foot).filter(|(_, low)| low.si > reach);
    above.min_by(|(_, a), (_, b)| a.si.total_cmp(&b.si))
}

/// One that ends on the face of the wall, carried into the joint.
fn raised(case: &Case<'_>, own: &Piece, wall: &Piece, top: Quantity, bead: &str) -> Option<Cure> {
    let up = replace(case, own.up.span?.range(), written("up", &Extent { high: Some(top), ..own.up }, &[])?);
    let mut edits = vec![up, clause(case, own.span, &format!("behind {}", wall.name))];
    let detail = &case.facts?.detail;
    let name = |index: usize| &case.pieces()[index].name;
    let old = detail.seals.iter().find(|seal| [seal.first.index, seal.second.index].map(name).contains(&&own.name));
    edits.push(match old {
        Some(old) => replace(case, old.span.range(), bead.to_owned()),
        None => last_line(case, bead)?,
    });
    Some(Cure::new(format!("Let {} into {} and seal it there", own.name, wall.name), edits))
}

/// The metal of the flashing, else those of the table.
fn metals<'a>(case: &'a Case<'_>, flashing: &'a Piece) -> Vec<&'a str> {
    let metal = |own: &Material| own.kind == Some(MaterialKind::Flashing) && own.adhesive.is_none();
    if metal(&flashing.material) {
        return vec![&flashing.material.name];
    }
    let named = case.named("flashing", MaterialKind::Flashing);
    named.into_iter().filter(|own| metal(own)).map(|own| &*own.name).take(1).collect()
}
