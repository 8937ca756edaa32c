//! The order of installation: a step earlier or later, or one pair out of order.

use crate::mend::text::{clause, insert, lines_of, piece, replace};
use crate::mend::{Case, Cure};
use crate::model::{MaterialKind, Piece};

/// One piece installed right before or right after another.
pub fn moves(case: &Case<'_>) -> Vec<Cure> {
    case.pairs().into_iter().filter_map(|(moved, other)| to(case, moved, other)).collect()
}

fn to(case: &Case<'_>, moved: usize, other: usize) -> Option<Cure> {
    let (moved, fixed) = (piece(case, moved), piece(case, other));
    let (lines, beside) = (lines_of(case.source, moved.span)?, lines_of(case.source, fixed.span)?);
    if lines.start == beside.start {
        return None;
    }
    let later = lines.start < beside.start;
    let word = if later { "after" } else { "before" };
    let at = if later { beside.end } else { beside.start };
    // A wall is built before what is put on it.
    let built = if later { moved } else { fixed };
    if built.material.kind == Some(MaterialKind::Mass) {
        return None;
    }
    let text = case.source.text[lines.clone()].to_owned();
    let edits = vec![replace(case, lines, String::new()), insert(case, at, text)];
    Some(Cure::new(format!("Install {} {word} {}", moved.name, fixed.name), edits))
}

/// `behind` or `over`, which overrides the order for one pair.
pub fn beside(case: &Case<'_>, word: &str) -> Vec<Cure> {
    let pairs = case.pairs().into_iter().map(|(one, other)| (piece(case, one), piece(case, other)));
    let wall = |own: &Piece| own.material.kind == Some(MaterialKind::Mass);
    let drafts = pairs.filter_map(|(one, other)| {
        // Nothing goes behind a wall, and no wall is folded down.
        if wall(if word == "behind" { other } else { one }) {
            return None;
        }
        let (known, title) = match word {
            "behind" => (&one.behind, format!("Tuck {} behind {}", one.name, other.name)),
            _ => (&one.over, format!("Fold {} down over {}", one.name, other.name)),
        };
        if known.iter().any(|known| *case.pieces()[known.index].name == *other.name) {
            return None;
        }
        let edit = match known.last() {
            Some(last) => insert(case, last.span.range().end, format!(", {}", other.name)),
            None => clause(case, one.span, &format!("{word} {}", other.name)),
        };
        Some(Cure::new(title, vec![edit]))
    });
    drafts.collect()
}
