//! A piece adhered, welded or clamped to another one.

use crate::mend::text::{clause, insert, piece};
use crate::mend::title::Title;
use crate::mend::{Context, Cure};
use crate::model::{MaterialKind, Piece};
use crate::syntax::Hold;

/// Each subject of the finding bonded to the other one, or to what touches it; then strips that are bonded to one subject, bonded to the other
/// one as well.
pub fn bonds(context: &Context<'_>, hold: Hold) -> Vec<Cure> {
    let both = context.pairs();
    let strips = both.iter().filter(|_| hold == Hold::Adhesive).flat_map(|&(one, other)| {
        let sticks = move |strip: &usize| piece(context, *strip).bonds.iter().any(|bond| bond.index == one);
        context.touching(one).into_iter().filter(sticks).map(move |strip| (strip, other))
    });
    let mut all = both.clone();
    all.extend(strips.filter(|pair| pair.0 != pair.1 && !both.contains(pair)));
    let pairs = all.into_iter().filter(|&(one, other)| {
        let piece = piece(context, one);
        can(piece, hold) && !piece.bonds.iter().any(|bond| bond.index == other)
    });
    // A sheet without adhesive that is drawn as adhered is welded instead.
    let stated = context.subjects().into_iter().flat_map(|own| {
        let piece = piece(context, own);
        let dry = hold == Hold::Weld && piece.material.adhesive.is_none() && can(piece, hold);
        let last = piece.bonds.last().filter(|bond| dry && bond.hold == Hold::Adhesive);
        last.map(|last| {
            Cure::new(
                Title::Weld { piece: &piece.name },
                vec![insert(context, last.span.range().end, how(hold).to_owned())],
            )
        })
    });
    let drafts = pairs.map(|(one, other)| {
        let (piece, onto) = (piece(context, one), &piece(context, other).name);
        let edit = match piece.bonds.iter().rfind(|bond| bond.hold == hold) {
            Some(last) => insert(context, last.span.range().end, format!(", {onto}")),
            None => clause(context, piece.span, &[&format!("bonds {onto}"), how(hold)].concat()),
        };
        Cure::new(Title::Bond { piece: &piece.name, onto, hold }, vec![edit])
    });
    stated.chain(drafts).collect()
}

/// Sheets can be welded. A clamp holds what bends.
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
