//! The installation sequence: a step earlier or later, or one pair out of sequence.

use crate::mend::text::{clause, insert, lines_of, piece, replace};
use crate::mend::title::Title;
use crate::mend::{Context, Cure};
use crate::model::{MaterialKind, Piece};

/// One subject installed right before or right after another.
pub fn moves(context: &Context<'_>) -> Vec<Cure> {
    context.pairs().into_iter().filter_map(|(moved, other)| to(context, moved, other)).collect()
}

fn to(context: &Context<'_>, moved: usize, other: usize) -> Option<Cure> {
    let (moved, fixed) = (piece(context, moved), piece(context, other));
    let (lines, beside) = (lines_of(context.source, moved.span)?, lines_of(context.source, fixed.span)?);
    if lines.start == beside.start {
        return None;
    }
    let later = lines.start < beside.start;
    let word = if later { "after" } else { "before" };
    let at = if later { beside.end } else { beside.start };
    // A wall is built before what is fixed to it.
    let built = if later { moved } else { fixed };
    if built.material.kind == Some(MaterialKind::Mass) {
        return None;
    }
    let text = context.source.text[lines.clone()].to_owned();
    let edits = vec![replace(context, lines, String::new()), insert(context, at, text)];
    Some(Cure::new(Title::Install { piece: &moved.name, word, other: &fixed.name }, edits))
}

/// `behind` or `over`, which overrides the sequence for one pair.
pub fn beside(context: &Context<'_>, word: &str) -> Vec<Cure> {
    let pairs = context.pairs().into_iter().map(|(one, other)| (piece(context, one), piece(context, other)));
    let wall = |own: &Piece| own.material.kind == Some(MaterialKind::Mass);
    let drafts = pairs.filter_map(|(one, other)| {
        // Nothing goes behind a wall, and no wall is folded down.
        if wall(if word == "behind" { other } else { one }) {
            return None;
        }
        let (known, title) = match word {
            "behind" => (&one.behind, Title::Tuck { piece: &one.name, behind: &other.name }),
            _ => (&one.over, Title::Fold { piece: &one.name, over: &other.name }),
        };
        if known.iter().any(|known| *context.pieces()[known.index].name == *other.name) {
            return None;
        }
        let edit = match known.last() {
            Some(last) => insert(context, last.span.range().end, format!(", {}", other.name)),
            None => clause(context, one.span, &format!("{word} {}", other.name)),
        };
        Some(Cure::new(title, vec![edit]))
    });
    drafts.collect()
}
