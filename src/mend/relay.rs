//! A strip that was bonded to the face of a sheet, installed before that sheet on the backing instead.

use crate::mend::extent::overlap;
use crate::mend::flashing::is_backing;
use crate::mend::text::{insert, lines_of, piece, replace};
use crate::mend::title::Title;
use crate::mend::{Context, Cure};
use crate::model::{Hold, Piece};

/// Each subject that is bonded to another one, installed before that one.
pub fn moves(context: &Context<'_>) -> Vec<Cure> {
    let drafts = context.pairs().into_iter().filter_map(|(own, other)| {
        let bonds = &piece(context, own).bonds;
        let bond = bonds.iter().position(|bond| bond.index == other && bond.hold == Hold::Adhesive)?;
        (own > other).then(|| relaid(context, own, other, bond)).flatten()
    });
    drafts.collect()
}

fn relaid(context: &Context<'_>, own: usize, other: usize, bond: usize) -> Option<Cure> {
    let (strip, sheet) = (piece(context, own), piece(context, other));
    let (lines, place) = (lines_of(context.source, strip.span)?, lines_of(context.source, sheet.span)?);
    let held = |index: usize| strip.bonds.iter().any(|bond| bond.index == index);
    let backing = |index: &usize| {
        let piece = piece(context, *index);
        is_backing(piece) && lies_under(strip, sheet, piece)
    };
    let behind = (0..other).rev().find(backing)?;
    let later = |bond: &&crate::model::Bond| bond.index > other;
    if strip.bonds.iter().any(|bond| later(&bond)) {
        return None;
    }
    let text = &context.source.text[lines.clone()];
    let name = strip.bonds[bond].span.range();
    let (start, end) = (name.start - lines.start, name.end - lines.start);
    let moved = if held(behind) {
        without(text, start, end)?
    } else {
        [&text[..start], &piece(context, behind).name, &text[end..]].concat()
    };
    let edits = vec![replace(context, lines, String::new()), insert(context, place.start, moved)];
    let backing = &*piece(context, behind).name;
    let title = Title::InstallBonded { strip: &strip.name, before: &sheet.name, backing };
    Some(Cure::new(title, edits))
}

/// Does it lie behind both?
fn lies_under(strip: &Piece, sheet: &Piece, behind: &Piece) -> bool {
    [strip, sheet].iter().all(|own| overlap(&own.up, &behind.up) && overlap(&own.along, &behind.along))
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
