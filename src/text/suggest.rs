//! The nearest known name, for a name that is unknown.

/// The candidate closest to `wanted`, if it is close enough to be a slip of the hand:
/// at most a third of its letters differ, and of each of its words. Ties go to the first in alphabetical order.
pub fn nearest<'a>(wanted: &str, candidates: impl IntoIterator<Item = &'a str>) -> Option<&'a str> {
    near(wanted, candidates).min().map(|(_, c)| c)
}

/// The same where no other candidate is as near: a guess would as often as not be wrong.
pub fn only_nearest<'a>(wanted: &str, candidates: impl IntoIterator<Item = &'a str>) -> Option<&'a str> {
    let mut near: Vec<(usize, &str)> = near(wanted, candidates).collect();
    near.sort_unstable();
    match near[..] {
        [(first, _), (second, _), ..] if first == second => None,
        _ => near.first().map(|&(_, c)| c),
    }
}

fn near<'a>(wanted: &str, candidates: impl IntoIterator<Item = &'a str>) -> impl Iterator<Item = (usize, &'a str)> {
    let length = wanted.chars().count();
    let limit = (length / 3).max(1);
    candidates
        .into_iter()
        // A name of absurd length comes from a broken file; comparing it with every name would take its square.
        .filter(move |c| wanted.len() <= 100 && c.len() <= 100 && c.chars().count().abs_diff(length) <= limit)
        .map(move |c| (strsim::damerau_levenshtein(wanted, c), c))
        .filter(move |(distance, c)| *distance <= limit && word_by_word(wanted, c))
}

/// Of names with as many words no word is exchanged for another: `metal-flashing` is no slip of `butyl-flashing`.
fn word_by_word(wanted: &str, candidate: &str) -> bool {
    let words = |name: &'_ str| name.split('-').count();
    let near = |(a, b): (&str, &str)| strsim::damerau_levenshtein(a, b) <= (a.chars().count() / 3).max(1);
    words(wanted) != words(candidate) || wanted.split('-').zip(candidate.split('-')).all(near)
}

/// Candidates with a word in common, those first that have the most letters in common.
pub fn akin<'a>(wanted: &str, candidates: impl IntoIterator<Item = &'a str>) -> Vec<&'a str> {
    let words: Vec<&str> = wanted.split('-').filter(|word| word.len() > 2).collect();
    let common = |name: &str| name.split('-').filter(|word| words.contains(word)).map(str::len).sum::<usize>();
    let mut akin: Vec<(usize, &str)> = candidates.into_iter().map(|name| (common(name), name)).collect();
    akin.retain(|(common, _)| *common > 0);
    akin.sort_unstable_by_key(|(common, name)| (std::cmp::Reverse(*common), *name));
    akin.into_iter().map(|(_, name)| name).collect()
}

#[cfg(test)]
mod tests {
    use super::{akin, nearest, only_nearest};

    #[test]
    fn a_slip_is_found_and_a_stranger_is_not() {
        let known = ["plywood", "butyl-tape", "gypsum"];
        assert_eq!(nearest("plywod", known), Some("plywood"));
        assert_eq!(nearest("butly-tape", known), Some("butyl-tape"));
        assert_eq!(nearest("slate", known), None);
    }

    #[test]
    fn another_word_is_no_slip_of_the_hand() {
        let known = ["butyl-flashing", "copper-flashing", "foil-tape"];
        assert_eq!(nearest("metal-flashing", known), None);
        assert_eq!(nearest("coper-flashin", known), Some("copper-flashing"));
        assert_eq!(nearest("foiltape", known), Some("foil-tape"));
    }

    #[test]
    fn names_with_a_word_in_common_are_akin() {
        let known = ["plywood", "gypsum-plaster", "cement-board", "gypsum", "board-of-trade"];
        assert_eq!(akin("gypsum-board", known), ["gypsum", "gypsum-plaster", "board-of-trade", "cement-board"]);
        assert_eq!(akin("ply", known), [""; 0]);
        assert_eq!(akin("piece-of-cake", known), [""; 0], "short words say nothing");
    }

    #[test]
    fn two_that_are_as_near_are_no_guess() {
        assert_eq!(only_nearest("mn", ["mm", "in"]), None);
        assert_eq!(only_nearest("mmm", ["mm", "in"]), Some("mm"));
        assert_eq!(only_nearest("km", []), None);
    }
}
