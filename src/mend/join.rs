//! What closes a break between two pieces: a bond, a bead, a tape across it.

use crate::mend::data::size;
use crate::mend::text::{clause, insert, last_line, line_behind, piece};
use crate::mend::{Case, Cure};
use crate::model::{Extent, Hold, Material, MaterialKind, Piece};
use crate::quantity::Quantity;

/// So many materials are tried for a bead or a tape.
const MOST_MATERIALS: usize = 5;

/// A piece that can stick is adhered to the other one.
pub fn bonds(case: &Case<'_>) -> Vec<Cure> {
    let pairs = case.pairs().into_iter().filter(|&(one, other)| {
        let piece = piece(case, one);
        piece.material.adhesive.is_some() && !piece.bonds.iter().any(|bond| bond.index == other)
    });
    let drafts = pairs.map(|(one, other)| {
        let (piece, onto) = (piece(case, one), &piece(case, other).name);
        let edit = match piece.bonds.iter().rfind(|bond| bond.hold == Hold::Adhesive) {
            Some(last) => insert(case, last.span.range().end, format!(", {onto}")),
            None => clause(case, piece.span, &format!("bonds {onto}")),
        };
        Cure::new(format!("Adhere {} to {onto}", piece.name), vec![edit])
    });
    drafts.collect()
}

/// A bead along the whole contact of two pieces.
pub fn beads(case: &Case<'_>) -> Vec<Cure> {
    let sealants = case.materials_of(&[MaterialKind::Sealant]);
    let pairs: Vec<(usize, usize)> = case.pairs().into_iter().step_by(2).collect();
    let drafts = sealants.iter().take(MOST_MATERIALS).flat_map(|sealant| {
        pairs.iter().filter_map(|&(one, other)| {
            let (one, other) = (&piece(case, one).name, &piece(case, other).name);
            let line = format!("seal {one} to {other} with {}", sealant.name);
            Some(Cure::new(format!("Seal {one} to {other} with {}", sealant.name), vec![last_line(case, &line)?]))
        })
    });
    drafts.collect()
}

/// A strip that sticks to both sides of the break, centered on an edge of one of them.
pub fn tapes(case: &Case<'_>) -> Vec<Cure> {
    let Some(width) = size(case, "tape") else { return Vec::new() };
    let sticks = |material: &&&Material| material.adhesive.is_some();
    let found = case.materials_of(&[MaterialKind::Tape]);
    let tapes: Vec<&&Material> = found.iter().filter(sticks).take(MOST_MATERIALS).collect();
    let pairs: Vec<(usize, usize)> = case.pairs().into_iter().step_by(2).collect();
    let mut drafts = Vec::new();
    for tape in tapes {
        for &(one, other) in &pairs {
            let (one, other) = (piece(case, one), piece(case, other));
            let last = if one.span.start > other.span.start { one } else { other };
            for place in places(one, other, width) {
                let line = format!(
                    "piece {} {} {place} bonds {}, {} rolled",
                    case.fresh("tape"),
                    tape.name,
                    one.name,
                    other.name
                );
                let title = format!("Tape {} to {} with {}", one.name, other.name, tape.name);
                drafts.extend(line_behind(case, last.span, &line).map(|edit| Cure::new(title, vec![edit])));
            }
        }
    }
    drafts
}

/// Across each edge that is drawn.
fn places(one: &Piece, other: &Piece, width: Quantity) -> Vec<String> {
    let across = |word: &str, extent: &Extent| {
        let edges = [extent.low, extent.high].into_iter().flatten();
        let half = width.si / 2.0;
        let place = |edge: Quantity| {
            let [low, high] = [-half, half].map(|by| Quantity::from_si(edge.si + by, edge.unit));
            format!("{word} {low} to {high}")
        };
        edges.map(place).collect::<Vec<_>>()
    };
    let mut places: Vec<String> = [one, other].iter().flat_map(|piece| across("up", &piece.up)).collect();
    places.extend([one, other].iter().flat_map(|piece| across("along", &piece.along)));
    places.dedup();
    places
}
