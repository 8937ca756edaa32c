//! A piece that is stuck, welded or clamped to another one.

use crate::mend::text::{clause, insert, piece};
use crate::mend::{Case, Cure};
use crate::model::{MaterialKind, Piece};
use crate::syntax::Hold;

/// Each of the pieces, held by the other one; or what touches it, held by it; then what sticks to one of them already.
pub fn bonds(case: &Case<'_>, hold: Hold) -> Vec<Cure> {
    let both = case.pairs();
    let strips = both.iter().filter(|_| hold == Hold::Adhesive).flat_map(|&(one, other)| {
        let sticks = move |strip: &usize| piece(case, *strip).bonds.iter().any(|bond| bond.index == one);
        case.touching(one).into_iter().filter(sticks).map(move |strip| (strip, other))
    });
    let mut all = both.clone();
    all.extend(strips.filter(|pair| pair.0 != pair.1 && !both.contains(pair)));
    let pairs = all.into_iter().filter(|&(one, other)| {
        let piece = piece(case, one);
        can(piece, hold) && !piece.bonds.iter().any(|bond| bond.index == other)
    });
    // What is to stick and has no adhesive is welded.
    let stated = case.subjects().into_iter().flat_map(|own| {
        let piece = piece(case, own);
        let dry = hold == Hold::Weld && piece.material.adhesive.is_none() && can(piece, hold);
        let last = piece.bonds.last().filter(|bond| dry && bond.hold == Hold::Adhesive);
        last.map(|last| {
            Cure::new(format!("Weld {}", piece.name), vec![insert(case, last.span.range().end, how(hold).to_owned())])
        })
    });
    let drafts = pairs.map(|(one, other)| {
        let (piece, onto) = (piece(case, one), &piece(case, other).name);
        let edit = match piece.bonds.iter().rfind(|bond| bond.hold == hold) {
            Some(last) => insert(case, last.span.range().end, format!(", {onto}")),
            None => clause(case, piece.span, &[&format!("bonds {onto}"), how(hold)].concat()),
        };
        let does = match hold {
            Hold::Adhesive => "Adhere",
            Hold::Weld => "Weld",
            Hold::Clamp => "Clamp",
        };
        Cure::new(format!("{does} {} to {onto}", piece.name), vec![edit])
    });
    stated.chain(drafts).collect()
}

/// Sheets are welded; a clamp holds what bends.
fn can(piece: &Piece, hold: Hold) -> bool {
    let kind = |wanted: MaterialKind| piece.material.kind == Some(wanted);
    match hold {
        Hold::Adhesive => piece.material.adhesive.is_some(),
        Hold::Weld => kind(MaterialKind::Sheet),
        Hold::Clamp => kind(MaterialKind::Sheet) || kind(MaterialKind::Flashing),
    }
}

fn how(hold: Hold) -> &'static str {
    match hold {
        Hold::Adhesive => "",
        Hold::Weld => " welded",
        Hold::Clamp => " clamped",
    }
}
