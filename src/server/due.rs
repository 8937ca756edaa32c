//! Words that the middle of a statement asks for, and that begin no clause.

use crate::model::MONTHS;
use crate::syntax::{Form, Keyword};

/// What may stand behind these words: between two names, before a height, after a number.
pub fn due(form: &Form, words: &[&str]) -> Vec<&'static str> {
    use Keyword::*;
    let has = |word: &str| words.contains(&word);
    let begun = words.len() == 1;
    let last = words.last().copied().unwrap_or_default();
    let mut due: Vec<&str> = match form.keyword {
        Seal if words.len() == 2 => vec!["to"],
        Needs if has("between") && !has("and") => vec!["and"],
        Detail if has("joins") => vec!["to"],
        Fold | Valley if begun => vec!["up", "along"],
        Grade | WallLine if begun => vec!["up"],
        Layer if has("between") && !has("at") => vec!["at"],
        Slope if begun => vec!["level", "plumb"],
        Piece if last == "slope" => vec!["level"],
        Piece if held(form, words) => vec!["welded", "clamped"],
        Permeance | Mu | Permeability | AirLayer if !begun => vec!["dry", "wet"],
        Outdoor if begun => MONTHS.to_vec(),
        Indoor if begun => vec!["class"],
        Resistance if last == "per" => vec!["mm", "cm", "m", "in", "ft"],
        _ => Vec::new(),
    };
    // A reach may begin with either end, and goes on to the other one.
    let in_reach = words.iter().rev().take(3).any(|word| ["up", "along"].contains(word));
    if in_reach && matches!(form.keyword, Piece | Cut | Fasten | Slope | Sheltered) {
        due.extend(["from", "to"]);
    }
    due
}

/// The last words are the names of a bond, which may say what holds it.
fn held(form: &Form, words: &[&str]) -> bool {
    let Some(bonds) = words.iter().rposition(|word| *word == "bonds") else { return false };
    let names = &words[bonds + 1..];
    let name = |word: &&str| !form.clauses.iter().any(|kind| kind.word() == Some(*word));
    names.split_last().is_some_and(|(last, before)| {
        before.iter().all(|word| word.ends_with(',')) && !last.ends_with(',') && name(last)
    })
}
