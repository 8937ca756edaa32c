//! The order of clauses, and the columns that they stand in.

use std::ops::Range;

use crate::syntax::{Clause, ClauseKind, Keyword, PlacedClause, Statement};
use crate::tidy::words::squeezed;

/// What stands in one column of a line; an empty one is left out.
pub type Cells = Vec<String>;

/// A statement's words in cells, its clauses in their order. Statements without columns are one cell.
pub fn cells(text: &str, statement: &Statement, head: &Range<usize>) -> Cells {
    let Some((fixed, parts)) = ordered(text, statement, head) else { return vec![squeezed(&text[head.clone()])] };
    let mut cells: Cells = match statement.keyword {
        // The keyword with the name, then what follows: the material of a piece, the second piece of a seal.
        Keyword::Piece | Keyword::Seal => {
            let cut = fixed.match_indices(' ').nth(1).map_or(fixed.len(), |(at, _)| at);
            vec![fixed[..cut].to_owned(), fixed[cut..].trim_start().to_owned()]
        }
        // The month, the temperature, the humidity.
        Keyword::Outdoor => match fixed.split(' ').collect::<Vec<_>>()[..] {
            [word, month, t, degree, rh, percent] => {
                vec![format!("{word} {month}"), format!("{t} {degree}"), format!("{rh} {percent}")]
            }
            _ => vec![fixed],
        },
        _ => vec![fixed],
    };
    let bonded = parts.iter().any(|part| matches!(part.clause, Clause::Bonds(..)));
    for part in parts {
        let column = match column(statement.keyword, &part.clause) {
            // What bonds nothing needs no room for it.
            Some(6) if !bonded => 5,
            column => column.unwrap_or(cells.len() - 1),
        };
        if cells.len() <= column {
            cells.resize(column + 1, String::new());
        }
        let cell = &mut cells[column];
        if !cell.is_empty() {
            cell.push(' ');
        }
        cell.push_str(&squeezed(&text[part.span.range()]));
    }
    cells
}

/// The words of one line in a statement's own block.
pub fn line(text: &str, statement: &Statement, head: &Range<usize>) -> String {
    let Some((fixed, parts)) = ordered(text, statement, head) else { return squeezed(&text[head.clone()]) };
    let mut words = vec![fixed];
    words.extend(parts.iter().map(|part| squeezed(&text[part.span.range()])));
    words.retain(|word| !word.is_empty());
    words.join(" ")
}

/// Where a line of a statement's own block belongs: the rank of its first clause.
pub fn rank_of(statement: &Statement, head: &Range<usize>) -> usize {
    inside(statement, head).map(|part| rank(statement.keyword, part)).min().unwrap_or(0)
}

fn inside<'a>(statement: &'a Statement, head: &'a Range<usize>) -> impl Iterator<Item = &'a PlacedClause> {
    let free = statement.clauses.iter().filter(|part| part.kind.is_some());
    free.filter(|part| head.contains(&part.span.range().start))
}

/// The words before the first clause, and the clauses in their order. `None` when the clauses leave words out: such a
/// line stays as it was written.
fn ordered<'a>(
    text: &str,
    statement: &'a Statement,
    head: &'a Range<usize>,
) -> Option<(String, Vec<&'a PlacedClause>)> {
    if !free_order(statement.keyword) {
        return Some((squeezed(&text[head.clone()]), Vec::new()));
    }
    let mut parts: Vec<&PlacedClause> = inside(statement, head).collect();
    let first = parts.iter().map(|part| part.span.range().start).min().unwrap_or(head.end);
    let dense = |words: &str| words.chars().filter(|c| !c.is_whitespace()).count();
    let kept = parts.iter().map(|part| dense(&text[part.span.range()])).sum::<usize>();
    if kept != dense(&text[first..head.end]) {
        return None;
    }
    parts.sort_by_key(|part| rank(statement.keyword, part));
    Some((squeezed(&text[head.start..first]), parts))
}

/// Statements whose clauses may stand in any order.
fn free_order(keyword: Keyword) -> bool {
    use Keyword::*;
    matches!(keyword, Detail | Design | Drying | Layer | Piece | Cut | Seal | Fasten | Weeps | Slope | Waive | Needs)
}

/// The order of clauses, for all kinds of statements at once. What stands in a fixed position has no rank.
fn rank(keyword: Keyword, part: &PlacedClause) -> usize {
    match part.kind {
        // A row of pieces says how far apart they are after where the first one lies.
        Some(ClauseKind::Every) if keyword == Keyword::Piece => ClauseKind::Along.form().rank + 1,
        kind => kind.map_or(0, |kind| kind.form().rank),
    }
}

/// The column of a clause in lines of its kind. A piece has a layer or a role, seldom both, so they share one.
fn column(keyword: Keyword, clause: &Clause) -> Option<usize> {
    use Clause::*;
    Some(match (keyword, clause) {
        (Keyword::Piece, Of(_) | Role(_)) => 2,
        (Keyword::Piece, Up(_)) => 3,
        (Keyword::Piece, Along(_) | Every(_)) => 4,
        (Keyword::Piece, Bonds(..)) => 5,
        (Keyword::Piece, _) => 6,
        (Keyword::Layer, Amount(_)) => 1,
        (Keyword::Layer, Controls(_)) => 2,
        (Keyword::Layer, Between { .. }) => 3,
        (Keyword::Layer, Role(_)) => 4,
        (Keyword::Seal, With(_)) => 2,
        (Keyword::Seal, _) => 3,
        (Keyword::Fasten, With(_)) => 1,
        (Keyword::Fasten, Every(_)) => 2,
        (Keyword::Fasten, Up(_)) => 3,
        (Keyword::Fasten, _) => 4,
        (Keyword::Cut, Up(_)) => 1,
        (Keyword::Cut, _) => 2,
        _ => return None,
    })
}

/// Whether numbers of this column stand at its right edge.
pub fn right(keyword: Keyword, column: usize) -> bool {
    matches!((keyword, column), (Keyword::Layer, 1) | (Keyword::Outdoor, 1 | 2))
}

/// Blanks between two columns.
pub fn apart(keyword: Keyword) -> usize {
    if matches!(keyword, Keyword::Piece | Keyword::Layer) { 2 } else { 1 }
}
