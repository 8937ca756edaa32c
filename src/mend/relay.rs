//! A strip that was stuck to the face of a sheet, put on before that sheet: on what lies behind it.

use crate::mend::flash::{is_backing, meet};
use crate::mend::text::{insert, lines_of, piece, replace};
use crate::mend::{Case, Cure};
use crate::model::{Hold, Piece};

/// Each of the pieces that sticks to another one, installed before that one.
pub fn moves(case: &Case<'_>) -> Vec<Cure> {
    let drafts = case.pairs().into_iter().filter_map(|(own, other)| {
        let bonds = &piece(case, own).bonds;
        let bond = bonds.iter().position(|bond| bond.index == other && bond.hold == Hold::Adhesive)?;
        (own > other).then(|| relaid(case, own, other, bond)).flatten()
    });
    drafts.collect()
}

fn relaid(case: &Case<'_>, own: usize, other: usize, bond: usize) -> Option<Cure> {
    let (strip, sheet) = (piece(case, own), piece(case, other));
    let (lines, place) = (lines_of(case.source, strip.span)?, lines_of(case.source, sheet.span)?);
    let held = |index: usize| strip.bonds.iter().any(|bond| bond.index == index);
    let backing = |index: &usize| {
        let piece = piece(case, *index);
        is_backing(piece) && lies_under(strip, sheet, piece)
    };
    let behind = (0..other).rev().find(backing)?;
    let later = |bond: &&crate::model::Bond| bond.index > other;
    if strip.bonds.iter().any(|bond| later(&bond)) {
        return None;
    }
    let text = &case.source.text[lines.clone()];
    let name = strip.bonds[bond].span.range();
    let (start, end) = (name.start - lines.start, name.end - lines.start);
    let moved = if held(behind) {
        without(text, start, end)?
    } else {
        [&text[..start], &piece(case, behind).name, &text[end..]].concat()
    };
    let edits = vec![replace(case, lines, String::new()), insert(case, place.start, moved)];
    let title = format!("Install {} before {}, stuck to {}", strip.name, sheet.name, piece(case, behind).name);
    Some(Cure::new(title, edits))
}

/// Does it lie behind both where the two meet?
fn lies_under(strip: &Piece, sheet: &Piece, behind: &Piece) -> bool {
    [strip, sheet].iter().all(|own| meet(&own.up, &behind.up) && meet(&own.along, &behind.along))
}

/// The text without one name of a list that has others.
fn without(text: &str, start: usize, end: usize) -> Option<String> {
    let (before, after) = (&text[..start], &text[end..]);
    if let Some(rest) = after.trim_start().strip_prefix(',') {
        return Some([before, rest.trim_start()].concat());
    }
    let before = before.trim_end().strip_suffix(',')?;
    Some([before, after].concat())
}
