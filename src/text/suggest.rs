//! The nearest known name, for a name that is unknown.

/// The candidate closest to `wanted`, if it is close enough to be a slip of the hand:
/// at most a third of its letters differ. Ties go to the first in alphabetical order.
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
        .filter(move |(distance, _)| *distance <= limit)
}

#[cfg(test)]
mod tests {
    use super::{nearest, only_nearest};

    #[test]
    fn a_slip_is_found_and_a_stranger_is_not() {
        let known = ["plywood", "butyl-tape", "gypsum"];
        assert_eq!(nearest("plywod", known), Some("plywood"));
        assert_eq!(nearest("butly-tape", known), Some("butyl-tape"));
        assert_eq!(nearest("slate", known), None);
    }

    #[test]
    fn two_that_are_as_near_are_no_guess() {
        assert_eq!(only_nearest("mn", ["mm", "in"]), None);
        assert_eq!(only_nearest("mmm", ["mm", "in"]), Some("mm"));
        assert_eq!(only_nearest("km", []), None);
    }
}
